//! What can be wrong with a table: where it stands, what was written and what was nearest.

use std::fmt;

/// A table could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {fault}")]
pub struct TableError {
    /// Where it stands in the text.
    pub place: Box<Place>,
    /// What is wrong there.
    pub fault: Fault,
}

/// A place in a table's text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// The line, counted from 1.
    pub line: usize,
    /// The topic, empty where it is not known yet.
    pub topic: String,
    /// The row's key, empty where it is not known yet.
    pub key: String,
    /// The field, empty where the fault is the whole row's.
    pub field: String,
}

impl fmt::Display for Place {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "line {}", self.line)?;
        if !self.topic.is_empty() {
            write!(out, ", {}", self.topic)?;
        }
        if !self.key.is_empty() {
            write!(out, " \"{}\"", self.key)?;
        }
        if !self.field.is_empty() {
            write!(out, ", {}", self.field)?;
        }
        Ok(())
    }
}

/// What is wrong with a table, a row or a field.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// The text is not TOML of the form that tables have.
    #[error("{0}")]
    Form(String),
    /// A name that nobody knows: a topic, key, field, unit, word or source.
    #[error("{what} \"{given}\" is not known{}", nearest_known(.nearest))]
    Unknown {
        /// What the name names.
        what: &'static str,
        /// The name as written.
        given: String,
        /// The nearest name that is known.
        nearest: Option<String>,
    },
    /// A field that must be there is not.
    #[error("it is missing")]
    Missing,
    /// A value that cannot be read.
    #[error("\"{given}\" cannot be read: {reason}")]
    Unreadable {
        /// The value as written.
        given: String,
        /// Why not.
        reason: String,
    },
    /// A shop's row gives a field that the key has settled already.
    #[error("the key settles it already; leave it out")]
    SettledByKey,
    /// A shop's table holds two rows for one key.
    #[error("the key stands twice in this table")]
    Twice,
    /// Not exactly one row of a key is chosen.
    #[error("{0} of its rows are chosen; it must be exactly one")]
    NotOneChosen(usize),
}

impl Fault {
    /// An unknown name, with the nearest among the `known`.
    pub(crate) fn unknown<'k>(
        what: &'static str,
        given: &str,
        known: impl IntoIterator<Item = &'k str>,
    ) -> Self {
        Self::Unknown { what, given: given.to_owned(), nearest: nearest(given, known) }
    }

    /// A value that cannot be read.
    pub(crate) fn unreadable(given: &str, reason: impl Into<String>) -> Self {
        Self::Unreadable { given: given.to_owned(), reason: reason.into() }
    }

    /// The fault at its place.
    pub(crate) fn at(self, place: Place) -> TableError {
        TableError { place: Box::new(place), fault: self }
    }
}

fn nearest_known(nearest: &Option<String>) -> String {
    nearest.as_ref().map_or_else(String::new, |name| format!("; the nearest known is \"{name}\""))
}

/// The known name that is most like `given`, without regard to case.
fn nearest<'k>(given: &str, known: impl IntoIterator<Item = &'k str>) -> Option<String> {
    let given = given.to_lowercase();
    let likeness = |name: &str| strsim::jaro_winkler(&given, &name.to_lowercase());
    known
        .into_iter()
        .map(|name| (likeness(name), name))
        .reduce(|best, next| if next.0 > best.0 { next } else { best })
        .map(|(_, name)| name.to_owned())
}
