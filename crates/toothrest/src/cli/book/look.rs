//! `toothrest book look`.

use book::Book;
use shop::ShopError;
use shop::book::{Clock, Stage, Store, SubjectKind};
use shop::record::Named;

use crate::cli::columns::Columns;
use crate::cli::failure::Failure;
use crate::cli::output::{JsonArguments, told};
use crate::cli::place::BookArguments;
use crate::desk::remarks;
use crate::surroundings::{SystemClock, Zone};
use crate::wire;

/// How many of one kind stand where.
pub(crate) struct Held {
    pub(crate) kind: SubjectKind,
    /// Stages at which there are some, in the order of the work.
    pub(crate) stages: Vec<(Stage, u64)>,
}

pub(super) fn run(place: &BookArguments, look: &JsonArguments) -> Result<String, Failure> {
    place.read(async |book| {
        let held = held(book).await?;
        let remarks = remarks(book, SystemClock.now(), &Zone::of_system()).await?;
        told(look, || wire::look(book, &held, &remarks), in_words(book, &held, &remarks))
    })
}

/// Kinds of which there are any.
pub(crate) async fn held(book: &Book) -> Result<Vec<Held>, ShopError> {
    let mut held = Vec::new();
    for &kind in SubjectKind::ALL {
        let mut stages = Vec::new();
        for &stage in Stage::ALL {
            let count = book.count(kind, stage).await?;
            stages.extend((count > 0).then_some((stage, count)));
        }
        held.extend((!stages.is_empty()).then_some(Held { kind, stages }));
    }
    Ok(held)
}

fn in_words(book: &Book, held: &[Held], remarks: &[String]) -> String {
    let mut lines = Columns::new([""; 2]);
    lines.row(["book".to_owned(), book.place().to_string()]);
    lines.row(["engine".to_owned(), format!("{}, form {}", book.engine_name(), book::FORM)]);
    for Held { kind, stages } in held {
        let all: u64 = stages.iter().map(|(_, count)| count).sum();
        let parts: Vec<String> =
            stages.iter().map(|(stage, count)| format!("{count} {stage}")).collect();
        lines.row([kind.to_string(), format!("{all}: {}", parts.join(", "))]);
    }
    let mut text = lines.text();
    if held.is_empty() {
        text += "Nothing is in it yet.\n";
    }
    remarks.iter().for_each(|remark| text += &format!("* {remark}\n"));
    text
}
