//! Adding to histories: all of it or nothing.

use shop::ShopError;
use shop::book::{Append, Entry, Event, Latest, Subject, check_single, judge};

use crate::body;
use crate::engine::{Engine, Fault, Row, Value, Work};
use crate::migrate::RULES;
use crate::rows;
use crate::sql;

/// How often a transaction is tried that was given up for another one's sake.
const TRIES: u32 = 5;

/// What the book is doing, for its messages.
const WRITE: &str = "be written to";

/// Adds entries to histories.
pub(crate) async fn append(
    engine: &Engine,
    mut writes: Vec<Append>,
) -> Result<Vec<Entry>, ShopError> {
    check_single(&writes)?;
    let entries = writes.iter().flat_map(Append::entries).collect();
    // Rows are locked in one order by everybody, so that no two wait for each other.
    writes.sort_by(|one, other| one.subject.cmp(&other.subject));
    let mut tries = 1;
    loop {
        match all(engine, &writes).await {
            Ok(()) => return Ok(entries),
            Err(fault) if fault.is_passing() && tries < TRIES => tries += 1,
            Err(fault) => return Err(fault.told(WRITE)),
        }
    }
}

async fn all(engine: &Engine, writes: &[Append]) -> Result<(), Fault> {
    let mut work = engine.begin().await?;
    for write in writes {
        one(&mut work, write).await?;
    }
    for event in writes.iter().flat_map(|write| &write.events) {
        check_refers(&mut work, event).await?;
    }
    work.commit().await
}

async fn one(work: &mut Work, write: &Append) -> Result<(), Fault> {
    let before = if write.seen == 0 { Vec::new() } else { taken(work, write).await? };
    let latest = judge(&before, write)?;
    if write.seen == 0 {
        add_subject(work, &latest).await?;
    } else {
        reckon(work, &latest).await?;
    }
    for entry in write.entries() {
        add_entry(work, &entry, body::encode(&entry.event)).await?;
    }
    let words_before = Latest::of(&before).map(|latest| latest.words());
    set_words(work, &latest, words_before.as_deref()).await
}

/// Locks a subject that has not changed since the writer looked, and reads its history.
async fn taken(work: &mut Work, write: &Append) -> Result<Vec<Entry>, Fault> {
    let (subject, seen) = (&write.subject, write.seen);
    let now = seen.saturating_add(write.events.len().try_into().unwrap_or(u64::MAX));
    let mut values = named(subject);
    values.extend([now.into(), seen.into()]);
    if work.run(sql::TAKE_SUBJECT, values).await? == 0 {
        return Err(conflict(work, subject, seen).await?);
    }
    history_of(work, subject, seen).await
}

/// The history of a subject up to an entry.
pub(crate) async fn history_of(
    work: &mut Work,
    subject: &Subject,
    up_to: u64,
) -> Result<Vec<Entry>, Fault> {
    let mut values = named(subject);
    values.extend([0_u64.into(), up_to.into()]);
    rows::entries(&work.rows(sql::HISTORY, values).await?)
}

pub(crate) fn named(subject: &Subject) -> Vec<Value> {
    vec![subject.id.as_str().into(), subject.kind.name().into()]
}

async fn conflict(work: &mut Work, subject: &Subject, seen: u64) -> Result<Fault, Fault> {
    let found = work.rows(sql::SUMMARY, named(subject)).await?;
    let found = found.first().map(rows::summary).transpose()?;
    Ok(Fault::Shop(ShopError::conflict(found.as_ref(), seen)))
}

/// Adds a subject that nobody has added yet.
pub(crate) async fn add_subject(work: &mut Work, latest: &Latest) -> Result<(), Fault> {
    let added = work.run(sql::ADD_SUBJECT, rows::columns(latest)).await;
    match added.map_err(|fault| taken_number(latest, fault))? {
        0 => Err(conflict(work, &latest.subject, 0).await?),
        _ => Ok(()),
    }
}

/// Sets the columns that are reckoned from a history.
pub(crate) async fn reckon(work: &mut Work, latest: &Latest) -> Result<(), Fault> {
    let set = work.run(sql::RECKON_SUBJECT, rows::columns(latest)).await;
    set.map_err(|fault| taken_number(latest, fault)).map(|_| ())
}

fn taken_number(latest: &Latest, fault: Fault) -> Fault {
    if fault.is_taken() {
        Fault::Shop(ShopError::number_taken(latest.subject.kind, latest.number()))
    } else {
        fault
    }
}

/// Adds one entry with what is reckoned from it.
pub(crate) async fn add_entry(
    work: &mut Work,
    entry: &Entry,
    stored: body::Stored,
) -> Result<(), Fault> {
    work.run(sql::ADD_ENTRY, rows::entry_columns(entry, stored)).await?;
    add_wheel(work, entry).await
}

async fn add_wheel(work: &mut Work, entry: &Entry) -> Result<(), Fault> {
    let Some(wheel) = entry.event.wheel_used() else { return Ok(()) };
    let values = vec![
        wheel.as_str().into(),
        entry.stamp.at.micros().into(),
        entry.subject.id.as_str().into(),
        entry.number.into(),
    ];
    work.run(sql::ADD_GROUND_WITH, values).await.map(|_| ())
}

/// Sets the words by which a subject is found, where they are others than before.
pub(crate) async fn set_words(
    work: &mut Work,
    latest: &Latest,
    before: Option<&[String]>,
) -> Result<(), Fault> {
    let words = latest.words();
    if before == Some(words.as_slice()) {
        return Ok(());
    }
    let id = latest.subject.id.as_str();
    work.run(sql::DROP_WORDS, vec![id.into()]).await?;
    for word in words {
        let values = vec![latest.subject.kind.name().into(), word.into(), id.into()];
        work.run(sql::ADD_WORD, values).await?;
    }
    Ok(())
}

/// What an entry speaks of must be in the book.
pub(crate) async fn check_refers(work: &mut Work, event: &Event) -> Result<(), Fault> {
    for subject in event.refers() {
        if work.rows(sql::IS_THERE, named(&subject)).await?.is_empty() {
            return Err(Fault::Shop(ShopError::not_in_book(&subject)));
        }
    }
    Ok(())
}

/// Reckons anew whatever was reckoned by other rules than the present ones, some at a time, so that
/// a large book does not stand still.
pub(crate) async fn reckon_stale(engine: &Engine) -> Result<u64, Fault> {
    let mut count = 0;
    loop {
        let mut work = engine.begin().await?;
        let stale = work.rows(sql::STALE, vec![RULES.into()]).await?;
        for row in &stale {
            reckon_whole(&mut work, row).await?;
            count += 1;
        }
        work.commit().await?;
        if stale.is_empty() {
            return Ok(count);
        }
    }
}

async fn reckon_whole(work: &mut Work, row: &Row) -> Result<(), Fault> {
    let subject = rows::subject(row, 0)?;
    let entries = history_of(work, &subject, u64::MAX).await?;
    let Some(latest) = Latest::of(&entries) else { return Ok(()) };
    reckon(work, &latest).await?;
    set_words(work, &latest, None).await?;
    for entry in &entries {
        add_wheel(work, entry).await?;
    }
    Ok(())
}
