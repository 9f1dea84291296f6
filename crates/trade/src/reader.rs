//! From TOML to rows as written, keeping the line of everything for later complaints.

use crate::cell::{RawRow, Written};
use crate::fault::{Fault, Place, TableError};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The rows of a text of `[[topic]]` tables, in the order of the text.
pub(crate) fn rows(text: &str) -> Result<Vec<RawRow>, TableError> {
    let table = DeTable::parse(text).map_err(|error| {
        let line = error.span().map_or(1, |span| line_of(text, &span));
        form(line, error.message())
    })?;
    let mut rows = Vec::new();
    for (topic, value) in table.get_ref() {
        rows.extend(rows_of(text, topic.get_ref(), value)?);
    }
    rows.sort_by_key(|row| row.line);
    Ok(rows)
}

fn rows_of(
    text: &str,
    topic: &str,
    value: &Spanned<DeValue<'_>>,
) -> Result<Vec<RawRow>, TableError> {
    let line = line_of(text, &value.span());
    let DeValue::Array(list) = value.get_ref() else {
        return Err(form(line, &format!("\"{topic}\" must be rows, each headed [[{topic}]]")));
    };
    list.iter().map(|row| raw_row(text, topic, row)).collect()
}

fn raw_row(text: &str, topic: &str, row: &Spanned<DeValue<'_>>) -> Result<RawRow, TableError> {
    let line = line_of(text, &row.span());
    let DeValue::Table(table) = row.get_ref() else {
        return Err(form(line, &format!("\"{topic}\" must be rows, each headed [[{topic}]]")));
    };
    let values = table
        .iter()
        .map(|(name, value)| written(text, name, value))
        .collect::<Result<_, TableError>>()?;
    Ok(RawRow { topic: topic.to_owned(), line, key: String::new(), values })
}

fn written(
    text: &str,
    name: &Spanned<std::borrow::Cow<'_, str>>,
    value: &Spanned<DeValue<'_>>,
) -> Result<Written, TableError> {
    let line = line_of(text, &name.span());
    let texts = match value.get_ref() {
        DeValue::Array(list) => list.iter().map(|one| plain(one.get_ref())).collect(),
        one => plain(one).map(|text| vec![text]),
    };
    let name = name.get_ref().to_string();
    let texts = texts.ok_or_else(|| form(line, &format!("\"{name}\" must be a text or a list")))?;
    Ok(Written { name, line, texts })
}

/// The text of a value that is no table and no list.
fn plain(value: &DeValue<'_>) -> Option<String> {
    match value {
        DeValue::String(text) => Some(text.to_string()),
        DeValue::Integer(number) => Some(number.as_str().to_owned()),
        DeValue::Float(number) => Some(number.as_str().to_owned()),
        DeValue::Boolean(flag) => Some(flag.to_string()),
        DeValue::Datetime(_) | DeValue::Array(_) | DeValue::Table(_) => None,
    }
}

fn form(line: usize, message: &str) -> TableError {
    Fault::Form(message.to_owned()).at(Place { line, ..Place::default() })
}

/// The line on which a span begins, counted from 1.
fn line_of(text: &str, span: &Range<usize>) -> usize {
    text.bytes().take(span.start).filter(|byte| *byte == b'\n').count() + 1
}
