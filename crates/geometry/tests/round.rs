//! A round swung past a wheel: closed forms, what a rest does for a helix, and what the wheel
//! touches first.

#![allow(clippy::unwrap_used, reason = "a helper that stops a test is part of it")]

#[path = "end/wheels.rs"]
mod wheels;

use geometry::end::{
    RoundBefore, RoundBy, RoundCorner, RoundEdge, RoundHold, RoundSetup, RoundStance,
};
use geometry::{Angle, Length};

use wheels::{cup, deg, disc, mm, near};

fn edge(radius: f64, diameter: f64, helix: f64) -> RoundEdge {
    RoundEdge {
        round: RoundCorner::new(mm(radius), mm(diameter)).unwrap(),
        teeth: 2,
        turn_per_mm: Angle::from_radians(deg(helix).tan() / (0.5 * diameter)),
        rake: Angle::ZERO,
        inner: Length::ZERO,
        flute: mm(20.0),
    }
}

fn stance(lean: f64, tilt: f64) -> RoundStance {
    RoundStance { lean: deg(lean), axis_above_edge: Length::ZERO, wheel_tilt: deg(tilt) }
}

/// A straight tooth under a tipped cup: the level line of its corner falls by the tilt, and the
/// pivot stands where the handbook's rule puts it.
#[test]
fn a_straight_edge_gets_its_circle_and_the_tilt_as_relief() {
    for (radius, diameter) in [(3.0, 6.0), (1.0, 12.0)] {
        let setup = RoundSetup::new(
            edge(radius, diameter, 0.0),
            RoundHold::Locked,
            cup(0.0),
            stance(1.0, 8.0),
        )
        .unwrap();
        let cut = setup.blended().unwrap();
        near(cut.pivot().beside.mm(), 0.5 * diameter - radius, 1e-6);
        near(cut.pivot().past.mm(), radius, 1e-6);
        near(cut.front().mm(), radius, 1e-6);
        for swing in [0.0, 10.0, 45.0, 80.0, 90.0] {
            near(cut.form_at(deg(swing)).unwrap().mm(), 0.0, 1e-6);
            let fell = radius - cut.left_at(deg(swing), mm(0.2)).unwrap().mm();
            near(fell, 0.2 * deg(8.0).tan(), 1e-5);
            // What the turn of the tooth eats: y²/2 over the way to the axis, along the swing.
            let eaten = if radius * 2.0 == diameter {
                0.2 * 0.2 / (2.0 * radius)
            } else {
                0.2 * 0.2 / diameter * deg(swing).sin()
            };
            near(cut.drop_at(deg(swing), mm(0.2)).unwrap().mm(), fell - eaten, 4e-4);
        }
    }
}

#[test]
fn a_disc_gives_relief_by_its_height() {
    let setup = RoundSetup::new(edge(3.0, 6.0, 0.0), RoundHold::Locked, disc(), stance(1.0, 0.0));
    let setup = setup.unwrap().relieved(deg(9.0), mm(0.1), RoundBy::Height).unwrap();
    let cut = setup.blended().unwrap();
    near(cut.relief_at(deg(45.0), mm(0.1)).unwrap().degrees(), 9.0, 1e-4);
    // The ball's own turn eats half of 0.1 mm over its radius, 0.955 degrees; the hollow of the
    // wheel the same over its own.
    let height = 75.0 * (deg(9.0).tan() + 0.1 / 6.0 + 0.1 / 150.0).atan().sin();
    near(setup.stance().axis_above_edge.mm(), height, 0.05);
}

/// Locked, the edge of a helix winds r · tan(helix) off level over the round, and the relief makes
/// radius of that, in proportion to the way from the end: an end that stands as much farther past
/// the pivot makes it true again, as long as the winding is small against the cutter.
#[test]
fn a_rest_that_follows_makes_a_helix_true() {
    let made = |edge, hold, lean| {
        let setup = RoundSetup::new(edge, hold, cup(0.0), stance(lean, 10.0)).unwrap();
        let cut = setup.blended().unwrap();
        let form = [10.0, 45.0, 80.0].map(|swing| cut.form_at(deg(swing)).unwrap().mm());
        (form, cut.pivot().past.mm())
    };
    let locked = made(edge(0.2, 20.0, 30.0), RoundHold::Locked, 8.0);
    // The farther it stands, the farther it winds: r / (1 − tan · tan).
    let winds = deg(30.0).tan() * deg(10.0).tan();
    let rule = 0.2 * winds / (1.0 - winds);
    near(locked.1, 0.2 + rule, 0.05 * rule);
    locked.0.into_iter().for_each(|form| near(form, 0.0, 0.05 * rule));
    let ball = edge(3.0, 6.0, 30.0);
    made(ball, RoundHold::Follows, 8.0).0.into_iter().for_each(|form| near(form, 0.0, 1e-6));
    // A head that leans too little cuts ahead of its corner: r · k² / 2 at the periphery, k the
    // product of the two tangents less that of the lean.
    let (ahead, _) = made(ball, RoundHold::Follows, 0.1);
    let k = deg(30.0).tan() * deg(10.0).tan() - deg(0.1).tan();
    assert!(ahead.iter().any(|form| form.abs() > 0.02 * 3.0 * k * k / 2.0), "{ahead:?}");
}

#[test]
fn the_face_that_runs_behind_the_round_must_lean_clear_of_a_helix() {
    let gap = |lean| {
        let setup = RoundSetup::new(
            edge(1.0, 12.0, 30.0),
            RoundHold::Follows,
            cup(0.0),
            stance(lean, 10.0),
        );
        let setup = setup.unwrap();
        setup.blended().unwrap().gap_to_tooth(0, Length::ZERO, deg(90.0)).mm()
    };
    assert!(gap(0.5) < -0.05, "{}", gap(0.5));
    assert!(gap(7.0) > -0.01, "{}", gap(7.0));
}

#[test]
fn the_land_is_left_where_the_secondary_starts() {
    let setup = RoundSetup::new(edge(3.0, 6.0, 0.0), RoundHold::Locked, cup(0.0), stance(1.0, 8.0));
    let setup = setup.unwrap();
    let behind = setup.with_stance(stance(1.0, 18.0)).unwrap();
    let cut = setup.blended().unwrap();
    let after = cut.behind(&behind, mm(0.5)).unwrap();
    for swing in [0.0, 30.0, 90.0] {
        near(cut.land_before(&after, deg(swing)).unwrap().mm(), 0.5, 1e-5);
    }
    let wider = cut.land_before(&after.backed_off(mm(0.01)), deg(45.0)).unwrap().mm();
    // The back of the land goes heelward by the feed over the difference of the slopes.
    near(wider - 0.5, 0.01 / (deg(18.0).tan() - deg(8.0).tan()), 1e-4);
}

/// A round far smaller than its cutter: where both wheels have passed through the pivot nothing is
/// left to compare, and half the diameter is no land. *Own derivation*: the secondary was led
/// through the back of the land that was asked for, so it leaves that.
#[test]
fn the_land_of_a_small_round_is_the_one_that_was_asked_for() {
    for (radius, wanted) in [(0.1, 0.05), (0.25, 0.125), (0.5, 0.05), (0.76, 0.38), (3.0, 0.7)] {
        for hold in [RoundHold::Locked, RoundHold::Follows] {
            let edge = edge(radius, 19.0, 0.0);
            let setup = RoundSetup::new(edge, hold, cup(0.0), stance(1.0, 7.0)).unwrap();
            let behind = setup.with_stance(stance(1.0, 16.0)).unwrap();
            let cut = setup.blended().unwrap();
            let after = cut.behind(&behind, mm(wanted)).unwrap();
            let land = cut.land_before(&after, deg(45.0)).unwrap().mm();
            near(land, wanted, 1e-6);
        }
    }
}

/// A ball that is moved down its axis and shrunk loses s + (e − s) · cos(swing).
#[test]
fn the_wheel_first_touches_what_stands_out_farthest() {
    let round = RoundCorner::new(mm(2.9), mm(5.8)).unwrap();
    let before = RoundBefore {
        radius: mm(3.0),
        side: mm(0.1),
        end: mm(0.3),
        side_is_ground: true,
        end_is_ground: false,
    };
    for swing in [0.0, 30.0, 60.0] {
        let rule = 0.1 + 0.2 * deg(swing).cos();
        near(round.stock_at(&before, deg(swing)).mm(), rule, 6e-3);
    }
    let (swing, feed) = round.first_touch(&before);
    near(swing.degrees(), 0.0, 1e-9);
    near(feed.mm(), 0.3, 1e-9);
    // A corner whose sides are both ground keeps of its old round what lies between them.
    let round = RoundCorner::new(mm(1.0), mm(12.0)).unwrap();
    let before = RoundBefore {
        radius: mm(1.0),
        side: mm(0.2),
        end: mm(0.2),
        side_is_ground: true,
        end_is_ground: true,
    };
    let (swing, feed) = round.first_touch(&before);
    near(swing.degrees(), 45.0, 1e-6);
    near(feed.mm(), 0.2 * 2.0_f64.sqrt(), 1e-9);
    near(round.stock_at(&before, deg(0.0)).mm(), 0.0, 1e-9);
}
