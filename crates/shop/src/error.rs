//! The one way in which a use case can fail.

use geometry::section::SectionError;
use geometry::solve::SolveError;
use thiserror::Error;

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
}

impl ShopError {
    pub(crate) fn invalid(field: impl Into<String>, reason: impl Into<String>) -> Self {
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
