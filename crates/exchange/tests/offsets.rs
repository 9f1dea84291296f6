//! Lines for a control: what is written is what was asked for, and what is missing is refused.

#![expect(clippy::unwrap_used, reason = "a test that cannot make its case must stop")]

mod common;

use common::{cutter, draft};
use exchange::offset::{
    Assigned, Control, ControlDraft, HeldSize, Mode, Register, Written, offsets,
};
use exchange::symbol::{symbols_csv, symbols_json};
use geometry::Length;
use geometry::quantity::System;
use shop::record::{CutterDraft, ToothWear, WearDraft};

fn register(select: &str, holds: HeldSize) -> Register {
    Register { select: select.to_owned(), holds }
}

fn described() -> ControlDraft {
    ControlDraft {
        name: "window (mill)".to_owned(),
        units: System::Inch,
        units_word: "G20".to_owned(),
        decimals: 4,
        mode: Mode::Absolute,
        mode_word: "G90".to_owned(),
        last_word: None,
        number_letter: "P".to_owned(),
        value_letter: "R".to_owned(),
        numbers: (1, 99),
        geometry: register("L12", HeldSize::Radius),
        wear: Some(register("L13", HeldSize::Diameter)),
        written: Written::Geometry,
        clears_wear: true,
    }
}

fn control(draft: ControlDraft) -> Control {
    draft.build().unwrap()
}

fn one(old: Option<f64>) -> Assigned {
    Assigned { cutter: cutter("K-1"), number: 12, old, was_other: false }
}

fn blocks(program: &str) -> Vec<&str> {
    program.lines().filter(|line| !line.starts_with('(')).collect()
}

/// K-1 was ground to 0.4940 in, so its radius is 0.2470 in and it came 0.0060 in off nominal.
#[test]
fn each_description_gives_its_own_lines() {
    let made = offsets(&control(described()), &[one(Some(0.248))]).unwrap();
    let program = &made.program;
    assert_eq!(blocks(program), ["G20 G90", "G10 L12 P12 R0.2470", "G10 L13 P12 R0.0000"]);
    assert!(program.contains("GEOMETRY REGISTER HOLDS THE RADIUS IN INCHES, VALUES REPLACE"));
    assert!(program.contains("WAS 0.2480, WILL BE 0.2470"), "{program}");
    assert!(program.lines().all(|line| line.matches('(').count() <= 1), "{program}");
    let wear = ControlDraft { written: Written::Wear, clears_wear: false, ..described() };
    let made = offsets(&control(wear.clone()), &[one(None)]).unwrap();
    assert_eq!(blocks(&made.program)[1], "G10 L13 P12 R-0.0060");
    // Only then is it right: nominal, half an inch, as a radius.
    assert!(made.program.contains("(GEOMETRY OF OFFSET 12 MUST HOLD 0.2500)"), "{}", made.program);
    let added = ControlDraft { mode: Mode::Increment, mode_word: "G91".to_owned(), ..wear };
    let made = offsets(&control(added.clone()), &[one(Some(-0.002))]).unwrap();
    assert_eq!(blocks(&made.program), ["G20 G91", "G10 L13 P12 R-0.0040"]);
    assert!(made.program.contains("AND G91 STAYS IN FORCE AFTERWARDS"), "{}", made.program);
    assert_eq!((made.lines[0].new, made.lines[0].written), (-0.006, -0.004));
    let ended = ControlDraft { last_word: Some("G90".to_owned()), ..added.clone() };
    let made = offsets(&control(ended), &[one(Some(-0.002))]).unwrap();
    assert_eq!(blocks(&made.program), ["G20 G91", "G10 L13 P12 R-0.0040", "G90"]);
    assert!(!made.program.contains("STAYS IN FORCE"), "{}", made.program);
    let metric = ControlDraft {
        units: System::Millimetre,
        units_word: "G21".to_owned(),
        decimals: 3,
        geometry: register("L10", HeldSize::Diameter),
        clears_wear: false,
        ..described()
    };
    let made = offsets(&control(metric), &[one(None)]).unwrap();
    assert_eq!(blocks(&made.program), ["G21 G90", "G10 L10 P12 R12.548"]);
    assert!(made.program.contains("(WEAR OF OFFSET 12 MUST READ 0.000)"), "{}", made.program);
    for line in made.program.lines() {
        let odd = |letter: char| ";:'\"".contains(letter);
        assert!(line.len() <= 66 && !line.chars().any(odd), "{line}");
    }
    let refused = offsets(&control(added), &[one(None)]).unwrap_err();
    assert!(refused[0].why.contains("nobody says what is there"));
}

#[test]
fn what_is_missing_or_odd_is_refused() {
    let control = control(described());
    let unground = CutterDraft { as_ground: None, ..draft("K-2") }.build().unwrap();
    let wear =
        WearDraft { measured_diameter: Some(Length::from_inches(0.49)), ..WearDraft::default() };
    let dull = cutter("K-3").with_wear(wear.build().unwrap()).unwrap();
    let assigned = [
        Assigned { cutter: unground, number: 1, old: None, was_other: false },
        Assigned { cutter: dull, number: 2, old: None, was_other: false },
        Assigned { cutter: cutter("K-4"), number: 100, old: None, was_other: false },
        Assigned { cutter: cutter("K-5"), number: 5, old: Some(0.494), was_other: false },
        Assigned { cutter: cutter("K-6"), number: 5, old: None, was_other: false },
    ];
    let refused = offsets(&control, &assigned).unwrap_err();
    let why: Vec<&str> = refused.iter().map(|one| one.why.as_str()).collect();
    for (part, told) in [
        "offset 5 is named for another",
        "does not say to which diameter",
        "it is dull",
        "has no offset 100",
        "from 0.4940 to 0.2470 is no regrind",
    ]
    .iter()
    .zip(&why)
    {
        assert!(told.contains(part), "{part}: {told}");
    }
    assert_eq!(why.len(), 5);
}

#[test]
fn a_description_is_whole_or_refused() {
    let spoilt = ControlDraft {
        units_word: "G20\nM3".to_owned(),
        value_letter: "RR".to_owned(),
        decimals: 9,
        numbers: (9, 1),
        wear: None,
        ..described()
    };
    let keys: Vec<&str> = spoilt.build().unwrap_err().iter().map(|fault| fault.key).collect();
    assert_eq!(keys, ["words.units", "words.value", "decimals", "numbers", "wear"]);
}

/// G70 and G71 count in inches and millimetres, G90 and G91 replace and add (ISO 6983-1, table of
/// preparatory functions, from memory); G20 and G21 count so on many controls (*common practice, no
/// source*). Half a description changed would write a size 25 times off, or a negative one.
#[test]
fn a_description_that_contradicts_itself_is_refused() {
    let key = |draft: ControlDraft| -> Vec<&'static str> {
        draft.build().unwrap_err().iter().map(|fault| fault.key).collect()
    };
    for word in ["G21", "G71"] {
        let clash = ControlDraft { units_word: word.to_owned(), ..described() };
        assert_eq!(key(clash), ["words.units"], "{word}");
    }
    let metric = ControlDraft { units: System::Millimetre, decimals: 3, ..described() };
    assert_eq!(key(metric), ["words.units"]);
    let added = ControlDraft { mode_word: "G91".to_owned(), ..described() };
    assert_eq!(key(added), ["words.mode"]);
    let added = ControlDraft { mode: Mode::Increment, clears_wear: false, ..described() };
    assert_eq!(key(added), ["words.mode"]);
    // A control whose manual has other words is described with them.
    let own = ControlDraft { units_word: "G700".to_owned(), ..described() };
    assert!(own.build().is_ok());
    let twice = ControlDraft { wear: Some(register("L12", HeldSize::Radius)), ..described() };
    assert_eq!(key(twice), ["wear.select"]);
    let cleared =
        ControlDraft { mode: Mode::Increment, mode_word: "G91".to_owned(), ..described() };
    assert_eq!(key(cleared), ["clears_wear"]);
    // Three decimals of an inch round a radius by half a thousandth, a diameter by a whole one.
    let coarse = ControlDraft { decimals: 3, ..described() };
    assert_eq!(key(coarse), ["decimals"]);
}

/// The symbols are those of ISO 13399 as makers' lists have them.
#[test]
fn symbols_have_values_and_units() {
    let csv = symbols_csv(&[cutter("K-1")]);
    for line in
        ["K-1,DC,12.5476,mm", "K-1,HAND,R,", "K-1,NOF,4,", "K-1,FHA,30.0,deg", "K-1,RE,1.0,mm"]
    {
        assert!(csv.lines().any(|found| found == line), "{line} in {csv}");
    }
    let json: serde_json::Value = serde_json::from_str(&symbols_json(&[cutter("K-1")])).unwrap();
    let first = &json["cutters"][0]["properties"][0];
    assert_eq!((&first["symbol"], &first["unit"]), (&"DC".into(), &"mm".into()));
    assert_eq!(first["value"], 12.5476);
}

/// No grind makes a cutter larger (*common practice, no source*): a value below the new one is of
/// another cutter or another unit, unless another cutter stood there before.
#[test]
fn a_cutter_that_would_grow_is_asked_about() {
    let control = control(described());
    for old in [0.2464, 0.2400, 0.2100] {
        let refused = offsets(&control, &[one(Some(old))]).unwrap_err();
        assert!(refused[0].why.contains("would grow"), "{old}: {}", refused[0].why);
        assert!(refused[0].right.contains("say so with --other-before"), "{}", refused[0].right);
        let other = Assigned { was_other: true, ..one(Some(old)) };
        assert_eq!(offsets(&control, &[other]).unwrap().lines[0].new, 0.247);
    }
    // Two instruments differ by so much.
    assert!(offsets(&control, &[one(Some(0.2468))]).is_ok());
}

/// Chips and wear lands tell as well as a diameter that it is no longer as it was ground.
#[test]
fn wear_of_a_single_tooth_makes_it_dull() {
    let tooth = ToothWear {
        tooth: 1,
        wear_land: Length::from_mm(0.2),
        chip_depth: Length::ZERO,
        chip_from_end: Length::ZERO,
        wear_from_end: None,
        corner_wear: Length::ZERO,
        runout: None,
    };
    let wear = WearDraft { teeth: vec![tooth], ..WearDraft::default() };
    let dull = cutter("K-3").with_wear(wear.build().unwrap()).unwrap();
    let assigned = Assigned { cutter: dull, number: 2, old: None, was_other: false };
    let refused = offsets(&control(described()), &[assigned]).unwrap_err();
    assert!(refused[0].why.contains("it is dull"), "{}", refused[0].why);
}
