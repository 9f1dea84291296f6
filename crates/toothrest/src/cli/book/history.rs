//! `toothrest book history`.

use std::collections::BTreeMap;

use book::Book;
use geometry::quantity::System;
use sheets::paper::{LifeCard, LifeLine, life_card};
use shop::ShopError;
use shop::book::{
    Entry, EventKind, Id, Latest, PAGE_MAX, State, Store, Subject, SubjectKind, Summary,
    whole_history,
};

use super::args::HistoryArguments;
use super::subjects;
use super::told::Words;
use crate::cli::args::UnitSystem;
use crate::cli::columns::Columns;
use crate::cli::failure::Failure;
use crate::cli::place::BookArguments;
use crate::cli::shelf;
use crate::paper;
use crate::surroundings::Zone;
use crate::wire;

/// One line of a history.
pub(crate) struct Line {
    /// The entry's number in its own history.
    pub(crate) entry: Entry,
    /// The cutter in whose history it stands, where it is another than the one asked about.
    pub(crate) cutter: Option<String>,
    /// What happened.
    pub(crate) words: String,
}

pub(super) fn run(place: &BookArguments, asked: &HistoryArguments) -> Result<String, Failure> {
    place.read(async |book| {
        let of = subjects::one(book, &asked.number, asked.kind).await?;
        let lines = lines(book, &of, asked.units).await?;
        let zone = Zone::of_system();
        print(book, asked, &of, &lines).await?;
        if asked.json {
            return Ok(serde_json::to_string_pretty(&wire::history(&of, &lines, &zone))? + "\n");
        }
        Ok(told(&of, &lines, &zone))
    })
}

/// Writes the record card, where it is asked for.
async fn print(
    book: &Book,
    asked: &HistoryArguments,
    of: &Summary,
    lines: &[Line],
) -> Result<(), Failure> {
    if !asked.print.is_asked() {
        return Ok(());
    }
    let zone = Zone::of_system();
    let history = whole_history(book, &of.subject).await?;
    let card_lines = lines.iter().map(|line| {
        let entry =
            if line.cutter.is_some() { String::new() } else { line.entry.number.to_string() };
        let words = (kind(line), line.words.clone());
        LifeLine { entry, ..paper::card_line(&history, &line.entry, words, &zone) }
    });
    let mut card = LifeCard {
        kind: of.subject.kind.to_string(),
        number: of.number.clone(),
        about: format!("{}; {}", of.about, of.stage),
        life: None,
        regrinds: 0,
        before: None,
        lines: card_lines.collect(),
    };
    if let Some(State::Cutter(cutter)) = Latest::of(&history).and_then(|latest| latest.state) {
        card.regrinds = cutter.cutter.regrinds();
        card.before = paper::ground_before(&history);
        card.life = paper::life(&shelf::tables(book).await?, &cutter.cutter, &history, &zone);
    }
    let system = asked.units.map_or_else(|| system(&history), UnitSystem::system);
    let revision = paper::of_entry(of.seen);
    asked.print.write(&of.number, revision, system, |imprint| life_card(&card, imprint))
}

/// What happened, in a word or two.
fn kind(Line { entry, cutter, .. }: &Line) -> String {
    match (entry.event.kind(), cutter) {
        (Some(EventKind::Ground), Some(cutter)) => format!("ground cutter {cutter}"),
        (Some(kind), _) => kind.to_string(),
        (None, _) => "cannot be read".to_owned(),
    }
}

async fn lines(
    book: &Book,
    of: &Summary,
    units: Option<UnitSystem>,
) -> Result<Vec<Line>, ShopError> {
    let mut entries = whole_history(book, &of.subject).await?;
    let system = units.map_or_else(|| system(&entries), UnitSystem::system);
    if of.subject.kind == SubjectKind::Wheel {
        entries.extend(book.ground_with(&of.subject.id, PAGE_MAX).await?);
        entries.sort_by_key(|entry| entry.stamp.at);
    }
    let words = Words { system, numbers: numbers(book, &entries).await? };
    let line = |entry: Entry| {
        let is_other = entry.subject != of.subject;
        let cutter = words.numbers.get(&entry.subject.id).filter(|_| is_other).cloned();
        Line { words: words.of(&entry.event), cutter, entry }
    };
    Ok(entries.into_iter().map(line).collect())
}

/// The system in which a cutter was made; millimetres for all else.
fn system(entries: &[Entry]) -> System {
    match Latest::of(entries).and_then(|latest| latest.state) {
        Some(State::Cutter(cutter)) => cutter.cutter.system(),
        _ => System::Millimetre,
    }
}

/// The numbers of everything that the entries speak of.
async fn numbers(book: &Book, entries: &[Entry]) -> Result<BTreeMap<Id, String>, ShopError> {
    let mut numbers = BTreeMap::new();
    let few = |entry: &&Entry| entry.event.kind() != Some(EventKind::TrayOrdered);
    let spoken = entries.iter().filter(few).flat_map(|entry| entry.event.refers());
    let own = entries.iter().map(|entry| entry.subject.clone());
    for subject in spoken.chain(own).collect::<Vec<Subject>>() {
        if !numbers.contains_key(&subject.id)
            && let Some(row) = book.summary(&subject).await?
        {
            numbers.insert(subject.id, row.number);
        }
    }
    Ok(numbers)
}

fn told(of: &Summary, lines: &[Line], zone: &Zone) -> String {
    let about = if of.about.is_empty() { String::new() } else { format!(", {}", of.about) };
    let mut table = Columns::new(["entry", "date", "who", "what", ""]);
    for line in lines {
        let (kind, Line { entry, cutter, words }) = (kind(line), line);
        let number = if cutter.is_some() { String::new() } else { entry.number.to_string() };
        let date = zone.minute(entry.stamp.at);
        table.row([number, date, entry.stamp.by.to_string(), kind, words.clone()]);
    }
    format!("{} {}: {}{about}\n{}", of.subject.kind, of.number, of.stage, table.text())
}
