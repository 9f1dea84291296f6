//! What is said when a written length or angle cannot be read.

use thiserror::Error;

use super::shorten::shortened;

/// The longest part of a message, in characters.
const CHARACTERS_MAX: usize = 200;

/// Why a written length or angle was refused, in one sentence for the person who wrote it.
///
/// ```
/// use geometry::Length;
///
/// let refusal = "3/0 in".parse::<Length>().unwrap_err();
/// assert_eq!(refusal.given(), "3/0 in");
/// assert_eq!(refusal.wrong(), "divides by zero");
/// assert_eq!(refusal.right(), "write a fraction such as 3/8 in");
/// assert_eq!(
///     refusal.to_string(),
///     "\"3/0 in\" divides by zero: write a fraction such as 3/8 in"
/// );
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("\"{given}\" {wrong}: {right}")]
pub struct QuantityError {
    given: String,
    wrong: String,
    right: String,
}

impl QuantityError {
    /// The text as it was given, without its middle where it is longer than any quantity.
    pub fn given(&self) -> &str {
        &self.given
    }

    /// What is wrong with it, as the end of a sentence that begins with the text.
    pub fn wrong(&self) -> &str {
        &self.wrong
    }

    /// What would be right, as an instruction.
    pub fn right(&self) -> &str {
        &self.right
    }
}

/// A fault found while reading, before it is joined to the text that has it.
#[derive(Debug)]
pub(super) struct Flaw {
    wrong: String,
    right: String,
}

impl Flaw {
    pub(super) fn new(wrong: impl Into<String>, right: impl Into<String>) -> Self {
        Self { wrong: wrong.into(), right: right.into() }
    }

    pub(super) fn found_in(self, given: &str) -> QuantityError {
        let short = |text: &str| shortened(text, CHARACTERS_MAX);
        QuantityError { given: short(given), wrong: short(&self.wrong), right: short(&self.right) }
    }
}

/// Which quantity is being read, so that a hint gives an example of the right sort.
#[derive(Clone, Copy, Debug)]
pub(super) enum Kind {
    Length,
    Angle,
}

impl Kind {
    /// How such a quantity is called, with an example.
    pub(super) const fn plain(self) -> &'static str {
        match self {
            Self::Length => "a length such as 12.7 mm",
            Self::Angle => "an angle such as 29.5 deg",
        }
    }

    /// A fraction of it.
    pub(super) const fn fraction(self) -> &'static str {
        match self {
            Self::Length => "3/8 in",
            Self::Angle => "1/2 deg",
        }
    }

    /// A whole and a fraction of it.
    pub(super) const fn mixed(self) -> &'static str {
        match self {
            Self::Length => "1-3/8 in",
            Self::Angle => "89-1/2 deg",
        }
    }
}
