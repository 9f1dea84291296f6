//! What the book's tests share: an invented shop, and places for books.

#![allow(dead_code, reason = "each test uses its part of this")]

pub(crate) mod places;
pub(crate) mod samples;

use std::sync::atomic::{AtomicU64, Ordering};

use shop::book::{Append, Event, Id, Ids, Initials, Moment, Stamp, Subject, SubjectKind};

/// Ids counted up, another stretch for each process.
pub(crate) struct Counter;

static NEXT: AtomicU64 = AtomicU64::new(1);

impl Ids for Counter {
    fn next(&self) -> Id {
        let process = u128::from(std::process::id()) << 64;
        Id::from_bits(process + u128::from(NEXT.fetch_add(1, Ordering::Relaxed)))
    }
}

/// A new subject.
pub(crate) fn subject(kind: SubjectKind) -> Subject {
    Subject::new(kind, Counter.next())
}

/// A stamp so many microseconds into the tests' own time.
pub(crate) fn stamp(by: &str, micros: i64) -> Stamp {
    let at = Moment::from_micros(1_795_000_000_000_000 + micros).unwrap();
    Stamp { at, by: Initials::new(by).unwrap() }
}

/// Entries by AB.
pub(crate) fn write(subject: &Subject, seen: u64, events: Vec<Event>) -> Append {
    let micros = i64::try_from(seen).unwrap() * 1000;
    Append { subject: subject.clone(), seen, stamp: stamp("AB", micros), events }
}
