//! Entries as they stand in a history, and as they are handed in.

use std::collections::BTreeSet;

use super::event::Event;
use super::stamp::Stamp;
use super::subject::Subject;
use crate::error::ShopError;

/// One entry of a history.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Whose history.
    pub subject: Subject,
    /// Its number in that history, counted from 1 without a gap.
    pub number: u64,
    /// Who and when.
    pub stamp: Stamp,
    /// What happened.
    pub event: Event,
}

/// Entries that somebody wants to add to one history.
#[derive(Clone, Debug, PartialEq)]
pub struct Append {
    /// Whose history.
    pub subject: Subject,
    /// The number of the last entry that the writer has seen; 0 for a new subject. Where another
    /// entry has come since, nothing is written.
    pub seen: u64,
    /// Who and when.
    pub stamp: Stamp,
    /// What happened, in order.
    pub events: Vec<Event>,
}

impl Append {
    /// The entries that this makes.
    pub fn entries(&self) -> Vec<Entry> {
        let numbered = (self.seen + 1..).zip(&self.events);
        let entry = |(number, event): (u64, &Event)| Entry {
            subject: self.subject.clone(),
            number,
            stamp: self.stamp.clone(),
            event: event.clone(),
        };
        numbered.map(entry).collect()
    }
}

/// One history can be written to once at a time.
///
/// # Errors
/// `Invalid` where a subject stands twice among the writes.
pub fn check_single(writes: &[Append]) -> Result<(), ShopError> {
    let subjects: BTreeSet<&Subject> = writes.iter().map(|write| &write.subject).collect();
    if subjects.len() == writes.len() {
        Ok(())
    } else {
        Err(ShopError::invalid("entries", "one subject stands twice; write its entries together"))
    }
}
