//! The answer of `toothrest book take-in`.

use exchange::list::{CutterList, ListProblem, MappedColumn, Meaning};
use serde::Serialize;

use super::SCHEMA_VERSION;

/// What a list was taken for, and what is wrong with it.
#[derive(Serialize)]
pub(crate) struct TakeInAnswer {
    schema: u32,
    columns: Vec<ColumnAnswer>,
    /// Facts that every cutter needs and nobody gives.
    asked: Vec<&'static str>,
    cutters: Vec<String>,
    problems: Vec<ProblemAnswer>,
    /// How many were kept; null where it was only looked at.
    kept: Option<usize>,
}

#[derive(Serialize)]
struct ColumnAnswer {
    heading: String,
    meaning: &'static str,
    fact: Option<&'static str>,
    unit: Option<String>,
}

#[derive(Serialize)]
struct ProblemAnswer {
    line: Option<usize>,
    column: String,
    value: String,
    message: String,
    right: String,
}

pub(crate) fn take_in(list: &CutterList, kept: Option<usize>) -> TakeInAnswer {
    TakeInAnswer {
        schema: SCHEMA_VERSION,
        columns: list.columns.iter().map(column).collect(),
        asked: list.asked.iter().map(|column| column.field()).collect(),
        cutters: list.cutters.iter().map(|one| one.cutter.number().to_owned()).collect(),
        problems: list.problems.iter().map(problem).collect(),
        kept,
    }
}

fn column(one: &MappedColumn) -> ColumnAnswer {
    let (meaning, fact, unit) = match &one.meaning {
        Meaning::Fact { column, unit, .. } => ("fact", Some(column.field()), unit.clone()),
        Meaning::NotKept => ("not kept", None, None),
        Meaning::Unknown => ("unknown", None, None),
        Meaning::LeftOut => ("left out", None, None),
    };
    ColumnAnswer { heading: one.heading.clone(), meaning, fact, unit }
}

fn problem(problem: &ListProblem) -> ProblemAnswer {
    let ListProblem { line, column, value, message, right } = problem.clone();
    ProblemAnswer { line, column, value, message, right }
}
