//! Fluted bodies.

use std::f64::consts::{FRAC_PI_2, PI};

use geometry::outline::OutlinePoint;
use geometry::screw::Hand;
use geometry::solid::{Fluted, Mesh, SolidError, Surface, ToothForm};
use geometry::{Angle, Length};
use nalgebra::{Vector2, Vector3};
use proptest::prelude::*;

use crate::made::{EDGE_MM, HEEL_RAD, back, back_mm, bar, cutter, flutes};
use crate::{assert_closed, middles};

fn meshed(body: &Fluted<'_>, error_mm: f64) -> Mesh {
    body.mesh(Length::from_mm(error_mm)).unwrap()
}

/// A point of a swept body, turned back into the section at the end, its first edge along x.
fn turned_back(body: &Fluted<'_>, point: Vector3<f64>) -> Vector2<f64> {
    // Lead of a helix: π D / tan H; heelward with z where hand of cut and of helix agree.
    let turns = point.z * body.flutes.helix.tan() / (PI * 12.7);
    let at_rad = -body.edge_at_end.radians() - turns * 2.0 * PI;
    let (sin, cos) = at_rad.sin_cos();
    Vector2::new(point.x * cos - point.y * sin, point.x * sin + point.y * cos)
}

fn off_stretch(at: Vector2<f64>, from: Vector2<f64>, to: Vector2<f64>) -> f64 {
    let along = to - from;
    let share = ((at - from).dot(&along) / along.norm_squared()).clamp(0.0, 1.0);
    (at - from - along * share).norm()
}

/// Distance from the spiral of the back, by a thousand points of it in the tooth at hand.
fn off_back(at: Vector2<f64>) -> f64 {
    let angle = at.y.atan2(at.x);
    let turned = (angle + 0.05).rem_euclid(FRAC_PI_2) - 0.05;
    let own = Vector2::new(turned.cos(), turned.sin()) * at.norm();
    let point = |step: u32| {
        let at_rad = HEEL_RAD * f64::from(step) / 1000.0;
        Vector2::new(at_rad.cos(), at_rad.sin()) * back_mm(at_rad)
    };
    (0..1000).map(|step| off_stretch(own, point(step), point(step + 1))).fold(f64::MAX, f64::min)
}

#[test]
fn the_back_of_every_facet_lies_within_the_chord_error() {
    let back = back();
    let body = bar(&back, 30.0);
    for error_mm in [0.05, 0.01] {
        let mesh = meshed(&body, error_mm);
        let mut worst_mm = 0.0_f64;
        for surface in [Surface::Land, Surface::Back] {
            for triangle in mesh.triangles_of(surface).step_by(7) {
                for middle in middles(&mesh, triangle) {
                    worst_mm = worst_mm.max(off_back(turned_back(&body, middle)));
                }
            }
        }
        assert!(worst_mm <= error_mm, "{worst_mm} mm is more than {error_mm} mm");
        assert!(worst_mm > 0.05 * error_mm, "{worst_mm} mm: finer than it need be");
    }
}

/// The section of a straight body's flutes, from its own end at a far smaller chord error.
fn fine_flutes(back: &[OutlinePoint]) -> Vec<(Vector2<f64>, Vector2<f64>)> {
    let body = bar(back, 0.0);
    let mesh = meshed(&body, 1e-4);
    let lies_at_end = |point: &Vector3<f64>| point.z.abs() < 1e-12;
    let mut found = Vec::new();
    for triangle in mesh.triangles_of(Surface::Flute) {
        let corners = mesh.corners(triangle);
        for at in 0..3 {
            let (from, to) = (corners[at], corners[(at + 1) % 3]);
            if lies_at_end(&from) && lies_at_end(&to) {
                found.push((turned_back(&body, from), turned_back(&body, to)));
            }
        }
    }
    found
}

#[test]
fn flutes_lie_within_the_chord_error_too() {
    let back = back();
    let section = fine_flutes(&back);
    assert!(section.len() > 400);
    for helix_deg in [0.0, 30.0, 55.0] {
        let body = bar(&back, helix_deg);
        let mesh = meshed(&body, 0.02);
        for triangle in mesh.triangles_of(Surface::Flute).step_by(41) {
            for middle in middles(&mesh, triangle) {
                let at = turned_back(&body, middle);
                let off = section.iter().map(|(from, to)| off_stretch(at, *from, *to));
                let off_mm = off.fold(f64::MAX, f64::min);
                assert!(off_mm <= 0.0202, "{off_mm} mm at helix {helix_deg}");
            }
        }
    }
}

#[test]
fn twisting_a_bar_keeps_its_volume() {
    let back = back();
    let straight_mm3 = meshed(&bar(&back, 0.0), 1e-4).volume_mm3();
    for helix_deg in [15.0, 30.0, 45.0] {
        let mesh = meshed(&bar(&back, helix_deg), 0.002);
        assert_closed(&mesh);
        // The surface is about 55 mm round and 20 mm long and stands off by the chord error at
        // most.
        let most_mm3 = 55.0 * 20.0 * 0.002;
        assert!((mesh.volume_mm3() - straight_mm3).abs() < most_mm3);
    }
}

#[test]
fn a_cutter_with_its_shank_is_closed_and_as_long_as_it_is() {
    let back = back();
    for shank_mm in [6.0, 12.7, 16.0] {
        let body = cutter(&back, shank_mm);
        let mesh = meshed(&body, 0.01);
        assert_closed(&mesh);
        let z = mesh.points().iter().map(|point| point.z);
        assert_eq!(z.clone().fold(f64::MAX, f64::min), 0.0);
        assert!((z.fold(f64::MIN, f64::max) - 70.0).abs() < 1e-9);
        // The shank is a cylinder, of which no more than run-out and cone are missing.
        let shank_mm3 = PI * 0.25 * shank_mm * shank_mm * 30.0;
        let fluted_mm3 = meshed(&bar(&back, 30.0), 0.01).volume_mm3();
        assert!(mesh.volume_mm3() > shank_mm3 + fluted_mm3);
        let most_mm3 = PI * 0.25 * 16.0 * 16.0 * 50.0 + fluted_mm3;
        assert!(mesh.volume_mm3() < most_mm3);
        let mirrored = mesh.clone().mirrored();
        assert_closed(&mirrored);
        assert!((mirrored.volume_mm3() - mesh.volume_mm3()).abs() < 1e-6);
    }
}

#[test]
fn a_shank_alone_is_a_cylinder() {
    let back = back();
    let short = Fluted { overall_length: Length::from_mm(60.0), ..cutter(&back, 12.7) };
    let longer = Fluted { overall_length: Length::from_mm(70.0), ..cutter(&back, 12.7) };
    let between_mm3 = meshed(&longer, 0.001).volume_mm3() - meshed(&short, 0.001).volume_mm3();
    assert!((between_mm3 - PI * 6.35 * 6.35 * 10.0).abs() < 2.0 * PI * 6.35 * 10.0 * 0.001);
}

#[test]
fn edges_stand_on_the_helix_of_either_hand() {
    let back = back();
    for (hand, helix_hand, sign) in
        [(Hand::Right, Hand::Right, 1.0), (Hand::Right, Hand::Left, -1.0)]
    {
        let body = Fluted { flutes: flutes(30.0, hand, helix_hand), ..bar(&back, 30.0) };
        let mesh = meshed(&body, 0.01);
        let edges = mesh.points().iter().filter(|p| (p.xy().norm() - EDGE_MM).abs() < 1e-9);
        let mut count = 0;
        for edge in edges {
            let turns = sign * edge.z * 30.0_f64.to_radians().tan() / (PI * 12.7);
            let at_rad = edge.y.atan2(edge.x) - 25.0_f64.to_radians() - turns * 2.0 * PI;
            let off_rad = (at_rad + 1e-6).rem_euclid(FRAC_PI_2);
            assert!(off_rad < 2e-6, "{off_rad} rad at {} mm", edge.z);
            count += 1;
        }
        assert!(count >= 4 * 20, "{count} points on edges");
    }
}

fn field_of(body: &Fluted<'_>) -> &'static str {
    match body.mesh(Length::from_mm(0.01)) {
        Err(SolidError::Invalid { field, .. }) => field,
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_cannot_be_a_body_is_refused_by_name() {
    let back = back();
    let body = bar(&back, 30.0);
    let tooth = |tooth: ToothForm<'static>| tooth;
    let with = |form: ToothForm<'_>| field_of(&Fluted { tooth: form, ..body });
    let no_land = ToothForm { land_end: Angle::ZERO, ..body.tooth };
    assert_eq!(with(no_land), "land_end");
    assert_eq!(with(ToothForm { rake: Angle::from_degrees(f64::NAN), ..body.tooth }), "rake");
    let core_diameter = Length::from_mm(f64::NAN);
    assert_eq!(with(ToothForm { core_diameter, ..body.tooth }), "core_diameter");
    assert_eq!(with(tooth(ToothForm { back: &[], ..no_tooth() })), "back");
    let longer = Fluted { fluted_length: Length::from_mm(21.0), ..body };
    assert_eq!(field_of(&longer), "overall_length");
    let fine = body.mesh(Length::from_mm(1e-5));
    assert!(matches!(fine, Err(SolidError::TooFine { .. })), "{:?}", fine.map(|_| ()));
    assert!(body.mesh(Length::from_mm(0.0)).is_err());
}

fn no_tooth() -> ToothForm<'static> {
    ToothForm {
        back: &[],
        land_end: Angle::from_radians(0.1),
        rake: Angle::ZERO,
        core_diameter: Length::from_mm(1.0),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Whatever the sizes, a body that is not refused is closed and lies within its cylinder.
    #[test]
    fn every_body_is_closed(
        diameter_mm in 1.0..200.0_f64,
        teeth in 2..=40_u32,
        helix_deg in 0.0..60.0_f64,
        rake_deg in -20.0..30.0_f64,
        core_share in 0.2..0.95_f64,
        back_share in 0.15..0.85_f64,
        land_share in 0.01..1.0_f64,
        slope in 0.0..0.9_f64,
        shank_share in 0.2..3.0_f64,
        behind_share in 0.0..3.0_f64,
    ) {
        let pitch_rad = 2.0 * PI / f64::from(teeth);
        let heel_rad = back_share * pitch_rad.min(PI);
        let radius_mm = 0.5 * diameter_mm;
        let drop_share = (slope * heel_rad).min(0.35);
        let point = |step: u32| {
            let share = f64::from(step) / 50.0;
            OutlinePoint {
                heelward: Angle::from_radians(heel_rad * share),
                radius: Length::from_mm(radius_mm * (1.0 - drop_share * share)),
            }
        };
        let back: Vec<OutlinePoint> = (0..=50).map(point).collect();
        let long_mm = 1.5 * diameter_mm;
        let body = Fluted {
            tooth: ToothForm {
                back: &back,
                land_end: Angle::from_radians(land_share * heel_rad),
                rake: Angle::from_degrees(rake_deg),
                core_diameter: Length::from_mm(core_share * diameter_mm),
            },
            flutes: geometry::screw::Flutes {
                nominal_diameter: Length::from_mm(diameter_mm),
                teeth,
                ..flutes(helix_deg, Hand::Right, Hand::Right)
            },
            edge_at_end: Angle::ZERO,
            fluted_length: Length::from_mm(long_mm),
            overall_length: Length::from_mm(long_mm * (1.0 + behind_share)),
            shank_diameter: Length::from_mm(shank_share * diameter_mm),
        };
        let mesh = meshed(&body, 0.01 * diameter_mm);
        assert_closed(&mesh);
        // No corner of the flat end was cut off the wrong way round: its outline never crosses
        // itself.
        for triangle in mesh.triangles_of(Surface::End) {
            let [a, b, c] = mesh.corners(triangle);
            prop_assert!((b - a).cross(&(c - a)).z <= 1e-9 * diameter_mm * diameter_mm);
        }
        let widest_mm = radius_mm * shank_share.max(1.0) * 1.0001;
        let all = mesh.points().iter();
        prop_assert!(all.clone().all(|p| p.xy().norm() <= widest_mm));
    }
}
