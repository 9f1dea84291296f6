//! One reading of one file, from its text to a sound record or to everything wrong with it.

use std::cell::RefCell;

use shop::record::RecordErrors;
use toml::de::DeTable;

use super::ledger::Ledger;
use super::problem::FileProblems;
use super::section::Section;
use super::source::Source;
use super::syntax;
use super::value::wrong;

/// A hundred wheels make 30 kB; whatever is longer than this is no file of a bench.
const TEXT_BYTES_MAX: usize = 500_000;

/// A file being read.
pub(super) struct Reading<'t> {
    root: DeTable<'t>,
    trusted: bool,
    ledger: RefCell<Ledger<'t>>,
}

impl<'t> Reading<'t> {
    /// Parses the text and notes what is wrong with its form.
    pub(super) fn open(file: &'t str, text: &'t str) -> Self {
        let source = Source::new(file, text);
        let mut ledger = Ledger::new(source.clone());
        let (root, trusted) = if text.len() > TEXT_BYTES_MAX {
            let right = format!("write at most {} kB into one file", TEXT_BYTES_MAX / 1000);
            ledger.note(None, "", None, wrong("far longer than such files are", right));
            (DeTable::new(), false)
        } else {
            syntax::parse(&source, &mut ledger)
        };
        Self { root, trusted, ledger: RefCell::new(ledger) }
    }

    /// The whole file as a section.
    pub(super) fn top(&self) -> Section<'_, 't> {
        // Where the form is broken nothing is looked up, so that nothing is said to be missing.
        Section::new(&self.ledger, self.trusted.then_some(&self.root), String::new())
    }

    /// Takes a built record, or notes what it found violated; `path_of` turns a record's field
    /// into its path in this file.
    pub(super) fn settle<T>(
        &self,
        built: Result<T, RecordErrors>,
        path_of: impl Fn(&str) -> String,
    ) -> Option<T> {
        match built {
            Ok(record) => Some(record),
            Err(_) if !self.trusted => None,
            Err(errors) => {
                // What is wrong by itself comes first, so that what follows from it stays unsaid.
                let (alone, following): (Vec<_>, Vec<_>) =
                    errors.into_iter().partition(|error| error.depends_on.is_empty());
                let mut ledger = self.ledger.borrow_mut();
                for error in alone.into_iter().chain(following) {
                    ledger.refuse_record(error, &path_of);
                }
                None
            }
        }
    }

    /// The record, if nothing at all is wrong with the file.
    pub(super) fn finish<T>(self, record: Option<T>) -> Result<T, FileProblems> {
        let mut ledger = self.ledger.into_inner();
        match record {
            Some(record) if !ledger.has_problems() => Ok(record),
            _ => Err(FileProblems::in_order_of_lines(ledger.take_problems())),
        }
    }
}
