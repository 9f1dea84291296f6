//! The answer of `toothrest sources TOPIC`.

use serde::Serialize;
use trade::{ListedRow, Tables, Topic};

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

/// The topics there are.
#[derive(Serialize)]
pub(crate) struct TopicsAnswer {
    schema: u32,
    topics: Vec<TopicAnswer>,
}

#[derive(Serialize)]
struct TopicAnswer {
    topic: &'static str,
    rows: usize,
}

pub(crate) fn topics(tables: &Tables) -> TopicsAnswer {
    let answer =
        |topic: &Topic| TopicAnswer { topic: topic.name(), rows: tables.listing(*topic).len() };
    TopicsAnswer { schema: SCHEMA_VERSION, topics: tables.topics().iter().map(answer).collect() }
}

/// Every source.
#[derive(Serialize)]
pub(crate) struct BibliographyAnswer<'a> {
    schema: u32,
    sources: Vec<SourceAnswer<'a>>,
}

#[derive(Serialize)]
struct SourceAnswer<'a> {
    source: &'a str,
    title: &'a str,
    read: &'static str,
}

pub(crate) fn bibliography(tables: &Tables) -> BibliographyAnswer<'_> {
    let sources = tables.bibliography().sources().iter().map(|source| SourceAnswer {
        source: &source.id,
        title: &source.title,
        read: source.read.name(),
    });
    BibliographyAnswer { schema: SCHEMA_VERSION, sources: sources.collect() }
}
