//! From the entries of the book to what is learned from: which entries count, and what they say.

mod common;

use common::half_inch;
use geometry::{Angle, Length};
use shop::Ctx;
use shop::book::event::{
    Amended, Checked, CutterEntered, Dressed, Ground, HandedBack, Measured, Planned, Received,
    WearSeen, WheelEntered, WheelSize,
};
use shop::book::{Entry, Event, Id, Initials, Moment, Stamp, Subject, SubjectKind};
use shop::learn::{cutter_history, dial_to_stock, stock_per_grind, wheel_history, wheel_wear};
use shop::plan::Route;
use shop::record::{AsGround, Bond, ToothWear, WearDraft, Wheel, WheelDraft, WheelShape};
use trade::{Abrasive, Tables};

fn inches(inches: f64) -> Length {
    Length::from_inches(inches)
}

/// A history whose entries follow each other by the hour, beginning at an hour.
fn history(kind: SubjectKind, id: u128, hour: i64, events: Vec<Event>) -> Vec<Entry> {
    let entry = |(place, event)| Entry {
        subject: Subject::new(kind, Id::from_bits(id)),
        number: place as u64 + 1,
        stamp: Stamp {
            at: Moment::from_micros((hour + place as i64) * 3_600_000_000).expect("a moment"),
            by: Initials::new("AB").expect("initials"),
        },
        event,
    };
    events.into_iter().enumerate().map(entry).collect()
}

fn cutter(events: Vec<Event>) -> Vec<Entry> {
    let entered = CutterEntered { cutter: half_inch(), marks: Vec::new() };
    let first = Event::CutterEntered(Box::new(entered));
    history(SubjectKind::Cutter, 1, 10, [vec![first], events].concat())
}

fn seen(dull: f64, land: f64) -> Event {
    let tooth = |tooth, share: f64| ToothWear {
        tooth,
        wear_land: inches(land * share),
        ..ToothWear::default()
    };
    let draft = WearDraft {
        measured_diameter: Some(inches(dull)),
        teeth: vec![tooth(1, 0.5), tooth(2, 1.0), tooth(3, 0.8)],
        ..WearDraft::default()
    };
    Event::WearSeen(WearSeen { wear: draft.build().expect("the wear is sound") })
}

fn ground_to(diameter: f64, primary: f64) -> AsGround {
    AsGround {
        diameter: inches(diameter),
        primary: Angle::from_degrees(primary),
        secondary: Angle::from_degrees(20.0),
        land: inches(0.02),
        next_primary: None,
    }
}

fn back(diameter: f64, primary: f64) -> Event {
    let as_ground = Some(ground_to(diameter, primary));
    Event::HandedBack(HandedBack { as_ground, ..HandedBack::default() })
}

fn planned(route: Route) -> Event {
    Event::Planned(Planned { route: route.name().to_owned(), ..Planned::default() })
}

fn received() -> Event {
    Event::Received(Received::default())
}

fn amended(entry: u64, instead: Option<Event>) -> Event {
    Event::Amended(Amended { entry, why: "a slip".to_owned(), instead: instead.map(Box::new) })
}

#[test]
fn each_time_it_left_ground_is_one_grind() {
    let entries = cutter(vec![
        received(),
        seen(0.496, 0.010),
        planned(Route::Diameter),
        back(0.490, 9.0),
        received(),
        seen(0.487, 0.006),
        planned(Route::CutBack),
        back(0.482, 10.0),
    ]);
    let found = cutter_history(&entries);
    assert!(found.left_out.is_empty(), "{:?}", found.left_out);
    let grinds = found.history.grinds();
    let sizes: Vec<_> = grinds.iter().map(|g| (g.sharp_before, g.dull, g.after)).collect();
    let some = |size| Some(inches(size));
    assert_eq!(
        sizes,
        [(some(0.5), some(0.496), inches(0.490)), (some(0.490), some(0.487), inches(0.482))]
    );
    let worn: Vec<_> = grinds.iter().map(|g| (g.wear_land, g.worn_on)).collect();
    let degrees = |degrees| Some(Angle::from_degrees(degrees));
    assert_eq!(worn, [(some(0.010), degrees(10.0)), (some(0.006), degrees(9.0))]);
    assert_eq!(grinds[1].entry, "entry 9");
}

#[test]
fn entries_count_as_they_were_amended() {
    let events = vec![received(), planned(Route::Diameter), back(0.40, 10.0)];
    let mended = [events.clone(), vec![amended(4, Some(back(0.490, 10.0)))]].concat();
    let found = cutter_history(&cutter(mended));
    assert_eq!(found.history.grinds()[0].after, inches(0.490));
    let struck = [events, vec![amended(4, None)]].concat();
    assert!(cutter_history(&cutter(struck)).history.grinds().is_empty());
}

#[test]
fn grinds_by_another_way_are_left_out_and_told() {
    let found = cutter_history(&cutter(vec![
        received(),
        planned(Route::Face),
        back(0.499, 10.0),
        received(),
        back(0.499, 10.0),
        received(),
        Event::HandedBack(HandedBack::default()),
        received(),
        back(0.490, 10.0),
        received(),
        planned(Route::Diameter),
        back(0.495, 10.0),
    ]));
    let told: Vec<_> = found.left_out.iter().map(|out| out.entry.as_str()).collect();
    assert_eq!(told, ["entry 4", "entry 6", "entry 13"]);
    assert_eq!(found.left_out[0].why, "it was planned to regrind on the face");
    assert!(found.left_out[2].why.contains("no grind makes a cutter grow"), "{found:?}");
    let [grind] = found.history.grinds() else { panic!("{found:?}") };
    assert_eq!((grind.sharp_before, grind.after), (Some(inches(0.499)), inches(0.490)));
}

/// Shrinkage by hand: prior 0.010 in ± 30 %, one grind of 0.006 in with a scatter of 42 % and two
/// readings of 0.005 mm each; the weights are 1/0.003² and 1/(0.0042² + 0.000278²).
#[test]
fn what_the_book_says_moves_the_stock_as_by_hand() {
    let found =
        cutter_history(&cutter(vec![received(), planned(Route::Diameter), back(0.494, 9.0)]));
    let ctx = Ctx { tables: Tables::bundled().expect("the tables are sound") };
    let learned = stock_per_grind(&ctx, &half_inch(), &found.history).expect("it is learned");
    let reading = 2.0_f64.sqrt() * 0.005 / 25.4;
    let (table, own) = (0.003_f64.powi(-2), 1.0 / (0.0042_f64.powi(2) + reading.powi(2)));
    let by_hand = (0.010 * table + 0.006 * own) / (table + own);
    assert!((learned.value.inches() - by_hand).abs() < 1e-9, "{}", learned.value.inches());
    assert_eq!(learned.words(), "1 grind of its own, the table counts as 2");
}

fn wheel(shape: WheelShape, wall_degrees: Option<f64>) -> Wheel {
    let draft = WheelDraft {
        number: "W-1".to_owned(),
        shape,
        abrasive: Abrasive::AluminiumOxide,
        grit: "60".to_owned(),
        concentration: None,
        grade: Some('K'),
        bond: Bond::Vitrified,
        diameter: Length::from_mm(100.0),
        face_width: Length::from_mm(2.0),
        rim_width: None,
        corner_radius: Length::ZERO,
        bore: Length::from_mm(20.0),
        depth: Length::from_mm(35.0),
        wall_angle: wall_degrees.map(Angle::from_degrees),
        marked_rpm: 5000,
        marked_speed_m_per_s: None,
        coolant: None,
    };
    draft.build().expect("the wheel is sound")
}

fn entered(wheel: Wheel) -> Event {
    Event::WheelEntered(Box::new(WheelEntered { wheel, marks: Vec::new() }))
}

fn size(mm: f64) -> WheelSize {
    WheelSize { diameter: Some(Length::from_mm(mm)), ..WheelSize::default() }
}

fn wheel_id() -> Id {
    Id::from_bits(7)
}

/// A plan by which 0.2 mm on a dial that counts diameter take 0.098 mm off the radius.
fn plan_on_diameter() -> Event {
    Event::Planned(Planned {
        route: Route::Diameter.name().to_owned(),
        wheel: Some(wheel_id()),
        stock: Some(Length::from_mm(0.098)),
        diameter_after: Some(Length::from_mm(12.4)),
        travel: Some(Length::from_mm(0.2)),
        radius_per_travel: Some(0.49),
        ..Planned::default()
    })
}

fn ground(plan: u64, travel_mm: f64, after_mm: f64) -> Event {
    Event::Ground(Ground {
        plan: Some(plan),
        wheel: Some(wheel_id()),
        travel: Some(Length::from_mm(travel_mm)),
        diameter_after: Some(Length::from_mm(after_mm)),
        ..Ground::default()
    })
}

/// A cutter left 0.02 mm larger on the diameter than planned has lost 0.01 mm less on the radius.
#[test]
fn the_dial_is_held_against_the_plan() {
    let cutter =
        cutter(vec![received(), plan_on_diameter(), ground(3, 0.2, 12.42), ground(3, 0.25, 12.4)]);
    let wheel = history(SubjectKind::Wheel, 7, 0, vec![entered(wheel(WheelShape::Type1, None))]);
    let found = wheel_history(&wheel, &[cutter]);
    let [grind] = found.history.grinds() else { panic!("{found:?}") };
    assert_eq!(grind.entry, "R-1, entry 4");
    assert!((grind.fed.expect("a feed").mm() - 0.098).abs() < 1e-12);
    assert!((grind.came_off.expect("what came off").mm() - 0.088).abs() < 1e-12);
    let ctx = Ctx { tables: Tables::bundled().expect("the tables are sound") };
    let learned = dial_to_stock(&ctx, &found.history).expect("it is learned");
    assert!(learned.value > 0.088 / 0.098 && learned.value < 1.0, "{}", learned.value);
}

/// A size that no feed of its plan leaves is a slip of the pen: it is named, and teaches nothing.
#[test]
fn a_size_that_no_plan_leaves_is_left_out_and_named() {
    for slip in [1.24, 124.0, 13.4] {
        let cutter = cutter(vec![received(), plan_on_diameter(), ground(3, 0.2, slip)]);
        let wheel =
            history(SubjectKind::Wheel, 7, 0, vec![entered(wheel(WheelShape::Type1, None))]);
        let found = wheel_history(&wheel, &[cutter]);
        assert!(found.history.grinds().is_empty(), "{slip}: {found:?}");
        let [left] = &found.left_out[..] else { panic!("{slip}: {found:?}") };
        assert_eq!(left.entry, "R-1, entry 4");
        assert!(left.why.contains("none that its plan could leave"), "{}", left.why);
    }
}

/// A corrective grind is part of the regrind that it corrects: no cutter more, no dull size, and
/// its feed says nothing of the dial.
#[test]
fn a_corrective_grind_is_no_first_grind() {
    let Event::Planned(plain) = plan_on_diameter() else { panic!("a plan") };
    let again = |check| Event::Planned(Planned { follows: Some(check), ..plain.clone() });
    let read = Event::Read(Box::default());
    let checked = Event::Checked(Checked { program: "0".to_owned(), ..Checked::default() });
    let once = vec![received(), seen(0.496, 0.010), plan_on_diameter(), ground(4, 0.2, 12.42)];
    let wheel = history(SubjectKind::Wheel, 7, 0, vec![entered(wheel(WheelShape::Type1, None))]);
    let mut twice = once.clone();
    twice.extend([read, checked, again(7), ground(8, 0.02, 12.40)]);
    let (once, twice) = (cutter(once), cutter(twice));
    let remarks = shop::book::Latest::of(&twice).expect("a history").remarks;
    assert!(remarks.iter().all(|remark| remark.entry != 8 && remark.entry != 9), "{remarks:?}");
    assert_eq!(wheel_history(&wheel, std::slice::from_ref(&twice)), wheel_history(&wheel, &[once]));
    let back = |mut entries: Vec<Entry>| {
        let mut events: Vec<Event> = entries.drain(1..).map(|entry| entry.event).collect();
        events.push(back(0.488, 9.0));
        cutter_history(&cutter(events)).history
    };
    let grinds = back(twice);
    let [grind] = grinds.grinds() else { panic!("{grinds:?}") };
    assert_eq!(grind.dull, Some(inches(0.496)));
}

/// A plan that has turned its feed by a ratio foretells the size with it; where the foretold size
/// comes, the ratio learned is that ratio, and not one.
#[test]
fn a_ratio_that_was_used_is_not_unlearned() {
    let Event::Planned(plain) = plan_on_diameter() else { panic!("a plan") };
    let turned = Planned { stock: Some(Length::from_mm(0.098 * 0.9)), ..plain };
    let cutter = cutter(vec![received(), Event::Planned(turned), ground(3, 0.2, 12.4)]);
    let wheel = history(SubjectKind::Wheel, 7, 0, vec![entered(wheel(WheelShape::Type1, None))]);
    let found = wheel_history(&wheel, &[cutter]);
    let grind = &found.history.grinds()[0];
    let (fed, came_off) = (grind.fed.expect("a feed"), grind.came_off.expect("what came off"));
    assert!((came_off / fed - 0.9).abs() < 1e-12, "{}", came_off / fed);
}

#[test]
fn what_a_grind_lacks_is_told() {
    let unread = Event::Ground(Ground {
        plan: Some(3),
        wheel: Some(wheel_id()),
        travel: Some(Length::from_mm(0.2)),
        ..Ground::default()
    });
    let unplanned = Event::Ground(Ground { wheel: Some(wheel_id()), ..Ground::default() });
    let cutter = cutter(vec![received(), plan_on_diameter(), unread, unplanned]);
    let wheel = history(SubjectKind::Wheel, 7, 0, vec![entered(wheel(WheelShape::Type1, None))]);
    let found = wheel_history(&wheel, &[cutter]);
    let told: Vec<_> = found.left_out.iter().map(|out| out.why.as_str()).collect();
    assert_eq!(told, ["the size after it was not written down", "no plan stands before it"]);
    assert!(found.history.grinds().is_empty());
}

/// Straight wheel: 0.5 mm on the diameter is 0.25 mm of face; dressing took 0.2 mm of it.
#[test]
fn what_dressing_took_is_no_wear() {
    let dressed = |taken: Option<f64>, to: Option<f64>| {
        let size = to.map(size).unwrap_or_default();
        Event::Dressed(Dressed { size, taken: taken.map(Length::from_mm), words: String::new() })
    };
    let worn = |dressing: Event| {
        let measured = Event::Measured(Measured { size: size(99.5) });
        let events = vec![entered(wheel(WheelShape::Type1, None)), dressing, measured];
        let mut entries = history(SubjectKind::Wheel, 7, 0, events);
        entries[2].stamp.at = Moment::from_micros(1_000 * 3_600_000_000).expect("a moment");
        let one = cutter(vec![received(), plan_on_diameter(), ground(3, 0.2, 12.42)]);
        wheel_history(&entries, &[one.clone(), one])
    };
    let found = worn(dressed(Some(0.2), None));
    let lost = found.history.grinds().iter().find(|grind| grind.face_lost.is_some());
    let lost = lost.expect("the span is told");
    assert_eq!(lost.cutters, 2);
    assert!((lost.face_lost.expect("a loss").mm() - 0.05).abs() < 1e-9, "{lost:?}");
    let ctx = Ctx { tables: Tables::bundled().expect("the tables are sound") };
    let learned = wheel_wear(&ctx, Abrasive::AluminiumOxide, &found.history).expect("learned");
    assert_eq!(learned.own, 2);
    let unknown = worn(dressed(None, None));
    assert_eq!(unknown.left_out[0].why, "what dressing took off was not written down");
}

/// A wall at 45 degrees loses as much height as its rim shrinks on the radius; a straight cup's
/// diameter tells nothing.
#[test]
fn a_leaning_wall_tells_its_height_by_its_diameter() {
    let worn = |wheel: Wheel| {
        let measured = Event::Measured(Measured { size: size(99.0) });
        let mut entries = history(SubjectKind::Wheel, 7, 0, vec![entered(wheel), measured]);
        entries[1].stamp.at = Moment::from_micros(1_000 * 3_600_000_000).expect("a moment");
        let one = cutter(vec![received(), plan_on_diameter(), ground(3, 0.2, 12.42)]);
        wheel_history(&entries, &[one])
    };
    let flaring = worn(wheel(WheelShape::Type11, Some(45.0)));
    let lost = flaring.history.grinds().iter().find_map(|grind| grind.face_lost);
    assert!((lost.expect("a loss").mm() - 0.5).abs() < 1e-9);
    let straight = worn(wheel(WheelShape::Type6, None));
    let why = "the diameter of such a wheel does not tell its wear; measure its height";
    assert_eq!(straight.left_out[0].why, why);
}

/// A straight cup of 40 mm that stands 39.7 mm high after two cutters, 0.2 mm of it taken off by
/// dressing, has lost 0.1 mm of face, 0.05 mm over each; a diameter that was measured between tells
/// nothing and takes nothing away.
#[test]
fn a_cup_tells_its_wear_by_its_height() {
    let cup = wheel(WheelShape::Type6, None);
    let depth = cup.depth();
    let height = |off_mm: f64| {
        let depth = Some(depth - Length::from_mm(off_mm));
        Event::Measured(Measured { size: WheelSize { depth, ..WheelSize::default() } })
    };
    let dressed =
        Event::Dressed(Dressed { taken: Some(Length::from_mm(0.2)), ..Dressed::default() });
    let across = Event::Measured(Measured { size: size(99.9) });
    let events = vec![entered(cup.clone()), dressed, across, height(0.3)];
    let mut entries = history(SubjectKind::Wheel, 7, 0, events);
    entries[3].stamp.at = Moment::from_micros(1_000 * 3_600_000_000).expect("a moment");
    let one = cutter(vec![received(), plan_on_diameter(), ground(3, 0.2, 12.42)]);
    let found = wheel_history(&entries, &[one.clone(), one.clone()]);
    let lost = found.history.grinds().iter().find(|grind| grind.face_lost.is_some());
    let lost = lost.expect("the height tells");
    assert_eq!((lost.entry.as_str(), lost.cutters), ("the wheel's entry 4", 2));
    assert!((lost.face_lost.expect("a loss").mm() - 0.1).abs() < 1e-9, "{lost:?}");
    let state = shop::book::Latest::of(&entries).expect("a history").state;
    let Some(shop::book::State::Wheel(state)) = state else { panic!("no wheel") };
    assert!((state.wheel.depth() - (depth - Length::from_mm(0.3))).abs().mm() < 1e-9);
}

/// What the height has told since the wheel came is not told once more by its diameter.
#[test]
fn no_wear_is_told_twice() {
    let flaring = wheel(WheelShape::Type11, Some(45.0));
    let both = WheelSize { depth: Some(flaring.depth() - Length::from_mm(0.5)), ..size(99.0) };
    let events = vec![entered(flaring), Event::Measured(Measured { size: both })];
    let mut entries = history(SubjectKind::Wheel, 7, 0, events);
    entries[1].stamp.at = Moment::from_micros(1_000 * 3_600_000_000).expect("a moment");
    let one = cutter(vec![received(), plan_on_diameter(), ground(3, 0.2, 12.42)]);
    let found = wheel_history(&entries, &[one]);
    let told: Vec<_> = found.history.grinds().iter().filter_map(|grind| grind.face_lost).collect();
    assert_eq!(told.len(), 1);
    assert!((told[0].mm() - 0.5).abs() < 1e-9);
}
