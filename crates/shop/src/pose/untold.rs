//! Axes whose words do not say how they stand.

use std::fmt;

use crate::record::Axis;

/// An axis that cannot be counted from, and what its file could say instead.
#[derive(Clone, Debug, PartialEq)]
pub struct Untold {
    /// What people at the machine call it.
    pub axis: String,
    /// Its place in the machine's list, from 0.
    pub place: usize,
    /// The key whose words say nothing: `zero` or `positive`.
    pub key: &'static str,
    /// The words that stand there.
    pub words: String,
    /// Whether it is a swivel.
    pub turns: bool,
    /// The phrases that would say it.
    pub phrases: Vec<&'static str>,
}

impl Untold {
    /// What is untold of an axis, the way it grows first; None where all is told.
    pub(super) fn of(place: usize, axis: &Axis) -> Option<Self> {
        let role = axis.role();
        let (key, words, phrases) = if axis.grows().is_none() {
            ("positive", axis.positive(), role.growing_phrases())
        } else if axis.swivel().is_some() && axis.reads_zero().is_none() {
            ("zero", axis.zero(), role.zero_phrases())
        } else {
            return None;
        };
        let (turns, words) = (axis.swivel().is_some(), words.to_owned());
        Some(Self { axis: axis.name().to_owned(), place, key, words, turns, phrases })
    }
}

impl fmt::Display for Untold {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { axis, key, words, phrases, .. } = self;
        let says = if *key == "zero" { "where it reads 0" } else { "which way its reading grows" };
        let phrases: Vec<String> = phrases.iter().map(|phrase| format!("\"{phrase}\"")).collect();
        let phrases = phrases.join(", ");
        write!(f, "\"{axis}\": {key} = \"{words}\" does not say {says}; write one of {phrases}")
    }
}
