//! What each column of a list is taken for, shown before anything is kept.

use std::collections::BTreeMap;

use geometry::Length;

use super::column::{CutterColumn, Holds, is_not_kept};
use super::grid::Row;
use super::problem::{ListProblem, problem};

/// A column of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MappedColumn {
    /// Its place, counted from 0.
    pub place: usize,
    /// Its heading, as it is written.
    pub heading: String,
    /// What it is taken for.
    pub meaning: Meaning,
}

/// What a column is taken for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Meaning {
    /// A fact of a cutter, with the unit of its lengths where the heading or the list says one.
    Fact {
        /// Which.
        column: CutterColumn,
        /// The unit behind the heading, or else that of the list.
        unit: Option<String>,
        /// Whether the unit stands in the heading.
        is_of_heading: bool,
    },
    /// A known symbol for which a cutter's record has no place.
    NotKept,
    /// Nothing that is known here.
    Unknown,
    /// A column that was left out because somebody said so.
    LeftOut,
}

/// What was said of a list beside its own cells.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Said {
    /// The unit of lengths that have none of their own: mm, um, in or thou.
    pub unit: Option<String>,
    /// Facts that hold for every cutter for which the list says nothing else.
    pub facts: BTreeMap<CutterColumn, String>,
    /// Headings of columns that are not to be read, as they are written.
    pub left_out: Vec<String>,
}

/// Maps the headings, and says what is wrong with them.
pub(super) fn map(header: &Row, said: &Said) -> (Vec<MappedColumn>, Vec<ListProblem>) {
    let all = header.cells.iter().enumerate();
    let written = all.map(|(place, cell)| (place, cell.shown()));
    let named = written.filter(|(_, heading)| !heading.is_empty());
    let columns: Vec<MappedColumn> =
        named.map(|(place, heading)| mapped(place, heading, said)).collect();
    let mut problems = unit_problems(&columns, header.line);
    problems.extend(twice(&columns, header.line));
    problems.extend(unknown(&columns, header.line));
    (columns, problems)
}

fn mapped(place: usize, heading: String, said: &Said) -> MappedColumn {
    let is_left_out = said.left_out.iter().any(|left| left.eq_ignore_ascii_case(&heading));
    let (name, own_unit) = split_unit(&heading);
    let meaning = match CutterColumn::from_heading(name) {
        _ if is_left_out => Meaning::LeftOut,
        Some(column) => {
            let is_length = column.holds() == Holds::Length;
            let of_list = said.unit.clone().filter(|_| is_length);
            let is_of_heading = own_unit.is_some();
            Meaning::Fact { column, unit: own_unit.map(str::to_owned).or(of_list), is_of_heading }
        }
        None if is_not_kept(name) => Meaning::NotKept,
        None => Meaning::Unknown,
    };
    MappedColumn { place, heading, meaning }
}

/// A heading and the unit in brackets behind it.
fn split_unit(heading: &str) -> (&str, Option<&str>) {
    let bracketed = |open: char, close: char| {
        let (name, unit) = heading.strip_suffix(close)?.rsplit_once(open)?;
        Some((name.trim(), Some(unit.trim())))
    };
    bracketed('(', ')').or_else(|| bracketed('[', ']')).unwrap_or((heading, None))
}

/// Whether lengths can be written in this unit.
pub(super) fn is_unit(unit: &str) -> bool {
    let plain = !unit.contains(|letter: char| letter.is_numeric());
    plain && format!("1 {unit}").parse::<Length>().is_ok()
}

fn at(line: usize, heading: &str, found: ListProblem) -> ListProblem {
    ListProblem { line: Some(line), column: heading.to_owned(), ..found }
}

fn unit_problems(columns: &[MappedColumn], line: usize) -> Vec<ListProblem> {
    let wrong = |one: &MappedColumn| {
        let Meaning::Fact { column, unit: Some(unit), is_of_heading: true } = &one.meaning else {
            return None;
        };
        let found = match column.holds() {
            Holds::Length if is_unit(unit) => return None,
            Holds::Angle if is_degrees(unit) => return None,
            Holds::Length => {
                problem("not a unit of length", "write mm, um, in or thou between the brackets")
            }
            Holds::Angle => problem("not degrees", "write deg between the brackets"),
            _ => problem("no lengths stand in this column", "leave its unit out"),
        };
        Some(at(line, &one.heading, found))
    };
    columns.iter().filter_map(wrong).collect()
}

pub(super) fn is_degrees(unit: &str) -> bool {
    ["deg", "°", "degrees"].contains(&unit.to_ascii_lowercase().as_str())
}

fn twice(columns: &[MappedColumn], line: usize) -> Vec<ListProblem> {
    let of = |one: &MappedColumn| match &one.meaning {
        Meaning::Fact { column, .. } => Some(*column),
        _ => None,
    };
    let is_second = |(place, one): &(usize, &MappedColumn)| {
        of(one).is_some() && columns[..*place].iter().any(|other| of(other) == of(one))
    };
    let told = |(_, one): (usize, &MappedColumn)| {
        let words = of(one).map_or_else(String::new, CutterColumn::words);
        let right = "leave one of them out";
        at(line, &one.heading, problem(format!("a second column for the {words}"), right))
    };
    columns.iter().enumerate().filter(is_second).map(told).collect()
}

/// Nothing is dropped in silence: a heading that is not known must be left out by name.
fn unknown(columns: &[MappedColumn], line: usize) -> Vec<ListProblem> {
    let unknown = columns.iter().filter(|one| one.meaning == Meaning::Unknown);
    let told = |one: &MappedColumn| {
        let right = "give it a heading that is known here, or say that it is left out";
        at(line, &one.heading, problem("nothing of that name is kept of a cutter", right))
    };
    unknown.map(told).collect()
}
