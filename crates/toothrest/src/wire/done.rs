//! The answers of commands that do something and are asked what they did.

use book::Book;
use book::files::Counted;
use serde::Serialize;

use super::SCHEMA_VERSION;
use crate::cli::{Inside, Put};

/// A book that went from one place to another: a backup, a restore, an export, an import.
#[derive(Serialize)]
pub(crate) struct MovedAnswer {
    schema: u32,
    /// Never with its password.
    book: String,
    /// The file or folder on the other side.
    place: String,
    /// Null where nobody counted.
    histories: Option<u64>,
    entries: Option<u64>,
}

pub(crate) fn moved(book: String, place: String, counted: Option<Counted>) -> MovedAnswer {
    MovedAnswer {
        schema: SCHEMA_VERSION,
        book,
        place,
        histories: counted.map(|counted| counted.subjects),
        entries: counted.map(|counted| counted.entries),
    }
}

/// What was put into the book.
#[derive(Serialize)]
pub(crate) struct KeptAnswer<'a> {
    schema: u32,
    book: String,
    kept: Vec<PutAnswer<'a>>,
}

#[derive(Serialize)]
struct PutAnswer<'a> {
    kind: &'static str,
    number: &'a str,
    /// The last entry that was written; null where the book had it already as it is.
    entry: Option<u64>,
}

pub(crate) fn kept<'a>(book: &Book, put: &'a [Put]) -> KeptAnswer<'a> {
    let answer =
        |put: &'a Put| PutAnswer { kind: put.kind.name(), number: &put.number, entry: put.entry };
    KeptAnswer {
        schema: SCHEMA_VERSION,
        book: book.place().to_string(),
        kept: put.iter().map(answer).collect(),
    }
}

/// A token that was made, or how many were withdrawn.
#[derive(Serialize)]
pub(crate) struct TokenAnswer<'a> {
    schema: u32,
    initials: String,
    token: Option<&'a str>,
    days: Option<u32>,
    withdrawn: Option<u64>,
}

pub(crate) fn token(initials: String, token: &str, days: u32) -> TokenAnswer<'_> {
    let (token, days) = (Some(token), Some(days));
    TokenAnswer { schema: SCHEMA_VERSION, initials, token, days, withdrawn: None }
}

pub(crate) fn withdrawn(initials: String, count: u64) -> TokenAnswer<'static> {
    let withdrawn = Some(count);
    TokenAnswer { schema: SCHEMA_VERSION, initials, token: None, days: None, withdrawn }
}

/// Paper that was written.
#[derive(Serialize)]
pub(crate) struct PrintedAnswer<'a> {
    schema: u32,
    pdf: String,
    cutters: &'a [String],
}

pub(crate) fn printed(pdf: String, cutters: &[String]) -> PrintedAnswer<'_> {
    PrintedAnswer { schema: SCHEMA_VERSION, pdf, cutters }
}

/// What is inside the program.
#[derive(Serialize)]
pub(crate) struct LicencesAnswer<'a> {
    schema: u32,
    program: &'static str,
    inside: Vec<InsideAnswer<'a>>,
}

#[derive(Serialize)]
struct InsideAnswer<'a> {
    name: &'a str,
    version: &'a str,
    licence: &'a str,
}

pub(crate) fn licences<'a>(inside: &[Inside<'a>]) -> LicencesAnswer<'a> {
    let answer = |one: &Inside<'a>| InsideAnswer {
        name: one.name,
        version: one.version,
        licence: one.licence,
    };
    LicencesAnswer {
        schema: SCHEMA_VERSION,
        program: concat!("toothrest ", env!("CARGO_PKG_VERSION")),
        inside: inside.iter().map(answer).collect(),
    }
}
