//! The fold, tried without any store.

use super::*;
use crate::book::event::{
    Amended, Dressed, Event, Foreign, HandedBack, Noted, PersonEntered, PinSet, Planned, Received,
    Retired, TrayOpened, TrayOrdered, WheelSize, Written,
};
use crate::book::{Append, Entry, Id, Initials, Moment, Stamp, Subject, SubjectKind};

fn subject(kind: SubjectKind) -> Subject {
    Subject::new(kind, Id::from_bits(1))
}

fn append(kind: SubjectKind, seen: u64, events: Vec<Event>) -> Append {
    let at = Moment::from_micros(i64::try_from(seen).unwrap()).unwrap();
    let stamp = Stamp { at, by: Initials::new("AB").unwrap() };
    Append { subject: subject(kind), seen, stamp, events }
}

fn history(kind: SubjectKind, events: Vec<Event>) -> Vec<Entry> {
    append(kind, 0, events).entries()
}

fn written(text: &str) -> Event {
    Event::Written(Written { name: "rates".to_owned(), text: text.to_owned() })
}

fn amended(entry: u64, instead: Option<Event>) -> Event {
    Event::Amended(Amended { entry, why: "a slip".to_owned(), instead: instead.map(Box::new) })
}

fn document(entries: &[Entry]) -> DocumentState {
    match Latest::of(entries).unwrap().state {
        Some(State::Document(document)) => document,
        other => panic!("{other:?}"),
    }
}

#[test]
fn an_empty_history_has_no_state() {
    assert_eq!(Latest::of(&[]), None);
}

#[test]
fn the_latest_version_of_a_paper_counts() {
    let versions = vec![written("one"), written("two"), written("three")];
    let entries = history(SubjectKind::Prices, versions.clone());
    let now = document(&entries);
    assert_eq!((now.text.as_str(), now.version), ("three", 3));

    let struck = [versions.clone(), vec![amended(3, None)]].concat();
    assert_eq!(document(&history(SubjectKind::Prices, struck)).text, "two");
    let mended = [versions, vec![amended(1, Some(written("uno"))), amended(3, None)]].concat();
    let mended = history(SubjectKind::Prices, mended);
    assert_eq!(document(&mended).text, "two");
    assert_eq!(mended[0].event, written("one"));
}

#[test]
fn the_last_amendment_of_an_entry_counts() {
    let events =
        vec![written("one"), written("two"), amended(2, None), amended(2, Some(written("zwei")))];
    assert_eq!(document(&history(SubjectKind::Tables, events)).text, "zwei");
}

#[test]
fn what_is_done_with_can_be_brought_back() {
    let retired = Event::Retired(Retired { why: "sold".to_owned() });
    let noted = Event::Noted(Noted { words: "to a friend".to_owned() });
    let entries = history(SubjectKind::Machine, vec![written("a"), retired, noted]);
    let gone = Latest::of(&entries).unwrap();
    assert_eq!((gone.stage(), gone.retired, gone.remarks.len()), (Stage::Gone, Some(2), 0));
    let late = judge(&entries, &append(SubjectKind::Machine, 3, vec![written("b")]));
    assert!(late.unwrap_err().to_string().contains("done with since entry 2"));
    let back = append(SubjectKind::Machine, 3, vec![amended(2, None), written("b")]);
    assert_eq!(judge(&entries, &back).unwrap().stage(), Stage::Current);
}

#[test]
fn what_cannot_be_read_counts_for_nothing_and_stops_nothing() {
    let foreign = Event::Foreign(Foreign {
        kind: "polished".to_owned(),
        version: 2,
        body: "{}".to_owned(),
        why: "new".to_owned(),
    });
    let latest = Latest::of(&history(SubjectKind::Prices, vec![written("a"), foreign.clone()]));
    let latest = latest.unwrap();
    assert_eq!((latest.number(), latest.remarks[0].entry), ("rates", 2));
    let unread = Latest::of(&history(SubjectKind::Cutter, vec![foreign.clone()])).unwrap();
    assert_eq!(unread.state, None);
    assert_eq!(unread.number(), subject(SubjectKind::Cutter).id.as_str());
    let written = judge(&[], &append(SubjectKind::Cutter, 0, vec![foreign]));
    assert!(written.is_err(), "what cannot be read cannot be written");
}

#[test]
fn every_kind_happens_to_something_and_not_to_everything() {
    use crate::book::EventKind;
    use crate::record::Named;
    for &kind in EventKind::ALL {
        let befalls = SubjectKind::ALL.iter().filter(|&&subject| kind.befalls(subject)).count();
        let is_for_all = matches!(kind, EventKind::Noted | EventKind::Retired | EventKind::Amended);
        assert!(befalls == SubjectKind::ALL.len() || (!is_for_all && befalls >= 1), "{kind}");
    }
    for &subject in SubjectKind::ALL {
        let begin = EventKind::ALL.iter().filter(|kind| kind.begins() && kind.befalls(subject));
        assert_eq!(begin.count(), 1, "{subject}");
    }
}

#[test]
fn trays_and_people_are_folded() {
    let opened = Event::TrayOpened(TrayOpened { name: "blue".to_owned(), whose: None });
    let cutters = vec![Id::from_bits(9), Id::from_bits(8)];
    let ordered = Event::TrayOrdered(TrayOrdered { cutters: cutters.clone() });
    let tray = Latest::of(&history(SubjectKind::Tray, vec![opened, ordered])).unwrap();
    assert!(matches!(tray.state, Some(State::Tray(tray)) if tray.order == cutters));

    let initials = "AB".to_owned();
    let entered = Event::PersonEntered(PersonEntered { initials, name: "Ada Bench".to_owned() });
    let set = |hash: &str| Event::PinSet(PinSet { hash: hash.to_owned() });
    let events = vec![entered, set("x"), set("y")];
    let person = Latest::of(&history(SubjectKind::Person, events)).unwrap();
    assert_eq!(person.words(), ["ab", "ada", "ada bench", "bench"]);
    assert!(matches!(person.state, Some(State::Person(one)) if one.pin.as_deref() == Some("y")));
}

#[test]
fn a_first_entry_must_begin_the_right_history() {
    let refuse =
        |kind, events: Vec<Event>| judge(&[], &append(kind, 0, events)).unwrap_err().to_string();
    let received = Event::Received(Received::default());
    let dressed = Event::Dressed(Dressed { size: WheelSize::default(), ..Dressed::default() });
    let back = Event::HandedBack(HandedBack::default());
    assert!(refuse(SubjectKind::Cutter, vec![received]).contains("cannot begin"));
    assert!(refuse(SubjectKind::Cutter, vec![dressed]).contains("nothing that happens to"));
    assert!(refuse(SubjectKind::Tray, vec![back]).contains("nothing that happens to"));
    let planned = Event::Planned(Planned { program: "x".repeat(201), ..Planned::default() });
    assert!(refuse(SubjectKind::Cutter, vec![planned]).contains("201 characters"));
}
