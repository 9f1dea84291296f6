//! The whole book as files that a person can read: a folder with a manifest and, for each kind of
//! thing, one file of JSON lines, each line an entry.

mod export;
mod import;
mod line;
mod manifest;

pub use export::export;
pub use import::{ImportError, Problem, import};

/// What came out or went in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counted {
    /// How many subjects.
    pub subjects: u64,
    /// How many entries.
    pub entries: u64,
}
