//! One written value of a row, and how Rust types are read from it.

use crate::fault::{Fault, Place, TableError};
use crate::material::{Abrasive, ToolMaterial};

/// A value that is written as one text.
pub(crate) trait Cell: Sized {
    /// Reads it.
    fn from_text(text: &str) -> Result<Self, Fault>;
}

/// A field of a row: a value that must be there, one that may be, or a list.
pub(crate) trait Field: Sized {
    /// Reads it from what was written, if anything was.
    fn from_written(written: Option<&[String]>) -> Result<Self, Fault>;
}

impl<T: Cell> Field for T {
    fn from_written(written: Option<&[String]>) -> Result<Self, Fault> {
        match written {
            None => Err(Fault::Missing),
            Some([text]) => T::from_text(text),
            Some(list) => Err(Fault::unreadable(&list.join(", "), "one value belongs here")),
        }
    }
}

impl<T: Cell> Field for Option<T> {
    fn from_written(written: Option<&[String]>) -> Result<Self, Fault> {
        written.map(|written| T::from_written(Some(written))).transpose()
    }
}

impl<T: Cell> Field for Vec<T> {
    fn from_written(written: Option<&[String]>) -> Result<Self, Fault> {
        written.ok_or(Fault::Missing)?.iter().map(|text| T::from_text(text)).collect()
    }
}

impl Cell for String {
    fn from_text(text: &str) -> Result<Self, Fault> {
        let text = text.trim();
        if text.is_empty() { Err(Fault::Missing) } else { Ok(text.to_owned()) }
    }
}

impl Cell for bool {
    fn from_text(text: &str) -> Result<Self, Fault> {
        text.parse().map_err(|_| Fault::unknown("word", text, ["true", "false"]))
    }
}

impl Cell for u32 {
    fn from_text(text: &str) -> Result<Self, Fault> {
        text.parse().map_err(|_| Fault::unreadable(text, "a whole number belongs here"))
    }
}

impl Cell for ToolMaterial {
    fn from_text(text: &str) -> Result<Self, Fault> {
        let names = Self::ALL.map(Self::name);
        Self::from_name(text).ok_or_else(|| Fault::unknown("tool material", text, names))
    }
}

impl Cell for Abrasive {
    fn from_text(text: &str) -> Result<Self, Fault> {
        let names = Self::ALL.map(Self::name);
        Self::from_name(text).ok_or_else(|| Fault::unknown("abrasive", text, names))
    }
}

/// A written value with its name and line.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Written {
    /// The field's name.
    pub(crate) name: String,
    /// The line it stands on.
    pub(crate) line: usize,
    /// The value; one text unless it is a list.
    pub(crate) texts: Vec<String>,
}

/// A row as written: its topic, its line and its values, not yet understood.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct RawRow {
    /// The topic as written.
    pub(crate) topic: String,
    /// The line where the row begins.
    pub(crate) line: usize,
    /// The key, once it is known.
    pub(crate) key: String,
    /// Its values.
    pub(crate) values: Vec<Written>,
}

impl RawRow {
    /// The value of that name.
    pub(crate) fn written(&self, name: &str) -> Option<&Written> {
        self.values.iter().find(|value| value.name == name)
    }

    /// The value of that name as shown text.
    pub(crate) fn shown(&self, name: &str) -> Option<String> {
        self.written(name).map(|value| value.texts.join(", "))
    }

    /// Reads a field.
    pub(crate) fn field<T: Field>(&self, name: &str) -> Result<T, TableError> {
        let texts = self.written(name).map(|value| value.texts.as_slice());
        T::from_written(texts).map_err(|fault| fault.at(self.place_of(name)))
    }

    /// Where a field stands; the row's own line where it was not written.
    pub(crate) fn place_of(&self, name: &str) -> Place {
        let line = self.written(name).map_or(self.line, |value| value.line);
        Place { line, field: name.to_owned(), ..self.place() }
    }

    /// Where the row stands.
    pub(crate) fn place(&self) -> Place {
        Place {
            line: self.line,
            topic: self.topic.clone(),
            key: self.key.clone(),
            field: String::new(),
        }
    }
}
