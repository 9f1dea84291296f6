//! The answers of `toothrest book`.

use book::Book;
use serde::Serialize;
use shop::book::Summary;

use super::SCHEMA_VERSION;
use crate::cli::{Finds, Held, Line};
use crate::surroundings::Zone;

/// Where the book lies and what it holds.
#[derive(Serialize)]
pub(crate) struct LookAnswer<'a> {
    schema: u32,
    book: String,
    engine: &'static str,
    form: i64,
    holds: Vec<HeldAnswer>,
    remarks: &'a [String],
}

#[derive(Serialize)]
struct HeldAnswer {
    kind: &'static str,
    stage: &'static str,
    count: u64,
}

pub(crate) fn look<'a>(book: &'a Book, held: &[Held], remarks: &'a [String]) -> LookAnswer<'a> {
    let of_kind = |held: &Held| {
        let kind = held.kind.name();
        let answer = move |(stage, count): &(shop::book::Stage, u64)| HeldAnswer {
            kind,
            stage: stage.name(),
            count: *count,
        };
        held.stages.iter().map(answer).collect::<Vec<_>>()
    };
    LookAnswer {
        schema: SCHEMA_VERSION,
        book: book.place().to_string(),
        engine: book.engine_name(),
        form: book::FORM,
        holds: held.iter().flat_map(of_kind).collect(),
        remarks,
    }
}

/// What is wrong with the book.
#[derive(Serialize)]
pub(crate) struct CheckBookAnswer<'a> {
    schema: u32,
    book: String,
    sound: bool,
    faults: &'a [String],
}

pub(crate) fn check_book<'a>(book: &Book, faults: &'a [String]) -> CheckBookAnswer<'a> {
    CheckBookAnswer {
        schema: SCHEMA_VERSION,
        book: book.place().to_string(),
        sound: faults.is_empty(),
        faults,
    }
}

/// What happened to one thing.
#[derive(Serialize)]
pub(crate) struct HistoryAnswer<'a> {
    schema: u32,
    kind: &'static str,
    number: &'a str,
    about: &'a str,
    stage: &'static str,
    entries: Vec<EntryAnswer<'a>>,
}

#[derive(Serialize)]
struct EntryAnswer<'a> {
    entry: u64,
    at: String,
    by: &'a str,
    event: Option<&'static str>,
    words: &'a str,
    /// The cutter in whose history it stands, where a wheel was asked about.
    cutter: Option<&'a str>,
}

pub(crate) fn history<'a>(of: &'a Summary, lines: &'a [Line], zone: &Zone) -> HistoryAnswer<'a> {
    let entry = |line: &'a Line| EntryAnswer {
        entry: line.entry.number,
        at: zone.with_offset(line.entry.stamp.at),
        by: line.entry.stamp.by.as_str(),
        event: line.entry.event.kind().map(|kind| kind.name()),
        words: &line.words,
        cutter: line.cutter.as_deref(),
    };
    HistoryAnswer {
        schema: SCHEMA_VERSION,
        kind: of.subject.kind.name(),
        number: &of.number,
        about: &of.about,
        stage: of.stage.name(),
        entries: lines.iter().map(entry).collect(),
    }
}

/// What was found by words.
#[derive(Serialize)]
pub(crate) struct FindsAnswer<'a> {
    schema: u32,
    found: Vec<FindAnswer<'a>>,
    more_of: Vec<&'static str>,
}

#[derive(Serialize)]
struct FindAnswer<'a> {
    kind: &'static str,
    number: &'a str,
    about: &'a str,
    stage: &'static str,
    size_mm: Option<f64>,
    last_at: String,
    last_by: &'a str,
}

pub(crate) fn finds<'a>(found: &'a Finds, zone: &Zone) -> FindsAnswer<'a> {
    let row = |row: &'a Summary| FindAnswer {
        kind: row.subject.kind.name(),
        number: &row.number,
        about: &row.about,
        stage: row.stage.name(),
        size_mm: row.size.map(|size| size.mm()),
        last_at: zone.with_offset(row.last.at),
        last_by: row.last.by.as_str(),
    };
    FindsAnswer {
        schema: SCHEMA_VERSION,
        found: found.rows.iter().map(row).collect(),
        more_of: found.more.iter().map(|kind| kind.name()).collect(),
    }
}
