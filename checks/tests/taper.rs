//! Tapered cutters and unlike teeth against a solver that shares nothing with the plan (grade D).
//!
//! The plan takes a tapered cutter at each place for a cylinder of that radius. Here the real thing
//! is moved: an axis that stands aslant to the travel, a cone on it whose edge lies on a fixed
//! rest, and the cup's face as circles of points. Each point is carried to the place in question,
//! and the lowest wins.

#![expect(clippy::unwrap_used, reason = "a comparison that cannot be made must stop the test")]

use checks::reference::random::Splitmix;
use geometry::{Angle, Length};
use shop::plan::{ConeGrind, Peripheral, Quantity, RegrindPlan};
use shop::record::{Cutter, Hand, Special};

#[path = "diagnosis/shop_floor.rs"]
mod shop_floor;

#[path = "taper/aslant.rs"]
mod aslant;

use aslant::Aslant;

const SEED: u64 = 20_261_130;
const CUTTERS: u32 = 40;

/// How far the plan's cylinders may be from the cone: the edge's radius at each place when it is
/// right at the tip, and the relief over the plan's distance. Found were 0.040 µm and 0.038 deg.
const RADIUS_UM: f64 = 0.2;
const RELIEF_DEG: f64 = 0.06;

fn tapered(draw: &mut Splitmix) -> Cutter {
    let teeth = 2 + (draw.bits() % 4) as u32;
    let helical = draw.even(0.0, 1.0) < 0.7;
    let hand = if draw.even(0.0, 1.0) < 0.5 { Hand::Right } else { Hand::Left };
    let plain = shop_floor::cutter(draw, teeth, helical, hand);
    let wear = plain.wear().unwrap().clone();
    let taper = Angle::from_degrees(draw.even(0.5, 5.0));
    let mut draft = plain.draft();
    draft.special = Special { taper, ..Special::default() };
    draft.build().unwrap().with_wear(wear).unwrap()
}

fn swivel_of(cone: &ConeGrind) -> f64 {
    let Some(Quantity::Angle(set)) = cone.line.dial.as_ref().map(|dial| dial.reading) else {
        return f64::NAN;
    };
    set.radians().abs()
}

fn aslant(plan: &RegrindPlan, work: &Peripheral) -> Aslant {
    let (cone, stance) = (work.cone.as_ref().unwrap(), work.stanced.stance());
    let cutter = &plan.request.cutter;
    let radii = cone.stations.each_ref().map(|place| 0.5 * place.diameter.mm());
    let sign = cutter.helix_sign();
    Aslant {
        swivel_rad: swivel_of(cone),
        height_mm: radii[0] * stance.relief_setting.sin(),
        inset_mm: stance.rest_inset.mm(),
        lean_rad: stance.lean.radians(),
        axis_above_mm: stance.axis_above.mm(),
        wheel_mm: 0.5 * work.wheel.wheel.diameter().mm(),
        face_mm: work.truing.face_width.value.mm(),
        twist_per_mm: sign * 2.0 * cutter.helix().tan() / cutter.diameter().mm(),
        length_mm: cone.stations[2].from_tip.mm(),
        radii_mm: radii,
    }
}

#[test]
fn sizes_and_reliefs_along_a_taper_are_those_of_the_cone() {
    let mut draw = Splitmix::new(SEED);
    let (mut compared, mut worst_um, mut worst_deg) = (0, 0.0_f64, 0.0_f64);
    for _ in 0..CUTTERS {
        let Some(plan) = shop_floor::plan(tapered(&mut draw)) else { continue };
        let work = plan.peripheral.as_ref().unwrap();
        let cone = work.cone.as_ref().unwrap();
        let machine = aslant(&plan, work);
        let corner_mm = machine.corner_for_tip();
        let over_mm = work.stanced.target.over.map_or(0.0, Length::mm);
        for place in &cone.stations {
            let (at_mm, radius_mm) = (place.from_tip.mm(), 0.5 * place.diameter.mm());
            let edge_mm = machine.radius_at(corner_mm, at_mm, 0.0);
            let theta = over_mm / edge_mm;
            let behind_mm = machine.radius_at(corner_mm, at_mm, theta);
            let rise = edge_mm - behind_mm * theta.cos();
            let relief = rise.atan2(behind_mm * theta.sin()).to_degrees();
            worst_um = worst_um.max(1e3 * (edge_mm - radius_mm).abs());
            worst_deg = worst_deg.max((relief - place.relief.degrees()).abs());
        }
        compared += 1;
    }
    assert!(compared >= 20, "only {compared} tapers could be planned");
    let found = format!("{compared} tapers: {worst_um:.3} um, {worst_deg:.4} deg");
    assert!(worst_um <= RADIUS_UM && worst_deg <= RELIEF_DEG, "{found}");
}

/// The closed forms of a taper under a flat face, at one place: a rest of one height gives R² =
/// h² + Y², a tooth that does not turn Y = R cos(setting). Worked here by differences.
#[test]
fn swivels_of_both_rests_are_the_slopes_of_their_own_edges() {
    for (taper, setting) in [(1.0_f64, 5.0_f64), (3.0, 12.0), (7.0, 20.0)] {
        let (taper, setting) = (Angle::from_degrees(taper), Angle::from_degrees(setting));
        let (radius, step) = (6.0, 1e-6);
        let height = radius * setting.sin();
        let across = |radius: f64| (radius * radius - height * height).sqrt();
        let grown = step * taper.tan();
        let slope = (across(radius + grown) - across(radius - grown)) / (2.0 * step);
        let found = geometry::cone::swivel_over_rest(taper, setting).tan();
        assert!((found - slope).abs() < 1e-8, "{found} {slope}");
        let held = geometry::cone::swivel_held(taper, setting).tan();
        let slope = ((radius + grown) - (radius - grown)) * setting.cos() / (2.0 * step);
        assert!((held - slope).abs() < 1e-8, "{held} {slope}");
    }
}

/// A plane through the side's line, cut square to the axis and square to the line, by vectors.
#[test]
fn the_two_reliefs_of_a_side_are_sections_of_one_plane() {
    for (relief, taper) in [(8.0_f64, 1.0_f64), (12.0, 5.0), (25.0, 10.0)] {
        let (a, t) = (relief.to_radians(), taper.to_radians());
        // The side's line, the way back from the edge square to the axis, and the plane's normal.
        let side = [t.sin(), 0.0, t.cos()];
        let back = [-a.tan(), 1.0, 0.0];
        let normal = [
            side[1] * back[2] - side[2] * back[1],
            side[2] * back[0] - side[0] * back[2],
            side[0] * back[1] - side[1] * back[0],
        ];
        // Square to the line: outward is (cos t, 0, -sin t), back is (0, 1, 0).
        let outward = normal[0] * t.cos() - normal[2] * t.sin();
        let slope = (normal[1] / outward).abs().atan().to_degrees();
        let found =
            geometry::cone::normal_relief(Angle::from_degrees(relief), Angle::from_degrees(taper));
        assert!((found.degrees() - slope).abs() < 1e-9, "{found:?} {slope}");
    }
}

/// A tooth is turned until the line of its face passes a point of the rest, once where the rest
/// stands and once where it stood before the feed: the plain difference of the two turns.
#[test]
fn a_feed_turns_a_tooth_by_its_rest_and_the_lean_of_its_face() {
    for (radius, rake, setting, feed) in [
        (6.0_f64, 10.0_f64, 0.0_f64, 0.1_f64),
        (6.0, 10.0, 9.0, 0.1),
        (25.0, -5.0, 7.0, 0.3),
        (3.0, 20.0, 14.0, 0.05),
        (10.0, 0.0, 8.0, 0.2),
        (10.0, 8.0, -6.0, 0.2),
    ] {
        let (g, a) = (rake.to_radians(), setting.to_radians());
        // How far the rest lies below the face's line when the edge stands so far below centre.
        let beside = |below: f64, rest: [f64; 2]| {
            let edge = [radius * below.cos(), -radius * below.sin()];
            // Inward along the face: against the radius, leaning heelward (up) by the rake.
            let way = [-(below + g).cos(), (below + g).sin()];
            (rest[0] - edge[0]) * way[1] - (rest[1] - edge[1]) * way[0]
        };
        let turned = |rest: [f64; 2]| {
            let (mut low, mut high) = (a - 0.3, a + 0.3);
            let rises = beside(high, rest) > beside(low, rest);
            for _ in 0..80 {
                let middle = 0.5 * (low + high);
                if (beside(middle, rest) > 0.0) == rises { high = middle } else { low = middle }
            }
            0.5 * (low + high)
        };
        let rest = [radius * a.cos(), -radius * a.sin()];
        let lowered = turned(rest) - turned([rest[0] + feed, rest[1]]);
        let found = geometry::closed_form::feed_turn(
            Length::from_mm(2.0 * radius),
            Angle::from_degrees(rake),
            Angle::from_degrees(setting),
            Length::from_mm(feed),
        );
        assert!((found.radians() - lowered).abs() < 1e-12, "{found:?} {lowered}");
    }
}

/// The chord over two teeth, from the distance of two points on a circle.
#[test]
fn a_micrometer_over_two_teeth_reads_their_distance() {
    for apart in [116.0_f64, 122.0, 180.0, 92.0] {
        let (sin, cos) = apart.to_radians().sin_cos();
        let distance = (10.0 - 10.0 * cos).hypot(10.0 * sin);
        let found =
            geometry::closed_form::pair_reading(Length::from_mm(20.0), Angle::from_degrees(apart));
        assert!((found.mm() - distance).abs() < 1e-12);
    }
}
