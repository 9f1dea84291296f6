//! Bodies of entries: what is written can be read, in every version that was ever written.
//!
//! The samples are made once, when a version is new, by `UPDATE_SAMPLES=1 cargo test -p book --test
//! bodies`, and never again: an old sample that no longer reads is a broken promise.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]
#![allow(clippy::print_stdout, reason = "what is left out or was done is told in a plain word")]

mod common;

use std::collections::BTreeSet;
use std::env;
use std::fs;
use std::path::PathBuf;

use book::{Stored, decode, encode, version_of};
use common::samples::{every_event, id};
use geometry::{Angle, Length};
use shop::book::event::{Dressed, HandedBack, Measured, Planned, WheelSize};
use shop::book::{Event, EventKind};
use shop::plan::PlannedSetup;
use shop::record::{CutterDraft, Named, Special};

fn sample(kind: EventKind, version: u32) -> PathBuf {
    let name = format!("{}_{version}.json", kind.name().replace(' ', "_"));
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/samples").join(name)
}

#[test]
fn there_is_an_event_of_each_kind_to_try() {
    let tried: BTreeSet<_> = every_event().iter().filter_map(Event::kind).collect();
    let all: BTreeSet<_> = EventKind::ALL.iter().copied().collect();
    assert_eq!(tried, all);
}

#[test]
fn every_event_comes_back_from_its_body() {
    for event in every_event() {
        let stored = encode(&event);
        assert_eq!(decode(&stored), event, "{stored:?}");
        assert_eq!(encode(&decode(&stored)), stored);
    }
}

#[test]
fn samples_of_every_kind_and_version_can_be_read() {
    for event in every_event() {
        let kind = event.kind().unwrap();
        for version in 1..=version_of(kind) {
            let path = sample(kind, version);
            if version == version_of(kind)
                && env::var_os("UPDATE_SAMPLES").is_some()
                && !path.exists()
            {
                fs::write(&path, format!("{}\n", encode(&event).body)).unwrap();
            }
            let body = fs::read_to_string(&path).unwrap_or_else(|error| {
                panic!("{}: {error}; a sample of each version must be kept", path.display())
            });
            let stored = Stored { kind: kind.name().to_owned(), version, body };
            assert_eq!(decode(&stored), as_of(version, event.clone()), "{}", path.display());
        }
    }
}

/// A size that was kept before heights were says nothing of the height.
#[test]
fn a_wheels_height_comes_back_and_may_be_missing() {
    let size = |depth| WheelSize { depth, ..WheelSize::default() };
    let measured = Event::Measured(Measured { size: size(Some(Length::from_mm(31.72))) });
    assert_eq!(decode(&encode(&measured)), measured);
    let old = Stored { body: "{\"size\":{}}".to_owned(), ..encode(&measured) };
    assert_eq!(decode(&old), Event::Measured(Measured { size: size(None) }));
}

/// A plan that was kept before set-ups were has none.
#[test]
fn a_plans_set_up_comes_back_and_may_be_missing() {
    let setup = PlannedSetup {
        head_angle: Angle::from_degrees(89.25),
        relief_setting: Angle::from_degrees(10.5),
        finger: Some("offset".to_owned()),
    };
    let planned = |setup| {
        let (program, route) = ("0.1.0".to_owned(), "diameter".to_owned());
        Event::Planned(Planned { program, route, setup, ..Planned::default() })
    };
    let kept = planned(Some(setup));
    assert_eq!(decode(&encode(&kept)), kept);
    let old = Stored {
        body: "{\"program\":\"0.1.0\",\"route\":\"diameter\"}".to_owned(),
        ..encode(&kept)
    };
    assert_eq!(decode(&old), planned(None));
}

/// What an event was before its body could say all that it says now.
fn as_of(version: u32, event: Event) -> Event {
    match event {
        Event::CutterEntered(mut entered) if version < 3 => {
            let draft = CutterDraft { special: Special::default(), ..entered.cutter.draft() };
            let end_teeth = draft.end_teeth.filter(|_| version == 2);
            entered.cutter = CutterDraft { end_teeth, ..draft }.build().unwrap();
            Event::CutterEntered(entered)
        }
        Event::Planned(planned) if version == 1 => Event::Planned(Planned {
            radius_per_travel: None,
            follows: None,
            setup: None,
            ..planned
        }),
        Event::Dressed(dressed) if version == 1 => {
            let size = WheelSize { depth: None, ..dressed.size };
            Event::Dressed(Dressed { size, ..dressed })
        }
        Event::Measured(Measured { size }) if version == 1 => {
            Event::Measured(Measured { size: WheelSize { depth: None, ..size } })
        }
        Event::HandedBack(back) if version == 1 => {
            Event::HandedBack(HandedBack { shorter: None, ..back })
        }
        event => event,
    }
}

/// A program that knows only the first version of a plan carries one of the second along whole, and
/// says so, instead of dropping what it does not know.
#[test]
fn what_an_older_program_does_not_know_has_a_version_that_it_does_not_know() {
    for event in every_event() {
        let (kind, stored) = (event.kind().unwrap(), encode(&event));
        assert_eq!(stored.version, version_of(kind));
        let has_grown = as_of(1, event.clone()) != event;
        assert_eq!(has_grown, version_of(kind) > 1, "{kind}: raise its version");
        let next = Stored { version: stored.version + 1, ..stored };
        let Event::Foreign(foreign) = decode(&next) else { panic!("{next:?} was read") };
        assert_eq!(encode(&Event::Foreign(foreign)), next);
    }
}

#[test]
fn nothing_beside_the_samples_lies_among_them() {
    let folder = sample(EventKind::Noted, 1).parent().unwrap().to_path_buf();
    let wanted: BTreeSet<PathBuf> = EventKind::ALL
        .iter()
        .flat_map(|&kind| (1..=version_of(kind)).map(move |version| sample(kind, version)))
        .collect();
    let found: BTreeSet<PathBuf> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    assert_eq!(found, wanted);
}

#[test]
fn what_cannot_be_read_is_kept_as_it_is() {
    let stored = |kind: &str, version, body: &str| Stored {
        kind: kind.to_owned(),
        version,
        body: body.to_owned(),
    };
    for (odd, why) in [
        (stored("polished", 1, "{\"by\":\"hand\"}"), "does not know the kind"),
        (stored("noted", 7, "{\"words\":\"x\"}"), "this is 7"),
        (stored("noted", 1, "{\"words\":3}"), "words: is no text"),
        (stored("noted", 1, "{}"), "words: is missing"),
        (stored("noted", 1, "[]"), "is no object"),
        (stored("noted", 1, "{"), "EOF"),
        (stored("received", 1, "{\"tray\":\"7\"}"), "tray: is no id"),
        (stored("wear seen", 1, "{\"wear\":{\"signs\":[\"rust\"]}}"), "\"rust\""),
        (stored("wear seen", 1, "{\"wear\":{\"teeth\":[{}]}}"), "wear.teeth[0].tooth"),
    ] {
        let Event::Foreign(foreign) = decode(&odd) else { panic!("{odd:?} was read") };
        assert!(foreign.why.contains(why), "{}: {why}", foreign.why);
        assert_eq!(encode(&Event::Foreign(foreign)), odd);
    }
}

/// The sample of a plan is older than these figures; without them a plan still reads.
#[test]
fn what_came_later_to_a_plan_comes_back() {
    use shop::book::event::Planned;

    let figures = Planned { radius_per_travel: Some(0.491_3), ..Planned::default() };
    let planned = Planned { follows: Some(7), ..figures };
    let event = Event::Planned(Planned { program: "0.1.0".to_owned(), ..planned });
    assert_eq!(decode(&encode(&event)), event);
}

#[test]
fn angles_and_lengths_come_back_to_the_last_bit() {
    use geometry::{Angle, Length};
    use shop::book::event::{DialStood, Ground};
    use shop::plan::Quantity;
    let mut state = 7_u64;
    for _ in 0..20_000 {
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let number = f64::from(u32::try_from(state >> 32).unwrap()) / f64::from(u32::MAX) * 90.0;
        let tenth = (number * 100.0).round() / 100.0;
        let dials = [
            Quantity::Angle(Angle::from_degrees(number)),
            Quantity::Angle(Angle::from_degrees(tenth)),
            Quantity::Angle(Angle::from_minutes(number)),
            Quantity::Length(Length::from_inches(number)),
        ];
        let stood = |reading| DialStood { axis: "a".to_owned(), reading };
        let dials = dials.map(stood).to_vec();
        let event = Event::Ground(Ground { dials, wheel: Some(id(9)), ..Ground::default() });
        assert_eq!(decode(&encode(&event)), event);
    }
    let stood = Quantity::Angle(Angle::from_degrees(30.0));
    let dials = vec![DialStood { axis: "a".to_owned(), reading: stood }];
    let body = encode(&Event::Ground(Ground { dials, ..Ground::default() })).body;
    assert!(body.contains("\"reading_deg\":30.0"), "{body}");
}
