//! The answer of `toothrest give list`.

use exchange::list::{Table, Value};
use serde::Serialize;

use super::SCHEMA_VERSION;

/// A table as an answer: headings, and rows in their order.
#[derive(Serialize)]
pub(crate) struct ListAnswer<'a> {
    schema: u32,
    list: &'static str,
    columns: Vec<&'a str>,
    rows: Vec<Vec<Option<CellAnswer<'a>>>>,
}

/// Words or a number in the unit of its heading.
#[derive(Serialize)]
#[serde(untagged)]
enum CellAnswer<'a> {
    Text(&'a str),
    Number(f64),
}

pub(crate) fn list(table: &Table) -> ListAnswer<'_> {
    let cell = |value| match value {
        &Value::Blank => None,
        Value::Text(text) => Some(CellAnswer::Text(text)),
        Value::Number(number) => Some(CellAnswer::Number(*number)),
    };
    ListAnswer {
        schema: SCHEMA_VERSION,
        list: table.name,
        columns: table.columns.iter().map(|column| column.heading.as_str()).collect(),
        rows: table.rows.iter().map(|row| row.iter().map(cell).collect()).collect(),
    }
}
