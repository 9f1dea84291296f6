//! `toothrest book find`.

use shop::book::{Query, Store, SubjectKind};
use shop::record::Named;

use super::args::FindArguments;
use crate::cli::columns::Columns;
use crate::cli::failure::Failure;
use crate::cli::place::BookArguments;
use crate::surroundings::Zone;
use crate::wire;

/// What was found.
#[derive(Default)]
pub(crate) struct Finds {
    pub(crate) rows: Vec<shop::book::Summary>,
    /// Kinds of which there is more.
    pub(crate) more: Vec<SubjectKind>,
}

pub(super) fn run(place: &BookArguments, asked: &FindArguments) -> Result<String, Failure> {
    place.read(async |book| {
        let mut found = Finds::default();
        let kinds = asked.kind.map_or_else(|| SubjectKind::ALL.to_vec(), |kind| vec![kind]);
        for kind in kinds {
            let words = asked.words.join(" ");
            let (live_only, limit) = (!asked.all, asked.limit);
            let page = book.list(&Query { words, live_only, limit, ..Query::of(kind) }).await?;
            found.rows.extend(page.rows);
            found.more.extend(page.next.map(|_| kind));
        }
        let zone = Zone::of_system();
        if asked.json {
            return Ok(serde_json::to_string_pretty(&wire::finds(&found, &zone))? + "\n");
        }
        Ok(told(&found, asked.limit, &zone))
    })
}

fn told(found: &Finds, limit: u32, zone: &Zone) -> String {
    if found.rows.is_empty() {
        return "Nothing in the book begins with these words.\n".to_owned();
    }
    let mut table = Columns::new(["kind", "number", "stands", "last", "who", "about"]);
    for row in &found.rows {
        table.row([
            row.subject.kind.to_string(),
            row.number.clone(),
            row.stage.to_string(),
            zone.day(row.last.at),
            row.last.by.to_string(),
            row.about.clone(),
        ]);
    }
    let mut text = table.text();
    for kind in &found.more {
        text +=
            &format!("There is more of kind {kind} than {limit}; write more words or --limit.\n");
    }
    text
}
