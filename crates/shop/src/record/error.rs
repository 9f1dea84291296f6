//! What is wrong with a draft: every violated fact, each with its field and value.

use std::fmt;

use thiserror::Error;

/// One violated fact of a draft.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{field} = {value}: {fact}; {right}")]
pub struct RecordError {
    /// The field to blame, as a dotted path; a member of a list is counted from 0, as in
    /// `axis[2].graduation`.
    pub field: String,
    /// Other fields the fact depends on, so that whoever reads a file can hold this complaint
    /// back while one of them is itself in doubt.
    pub depends_on: Vec<String>,
    /// The value found there, as text with its unit.
    pub value: String,
    /// The fact that is violated.
    pub fact: String,
    /// What would be right, as an instruction: "write …".
    pub right: String,
}

/// All violated facts of one draft; never empty.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub struct RecordErrors {
    errors: Vec<RecordError>,
}

impl RecordErrors {
    /// The violated facts in the order in which they were found.
    pub fn errors(&self) -> &[RecordError] {
        &self.errors
    }

    pub(super) const fn from_found(errors: Vec<RecordError>) -> Self {
        Self { errors }
    }
}

impl fmt::Display for RecordErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, error) in self.errors.iter().enumerate() {
            let separator = if index == 0 { "" } else { "\n" };
            write!(f, "{separator}{error}")?;
        }
        Ok(())
    }
}

impl IntoIterator for RecordErrors {
    type Item = RecordError;
    type IntoIter = std::vec::IntoIter<RecordError>;

    fn into_iter(self) -> Self::IntoIter {
        self.errors.into_iter()
    }
}
