//! From the entries of the book to what can be learned from.
//!
//! Entries count as they were amended; what was struck out or does not fit says nothing. A grind
//! that cannot be learned from is left out and told, never dropped in silence.

mod cutter;
mod wheel;

pub use cutter::cutter_history;
pub use wheel::wheel_history;

use super::learned::LeftOut;
use crate::error::ShopError;

/// A history out of the book.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OfBook<T> {
    /// The history.
    pub history: T,
    /// Entries that look like grinds and cannot be learned from.
    pub left_out: Vec<LeftOut>,
}

impl<T> OfBook<T> {
    fn leave_out(&mut self, entry: &str, why: impl Into<String>) {
        self.left_out.push(LeftOut { entry: entry.to_owned(), why: why.into() });
    }

    /// Says why a grind was not taken, if it was not.
    fn note(&mut self, entry: &str, taken: Result<(), ShopError>) {
        if let Err(error) = taken {
            self.leave_out(entry, error.to_string());
        }
    }
}
