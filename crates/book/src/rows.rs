//! Rows to summaries and entries, and back.

use shop::ShopError;
use shop::book::{
    Entry, Id, Initials, Latest, Length, Moment, Stage, Stamp, Subject, SubjectKind, Summary, key,
};
use shop::record::Named;

use crate::body::{self, Stored};
use crate::engine::{Fault, Row, Value};
use crate::migrate::RULES;

/// A row that no program of this house wrote.
fn odd(what: &str, text: &str) -> Fault {
    Fault::Shop(ShopError::store("be read", format!("{what} {text:?} is none; check the book")))
}

fn kind(text: &str) -> Result<SubjectKind, Fault> {
    SubjectKind::from_name(text).ok_or_else(|| odd("the kind", text))
}

/// The subject in two columns.
pub(crate) fn subject(row: &Row, column: usize) -> Result<Subject, Fault> {
    let (id, kind_name) = (row.text(column)?, row.text(column + 1)?);
    Ok(Subject::new(kind(&kind_name)?, Id::from_text(&id)?))
}

/// The stamp in two columns.
fn stamp(row: &Row, column: usize) -> Result<Stamp, Fault> {
    let at = Moment::from_micros(row.whole(column)?)?;
    Ok(Stamp { at, by: Initials::new(&row.text(column + 1)?)? })
}

/// A row of `summary_columns`.
pub(crate) fn summary(row: &Row) -> Result<Summary, Fault> {
    let stage = row.text(8)?;
    let tray = row.maybe_text(9)?.map(|tray| Id::from_text(&tray)).transpose()?;
    Ok(Summary {
        subject: subject(row, 0)?,
        seen: row.number(2)?,
        first: Moment::from_micros(row.whole(3)?)?,
        last: stamp(row, 4)?,
        number: row.text(6)?,
        about: row.text(7)?,
        stage: Stage::from_name(&stage).ok_or_else(|| odd("the stage", &stage))?,
        tray,
        size: row.maybe_real(10)?.map(Length::from_mm),
    })
}

/// A row of `entry_columns`, its body as it is stored.
pub(crate) struct Raw {
    pub(crate) subject: Subject,
    pub(crate) number: u64,
    pub(crate) stamp: Stamp,
    pub(crate) stored: Stored,
}

/// A row of `entry_columns`.
pub(crate) fn raw(row: &Row) -> Result<Raw, Fault> {
    let version = row.whole(6)?;
    let version = u32::try_from(version).map_err(|_| odd("the version", &version.to_string()))?;
    Ok(Raw {
        subject: subject(row, 0)?,
        number: row.number(2)?,
        stamp: stamp(row, 3)?,
        stored: Stored { kind: row.text(5)?, version, body: row.text(7)? },
    })
}

impl From<Raw> for Entry {
    fn from(raw: Raw) -> Self {
        let event = body::decode(&raw.stored);
        Self { subject: raw.subject, number: raw.number, stamp: raw.stamp, event }
    }
}

/// Rows of `entry_columns`, read.
pub(crate) fn entries(rows: &[Row]) -> Result<Vec<Entry>, Fault> {
    rows.iter().map(|row| Ok(raw(row)?.into())).collect()
}

/// The columns of a subject, in the order of `ADD_SUBJECT` and `RECKON_SUBJECT`.
pub(crate) fn columns(latest: &Latest) -> Vec<Value> {
    let summary = latest.summary();
    vec![
        summary.subject.id.as_str().into(),
        summary.subject.kind.name().into(),
        summary.seen.into(),
        summary.first.micros().into(),
        summary.last.at.micros().into(),
        summary.last.by.as_str().into(),
        summary.number.as_str().into(),
        key(&summary.number).into(),
        summary.about.into(),
        summary.stage.name().into(),
        i64::from(summary.stage != Stage::Gone).into(),
        Value::MaybeText(summary.tray.map(|tray| tray.to_string())),
        Value::MaybeReal(summary.size.map(Length::mm)),
        RULES.into(),
    ]
}

/// The columns of an entry, in the order of `ADD_ENTRY`.
pub(crate) fn entry_columns(entry: &Entry, stored: Stored) -> Vec<Value> {
    vec![
        entry.subject.id.as_str().into(),
        entry.number.into(),
        entry.stamp.at.micros().into(),
        entry.stamp.by.as_str().into(),
        stored.kind.into(),
        stored.version.into(),
        stored.body.into(),
    ]
}
