//! The answer of `toothrest sources TOPIC`.

use serde::Serialize;
use trade::{ListedRow, Topic};

use super::SCHEMA_VERSION;

#[derive(Serialize)]
pub(crate) struct SourcesAnswer<'a> {
    schema: u32,
    topic: &'static str,
    rows: Vec<RowAnswer<'a>>,
}

#[derive(Serialize)]
struct RowAnswer<'a> {
    key: &'a str,
    value: &'a str,
    chosen: bool,
    source: &'a str,
    title: &'a str,
    read: &'static str,
    page: Option<&'a str>,
    note: Option<&'a str>,
}

/// The rows of a topic.
pub(crate) fn sources(topic: Topic, rows: &[ListedRow]) -> SourcesAnswer<'_> {
    let rows = rows.iter().map(|row| RowAnswer {
        key: &row.key,
        value: &row.value,
        chosen: row.chosen,
        source: &row.source_id,
        title: &row.source_title,
        read: row.read.name(),
        page: row.page.as_deref(),
        note: row.note.as_deref(),
    });
    SourcesAnswer { schema: SCHEMA_VERSION, topic: topic.name(), rows: rows.collect() }
}
