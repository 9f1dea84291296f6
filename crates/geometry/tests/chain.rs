//! Chains of swivels and slides: forward, backward and refused.

use geometry::chain::{
    Arrow, Body, ChainError, Direction, Joint, Linkage, Relation, Sense, Settings, Side,
};
use geometry::{Angle, Length};
use proptest::prelude::*;

fn degrees(value: f64) -> Angle {
    Angle::from_degrees(value)
}

/// A universal grinder: the head swings and tips; table, work head base, tilt and spindle turn.
fn universal() -> Linkage {
    Linkage::facing(vec![
        Joint::swivel(Side::Wheel, Direction::UP),
        Joint::swivel(Side::Wheel, Direction::ALONG),
        Joint::slide(Side::Cutter, Direction::TOWARD_WHEEL),
        Joint::swivel(Side::Cutter, Direction::UP),
        Joint::swivel(Side::Cutter, Direction::UP),
        Joint::swivel(Side::Cutter, -Direction::TOWARD_WHEEL),
        Joint::swivel(Side::Cutter, Direction::ALONG),
    ])
}

fn near(found: Angle, expected: Angle, within_deg: f64) {
    let miss = (found - expected).degrees().abs();
    assert!(miss <= within_deg, "{} deg is not {} deg", found.degrees(), expected.degrees());
}

/// The angle by which settings miss a relation, by the forward side alone.
fn miss(linkage: &Linkage, relation: &Relation, settings: &Settings) -> Angle {
    let (one, other) = relation.arrows();
    let seen = |arrow: &Arrow| linkage.placement(arrow.body, settings).direction(&arrow.direction);
    relation.miss(seen(one).angle_to(&seen(other)))
}

#[test]
fn at_home_the_wheel_looks_at_a_cutter_with_its_shank_to_the_right() {
    let linkage = universal();
    let home = linkage.home();
    let face = linkage.placement(Body::Wheel, &home).direction(&Direction::OWN_AXIS);
    near(face.angle_to(&-Direction::TOWARD_WHEEL), Angle::ZERO, 1e-9);
    let shank = linkage.placement(Body::Cutter, &home).direction(&Direction::OWN_AXIS);
    near(shank.angle_to(&Direction::ALONG), Angle::ZERO, 1e-9);
    let seen = linkage.relative(Body::Wheel, Body::Cutter, &home);
    // The wheel looks against the cutter's own x, which points at it.
    let expected = Direction::new(-1.0, 0.0, 0.0).unwrap();
    near(seen.direction(&Direction::OWN_AXIS).angle_to(&expected), Angle::ZERO, 1e-9);
}

#[test]
fn a_swivel_carries_what_stands_on_it_about_its_own_axis() {
    let pivot = [Length::from_mm(10.0), Length::ZERO, Length::ZERO];
    let linkage = Linkage::facing(vec![
        Joint::slide(Side::Cutter, Direction::TOWARD_WHEEL),
        Joint::swivel(Side::Cutter, Direction::UP).through(pivot),
    ]);
    let settings = linkage.home().with_way(0, Length::from_mm(3.0)).with_turn(1, degrees(90.0));
    let tip = linkage.placement(Body::Cutter, &settings).point([Length::ZERO; 3]);
    // The origin lies 10 mm to the left of the pivot; a quarter turn brings it before the pivot,
    // and the slide carries both 3 mm toward the wheel.
    let expected_mm = [10.0, -7.0, 0.0];
    for (found, expected) in tip.iter().zip(expected_mm) {
        assert!((found.mm() - expected).abs() < 1e-9, "{found:?} is not {expected}");
    }
}

#[test]
fn a_plane_in_the_face_is_found_by_two_swivels_both_ways() {
    let linkage = universal();
    let normal = Direction::new(0.1, 0.2, -1.0).unwrap();
    let wish = Relation::plane_in_face(normal);
    let found = linkage.solve(&[wish], &[4, 5], &linkage.home()).unwrap();
    assert_eq!(found.len(), 2);
    for one in &found {
        near(miss(&linkage, &wish, &one.settings), Angle::ZERO, 1e-9);
        assert!(one.gain_least > 0.0 && one.gain_least <= one.gain_most);
    }
}

#[test]
fn the_same_plane_is_found_by_the_head_alone() {
    let linkage = universal();
    let stand = linkage.home().with_turn(4, degrees(-85.0));
    let wish = Relation::plane_in_face(Direction::new(0.05, 0.02, -1.0).unwrap());
    for one in linkage.solve(&[wish], &[0, 1], &stand).unwrap() {
        near(miss(&linkage, &wish, &one.settings), Angle::ZERO, 1e-9);
        near(one.settings.turn(4), degrees(-85.0), 1e-12);
    }
}

#[test]
fn a_swivel_and_a_tilt_that_cannot_reach_are_told_by_how_much() {
    // Only the spindle turns and the base swings: a plane square to the axis keeps its slope.
    let linkage = universal();
    let tipped = linkage.home().with_turn(5, degrees(7.0));
    let normal = -Direction::OWN_AXIS;
    let wish = Relation::plane_in_face(normal);
    let refused = linkage.solve(&[wish], &[3, 4], &tipped).unwrap_err();
    let ChainError::OutOfReach { short, free, .. } = refused else { panic!("{refused}") };
    near(short, degrees(7.0), 1e-6);
    assert_eq!(free, [3, 4]);
}

#[test]
fn a_stop_is_named_with_what_is_missing() {
    let linkage = Linkage::facing(vec![
        Joint::swivel(Side::Cutter, Direction::UP).turning_within(degrees(-180.0), degrees(180.0)),
        Joint::swivel(Side::Cutter, -Direction::TOWARD_WHEEL)
            .turning_within(degrees(-10.0), degrees(10.0)),
    ]);
    // The end plane, its normal 15 degrees above the axis.
    let (sin, cos) = (degrees(15.0).sin(), degrees(15.0).cos());
    let wish = Relation::plane_in_face(Direction::new(0.0, sin, -cos).unwrap());
    let refused = linkage.solve(&[wish], &[0, 1], &linkage.home()).unwrap_err();
    let ChainError::BeyondStop { joint, by, nearest } = refused else { panic!("{refused}") };
    assert_eq!(joint, 1);
    near(by, degrees(5.0), 1e-6);
    near(miss(&linkage, &wish, &nearest), Angle::ZERO, 1e-9);
}

#[test]
fn three_swivels_bring_a_plane_into_the_face_and_its_edge_along_the_travel() {
    let linkage = universal();
    let normal = Direction::new(0.05, 0.08, -1.0).unwrap();
    let edge = normal.square_to(&Direction::new(0.0, 1.0, 0.0).unwrap()).unwrap();
    let along = Relation::Along {
        of: Arrow::of_cutter(edge),
        to: Arrow::of_wheel(Direction::new(1.0, 0.0, 0.0).unwrap()),
        sense: Sense::Either,
    };
    let wishes = [Relation::plane_in_face(normal), along];
    let found = linkage.solve(&wishes, &[4, 5, 6], &linkage.home()).unwrap();
    assert_eq!(found.len(), 4);
    for one in &found {
        for wish in &wishes {
            near(miss(&linkage, wish, &one.settings), Angle::ZERO, 1e-9);
        }
    }
}

#[test]
fn contradicting_directions_are_refused_whatever_the_settings() {
    let linkage = universal();
    let across = Relation::cutter_along_wheel(
        Direction::new(1.0, 0.0, 0.0).unwrap(),
        Direction::new(0.3, 0.0, 1.0).unwrap(),
    );
    let wishes = [Relation::plane_in_face(-Direction::OWN_AXIS), across];
    let refused = linkage.solve(&wishes, &[4, 5, 6], &linkage.home()).unwrap_err();
    assert!(matches!(refused, ChainError::Contradiction { .. }), "{refused}");
}

#[test]
fn relations_of_the_two_sides_are_solved_each_by_itself() {
    // Cutter along the travel by the table side, the wheel's axis tipped and leaned by the head's.
    let linkage = universal();
    let stand = linkage.home().with_turn(5, degrees(4.0)).with_turn(3, degrees(9.0));
    let axis = Direction::new(0.02, -1.0, 0.05).unwrap();
    let head = Relation::Along {
        of: Arrow::of_wheel(Direction::OWN_AXIS),
        to: Arrow::of_floor(axis),
        sense: Sense::Same,
    };
    let wishes = [Relation::along_travel(Direction::OWN_AXIS), head];
    let found = linkage.solve(&wishes, &[0, 1, 4, 5], &stand).unwrap();
    assert!(found.len() >= 4, "{}", found.len());
    let first = &found[0].settings;
    near(first.turn(4), degrees(-9.0), 1e-9);
    near(first.turn(5), Angle::ZERO, 1e-9);
    for one in &found {
        for wish in &wishes {
            near(miss(&linkage, wish, &one.settings), Angle::ZERO, 1e-9);
        }
    }
}

#[test]
fn questions_without_sense_are_refused() {
    let linkage = universal();
    let home = linkage.home();
    let plane = Relation::plane_in_face(-Direction::OWN_AXIS);
    let asked = |free: &[usize]| linkage.solve(&[plane], free, &home).unwrap_err();
    assert_eq!(asked(&[]), ChainError::Nothing);
    assert_eq!(asked(&[9]), ChainError::NoSuchJoint { joint: 9, count: 7 });
    assert_eq!(asked(&[2]), ChainError::Idle { joint: 2 });
    assert_eq!(asked(&[4, 4]), ChainError::Idle { joint: 4 });
    assert_eq!(asked(&[0, 1, 4, 5]), ChainError::Loose { free: 4, decided: 2 });
    assert!(linkage.solve(&[], &[0], &home).is_err());
}

prop_compose! {
    fn any_direction()(x in -1.0..1.0_f64, y in -1.0..1.0_f64, z in -1.0..1.0_f64)
        -> Direction
    {
        Direction::new(x, y, z).unwrap_or(Direction::UP)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Whatever a chain of two swivels does, the settings that did it are found again.
    #[test]
    fn settings_are_found_again_by_two_swivels(
        axes in [any_direction(), any_direction()],
        sides in [any::<bool>(), any::<bool>()],
        turns in [-3.1..3.1_f64, -3.1..3.1_f64],
        normal in any_direction(),
    ) {
        let side = |wheel: bool| if wheel { Side::Wheel } else { Side::Cutter };
        let joints = (0..2).map(|at| Joint::swivel(side(sides[at]), axes[at])).collect();
        let linkage = Linkage::facing(joints);
        let set = linkage.home()
            .with_turn(0, Angle::from_radians(turns[0]))
            .with_turn(1, Angle::from_radians(turns[1]));
        let own = linkage.relative(Body::Cutter, Body::Wheel, &set).direction(&normal);
        let wish = Relation::cutter_along_wheel(normal, own);
        let found = linkage.solve(&[wish], &[0, 1], &linkage.home()).unwrap();
        for one in &found {
            prop_assert!(miss(&linkage, &wish, &one.settings).degrees() < 1e-9);
        }
        let again = |one: &geometry::chain::Solution| (0..2).all(|at| {
            let miss = one.settings.turn(at).radians() - turns[at];
            miss.sin().abs() < 1e-5 / one.gain_least.max(1e-4) && miss.cos() > 0.0
        });
        prop_assert!(found.iter().any(again), "{turns:?} not among {found:?}");
    }

    /// The search finds again what an angle and a parallel asked of three swivels.
    #[test]
    fn settings_are_found_again_by_search(
        axes in [any_direction(), any_direction(), any_direction()],
        turns in [-3.1..3.1_f64, -3.1..3.1_f64, -3.1..3.1_f64],
        normal in any_direction(),
        edge in any_direction(),
    ) {
        let joints = axes.map(|axis| Joint::swivel(Side::Cutter, axis));
        let linkage = Linkage::facing(joints.to_vec());
        let set = (0..3).fold(linkage.home(), |set, at| {
            set.with_turn(at, Angle::from_radians(turns[at]))
        });
        let seen = linkage.placement(Body::Cutter, &set);
        let (own, edge_now) = (seen.direction(&normal), seen.direction(&edge));
        let floor = Arrow::of_floor(own);
        let wishes = [
            Relation::Along { of: Arrow::of_cutter(normal), to: floor, sense: Sense::Same },
            Relation::AtAngle {
                of: Arrow::of_cutter(edge),
                to: Arrow::of_floor(Direction::ALONG),
                angle: edge_now.angle_to(&Direction::ALONG),
            },
        ];
        let found = linkage.solve(&wishes, &[0, 1, 2], &linkage.home()).unwrap();
        let best = found.iter().map(|one| (0..3).map(|at| {
            let miss = one.settings.turn(at).radians() - turns[at];
            miss.sin().abs() + (1.0 - miss.cos())
        }).sum::<f64>()).fold(f64::INFINITY, f64::min);
        let least = found.iter().map(|one| one.gain_least).fold(f64::INFINITY, f64::min);
        prop_assert!(best < 1e-5 / least.max(1e-4), "{turns:?} not among {found:?}");
    }
}
