//! Dense scan, polygons and the bare solid against each other on random set-ups.

use super::super::dense::{CELLS, DenseSection};
use super::super::polygons::polygon_section;
use super::super::random::Splitmix;
use super::super::setup::{Setup, Wheel, random_setups};

/// Angles over a land and well beyond it, in radians.
fn angles() -> Vec<f64> {
    (0..=8).map(|j| 0.03 * f64::from(j)).collect()
}

#[test]
fn a_finer_grid_changes_nothing() {
    for setup in random_setups(11, 96) {
        let section = DenseSection::new(&setup).unwrap();
        let finer = DenseSection::with_cells(&setup, 2 * CELLS).unwrap();
        let place = section.wheel_from_axis_mm() - finer.wheel_from_axis_mm();
        assert!(place.abs() < 1e-7, "place moves by {place} mm: {setup:?}");
        let [coarse, fine] = [&section, &finer].map(|it| it.edge_relief().unwrap());
        let change = (coarse.relief_rad - fine.relief_rad).to_degrees();
        assert!(change.abs() < 1e-3, "relief moves by {change} deg: {setup:?}");
        assert!(coarse.spread_rad < 1e-5, "kink at the edge: {coarse:?} {setup:?}");
        for theta in angles() {
            let (one, other) = (section.radius_mm(theta), finer.radius_mm(theta));
            assert_eq!(one.is_some(), other.is_some(), "at {theta}: {setup:?}");
            let change = one.unwrap_or(0.0) - other.unwrap_or(0.0);
            assert!(change.abs() < 1e-6, "radius moves by {change} mm at {theta}: {setup:?}");
        }
    }
}

#[test]
fn polygons_stand_outside_by_no_more_than_their_bound() {
    let thetas: Vec<f64> = angles().into_iter().step_by(2).collect();
    for setup in random_setups(7, 32) {
        let section = DenseSection::new(&setup).unwrap();
        let place = section.wheel_from_axis_mm();
        let found = polygon_section(&setup, place, &thetas, 1200, 200);
        for (j, &theta) in thetas.iter().enumerate() {
            let (dense, polygons) = (section.radius_mm(theta), found.radii_mm[j]);
            assert_eq!(dense.is_some(), polygons.is_some(), "at {theta}: {setup:?}");
            let outside = polygons.unwrap_or(0.0) - dense.unwrap_or(0.0);
            let bound = found.bounds_mm[j] + found.sagitta_mm + 1e-8;
            assert!(outside > -1e-8, "inside by {outside} at {theta}: {setup:?}");
            assert!(outside < bound, "{outside} over {bound} at {theta}: {setup:?}");
        }
    }
}

#[test]
fn polygons_reach_half_a_micrometre() {
    // Set-ups of common size; the bound of a larger cutter may need more slices and chords.
    let common = |setup: &Setup| setup.nominal_diameter_mm < 60.0;
    let thetas = [0.0, 0.04, 0.12, 0.2];
    for setup in random_setups(23, 24).into_iter().filter(common).take(8) {
        let section = DenseSection::new(&setup).unwrap();
        let found = polygon_section(&setup, section.wheel_from_axis_mm(), &thetas, 3000, 500);
        for (j, &theta) in thetas.iter().enumerate() {
            let Some(dense) = section.radius_mm(theta) else { continue };
            let bound = found.bounds_mm[j] + found.sagitta_mm;
            assert!(bound < 0.5e-3, "bound {bound} at {theta}: {setup:?}");
            let outside = found.radii_mm[j].unwrap() - dense;
            assert!(outside.abs() < 0.5e-3, "{outside} at {theta}: {setup:?}");
        }
    }
}

#[test]
fn no_point_of_the_wheel_stands_inside_the_section() {
    let mut draw = Splitmix::new(5);
    for setup in random_setups(3, 32) {
        let section = DenseSection::new(&setup).unwrap();
        let mut counted = 0;
        for _ in 0..4000 {
            let Some((theta, radius)) = point_near_the_corner(&mut draw, &section) else {
                continue;
            };
            counted += 1;
            if counted > 20 {
                break;
            }
            let least = section.radius_mm(theta).unwrap();
            assert!(radius >= least - 1e-9, "{radius} < {least} at {theta}: {setup:?}");
        }
        assert!(counted > 5, "too few points of the wheel were drawn: {setup:?}");
    }
}

/// A random point of the wheel near its leading corner, as its angle and radius in the tooth's
/// own section; `None` where the draw is not in the wheel or not within reach.
fn point_near_the_corner(draw: &mut Splitmix, section: &DenseSection) -> Option<(f64, f64)> {
    let setup = section.setup();
    let radius = setup.radius_mm();
    let past = draw.even(-0.1, 1.1) * setup.face_width_mm;
    let t = setup.corner_t_mm() + setup.facing() * past;
    let z = draw.even(-0.5, 0.5) * radius;
    let y = draw.even(0.8, 1.2) * radius;
    if !section.solid().contains([t, y, z]) || y.hypot(z) > setup.reach_mm() {
        return None;
    }
    let theta = z.atan2(y) + setup.setting_rad + setup.twist_per_mm() * t;
    Some((theta, y.hypot(z)))
}

#[test]
fn the_edge_stands_on_the_new_circle() {
    for setup in random_setups(19, 64) {
        let section = DenseSection::new(&setup).unwrap();
        let miss = section.drop_mm(0.0).unwrap();
        assert!(miss.abs() < 1e-9, "edge off by {miss} mm: {setup:?}");
        // A micrometre further in the wheel cuts the edge away, further out it leaves it proud.
        let moved = |by: f64| {
            let section = DenseSection::placed(&setup, section.wheel_from_axis_mm() + by);
            section.unwrap().drop_mm(0.0).unwrap()
        };
        assert!(moved(-1e-3) > 1e-4 && moved(1e-3) < -1e-4, "{setup:?}");
    }
}

#[test]
fn unsound_numbers_are_refused() {
    let good = super::cup();
    assert!(DenseSection::new(&good).is_some());
    let bad = [
        Setup { diameter_mm: f64::NAN, ..good },
        Setup { face_width_mm: 0.0, ..good },
        Setup { face_width_mm: 50.0, ..good },
        Setup { corner_radius_mm: 2.0, ..good },
        Setup { lean_rad: -0.01, ..good },
        // The rim of this cup ends below the height at which the edge stands.
        Setup { new_diameter_mm: 180.0, setting_rad: 0.6, ..good },
    ];
    for setup in bad {
        assert!(DenseSection::new(&setup).is_none(), "{setup:?}");
    }
    let raised = Setup { wheel: Wheel::Disc, centre_above_mm: 80.0, ..good };
    assert!(DenseSection::new(&raised).is_none(), "the wheel stands clear above the edge");
}
