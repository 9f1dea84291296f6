//! The inputs of a plan, carried in its answer so that it can be made again.

use serde::{Deserialize, Serialize};

/// A file's name and text.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct NamedText {
    pub(crate) file: String,
    pub(crate) text: String,
}

/// A check whose corrections were followed by a corrective grind.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct AfterCheck {
    /// What was read.
    pub(crate) readings: NamedText,
    /// The faults that were left as they are.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(crate) left: Vec<String>,
    /// What the cross feed's dial really stood at after the last pass, where not as planned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) fed: Option<String>,
}

/// Everything a plan was made from.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Inputs {
    pub(crate) cutter: NamedText,
    pub(crate) machine: NamedText,
    pub(crate) wheels: Vec<NamedText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) wear: Option<NamedText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) history: Option<NamedText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) tables: Option<NamedText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) relief: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) to_size: Option<String>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub(crate) end: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) off_length: Option<String>,
    /// The checks after which it was ground again, in order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(crate) after: Vec<AfterCheck>,
}
