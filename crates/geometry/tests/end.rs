//! The end of a cutter: planes and work angles against each other, the real section against its
//! closed forms, and the stroke against the wheel that makes it.

#![allow(clippy::unwrap_used, reason = "a helper that stops a test is part of it")]

#[path = "end/wheels.rs"]
mod wheels;

use geometry::end::{
    Chamfer, EndPlane, EndSetup, EndStance, EndStroke, EndTeeth, EndTeethShape, Gash, GashShape,
    RoundCorner, WorkAngles,
};
use geometry::{Angle, Length};
use proptest::prelude::*;

use wheels::{cup, deg, disc, mm, near};

fn stance(lean: f64, above: f64, tilt: f64) -> EndStance {
    EndStance {
        lean: deg(lean),
        axis_above_edge: mm(above),
        wheel_tilt: Angle::ZERO,
        tilt: deg(tilt),
    }
}

fn teeth(count: u32, dish: f64, ahead: f64, inner: f64) -> EndTeeth {
    EndTeeth::new(EndTeethShape {
        diameter: mm(12.0),
        teeth: count,
        primary: EndPlane::new(deg(dish), deg(6.0)).unwrap(),
        ahead: mm(ahead),
        inner: mm(inner),
    })
    .unwrap()
}

#[test]
fn a_square_cup_leaves_the_tilt_as_relief() {
    for dish in [0.0, 1.0, -45.0] {
        let setup = EndSetup::new(cup(0.35), deg(dish), stance(0.0, -20.0, 6.0)).unwrap();
        let section = setup.section().unwrap();
        near(section.square_relief(Some(mm(1.0))).unwrap().degrees(), 6.0, 1e-7);
        near(section.length_per_feed().unwrap(), 1.0 / (deg(6.0).cos() * deg(dish).cos()), 1e-9);
        near(section.depth_at(mm(2.0)).unwrap().mm(), 2.0 * deg(6.0).tan(), 1e-7);
    }
}

#[test]
fn a_leaning_cup_adds_the_slope_of_its_corner() {
    // The leading corner's circle leans by 1 degree; 20 mm below its axis it comes nearer by
    // sin(lean) · h / √(W² − h²) on the way up.
    let setup = EndSetup::new(cup(0.35), deg(0.0), stance(1.0, 20.0, 0.0)).unwrap();
    let relief = setup.section().unwrap().square_relief(None).unwrap();
    let slope = deg(1.0).sin() * 20.0 / (50.0_f64.powi(2) - 20.0_f64.powi(2)).sqrt();
    near(relief.tan(), slope, 1e-7);
}

#[test]
fn a_disc_leaves_its_hollow() {
    let above = 75.0 * deg(5.0).sin();
    let setup = EndSetup::new(disc(), deg(0.5), stance(0.0, above, 0.0)).unwrap();
    let section = setup.section().unwrap();
    near(section.square_relief(None).unwrap().degrees(), 5.0, 1e-6);
    // Farther behind the edge the circle falls less.
    let hollow = |y: f64| (75.0_f64.powi(2) - (above - y).powi(2)).sqrt();
    near(section.depth_at(mm(2.0)).unwrap().mm(), hollow(2.0) - hollow(0.0), 1e-6);
}

#[test]
fn a_tilt_is_found_for_a_relief_over_a_land() {
    let setup = EndSetup::new(cup(0.35), deg(1.5), stance(1.0, 25.0, 0.0)).unwrap();
    let tilted = setup.tilted_for(deg(7.0), Some(mm(0.8))).unwrap();
    let plane = tilted.section().unwrap().plane(Some(mm(0.8))).unwrap();
    near(plane.relief().degrees(), 7.0, 1e-6);
    assert!(tilted.stance().tilt < deg(6.8), "the corner's slope gives the rest");
}

#[test]
fn the_secondary_leaves_the_land() {
    let primary = EndSetup::new(cup(0.35), deg(1.0), stance(0.5, -10.0, 6.0)).unwrap();
    let first = primary.section().unwrap();
    let (heelward, inward) = first.back_of_land(mm(0.5)).unwrap();
    let second = primary.with_stance(stance(0.5, -10.0, 16.0)).unwrap();
    let behind = second.section_through(heelward, inward).unwrap();
    near(first.land_before(&behind).unwrap().mm(), 0.5, 1e-6);
    let less = behind.backed_off(mm(0.01)).unwrap();
    assert!(first.land_before(&less).unwrap() > mm(0.55));
    near(less.feed_from(&behind).mm(), -0.01, 1e-8);
}

#[test]
fn a_stroke_stops_at_the_centre_of_four_teeth() {
    let teeth = teeth(4, 1.0, 0.0, 0.0);
    let setup = EndSetup::new(cup(0.35), deg(1.0), stance(0.5, 0.0, 6.0)).unwrap();
    let section = setup.section().unwrap();
    let stroke = EndStroke::new(&section, &teeth).unwrap();
    let reach = stroke.reach(Length::from_um(10.0), Length::ZERO).unwrap();
    assert!(reach.past_centre.abs() < mm(0.3), "{reach:?}");
    let on = stroke.gap_to_tooth(1, mm(2.0), reach.stop + mm(1.0));
    assert!(on < mm(-0.1), "one millimetre past it cuts the next tooth: {on:?}");
    // With the wheel's axis below, its round has gone aside where the next tooth's edge stands.
    let low = EndSetup::new(cup(0.35), deg(1.0), stance(0.5, -30.0, 6.0)).unwrap();
    let low = low.section().unwrap();
    let lower =
        EndStroke::new(&low, &teeth).unwrap().reach(Length::from_um(10.0), Length::ZERO).unwrap();
    assert!(lower.past_centre > reach.past_centre, "{lower:?}");
}

#[test]
fn a_point_of_the_edge_that_is_ground_lies_on_the_wheel() {
    let teeth = teeth(2, 1.0, 0.3, 0.0);
    let setup = EndSetup::new(cup(0.35), deg(1.0), stance(1.0, -10.0, 6.0)).unwrap();
    let section = setup.section().unwrap();
    let stroke = EndStroke::new(&section, &teeth).unwrap();
    let stop = stroke.stop_for(teeth.edge_length());
    for share in [0.0, 0.3, 0.7, 0.9] {
        let point = teeth.edge_point(0, teeth.edge_length() * share);
        near(stroke.gap_at(point, stop).mm(), 0.0, 3e-4);
        let [x, y, z] = point;
        near(stroke.gap_at([x, y, z - mm(0.02)], stop).mm(), -0.02, 2e-3);
    }
}

#[test]
fn a_chamfer_takes_what_its_triangle_says() {
    let chamfer = Chamfer { width: mm(0.2), angle: deg(45.0), relief: deg(10.0) };
    near(chamfer.depth().mm(), 0.1, 1e-12);
    assert!(chamfer.plane().unwrap().dish() < Angle::ZERO);
    let round = RoundCorner::new(mm(6.0), mm(12.0)).unwrap();
    assert!(round.is_ball() && round.axis_beside_pivot() < mm(1e-9));
    assert!(RoundCorner::new(mm(7.0), mm(12.0)).is_err());
    near(round.relief_by_tilt(deg(5.0), deg(0.0)).degrees(), 5.0, 1e-12);
    near(round.relief_by_tilt(deg(5.0), deg(90.0)).degrees(), 0.0, 1e-12);
}

#[test]
fn a_gash_lies_in_its_face_and_moves_outward_when_the_end_is_ground() {
    let gash = Gash::new(GashShape {
        primary: EndPlane::new(deg(1.0), deg(6.0)).unwrap(),
        diameter: mm(12.0),
        floor: deg(40.0),
        rake: deg(3.0),
        root: mm(0.4),
        from_centre: Length::ZERO,
        ahead: Length::ZERO,
    })
    .unwrap();
    near(gash.root().dot(&gash.face_outward()), 0.0, 1e-12);
    near((gash.root().z / gash.root().x).atan().to_degrees(), 40.0, 1e-9);
    // The root falls by 40 degrees from its mouth at the axis, 6 mm inside the corner, which lies
    // 6 · tan(1 deg) above it; the face leans back from there by its rake, which hardly shows.
    let (fed, along) = gash.fed_from_corner();
    let (out, down) = (6.0_f64, 6.0 * deg(1.0).tan());
    near(fed.mm().hypot(along.mm()), out.hypot(down), 1e-5);
    near(along.mm(), out * deg(40.0).cos() - down * deg(40.0).sin(), 0.01);
    let [along, toward, up] = gash.axis_for();
    near(along * along + toward * toward + up * up, 1.0, 1e-12);
    assert!(up < 0.0, "the tip points up");
    let less = gash.after_end_ground(mm(0.5)).unwrap();
    near(less.shape().from_centre.mm(), 0.5 / deg(40.0).tan(), 1e-12);
    assert!(gash.free_from() > Length::ZERO);
}

#[test]
fn what_cannot_be_is_refused_by_name() {
    let message = |error: geometry::end::EndError| error.to_string();
    assert!(message(EndPlane::new(deg(40.0), deg(5.0)).unwrap_err()).starts_with("dish: 40"));
    let shape = *teeth(4, 1.0, 0.0, 0.0).shape();
    let off = EndTeeth::new(EndTeethShape { ahead: mm(4.0), ..shape }).unwrap_err();
    assert!(message(off).starts_with("ahead_of_centre"));
    let setup = EndSetup::new(cup(0.35), deg(1.0), stance(0.0, 0.0, 0.0)).unwrap();
    assert!(setup.with_stance(stance(0.0, 60.0, 0.0)).is_err());
}

proptest! {
    #[test]
    fn the_axis_says_the_plane_and_the_plane_the_axis(
        dish in -60.0..20.0_f64, relief in -10.0..40.0_f64, wheel in -3.0..3.0_f64,
    ) {
        let plane = EndPlane::new(deg(dish), deg(relief)).unwrap();
        let axis = WorkAngles::axis_for(&plane, deg(wheel));
        let back = WorkAngles::plane_of_axis(axis, deg(wheel)).unwrap();
        prop_assert!((back.dish() - plane.dish()).abs() < deg(1e-9));
        prop_assert!((back.relief() - plane.relief()).abs() < deg(1e-9));
        prop_assert!(plane.edge().dot(&plane.outward()).abs() < 1e-12);
        // Turned and turned back it is the same.
        let turned = plane.seen_turned(deg(3.0)).and_then(|turned| turned.seen_turned(deg(-3.0)));
        if let Ok(same) = turned {
            prop_assert!((same.relief() - plane.relief()).abs() < deg(1e-9));
        }
    }

    #[test]
    fn a_swung_and_tilted_head_brings_the_axis_there(
        dish in -45.0..10.0_f64, relief in 0.0..20.0_f64,
    ) {
        let plane = EndPlane::new(deg(dish), deg(relief)).unwrap();
        let angles = WorkAngles::swing_carries_tilt(&plane, Angle::ZERO);
        let (swing, tilt) = (angles.swing, angles.tilt);
        let [x, y, z] = WorkAngles::axis_for(&plane, Angle::ZERO);
        prop_assert!((x + swing.sin() * tilt.cos()).abs() < 1e-12);
        prop_assert!((y + swing.cos() * tilt.cos()).abs() < 1e-12);
        prop_assert!((z - tilt.sin()).abs() < 1e-12);
    }
}
