//! Why an end cannot be worked out.

use thiserror::Error;

use crate::section::SectionError;

/// Why an end, or the grinding of it, cannot be.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum EndError {
    /// A value is outside what an end can have.
    #[error("{field}: {reason}")]
    Invalid {
        /// The value in question, named as in the files that people keep.
        field: &'static str,
        /// What is wrong with it and what would be right.
        reason: String,
    },
    /// The wheel and its stance leave no section.
    #[error(transparent)]
    Section(#[from] SectionError),
    /// No tilt of the tooth gives the relief with this wheel.
    #[error("no tilt gives {wanted_deg:.2} deg of axial relief here: the nearest is {had_deg:.2}")]
    OutOfRange {
        /// What was wanted, in degrees.
        wanted_deg: f64,
        /// What came nearest, in degrees.
        had_deg: f64,
    },
}

impl EndError {
    pub(super) fn invalid(field: &'static str, reason: String) -> Self {
        Self::Invalid { field, reason }
    }
}

/// Refuses a value outside its ends, told with its unit.
pub(super) fn check_within(
    field: &'static str,
    value: f64,
    (least, greatest): (f64, f64),
    unit: &str,
) -> Result<(), EndError> {
    if (least..=greatest).contains(&value) {
        return Ok(());
    }
    let reason = format!("{value:.4} {unit} is outside {least:.4} to {greatest:.4} {unit}");
    Err(EndError::invalid(field, reason))
}
