//! The whole book as files that a person can read: a folder with a manifest and, for each kind of
//! thing, one file of JSON lines, each line an entry.

mod export;
mod import;
mod line;
mod manifest;

use shop::book::{Entry, SubjectKind};

use crate::engine::{Fault, Work};
use crate::sql;

pub use export::export;
pub use import::{ImportError, Problem, import};

/// Told how much of a long piece of work is done, and how much there is.
pub type Tell<'a> = &'a (dyn Fn(u64, u64) + Send + Sync);

/// How many subjects a book holds.
pub(crate) async fn subjects(work: &mut Work) -> Result<u64, Fault> {
    let counted = work.rows(sql::COUNT_ALL, Vec::new()).await?;
    Ok(counted.first().map(|row| row.number(0)).transpose()?.unwrap_or_default())
}

/// The entry that one line of an exported file holds, as it would be taken in. For trials with odd
/// lines.
#[doc(hidden)]
pub fn entry_of_line(kind: SubjectKind, line: &str) -> Result<Entry, String> {
    line::read(kind, line).map(|read| read.entry)
}

/// What a manifest counts, for the same trials.
#[doc(hidden)]
pub fn entries_of_manifest(text: &str) -> Result<u64, String> {
    let parts = manifest::read(text)?;
    Ok(parts.iter().fold(0, |sum, part| part.entries.saturating_add(sum)))
}

/// What came out or went in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counted {
    /// How many subjects.
    pub subjects: u64,
    /// How many entries.
    pub entries: u64,
}
