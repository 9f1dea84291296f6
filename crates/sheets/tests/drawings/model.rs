//! Models of plans, measured: the lands are those of the plan, the wheel touches the tooth on the
//! rest and cuts into nothing, helix and cut have the hands they should have.

use std::f64::consts::{PI, TAU};

use geometry::{Angle, Length};
use nalgebra::Vector3;
use sheets::model::{Model, ModelPart, PartName, cutter_model, regrind_model};
use shop::plan::Peripheral;
use shop::record::Hand;

use crate::plans::{Case, cases, without_periphery};

fn part(model: &Model, name: PartName) -> &ModelPart {
    model.parts.iter().find(|part| part.name == name).unwrap()
}

fn points(part: &ModelPart) -> impl Iterator<Item = Vector3<f64>> + '_ {
    part.shaded.positions.iter().map(|at| Vector3::from(at.map(f64::from)))
}

fn peripheral(case: &Case) -> &Peripheral {
    case.plan.peripheral.as_ref().unwrap()
}

fn models() -> Vec<(&'static Case, Model)> {
    cases().iter().map(|case| (case, regrind_model(&case.plan).unwrap())).collect()
}

#[test]
fn a_plan_without_periphery_has_no_model_but_its_cutter_has() {
    let plan = without_periphery();
    assert!(regrind_model(&plan).is_none());
    let alone = cutter_model(&plan.request.cutter).unwrap();
    assert!(alone.parts.iter().all(|part| part.name != PartName::Wheel));
}

#[test]
fn every_model_has_its_parts_and_only_numbers() {
    for (case, model) in models() {
        let names: Vec<_> = model.parts.iter().map(|part| part.name).collect();
        for name in PartName::ALL {
            assert!(names.contains(&name), "{}: {name:?}", case.name);
        }
        for part in &model.parts {
            let shaded = &part.shaded;
            assert_eq!(shaded.positions.len(), shaded.normals.len());
            let all = shaded.positions.iter().chain(&shaded.normals).flatten();
            assert!(all.into_iter().all(|value| value.is_finite()));
            let places = shaded.triangles.iter().flatten();
            assert!(places.into_iter().all(|at| (*at as usize) < shaded.positions.len()));
        }
        let triangles: usize = model.parts.iter().map(|part| part.shaded.triangles.len()).sum();
        assert!((2_000..150_000).contains(&triangles), "{}: {triangles}", case.name);
    }
}

#[test]
fn the_same_plan_gives_the_same_model() {
    let case = &cases()[0];
    assert_eq!(regrind_model(&case.plan), regrind_model(&case.plan));
}

/// A point of the model in the section of the tooth on the rest: heelward angle and radius, by the
/// words of the frames alone. Heelward is up from the side of the wheel; along a helix whose hand
/// is that of the cut, heelward goes with the way to the shank.
fn in_section(case: &Case, model: &Model, at: Vector3<f64>) -> (f64, f64) {
    let stance = *peripheral(case).stanced.stance();
    let cutter = &case.plan.request.cutter;
    let way_to_shank = if cutter.hand() == Hand::Right { 1.0 } else { -1.0 };
    let from_rest = (at.z - f64::from(model.focus.centre_mm[2])) * way_to_shank;
    let lead = PI * cutter.diameter().mm() / cutter.helix().tan().max(1e-300);
    let turned = at.y.atan2(at.x) - cutter.helix_sign() * TAU * from_rest / lead;
    (turned + stance.relief_setting.radians(), at.xy().norm())
}

#[test]
fn every_land_lies_on_the_planned_section() {
    for (case, model) in models() {
        let section = &peripheral(case).section;
        let pitch_rad = TAU / f64::from(case.plan.request.cutter.teeth());
        let mut widest_rad = 0.0_f64;
        for at in points(part(&model, PartName::Primary)) {
            let (heelward, radius_mm) = in_section(case, &model, at);
            let own = (heelward + 1e-4).rem_euclid(pitch_rad) - 1e-4;
            let planned = section.radius_at(Angle::from_radians(own)).unwrap().mm();
            // Corners stand on the curve but for a third of the chord error.
            let off_mm = (radius_mm - planned).abs();
            assert!(off_mm < 0.4 * model.chord_error.mm(), "{}: {off_mm} mm", case.name);
            widest_rad = widest_rad.max(own);
        }
        let land = peripheral(case).secondary.land_after;
        if let Some(land) = land.filter(|_| peripheral(case).secondary.grinding.is_some()) {
            let width_mm = widest_rad * section.circle_radius().mm();
            let off_mm = (width_mm - land.mm()).abs();
            assert!(off_mm < 0.02 * land.mm() + 0.001, "{}: {width_mm} {land:?}", case.name);
        }
    }
}

/// Points all over the land of the tooth on the rest, within 3 mm of it.
fn land_at_rest(model: &Model) -> Vec<Vector3<f64>> {
    let land = part(model, PartName::Primary);
    let all: Vec<_> = points(land).collect();
    let rest_mm = f64::from(model.focus.centre_mm[2]);
    let mut found = Vec::new();
    for triangle in &land.shaded.triangles {
        let [a, b, c] = triangle.map(|at| all[at as usize]);
        let (low, high) = (a.z.min(b.z).min(c.z), a.z.max(b.z).max(c.z));
        if a.x < 0.7 * a.xy().norm() || low > rest_mm + 3.0 || high < rest_mm - 3.0 {
            continue;
        }
        // Long facets of straight teeth are looked at as closely as short ones.
        let steps = ((high - low) / 0.1).ceil().max(8.0) as u32;
        for step in 0..steps * 8 {
            let u = f64::from(step / 8) / f64::from(steps - 1);
            let at = a + (b - a) * u + (c - b) * (u * f64::from(step % 8) / 7.0);
            found.extend(((at.z - rest_mm).abs() <= 3.0).then_some(at));
        }
    }
    found
}

/// A plane facet: a corner, its unit normal, and its other corners.
struct Facet([Vector3<f64>; 3], Vector3<f64>);

impl Facet {
    fn of_wheel(model: &Model) -> Vec<Self> {
        let wheel = part(model, PartName::Wheel);
        let all: Vec<_> = points(wheel).collect();
        let facet = |triangle: &[u32; 3]| {
            let corners = triangle.map(|at| all[at as usize]);
            let normal = (corners[1] - corners[0]).cross(&(corners[2] - corners[0]));
            Self(corners, normal.normalize())
        };
        wheel.shaded.triangles.iter().map(facet).collect()
    }

    /// How far outside it a point lies; None where the point lies beside it.
    fn outside_mm(&self, at: Vector3<f64>) -> Option<f64> {
        let Self([a, b, c], normal) = self;
        let off_mm = (at - a).dot(normal);
        let is_left = |from: &Vector3<f64>, to: &Vector3<f64>| {
            (to - from).cross(&(at - from)).dot(normal) >= -1e-6
        };
        (off_mm.abs() < 1.0 && is_left(a, b) && is_left(b, c) && is_left(c, a)).then_some(off_mm)
    }
}

#[test]
fn the_wheel_touches_the_land_on_the_rest_and_cuts_into_nothing() {
    for (case, model) in models() {
        let facets = Facet::of_wheel(&model);
        let outside_mm = |at: Vector3<f64>| {
            let all = facets.iter().filter_map(|facet| facet.outside_mm(at));
            all.min_by(|a, b| a.abs().total_cmp(&b.abs()))
        };
        let land = land_at_rest(&model);
        assert!(land.len() > 300, "{}: {}", case.name, land.len());
        let least_mm = land.into_iter().filter_map(outside_mm).fold(f64::MAX, f64::min);
        // Facets of wheel and land may each stand off by the chord error, the wheel's by that of
        // its corner too.
        let allowed_mm = 3.0 * model.chord_error.mm();
        assert!(least_mm.abs() < allowed_mm, "{}: {least_mm} mm", case.name);
    }
}

#[test]
fn the_helix_climbs_as_its_hand_says() {
    for (case, model) in models().iter().filter(|(case, _)| case.name != "heel drag") {
        let cutter = &case.plan.request.cutter;
        let Some(hand) = cutter.helix_hand() else { continue };
        // Follow one edge for a little way along z: a right-hand helix turns as a screw does,
        // counter-clockwise about the way it climbs.
        let edge_mm = peripheral(case).section.circle_radius().mm();
        let mut edges: Vec<_> = points(part(model, PartName::Primary))
            .filter(|at| (at.xy().norm() - edge_mm).abs() < 1e-4 && at.x > 0.7 * edge_mm)
            .collect();
        edges.sort_by(|a, b| a.z.total_cmp(&b.z));
        let near = edges.windows(2).map(|pair| (pair[0], pair[1]));
        let steps: Vec<f64> = near
            .filter(|(a, b)| b.z - a.z > 1e-4 && (b.xy() - a.xy()).norm() < 0.2 * edge_mm)
            .map(|(a, b)| a.xy().perp(&b.xy()))
            .collect();
        assert!(steps.len() > 5, "{}: {}", case.name, steps.len());
        let climbs = steps.iter().all(|step| *step > 0.0);
        assert_eq!(climbs, hand == Hand::Right, "{}", case.name);
        assert!(climbs || steps.iter().all(|step| *step < 0.0), "{}", case.name);
    }
}

#[test]
fn a_recorded_cutter_is_as_large_as_its_record_says() {
    let cutter = &cases()[0].plan.request.cutter;
    let model = cutter_model(cutter).unwrap();
    let edge = points(part(&model, PartName::Primary)).map(|at| at.xy().norm());
    let ground = cutter.as_ground().unwrap().diameter / 2.0;
    assert!((edge.fold(0.0, f64::max) - ground.mm()).abs() < 1e-5);
    let ends = points(part(&model, PartName::Shank)).map(|at| at.z).fold(0.0, f64::max);
    assert!((Length::from_mm(ends) - cutter.overall_length()).abs().mm() < 1e-4);
}
