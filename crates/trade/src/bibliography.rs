//! The sources, each once: what it is, which part was used and how it was read.

use crate::cell::RawRow;
use crate::fault::TableError;
use crate::reader;
use crate::row::check_names;
use crate::words::{HowRead, named};

named! {
    /// What a source is used for in this project.
    pub enum SourceUse as "use of a source" {
        /// Rows of tables.
        Table = "table",
        /// Formulas, formats and outside checks.
        Formula = "formula",
        /// Both.
        Both = "table and formula",
        /// The shop's own table, which stands above all others.
        Shop = "shop",
    }
}

/// A source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// Its id, in words joined by hyphens.
    pub id: String,
    /// Its title, or what it is where it has none.
    pub title: String,
    /// Its author or publisher.
    pub author: String,
    /// When it appeared, as far as known.
    pub year: Option<String>,
    /// The part that was used.
    pub part: String,
    /// How it was read, in the main; a row may say otherwise of itself.
    pub read: HowRead,
    /// What it is used for.
    pub used_for: SourceUse,
    /// Whether it is in the public domain.
    pub public_domain: bool,
    /// A remark.
    pub note: Option<String>,
}

/// All sources.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bibliography {
    sources: Vec<Source>,
}

impl Bibliography {
    /// Reads a text of `[[source]]` tables.
    pub(crate) fn parse(text: &str) -> Result<Self, TableError> {
        let sources = reader::rows(text)?.iter().map(source).collect::<Result<_, _>>()?;
        Ok(Self { sources })
    }

    /// Every source, in the order of the file.
    pub fn sources(&self) -> &[Source] {
        &self.sources
    }

    /// The source of that id.
    pub fn source(&self, id: &str) -> Option<&Source> {
        self.sources.iter().find(|source| source.id == id)
    }

    /// Every id.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.sources.iter().map(|source| source.id.as_str())
    }
}

/// The fields that a source may have.
const FIELDS: [&str; 9] =
    ["id", "title", "author", "year", "part", "read", "used_for", "public_domain", "note"];

fn source(raw: &RawRow) -> Result<Source, TableError> {
    check_names(raw, &[&FIELDS])?;
    Ok(Source {
        id: raw.field("id")?,
        title: raw.field("title")?,
        author: raw.field("author")?,
        year: raw.field("year")?,
        part: raw.field("part")?,
        read: raw.field("read")?,
        used_for: raw.field("used_for")?,
        public_domain: raw.field("public_domain")?,
        note: raw.field("note")?,
    })
}
