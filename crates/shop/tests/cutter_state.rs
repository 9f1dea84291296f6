//! What a cutter's history comes to: what stays done behind a corrective plan, and what a ground
//! end takes off its lengths.

mod common;

use common::half_inch;
use geometry::{Angle, Length};
use shop::book::event::{Checked, CutterEntered, HandedBack, Planned, Received, StepDone};
use shop::book::{
    CutterState, Entry, Event, Id, Initials, Latest, Moment, Stamp, State, Subject, SubjectKind,
};
use shop::record::{AsGround, CutterDraft, Special};

fn entries(events: Vec<Event>) -> Vec<Entry> {
    let entered = CutterEntered { cutter: half_inch(), marks: Vec::new() };
    let first = Event::CutterEntered(Box::new(entered));
    let stamp = Stamp {
        at: Moment::from_micros(0).expect("a moment"),
        by: Initials::new("AB").expect("initials"),
    };
    let entry = |(place, event)| Entry {
        subject: Subject::new(SubjectKind::Cutter, Id::from_bits(1)),
        number: place as u64 + 1,
        stamp: stamp.clone(),
        event,
    };
    [vec![first], events].concat().into_iter().enumerate().map(entry).collect()
}

fn state(events: Vec<Event>) -> CutterState {
    let Some(State::Cutter(cutter)) = Latest::of(&entries(events)).expect("a first entry").state
    else {
        unreachable!("the first entry makes a cutter")
    };
    *cutter
}

fn planned(follows: Option<u64>) -> Event {
    let (program, route) = ("0.1.0".to_owned(), "diameter".to_owned());
    Event::Planned(Planned { program, route, follows, ..Planned::default() })
}

fn step(plan: u64, key: &str) -> Event {
    Event::StepDone(StepDone { plan, step: key.to_owned(), stood: None, words: None })
}

/// Another plan begins anew; a corrective one goes over the periphery alone.
#[test]
fn a_corrective_plan_keeps_what_is_done_to_the_end() {
    let begun = vec![
        Event::Received(Received::default()),
        planned(None),
        step(3, "end: wheel"),
        step(3, "end: work swing"),
        step(3, "end: kiss"),
        step(3, "end: pass 1"),
        step(3, "gash: grind"),
        step(3, "primary: pass 1"),
        Event::Checked(Checked::default()),
    ];
    let corrective = [begun.clone(), vec![planned(Some(10))]].concat();
    let state_of = |events| state(events).steps.into_iter().map(|(_, done)| done.step);
    let kept: Vec<String> = state_of(corrective).collect();
    assert_eq!(kept, ["end: pass 1", "gash: grind"]);
    assert_eq!(state_of([begun, vec![planned(None)]].concat()).count(), 0);
}

fn back(shorter_mm: f64) -> HandedBack {
    let as_ground = AsGround {
        diameter: Length::from_inches(0.49),
        primary: Angle::from_degrees(10.0),
        secondary: Angle::from_degrees(20.0),
        land: Length::from_inches(0.02),
        next_primary: None,
    };
    let shorter = Some(Length::from_mm(shorter_mm));
    HandedBack { as_ground: Some(as_ground), to: None, shorter }
}

#[test]
fn what_the_end_lost_comes_off_flute_and_whole() {
    let back = |shorter_mm| Event::HandedBack(back(shorter_mm));
    let received = || Event::Received(Received::default());
    let twice = state(vec![received(), back(0.25), received(), back(0.5)]).cutter;
    let new = half_inch();
    assert!((new.flute_length() - twice.flute_length() - Length::from_mm(0.75)).mm().abs() < 1e-12);
    let whole = new.overall_length() - twice.overall_length();
    assert!((whole - Length::from_mm(0.75)).mm().abs() < 1e-12);
    assert_eq!(twice.regrinds(), new.regrinds() + 2);
}

/// Where teeth of unlike helix stand at the new tip, and how wide a taper is there: an edge goes
/// round by 2 z tan(helix) / D, a side out by z tan(taper) (own arithmetic).
#[test]
fn what_the_end_lost_turns_unlike_teeth_and_widens_a_taper() {
    let degrees = Angle::from_degrees;
    let tooth_helix = vec![degrees(28.0), degrees(32.0), degrees(28.0), degrees(32.0)];
    let index = [0.0, 88.0, 180.0, 268.0].map(degrees).to_vec();
    let taper = Angle::ZERO;
    let special = Special { index, tooth_helix, taper };
    let by = Length::from_mm(5.0);
    let unlike = CutterDraft { special, ..half_inch().draft() }.shortened(by).build().unwrap();
    let gains = 2.0 * 5.0 / 12.7 * (32_f64.to_radians().tan() - 28_f64.to_radians().tan());
    let second = unlike.special().index[1];
    assert!((second.degrees() - 88.0 - gains.to_degrees()).abs() < 1e-9, "{}", second.degrees());
    assert_eq!(unlike.special().index[2], degrees(180.0));
    assert_eq!(unlike.helix_of(2), degrees(32.0));

    let special = Special { taper: degrees(3.0), ..Special::default() };
    let tapered = CutterDraft { special, ..half_inch().draft() };
    let lead = |cutter: &CutterDraft| cutter.diameter / cutter.helix.tan();
    let shorter = tapered.clone().shortened(by);
    let wider = shorter.diameter - tapered.diameter;
    assert!((wider.mm() - 10.0 * 3_f64.to_radians().tan()).abs() < 1e-12);
    assert!((lead(&shorter) - lead(&tapered)).mm().abs() < 1e-9);
}

#[test]
fn an_end_adds_no_length_and_loses_none_unground() {
    let refused = |back: HandedBack| Event::HandedBack(back).check().unwrap_err().to_string();
    assert!(refused(back(-0.1)).contains("a grind adds no length"));
    let unground = HandedBack { as_ground: None, ..back(0.1) };
    assert!(refused(unground).contains("a cutter that was not ground lost no length"));
    assert!(Event::HandedBack(back(0.0)).check().is_ok());
}
