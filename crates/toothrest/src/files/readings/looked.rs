//! A reading that may not have been taken.

use geometry::Length;
use toml::de::DeValue;

use crate::files::value::{Readable, Wrong, wrong};

/// What stands where nobody looked; spreadsheets turn a hyphen into one of the dashes.
const UNREAD: [&str; 3] = ["-", "\u{2013}", "\u{2014}"];

/// What to write where nobody looked.
const NOBODY: &str = "write what was read, or \"-\" where nobody looked";

/// Whether a text says that nobody looked.
pub(super) fn is_unread(text: &str) -> bool {
    UNREAD.contains(&text.trim())
}

/// Refuses an empty place: it may be a reading forgotten as well as one never taken.
pub(super) fn empty() -> Wrong {
    wrong("is empty", NOBODY)
}

/// A length, or none where nobody looked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Looked(pub(super) Option<Length>);

impl Readable for Looked {
    fn example() -> String {
        "write a length with its unit, such as \"0.51 mm\", or \"-\" where nobody looked".to_owned()
    }

    fn stand_in() -> Self {
        Self(None)
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        match value {
            DeValue::String(text) if is_unread(text) => Ok(Self(None)),
            DeValue::String(text) if text.trim().is_empty() => Err(empty()),
            written => Length::read(written).map(|length| Self(Some(length))),
        }
    }
}

/// One reading for each tooth, from the first on.
pub(super) struct ByTooth {
    pub(super) teeth: Vec<Option<Length>>,
}

impl Readable for ByTooth {
    fn example() -> String {
        "write one reading for each tooth, as in [\"0.51 mm\", \"-\"], \"-\" where nobody looked"
            .to_owned()
    }

    fn stand_in() -> Self {
        Self { teeth: Vec::new() }
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        let DeValue::Array(members) = value else {
            return Err(wrong("must be a list", Self::example()));
        };
        let read = members.iter().map(|member| Looked::read(member.get_ref()));
        let teeth = read.map(|looked| Ok(looked?.0)).collect::<Result<_, _>>()?;
        Ok(Self { teeth })
    }
}
