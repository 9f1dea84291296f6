//! `toothrest tag`.

use std::path::Path;

use book::Book;
use geometry::quantity::System;
use sheets::drawing::Tag;
use sheets::label::{LabelError, LabelStock, tags};
use shop::ShopError;
use shop::book::{CutterState, Entry, Latest, State, SubjectKind, whole_history};
use shop::record::Cutter;

use super::{TagArguments, write_pages};
use crate::cli::args::UnitSystem;
use crate::cli::book::subjects::one;
use crate::cli::failure::Failure;
use crate::cli::output::told;
use crate::files::{load, read_labels};
use crate::paper;
use crate::surroundings::Zone;
use crate::wire;

/// Writes the tags of cutters as labels.
pub(in crate::cli) fn run(asked: &TagArguments) -> Result<String, Failure> {
    let stock = stock(&asked.labels)?;
    let cutters = asked.book.read(async |book| cutters(book, &asked.numbers).await)?;
    let system = system(asked.units, cutters.iter().map(|found| &found.state.cutter));
    let zone = Zone::of_system();
    let all: Vec<Tag> = cutters
        .iter()
        .map(|found| paper::tag(&found.state, &found.history, &zone))
        .collect::<Result<_, _>>()?;
    let pages = tags(&all, system, &stock, asked.first).map_err(|error| wrong(asked, &error))?;
    write_pages(&asked.pdf, &pages)?;
    let (count, file) = (all.len(), asked.pdf.display());
    let noun = if count == 1 { "tag" } else { "tags" };
    let words = format!("{count} {noun} in {file}; print at full size, not fitted to the page\n");
    told(&asked.json, || wire::printed(file.to_string(), &asked.numbers), words)
}

/// A cutter with all that was entered of it.
pub(super) struct Found {
    pub(super) state: CutterState,
    pub(super) history: Vec<Entry>,
}

impl Found {
    /// How many entries it has.
    pub(super) fn seen(&self) -> u64 {
        self.history.last().map_or(0, |entry| entry.number)
    }
}

/// The cutters of those numbers, in their order.
pub(super) async fn cutters(book: &Book, numbers: &[String]) -> Result<Vec<Found>, Failure> {
    let mut found = Vec::with_capacity(numbers.len());
    for number in numbers {
        let row = one(book, number, Some(SubjectKind::Cutter)).await?;
        let history = whole_history(book, &row.subject).await?;
        let state = Latest::of(&history).and_then(|latest| latest.state);
        let Some(State::Cutter(state)) = state else {
            return Err(ShopError::NotFound { what: format!("cutter {number:?}") }.into());
        };
        found.push(Found { state: *state, history });
    }
    Ok(found)
}

/// The system that was asked for, else the one that the first cutter was made in.
pub(super) fn system<'a>(
    asked: Option<UnitSystem>,
    mut cutters: impl Iterator<Item = &'a Cutter>,
) -> System {
    let first = || cutters.next().map_or(System::Millimetre, Cutter::system);
    asked.map_or_else(first, UnitSystem::system)
}

/// The labels of a file, or the bundled ones of that name.
fn stock(labels: &str) -> Result<LabelStock, Failure> {
    match paper::stock(labels) {
        Some(bundled) => Ok(bundled?),
        None => Ok(load(Path::new(labels), read_labels)?),
    }
}

fn wrong(asked: &TagArguments, error: &LabelError) -> Failure {
    let (argument, value) = match error {
        LabelError::First { first, .. } => ("--first", first.to_string()),
        _ => ("--labels", asked.labels.clone()),
    };
    Failure::Argument { argument, value, message: error.to_string() }
}
