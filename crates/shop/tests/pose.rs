//! Wanted angles in the scales of a machine: what its phrases mean, what marks cost, what is
//! refused.

#![expect(clippy::unwrap_used, reason = "a test that cannot build its machine must stop")]

use geometry::chain::{Body, Direction, Settings};
use geometry::{Angle, Length};
use shop::ShopError;
use shop::pose::{MachineChain, SetUp, Surface, SurfaceAngles, set_ups};
use shop::record::{
    Axis, AxisDraft, AxisRole, Coolant, Finger, FingerKind, Fixture, Hand, HoldingDraft, Machine,
    MachineDraft, Motion, NutThread, Reads, RestDraft, RestStand, Rotation, Side, SlideScale,
    SpindleDraft, SpindleSpeed, SwivelScale,
};

fn degrees(value: f64) -> Angle {
    Angle::from_degrees(value)
}

/// Role, side, degrees of a mark, range, zero and growth of a swivel.
type Told<'a> = (AxisRole, Side, f64, Option<(f64, f64)>, &'a str, &'a str);

fn swivel((role, side, mark, range, zero, positive): &Told<'_>, at: usize) -> Axis {
    let scale = SwivelScale {
        graduation: degrees(*mark),
        vernier: None,
        backlash: Angle::ZERO,
        range: range.map(|(low, high)| (degrees(low), degrees(high))),
        halves: false,
    };
    let draft = AxisDraft {
        name: format!("{role} {at}"),
        role: *role,
        side: *side,
        motion: Motion::Swivel(scale),
        zero: (*zero).to_owned(),
        positive: (*positive).to_owned(),
    };
    draft.build().unwrap()
}

fn cross_feed() -> Axis {
    let scale = SlideScale {
        graduation: Length::from_mm(0.01),
        vernier: None,
        per_turn: None,
        reads: Reads::Radius,
        backlash: Length::ZERO,
        range: None,
        halves: false,
    };
    let (zero, positive) = ("full back".to_owned(), "work toward the wheel".to_owned());
    let (role, side) = (AxisRole::CrossFeed, Side::Work);
    let motion = Motion::Slide(scale);
    AxisDraft { name: "feed".to_owned(), role, side, motion, zero, positive }.build().unwrap()
}

fn machine(swivels: &[Told<'_>]) -> Machine {
    let axes: Vec<Axis> = swivels.iter().enumerate().map(|(at, told)| swivel(told, at)).collect();
    let spindle = SpindleDraft {
        speeds: vec![SpindleSpeed { rpm: 3600, belt: "one".to_owned() }],
        nut_thread: NutThread::Either,
        rotations: vec![Rotation::Clockwise],
        nut_end: "left".to_owned(),
        flange_diameter: None,
    };
    let holding = HoldingDraft {
        fixture: Fixture::ColletFixture,
        shank_min: Length::from_mm(3.0),
        shank_max: Length::from_mm(32.0),
        squaring: "edge".to_owned(),
        dividing: shop::record::Dividing::default(),
        centres: shop::record::Centres::default(),
        nose_diameter: None,
    };
    let finger =
        Finger { name: "blade".to_owned(), width: Length::from_mm(3.0), kind: FingerKind::Plain };
    let rest = RestDraft { stands_on: RestStand::WheelHead, fingers: vec![finger] };
    let draft = MachineDraft {
        name: "bench".to_owned(),
        spindle: spindle.build().unwrap(),
        axes: [cross_feed()].into_iter().chain(axes).collect(),
        holding: holding.build().unwrap(),
        rest: rest.build().unwrap(),
        coolant: Coolant::Dry,
        extraction: true,
    };
    draft.build().unwrap()
}

const HEAD: Told<'_> = (
    AxisRole::HeadSwivel,
    Side::Wheel,
    1.0,
    Some((-180.0, 180.0)),
    "square to travel",
    "clockwise seen from above",
);
const BASE: Told<'_> = (
    AxisRole::WorkHeadSwivel,
    Side::Work,
    1.0,
    Some((-180.0, 180.0)),
    "work spindle along the table",
    "collet toward the wheel",
);
const TILT: Told<'_> =
    (AxisRole::WorkHeadTilt, Side::Work, 1.0, Some((-45.0, 45.0)), "level", "collet down");
const DIAL: Told<'_> = (
    AxisRole::ReliefDial,
    Side::Work,
    1.0,
    Some((0.0, 40.0)),
    "tooth on centre",
    "tooth at the rest down",
);

fn plain() -> Machine {
    machine(&[HEAD, BASE, TILT, DIAL])
}

fn chain(machine: &Machine) -> MachineChain {
    MachineChain::of(machine, Hand::Right)
}

fn end(dish: f64, relief: f64) -> SurfaceAngles {
    SurfaceAngles { surface: Surface::End { dish: degrees(dish) }, relief: degrees(relief) }
}

fn found(chain: &MachineChain, wish: &SurfaceAngles) -> Result<Vec<SetUp>, ShopError> {
    let home = chain.linkage().home();
    set_ups(chain, &wish.relations(chain.hand(), true), &home, &chain.swivels())
}

/// Names and exact readings of a set-up.
fn told(set_up: &SetUp) -> Vec<(String, f64)> {
    let one = |moved: &shop::pose::Moved| (moved.mark.axis.clone(), moved.exact.degrees());
    set_up.moved.iter().map(one).collect()
}

fn near(found: Angle, expected: f64) {
    assert!((found.degrees() - expected).abs() < 1e-6, "{} is not {expected}", found.degrees());
}

fn looks(chain: &MachineChain, body: Body, settings: &Settings) -> [f64; 3] {
    chain.linkage().placement(body, settings).direction(&Direction::OWN_AXIS).parts()
}

/// An end tooth without dish needs the work spindle square to the travel, and tipped by the
/// relief: what every hand does (common practice, no source).
#[test]
fn an_end_tooth_is_swung_square_and_tipped_by_its_relief() {
    let machine = plain();
    let chain = chain(&machine);
    let best = &found(&chain, &end(0.0, 7.0)).unwrap()[0];
    let told = told(best);
    assert_eq!(told.len(), 2, "{told:?}");
    assert_eq!(told[0].0, "work head swivel 1");
    assert!((told[0].1 - 90.0).abs() < 1e-9 && (told[1].1 - 7.0).abs() < 1e-9, "{told:?}");
    near(best.miss, 0.0);
    let as_set = best.set.clone();
    let left = end(0.0, 7.0).as_set(&chain, &as_set);
    near(left.relief, 7.0);
    near(left.surface.angle(), 0.0);
}

/// With dish the corner is swung away from the wheel, so that the work head stands past square by
/// the dish; the relief is square to the edge, so that it tips by a little more than the relief.
#[test]
fn dish_swings_the_work_head_past_square() {
    let machine = plain();
    let chain = chain(&machine);
    let best = &found(&chain, &end(2.0, 7.0)).unwrap()[0];
    let told = told(best);
    let angle = |what: &str| told.iter().find(|(name, _)| name.contains(what)).unwrap().1;
    // Derived here by hand: the direction out of the metal, (−sin d cos a, sin a, −cos d cos a),
    // lies level after a tip of atan(tan a / cos d), and then asin(sin d cos a) short of square.
    let (d, a) = (2.0_f64.to_radians(), 7.0_f64.to_radians());
    let tip = (a.tan() / d.cos()).atan().to_degrees();
    let swing = 90.0 + (d.sin() * a.cos()).asin().to_degrees();
    assert!((angle("swivel") - swing).abs() < 1e-6, "{told:?}: {swing}");
    assert!((angle("tilt") - tip).abs() < 1e-6, "{told:?}: {tip}");
}

#[test]
fn relief_of_a_straight_tooth_is_the_dial_and_nothing_else() {
    let machine = plain();
    let chain = chain(&machine);
    let wish =
        SurfaceAngles { surface: Surface::Periphery { taper: Angle::ZERO }, relief: degrees(8.0) };
    let all = found(&chain, &wish).unwrap();
    assert_eq!(told(&all[0]), [("relief dial 3".to_owned(), all[0].moved[0].exact.degrees())]);
    near(all[0].moved[0].exact, 8.0);
}

#[test]
fn a_head_tilt_sets_relief_where_there_is_no_dial() {
    let tilt = (AxisRole::HeadTilt, Side::Wheel, 0.5, Some((-15.0, 15.0)), "level", "wheel end up");
    let machine = machine(&[HEAD, tilt, BASE, TILT, DIAL]);
    let chain = chain(&machine);
    let wish =
        SurfaceAngles { surface: Surface::Periphery { taper: Angle::ZERO }, relief: degrees(8.0) };
    let all = found(&chain, &wish).unwrap();
    let by_tilt = all.iter().find(|one| one.moved.len() == 1 && one.moved[0].joint == 2).unwrap();
    // Its upper side comes toward the cutter for relief: the wheel's end goes down, which this
    // scale counts backward.
    near(by_tilt.moved[0].exact, -8.0);
}

#[test]
fn marks_are_the_best_of_those_on_either_side_and_their_miss_is_told() {
    let machine = plain();
    let chain = chain(&machine);
    let best = &found(&chain, &end(1.4, 6.6)).unwrap()[0];
    for moved in &best.moved {
        let reading = chain.reading(moved.joint, &best.set).degrees();
        assert!((reading - reading.round()).abs() < 1e-9, "{reading}");
        assert!((reading - moved.exact.degrees()).abs() < 1.0);
    }
    let left = end(1.4, 6.6).as_set(&chain, &best.set);
    let (dish, relief) = (left.surface.angle().degrees() - 1.4, left.relief.degrees() - 6.6);
    // The miss is the angle between two planes, so it is no less than either part.
    let miss = best.miss.degrees();
    assert!(miss > 0.1 && miss < 0.8, "{miss}");
    assert!((miss - dish.hypot(relief)).abs() < 0.01, "{miss} {dish} {relief}");
}

#[test]
fn phrases_mean_what_they_say() {
    let table: Told<'_> = (
        AxisRole::TableSwivel,
        Side::Work,
        1.0,
        None,
        "table straight",
        "right end away from the wheel",
    );
    let machine = machine(&[HEAD, table, BASE, TILT, DIAL]);
    for hand in [Hand::Right, Hand::Left] {
        let chain = MachineChain::of(&machine, hand);
        assert!(chain.untold().is_empty());
        let home = chain.linkage().home();
        let shank = if hand == Hand::Right { 1.0 } else { -1.0 };
        let turned = |name: &str, by: f64| {
            let joint = chain.swivel(name).unwrap();
            home.clone().with_turn(joint, chain.stand(joint, degrees(by)))
        };
        assert!((looks(&chain, Body::Cutter, &home)[0] - shank).abs() < 1e-12);
        // The collet lies against the shank's direction.
        let swung = looks(&chain, Body::Cutter, &turned("work head swivel 2", 30.0));
        assert!(swung[1] < -0.4, "{hand}: {swung:?}");
        let tipped = looks(&chain, Body::Cutter, &turned("work head tilt 3", 10.0));
        assert!(tipped[2] > 0.1, "{hand}: {tipped:?}");
        // The table's right end carries a right-hand cutter's shank away from the wheel.
        let tabled = looks(&chain, Body::Cutter, &turned("table swivel 1", 5.0));
        assert!(tabled[1] * shank < -0.05, "{hand}: {tabled:?}");
        // Clockwise from above, a wheel that looks at you looks to your left.
        let headed = looks(&chain, Body::Wheel, &turned("head swivel 0", 20.0));
        assert!(headed[0] < -0.3, "{hand}: {headed:?}");
    }
}

#[test]
fn a_circle_that_reads_0_elsewhere_counts_from_there() {
    let head = (
        AxisRole::HeadSwivel,
        Side::Wheel,
        1.0,
        Some((0.0, 180.0)),
        "parallel to travel",
        "clockwise seen from above",
    );
    let base = (
        AxisRole::WorkHeadSwivel,
        Side::Work,
        1.0,
        None,
        "collet at the wheel",
        "collet away from the wheel",
    );
    let machine = machine(&[head, base, TILT, DIAL]);
    let chain = chain(&machine);
    let home = chain.linkage().home();
    near(chain.reading(chain.swivel("head swivel 0").unwrap(), &home), 90.0);
    near(chain.reading(chain.swivel("work head swivel 1").unwrap(), &home), 90.0);
    let best = &found(&chain, &end(0.0, 5.0)).unwrap()[0];
    // The work head then stands at its 0, so that it is told with the tilt.
    let swung = told(best).into_iter().find(|(name, _)| name.contains("swivel")).unwrap().1;
    assert!(swung.abs() < 1e-9, "{swung}");
}

#[test]
fn words_that_say_nothing_are_refused_with_those_that_would() {
    let mut base = BASE;
    base.5 = "the usual way";
    let machine = machine(&[HEAD, base, TILT, DIAL]);
    let chain = chain(&machine);
    assert_eq!(chain.untold().len(), 1);
    let refused = found(&chain, &end(0.0, 5.0)).unwrap_err().to_string();
    for words in ["\"work head swivel 1\"", "\"the usual way\"", "\"collet toward the wheel\""] {
        assert!(refused.contains(words), "{refused}");
    }
    assert!(chain.swivel("work head swivel 1").is_err());
}

#[test]
fn a_stop_is_named_with_the_nearest_set_up() {
    let mut tilt = TILT;
    tilt.3 = Some((-5.0, 5.0));
    let machine = machine(&[HEAD, BASE, tilt, DIAL]);
    let chain = chain(&machine);
    let wish = end(0.0, 9.0);
    let home = chain.linkage().home();
    let free =
        [chain.swivel("work head swivel 1").unwrap(), chain.swivel("work head tilt 2").unwrap()];
    let refused = set_ups(&chain, &wish.relations(Hand::Right, true), &home, &free);
    let said = refused.unwrap_err().to_string();
    assert!(
        said.contains("\"work head tilt 2\" would have to stand at 9 deg, 4.00 deg beyond"),
        "{said}"
    );
}

#[test]
fn two_tilts_on_one_side_stand_in_their_order() {
    let upper = (
        AxisRole::WorkHeadUpperSwivel,
        Side::Work,
        1.0,
        None,
        "work spindle along the table",
        "collet toward the wheel",
    );
    let second: Told<'_> =
        (AxisRole::WorkHeadTilt, Side::Work, 1.0, None, "level", "top toward the wheel");
    let machine = machine(&[HEAD, BASE, TILT, second, upper, DIAL]);
    let chain = chain(&machine);
    assert_eq!(chain.swivels().len(), 6);
    let all = found(&chain, &end(1.0, 6.0)).unwrap();
    for one in &all {
        let left = end(1.0, 6.0).as_set(&chain, &one.exact);
        near(left.relief, 6.0);
        near(left.surface.angle(), 1.0);
    }
}
