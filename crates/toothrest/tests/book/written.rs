//! Entries written into a test's book beside the program, as the bench app writes them.

#![allow(dead_code, reason = "each test uses its part of this")]

use book::{Book, Place};
use geometry::Length;
use shop::book::event::{HandedBack, Received, WearSeen};
use shop::book::{
    Append, Event, Initials, Moment, Stamp, State, Store, Subject, SubjectKind, Summary, latest,
};
use shop::record::{AsGround, Cutter, WearDraft};

use crate::bench::Bench;

/// Does something to the book of a bench.
pub(crate) fn in_book<T>(bench: &Bench, work: impl AsyncFnOnce(&Book) -> T) -> T {
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build().unwrap();
    runtime.block_on(async {
        let place = Place::from_text(bench.place()).unwrap();
        work(&Book::open(&place).await.unwrap()).await
    })
}

pub(crate) async fn found(book: &Book, kind: SubjectKind, number: &str) -> Summary {
    book.find(kind, number).await.unwrap().unwrap()
}

pub(crate) async fn cutter(book: &Book, subject: &Subject) -> Cutter {
    match latest(book, subject).await.unwrap().state {
        Some(State::Cutter(state)) => state.cutter,
        _ => unreachable!("{} is no cutter", subject.id),
    }
}

/// Adds events behind what is there, at a moment that is long past.
pub(crate) async fn put(book: &Book, subject: &Subject, events: Vec<Event>) {
    let seen = book.summary(subject).await.unwrap().unwrap().seen;
    let at = Moment::from_micros(1_700_000_000_000_000).unwrap();
    let stamp = Stamp { at, by: Initials::new("AB").unwrap() };
    book.append(vec![Append { subject: subject.clone(), seen, stamp, events }]).await.unwrap();
}

/// Regrinds a cutter so often, each taking so much off the diameter, and leaves it dull in its
/// tray.
pub(crate) async fn reground(book: &Book, number: &str, times: u32, each: Length) {
    let summary = found(book, SubjectKind::Cutter, number).await;
    let tray = match latest(book, &summary.subject).await.unwrap().state {
        Some(State::Cutter(state)) => state.tray,
        _ => None,
    };
    for _ in 0..times {
        let now = cutter(book, &summary.subject).await;
        let last = *now.as_ground().unwrap();
        let ground = AsGround { diameter: last.diameter - each, ..last };
        let measured_diameter = Some(ground.diameter - Length::from_mm(0.02));
        let wear = WearDraft { measured_diameter, ..WearDraft::default() }.build().unwrap();
        let events = vec![
            Event::HandedBack(HandedBack { as_ground: Some(ground), ..HandedBack::default() }),
            Event::Received(Received { tray: tray.clone(), ..Received::default() }),
            Event::WearSeen(WearSeen { wear }),
        ];
        put(book, &summary.subject, events).await;
    }
}
