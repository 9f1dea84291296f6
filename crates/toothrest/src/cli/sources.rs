//! `toothrest sources`.

use std::fmt::Write;
use std::path::Path;

use trade::{ListedRow, Tables, Topic};

use super::args::SourcesArguments;
use super::failure::Failure;
use super::inputs::tables;
use super::output::told;
use crate::files::load;
use crate::wire::{self, NamedText};

const BIBLIOGRAPHY: &str = "bibliography";

pub(super) fn run(arguments: &SourcesArguments) -> Result<String, Failure> {
    let shop = arguments.tables.as_deref().map(shop_rows).transpose()?;
    let tables = tables(shop.as_ref())?;
    let json = &arguments.json;
    match arguments.topic.as_deref() {
        None => told(json, || wire::topics(&tables), topics(&tables)),
        Some(name) if name.eq_ignore_ascii_case(BIBLIOGRAPHY) => {
            told(json, || wire::bibliography(&tables), bibliography(&tables))
        }
        Some(name) => {
            let topic = topic(name)?;
            let rows = tables.listing(topic);
            told(json, || wire::sources(topic, &rows), listing(topic, &rows))
        }
    }
}

fn shop_rows(path: &Path) -> Result<NamedText, Failure> {
    let text = load(path, |_, text| Ok(text.to_owned()))?;
    Ok(NamedText { file: path.display().to_string(), text })
}

fn topic(name: &str) -> Result<Topic, Failure> {
    Topic::from_name(name).ok_or_else(|| {
        let names = Topic::ALL.iter().map(|topic| topic.name());
        let nearest = names
            .clone()
            .max_by(|a, b| strsim::jaro_winkler(a, name).total_cmp(&strsim::jaro_winkler(b, name)));
        let all: Vec<&str> = names.collect();
        Failure::Argument {
            argument: "TOPIC",
            value: format!("\"{name}\""),
            message: format!(
                "no such topic; did you mean \"{}\"? The topics are {}, {BIBLIOGRAPHY}",
                nearest.unwrap_or_default(),
                all.join(", ")
            ),
        }
    })
}

fn topics(tables: &Tables) -> String {
    let mut text = String::from("Topics of the trade tables:\n");
    for topic in tables.topics() {
        let rows = tables.listing(*topic).len();
        // Writing into a string cannot fail.
        let _ = writeln!(text, "  {:<16} {rows:>3} rows", topic.name());
    }
    text.push_str("  bibliography     every source\n");
    text.push_str("Show one with: toothrest sources TOPIC\n");
    text
}

fn listing(topic: Topic, rows: &[ListedRow]) -> String {
    let mut text = format!("{} (* marks the row that plans use)\n", topic.name());
    rows.iter().for_each(|row| write_row(&mut text, row));
    text
}

fn write_row(text: &mut String, row: &ListedRow) {
    let mark = if row.chosen { '*' } else { ' ' };
    let page = row.page.as_ref().map_or_else(String::new, |page| format!(", {page}"));
    let _ = writeln!(text, "{mark} {}", row.key);
    let _ = writeln!(text, "    {}", row.value);
    let _ =
        writeln!(text, "    [{}] {}{page} ({})", row.source_id, row.source_title, row.read.name());
    if let Some(note) = &row.note {
        let _ = writeln!(text, "    {note}");
    }
}

fn bibliography(tables: &Tables) -> String {
    let mut text = String::new();
    for source in tables.bibliography().sources() {
        let _ = writeln!(text, "[{}] {} ({})", source.id, source.title, source.read.name());
    }
    text
}
