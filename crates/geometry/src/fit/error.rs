//! Why a fit cannot be had.

use thiserror::Error;

/// Why a fit, a band or a comparison cannot be had. Indices count from 0; the messages count
/// from 1, as people do.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum FitError {
    /// Nothing to work on.
    #[error("a fit needs at least one {what}, and there is none")]
    Empty {
        /// What is missing.
        what: &'static str,
    },
    /// Two lists do not go together.
    #[error("{what}: {found} given where {expected} are needed")]
    Count {
        /// What was counted.
        what: &'static str,
        /// How many there should be.
        expected: usize,
        /// How many there are.
        found: usize,
    },
    /// A number is infinite or not a number.
    #[error("{what} {} is not finite", .index + 1)]
    NotFinite {
        /// What the number is.
        what: &'static str,
        /// Which one.
        index: usize,
    },
    /// A number that must be above zero is not.
    #[error("{what} {} must be above zero, and is {value}", .index + 1)]
    NotPositive {
        /// What the number is.
        what: &'static str,
        /// Which one.
        index: usize,
        /// Its value.
        value: f64,
    },
    /// An index beyond the end of a list.
    #[error("there is no {what} {}: there are {count}", .index + 1)]
    NoSuch {
        /// What was sought.
        what: &'static str,
        /// Which one.
        index: usize,
        /// How many there are.
        count: usize,
    },
    /// A probability outside its range.
    #[error("a probability here lies strictly between 0 and 1, and {value} does not")]
    Probability {
        /// What was given.
        value: f64,
    },
    /// The readings' standard deviations are known only up to a common factor.
    #[error("{what} needs readings whose standard deviations are known, not only their ratios")]
    UnknownScale {
        /// What was asked for.
        what: &'static str,
    },
    /// A parameter without a prior, where each needs one.
    #[error("parameter {} has no prior, and an evidence needs one for each", .parameter + 1)]
    MissingPrior {
        /// Which parameter.
        parameter: usize,
    },
    /// The readings do not say what was asked.
    #[error("the readings do not determine {what}: {why}")]
    Undetermined {
        /// What was asked for.
        what: &'static str,
        /// Why it cannot be said.
        why: &'static str,
    },
    /// Models that were fitted to different readings.
    #[error("model {} was fitted to other readings than the first", .model + 1)]
    OtherReadings {
        /// Which model.
        model: usize,
    },
    /// Numbers that cannot be worked with in double precision.
    #[error("the numbers are too large or too far apart to work with: choose other units")]
    Overflow,
    /// An iteration that did not come to rest.
    #[error("the fit did not settle in {iterations} rounds: start it nearer, or add readings")]
    NotConverged {
        /// How many rounds were made.
        iterations: usize,
    },
}

/// That every number of a list is finite.
pub(super) fn all_finite(what: &'static str, values: &[f64]) -> Result<(), FitError> {
    match values.iter().position(|value| !value.is_finite()) {
        Some(index) => Err(FitError::NotFinite { what, index }),
        None => Ok(()),
    }
}

/// That every number of a list is finite and above zero.
pub(super) fn all_positive(what: &'static str, values: &[f64]) -> Result<(), FitError> {
    all_finite(what, values)?;
    match values.iter().position(|value| *value <= 0.0) {
        Some(index) => Err(FitError::NotPositive { what, index, value: values[index] }),
        None => Ok(()),
    }
}

/// That a list is as long as it should be.
pub(super) fn counted(what: &'static str, expected: usize, found: usize) -> Result<(), FitError> {
    if expected == found { Ok(()) } else { Err(FitError::Count { what, expected, found }) }
}
