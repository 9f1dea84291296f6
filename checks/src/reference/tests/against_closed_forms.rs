//! Dense scan and polygons where the section has an answer in closed form (grade D).

use super::super::closed_forms::{
    corner_cut, disc_from_axis_mm, disc_radius_mm, disc_relief_rad, eccentric_point, plane_drop_mm,
};
use super::super::dense::DenseSection;
use super::super::polygons::section_by_polygons;
use super::super::setup::{Setup, Wheel};
use super::{cup, disc};

/// The claim of the dense scan on radius.
const RADIUS_MM: f64 = 0.05e-3;
/// The claim of the dense scan on relief.
const RELIEF_DEG: f64 = 0.005;

fn relief_deg(section: &DenseSection) -> f64 {
    section.edge_relief().unwrap().relief_rad.to_degrees()
}

fn close(found: f64, expected: f64, within: f64, what: &str) {
    let miss = (found - expected).abs();
    assert!(miss <= within, "{what}: found {found}, expected {expected}, off by {miss}");
}

#[test]
fn plane_face_on_a_straight_tooth() {
    for (diameter, setting) in [(1.0, 25.0), (12.7, 10.0), (50.0, 3.0), (80.0, 12.0)] {
        let setting_rad = f64::to_radians(setting);
        let setup = Setup {
            nominal_diameter_mm: diameter,
            new_diameter_mm: 0.97 * diameter,
            setting_rad,
            ..cup()
        };
        let section = DenseSection::new(&setup).unwrap();
        let radius = setup.radius_mm();
        close(relief_deg(&section), setting, RELIEF_DEG, "relief");
        let place = section.wheel_from_axis_mm();
        close(place, radius * setting_rad.cos(), RADIUS_MM, "place");
        let distances = [0.01, 0.05, 0.1, 0.2].map(|share| share * radius);
        let thetas = distances.map(|distance| distance / radius);
        let polygons = section_by_polygons(&setup, place, &thetas, 200, 60);
        for (distance, by_polygons) in distances.into_iter().zip(polygons) {
            let drop = plane_drop_mm(radius, setting_rad, distance);
            close(section.drop_mm(distance).unwrap(), drop, RADIUS_MM, "drop");
            close(radius - by_polygons.unwrap(), drop, RADIUS_MM, "drop by polygons");
        }
    }
}

#[test]
fn periphery_on_a_straight_tooth() {
    // Rest on centre with the wheel raised, tooth turned below centre, and both at once.
    for (setting, above) in [(0.0, 10.85), (8.0, 0.0), (6.0, 5.0), (12.0, -3.0)] {
        let setting_rad = f64::to_radians(setting);
        let setup = Setup { setting_rad, centre_above_mm: above, ..disc() };
        let section = DenseSection::new(&setup).unwrap();
        let relief = disc_relief_rad(&setup).to_degrees();
        close(relief_deg(&section), relief, RELIEF_DEG, "relief");
        let place = section.wheel_from_axis_mm();
        close(place, disc_from_axis_mm(&setup), RADIUS_MM, "place");
        let thetas = [0.0, 0.05, 0.1, 0.2, 0.3];
        let polygons = section_by_polygons(&setup, place, &thetas, 60, 800);
        for (theta, by_polygons) in thetas.into_iter().zip(polygons) {
            let radius = disc_radius_mm(&setup, theta).unwrap();
            close(section.radius_mm(theta).unwrap(), radius, RADIUS_MM, "radius");
            close(by_polygons.unwrap(), radius, RADIUS_MM, "radius by polygons");
        }
    }
}

#[test]
fn offset_of_a_raised_disc_is_the_rule_of_the_shop() {
    // asin(offset / wheel radius) with the rest on centre: 10.85 / 62.5 gives 9.9977 deg.
    let setup = Setup { setting_rad: 0.0, centre_above_mm: 10.85, ..disc() };
    let section = DenseSection::new(&setup).unwrap();
    close(relief_deg(&section), (10.85_f64 / 62.5).asin().to_degrees(), RELIEF_DEG, "relief");
}

/// A cup leaning against the helix so that its face leaves `relief` degrees.
fn eccentric(relief: f64, helix: f64, same_hand: bool) -> Setup {
    let (relief_rad, helix_rad) = (f64::to_radians(relief), f64::to_radians(helix));
    Setup {
        helix_rad,
        same_hand,
        toward_tip: !same_hand,
        face_width_mm: 4.0,
        inset_mm: 1.5,
        lean_rad: (relief_rad.tan() * helix_rad.tan()).atan(),
        setting_rad: relief_rad,
        ..cup()
    }
}

#[test]
fn eccentric_relief_follows_its_curve() {
    for (relief, helix, same_hand) in [(8.0, 30.0, true), (10.0, 15.0, false), (5.0, 45.0, true)] {
        let setup = eccentric(relief, helix, same_hand);
        let section = DenseSection::new(&setup).unwrap();
        let expected = eccentric_point(&setup, 0.0).relief_rad.to_degrees();
        close(relief_deg(&section), expected, RELIEF_DEG, "relief");
        // The curve's own law at the edge: sin(relief) = tan(lean) / (twist * radius).
        let sine = setup.lean_rad.tan() / (setup.twist_per_mm().abs() * setup.radius_mm());
        close(expected, sine.asin().to_degrees(), 1e-9, "law at the edge");
        let points = [0.01, 0.03, 0.06].map(|inward| eccentric_point(&setup, inward));
        let thetas = points.map(|point| point.theta_rad);
        let place = section.wheel_from_axis_mm();
        let polygons = section_by_polygons(&setup, place, &thetas, 1500, 100);
        for (point, by_polygons) in points.into_iter().zip(polygons) {
            let found = section.radius_mm(point.theta_rad).unwrap();
            close(found, point.radius_mm, RADIUS_MM, "radius");
            close(by_polygons.unwrap(), point.radius_mm, RADIUS_MM, "radius by polygons");
        }
    }
}

#[test]
fn eccentric_rule_of_the_shop_is_near() {
    // tan W = tan R tan H is a handbook's rule (from memory). Its worked case of relief 10 deg and
    // helix 30 deg gives a lean of 5.81 deg. The rule takes the plane's distance for the radius,
    // so it is off by the cosine of the relief: under 0.2 deg here.
    let setup = Setup { new_diameter_mm: 12.7, ..eccentric(10.0, 30.0, true) };
    close(setup.lean_rad.to_degrees(), 5.81, 0.005, "lean");
    close(relief_deg(&DenseSection::new(&setup).unwrap()), 10.0, 0.2, "relief");
}

#[test]
fn leading_corner_cuts_as_its_circle_does() {
    let helical = |helix: f64, lean: f64| Setup {
        helix_rad: helix.to_radians(),
        lean_rad: lean.to_radians(),
        ..cup()
    };
    let leaning_disc = Setup { lean_rad: 2_f64.to_radians(), ..disc() };
    // Heights at which the corner makes the edge: below centre for relief, above it for drag.
    let cases = [
        (helical(30.0, 0.75), -0.6),
        (helical(30.0, 0.75), -0.05),
        (helical(40.0, 3.0), 0.3),
        (helical(0.0, 4.0), -6.3 * 10_f64.to_radians().sin()),
        (Setup { toward_tip: false, same_hand: false, ..helical(25.0, 1.0) }, -0.4),
        (helical(12.0, 0.0), -0.9),
        (leaning_disc, -6.3 * 10_f64.to_radians().sin()),
    ];
    for (mut setup, height) in cases {
        let cut = corner_cut(&setup, height);
        setup.inset_mm = cut.inset_mm;
        let section = DenseSection::new(&setup).unwrap();
        let place = section.wheel_from_axis_mm();
        close(place, cut.wheel_from_axis_mm, RADIUS_MM, "place");
        let expected = cut.relief_rad.to_degrees();
        close(relief_deg(&section), expected, RELIEF_DEG, "relief");
        assert_eq!(expected < 0.0, height > 0.0, "drag stands above centre only");
        let by_polygons = section_by_polygons(&setup, place, &[0.0], 1000, 100)[0].unwrap();
        close(by_polygons, setup.radius_mm(), RADIUS_MM, "edge by polygons");
    }
}

#[test]
fn inset_costs_relief_by_the_helix() {
    // On a quarter-inch cutter of 30 deg helix, 0.3 mm of inset costs 0.3 tan 30 / 3.175 radians,
    // or 3.1 deg; on a very large wheel the corner is straight and the rule exact.
    let setup = |inset_mm: f64| Setup {
        diameter_mm: 4000.0,
        nominal_diameter_mm: 6.35,
        new_diameter_mm: 6.35,
        helix_rad: 30_f64.to_radians(),
        inset_mm,
        ..cup()
    };
    let relief = |inset: f64| relief_deg(&DenseSection::new(&setup(inset)).unwrap());
    let cost = (0.3 * 30_f64.to_radians().tan() / 3.175).to_degrees();
    close(relief(0.0) - relief(0.3), cost, 0.01, "cost");
    close(cost, 3.126, 0.001, "figure");
}

#[test]
fn rest_deep_in_a_square_face_leaves_no_relief() {
    // Without lean the face turns round the tooth past centre and leaves a plain cylinder.
    let helix_rad = 30_f64.to_radians();
    let setup = Setup { helix_rad, face_width_mm: 4.0, inset_mm: 3.0, ..cup() };
    assert!(setup.twist_per_mm() * setup.inset_mm > setup.setting_rad);
    let section = DenseSection::new(&setup).unwrap();
    close(relief_deg(&section), 0.0, RELIEF_DEG, "relief");
    close(section.drop_mm(0.5).unwrap(), 0.0, RADIUS_MM, "drop");
}

#[test]
fn hands_mirror() {
    // Cutting from the other end with the other hand of helix is the same set-up in a mirror.
    for wheel in [Wheel::Cup, Wheel::Disc] {
        let setup = Setup {
            wheel,
            helix_rad: 0.6,
            lean_rad: 0.03,
            corner_radius_mm: 0.1,
            face_width_mm: 3.0,
            ..cup()
        };
        let mirrored = Setup { same_hand: false, toward_tip: false, ..setup };
        let both = [setup, mirrored].map(|setup| DenseSection::new(&setup).unwrap());
        for theta in [0.0, 0.02, 0.1, 0.2] {
            let [one, other] = [&both[0], &both[1]].map(|it| it.radius_mm(theta).unwrap());
            close(one, other, 1e-9, "radius");
        }
    }
}
