//! A table that goes out: headings with units, numbers as numbers.

use geometry::quantity::System;
use geometry::{Angle, Length};

/// A table.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// What it lists; the name of a workbook's sheet, at most 31 letters.
    pub name: &'static str,
    /// The columns.
    pub columns: Vec<TableColumn>,
    /// The rows, each with a value for every column.
    pub rows: Vec<Vec<Value>>,
}

/// A column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableColumn {
    /// The heading, with its unit in brackets.
    pub heading: String,
    /// Decimals of the numbers in it.
    pub decimals: usize,
}

/// A value.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// Nothing is known.
    Blank,
    /// Words.
    Text(String),
    /// A number in the unit of its heading.
    Number(f64),
}

impl TableColumn {
    /// Words or whole numbers.
    pub(super) fn plain(name: &str) -> Self {
        Self { heading: name.to_owned(), decimals: 0 }
    }

    /// Lengths.
    pub(super) fn length(name: &str, system: System) -> Self {
        let decimals = match system {
            System::Inch => 5,
            System::Millimetre => 4,
        };
        Self { heading: format!("{name} ({})", system.unit()), decimals }
    }

    /// Angles in degrees.
    pub(super) fn angle(name: &str) -> Self {
        Self { heading: format!("{name} (deg)"), decimals: 3 }
    }

    /// Numbers of something.
    pub(super) fn number(name: &str, decimals: usize) -> Self {
        Self { heading: name.to_owned(), decimals }
    }
}

impl Value {
    pub(super) fn words(text: impl Into<String>) -> Self {
        let text = text.into();
        if text.is_empty() { Self::Blank } else { Self::Text(text) }
    }

    pub(super) fn count(count: u32) -> Self {
        Self::Number(f64::from(count))
    }

    pub(super) fn flag(flag: bool) -> Self {
        Self::Text(if flag { "yes" } else { "no" }.to_owned())
    }

    pub(super) fn length(length: impl Into<Option<Length>>, system: System) -> Self {
        let finite = length.into().filter(|length| length.is_finite());
        finite.map_or(Self::Blank, |length| match system {
            System::Inch => Self::Number(length.inches()),
            System::Millimetre => Self::Number(length.mm()),
        })
    }

    pub(super) fn angle(angle: impl Into<Option<Angle>>) -> Self {
        angle.into().map_or(Self::Blank, |angle| Self::Number(angle.degrees()))
    }
}

/// The table as CSV (RFC 4180), a number with as many decimals as it needs and its column has at
/// most. A spreadsheet takes a cell that begins with =, +, - or @ for a formula, so such words get
/// an apostrophe before them.
pub fn table_csv(table: &Table) -> String {
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let headings = table.columns.iter().map(|column| column.heading.clone());
    // Writing to memory does not fail, and every row has as many cells.
    let _ = writer.write_record(headings);
    for row in &table.rows {
        let cells = table.columns.iter().zip(row).map(|(column, value)| cell(column, value));
        let _ = writer.write_record(cells);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

fn cell(column: &TableColumn, value: &Value) -> String {
    match value {
        Value::Blank => String::new(),
        Value::Text(text) => guarded(text),
        Value::Number(number) => decimal(rounded(*number, column.decimals)),
    }
}

/// Words that a spreadsheet takes for words, whatever they begin with.
pub(crate) fn guarded(text: &str) -> String {
    let is_formula = text.starts_with(['=', '+', '-', '@', '\t']);
    if is_formula { format!("'{text}") } else { text.to_owned() }
}

/// A number rounded to so many decimals.
pub(super) fn rounded(number: f64, decimals: usize) -> f64 {
    format!("{number:.decimals$}").parse().unwrap_or(number)
}

fn decimal(number: f64) -> String {
    if number == 0.0 { "0".to_owned() } else { number.to_string() }
}
