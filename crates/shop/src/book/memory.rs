//! A book that is kept in memory: for trying things out, and to say what a store must do.

use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::entry::{Append, Entry, check_single};
use super::event::Event;
use super::id::Id;
use super::memory_session::Desk;
use super::query::{Listed, Order, Query, Span, check_limit};
use super::state::{Stage, Summary, judge};
use super::store::Store;
use super::subject::{Subject, SubjectKind};
use super::text;
use crate::error::ShopError;

/// One subject with its history.
#[derive(Clone)]
struct Kept {
    entries: Vec<Entry>,
    summary: Summary,
    words: Vec<String>,
}

type Shelf = BTreeMap<Subject, Kept>;

/// A book in memory. It is forgotten when it is dropped.
#[derive(Default)]
pub struct MemoryBook {
    shelf: Mutex<Shelf>,
    desk: Mutex<Desk>,
}

impl MemoryBook {
    /// An empty book.
    pub fn new() -> Self {
        Self::default()
    }

    /// The shelf. A writer that fell over has changed nothing, so its lock can be taken over.
    fn shelf(&self) -> MutexGuard<'_, Shelf> {
        self.shelf.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Who is signed in, locked likewise.
    pub(super) fn desk(&self) -> MutexGuard<'_, Desk> {
        self.desk.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Whether a subject is in the book.
    pub(super) fn holds(&self, subject: &Subject) -> bool {
        self.shelf().contains_key(subject)
    }

    fn entries(&self, fits: impl Fn(&Entry) -> bool) -> Vec<Entry> {
        let shelf = self.shelf();
        let all = shelf.values().flat_map(|kept| &kept.entries);
        all.filter(|entry| fits(entry)).cloned().collect()
    }
}

impl Store for MemoryBook {
    async fn append(&self, writes: Vec<Append>) -> Result<Vec<Entry>, ShopError> {
        check_single(&writes)?;
        let mut shelf = self.shelf();
        let mut fresh: Vec<(Subject, Kept)> = Vec::new();
        for write in &writes {
            let kept = grown(shelf.get(&write.subject), write)?;
            check_number(&shelf, &fresh, &kept.summary)?;
            fresh.push((write.subject.clone(), kept));
        }
        check_refers(&shelf, &fresh, &writes)?;
        shelf.extend(fresh);
        Ok(writes.iter().flat_map(Append::entries).collect())
    }

    async fn history(&self, of: &Subject, after: u64, limit: u32) -> Result<Vec<Entry>, ShopError> {
        check_limit(limit)?;
        let shelf = self.shelf();
        let entries = shelf.get(of).into_iter().flat_map(|kept| &kept.entries);
        Ok(page(entries.filter(|entry| entry.number > after).cloned(), limit))
    }

    async fn summary(&self, of: &Subject) -> Result<Option<Summary>, ShopError> {
        Ok(self.shelf().get(of).map(|kept| kept.summary.clone()))
    }

    async fn find(&self, kind: SubjectKind, number: &str) -> Result<Option<Summary>, ShopError> {
        let key = text::key(number);
        let shelf = self.shelf();
        let found = shelf.values().find(|kept| holds_number(&kept.summary, kind, &key));
        Ok(found.map(|kept| kept.summary.clone()))
    }

    async fn list(&self, query: &Query) -> Result<Listed, ShopError> {
        let words = query.sound_words()?;
        let shelf = self.shelf();
        let fitting = shelf.values().filter(|kept| fits(kept, query, &words));
        let mut rows: Vec<Summary> = fitting.map(|kept| kept.summary.clone()).collect();
        drop(shelf);
        rows.sort_by_key(|row| place(query.order, row));
        if let Some(after) = &query.after {
            let at = -after.at.micros();
            let before = match query.order {
                Order::ByNumber => (0, after.number_key.clone(), after.id.clone()),
                Order::LatestFirst => (at, String::new(), after.id.clone()),
            };
            rows.retain(|row| place(query.order, row) > before);
        }
        let most = usize::try_from(query.limit).unwrap_or(usize::MAX).saturating_add(1);
        rows.truncate(most);
        Ok(Listed::cut(rows, query.limit))
    }

    async fn count(&self, kind: SubjectKind, stage: Stage) -> Result<u64, ShopError> {
        let shelf = self.shelf();
        let summaries = shelf.values().map(|kept| &kept.summary);
        let here = summaries.filter(|row| row.subject.kind == kind && row.stage == stage);
        Ok(u64::try_from(here.count()).unwrap_or(u64::MAX))
    }

    async fn written(&self, span: &Span) -> Result<Vec<Entry>, ShopError> {
        check_limit(span.limit)?;
        let key = |entry: &Entry| (entry.stamp.at, entry.subject.id.clone(), entry.number);
        let within = |entry: &Entry| {
            (span.from..span.until).contains(&entry.stamp.at)
                && span.after.as_ref().is_none_or(|after| key(entry) > *after)
        };
        let mut entries = self.entries(within);
        entries.sort_by_key(key);
        Ok(page(entries.into_iter(), span.limit))
    }

    async fn ground_with(&self, wheel: &Id, limit: u32) -> Result<Vec<Entry>, ShopError> {
        check_limit(limit)?;
        let mut entries = self.entries(|entry| entry.event.wheel_used() == Some(wheel));
        entries.sort_by_key(|entry| (entry.stamp.at, entry.subject.id.clone(), entry.number));
        Ok(page(entries.into_iter().rev(), limit))
    }
}

fn page(entries: impl Iterator<Item = Entry>, limit: u32) -> Vec<Entry> {
    entries.take(usize::try_from(limit).unwrap_or(usize::MAX)).collect()
}

fn place(order: Order, row: &Summary) -> (i64, String, Id) {
    match order {
        Order::ByNumber => (0, text::key(&row.number), row.subject.id.clone()),
        Order::LatestFirst => (-row.last.at.micros(), String::new(), row.subject.id.clone()),
    }
}

fn fits(kept: &Kept, query: &Query, words: &[String]) -> bool {
    let row = &kept.summary;
    row.subject.kind == query.kind
        && query.stage.is_none_or(|stage| row.stage == stage)
        && query.tray.as_ref().is_none_or(|tray| row.tray.as_ref() == Some(tray))
        && !(query.live_only && row.stage == Stage::Gone)
        && words.iter().all(|word| kept.words.iter().any(|own| own.starts_with(word.as_str())))
}

fn grown(kept: Option<&Kept>, write: &Append) -> Result<Kept, ShopError> {
    let now = kept.map_or(0, |kept| kept.summary.seen);
    if now != write.seen {
        return Err(ShopError::conflict(kept.map(|kept| &kept.summary), write.seen));
    }
    let history = kept.map_or(&[][..], |kept| &kept.entries);
    let latest = judge(history, write)?;
    let entries = history.iter().cloned().chain(write.entries()).collect();
    Ok(Kept { entries, summary: latest.summary(), words: latest.words() })
}

fn holds_number(summary: &Summary, kind: SubjectKind, key: &str) -> bool {
    summary.subject.kind == kind
        && summary.stage != Stage::Gone
        && text::key(&summary.number) == key
}

fn check_number(shelf: &Shelf, fresh: &[(Subject, Kept)], new: &Summary) -> Result<(), ShopError> {
    let key = text::key(&new.number);
    let taken = |(subject, kept): (&Subject, &Kept)| {
        *subject != new.subject && holds_number(&kept.summary, new.subject.kind, &key)
    };
    let is_taken = new.stage != Stage::Gone
        && (shelf.iter().any(taken) || fresh.iter().any(|(subject, kept)| taken((subject, kept))));
    if is_taken { Err(ShopError::number_taken(new.subject.kind, &new.number)) } else { Ok(()) }
}

fn check_refers(
    shelf: &Shelf,
    fresh: &[(Subject, Kept)],
    writes: &[Append],
) -> Result<(), ShopError> {
    let events = writes.iter().flat_map(|write| &write.events);
    let known = |subject: &Subject| {
        shelf.contains_key(subject) || fresh.iter().any(|(other, _)| other == subject)
    };
    match events.flat_map(Event::refers).find(|subject| !known(subject)) {
        Some(missing) => Err(ShopError::not_in_book(&missing)),
        None => Ok(()),
    }
}
