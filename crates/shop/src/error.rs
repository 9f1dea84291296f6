//! The one way in which a use case can fail.

use geometry::end::EndError;
use geometry::section::SectionError;
use geometry::solve::SolveError;
use thiserror::Error;

use crate::book::{Initials, Moment, Subject, SubjectKind, Summary};

/// Why a use case gives no answer.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum ShopError {
    /// A value cannot be worked with.
    #[error("{field}: {reason}")]
    Invalid {
        /// The value in question, as files name it.
        field: String,
        /// What is wrong and what would be right.
        reason: String,
    },
    /// The work is refused by a rule of safety or of the trade.
    #[error("refused ({rule}): {why}")]
    Refused {
        /// The rule, in a few words.
        rule: String,
        /// Why it applies here and what to do instead.
        why: String,
    },
    /// Something that is asked for is not in the book.
    #[error("{what} is not in the book")]
    NotFound {
        /// What, with its kind.
        what: String,
    },
    /// Somebody else has written since the writer looked; nothing was written.
    #[error(
        "{what} has changed: you saw entry {seen}, but entry {now} was written by {by} at {at}; \
         look at it again, then write"
    )]
    Conflict {
        /// Which thing, by kind and number.
        what: String,
        /// The last entry that the writer had seen; 0 for none.
        seen: u64,
        /// The last entry that there is.
        now: u64,
        /// Who wrote that.
        by: Initials,
        /// When.
        at: Moment,
    },
    /// The keeping itself failed.
    #[error("the book cannot {action}: {why}")]
    Store {
        /// What it was about to do.
        action: String,
        /// Why it could not.
        why: String,
    },
}

impl ShopError {
    /// A write came too late, or was made to a subject that is not there.
    pub fn conflict(found: Option<&Summary>, seen: u64) -> Self {
        match found {
            Some(found) => Self::Conflict {
                what: format!("{} {}", found.subject.kind, found.number),
                seen,
                now: found.seen,
                by: found.last.by.clone(),
                at: found.last.at,
            },
            None => Self::NotFound { what: format!("entry {seen} of a subject that has none") },
        }
    }

    /// Another one of that kind has this number.
    pub fn number_taken(kind: SubjectKind, number: &str) -> Self {
        Self::invalid("number", format!("another {kind} has {number:?}; choose another number"))
    }

    /// A token that was just made is in use already; never by chance.
    pub fn token_taken() -> Self {
        Self::invalid("token", "it is in use; make another one")
    }

    /// An entry speaks of something that is not in the book.
    pub fn not_in_book(subject: &Subject) -> Self {
        let Subject { kind, id } = subject;
        Self::invalid(kind.name(), format!("no {kind} {id} is in the book; enter it first"))
    }

    /// The keeping failed while it was about to do something.
    pub fn store(action: impl Into<String>, why: impl ToString) -> Self {
        Self::Store { action: action.into(), why: why.to_string() }
    }

    /// A value cannot be worked with.
    pub fn invalid(field: impl Into<String>, reason: impl Into<String>) -> Self {
        Self::Invalid { field: field.into(), reason: reason.into() }
    }

    pub(crate) fn refused(rule: impl Into<String>, why: impl Into<String>) -> Self {
        Self::Refused { rule: rule.into(), why: why.into() }
    }
}

impl From<SectionError> for ShopError {
    fn from(error: SectionError) -> Self {
        match error {
            SectionError::Invalid { field, reason } => Self::invalid(field, reason),
            SectionError::OutOfReach { reason } => {
                Self::refused("the wheel must reach the edge", reason)
            }
        }
    }
}

impl From<EndError> for ShopError {
    fn from(error: EndError) -> Self {
        match error {
            EndError::Section(section) => section.into(),
            EndError::Invalid { field, reason } => Self::invalid(field, reason),
            EndError::OutOfRange { .. } => {
                Self::refused("the relief must be within reach", error.to_string())
            }
        }
    }
}

impl From<SolveError> for ShopError {
    fn from(error: SolveError) -> Self {
        match error {
            SolveError::Section(section) => section.into(),
            SolveError::OutOfRange { .. } => {
                Self::refused("the relief must be within reach", error.to_string())
            }
        }
    }
}
