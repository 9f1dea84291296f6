//! The answers of `toothrest book`.

use book::Book;
use serde::Serialize;

use super::SCHEMA_VERSION;
use crate::cli::Held;

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

pub(crate) fn look<'a>(book: &'a Book, held: &[Held]) -> LookAnswer<'a> {
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
        remarks: book.remarks(),
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
