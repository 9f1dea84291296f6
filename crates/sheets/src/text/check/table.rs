//! Readings by place and tooth.

use geometry::Length;
use shop::check::{Check, Observed, ReadingKind};

use super::super::page::Page;
use super::super::show::Units;
use super::words;

/// Width of the column of places, and of each tooth's.
const PLACE: usize = 11;
const CELL: usize = 9;

/// As many teeth stand side by side.
const TEETH_ABREAST: usize = 8;

/// Readings of one kind for which the plan foretells the same.
pub(super) struct Group<'a> {
    pub(super) kind: ReadingKind,
    pub(super) expected: Length,
    /// Each reading with its place among all.
    pub(super) readings: Vec<(usize, &'a Observed)>,
}

/// The readings in groups, in the order in which they were given.
pub(super) fn groups(check: &Check) -> Vec<Group<'_>> {
    let mut groups: Vec<Group<'_>> = Vec::new();
    for (at, one) in check.observed.iter().enumerate() {
        let is_same =
            |group: &&mut Group<'_>| group.kind == one.kind && group.expected == one.expected;
        match groups.iter_mut().find(is_same) {
            Some(group) => group.readings.push((at, one)),
            None => groups.push(Group {
                kind: one.kind,
                expected: one.expected,
                readings: vec![(at, one)],
            }),
        }
    }
    groups
}

/// One line of a table: a place, and what was read there by column.
struct Row {
    place: Length,
    cells: Vec<Option<String>>,
}

/// Writes a group tooth by tooth; what was set aside stands in brackets.
pub(super) fn write(page: &mut Page, check: &Check, group: &Group<'_>, units: Units) {
    let columns = columns(check, group);
    let rows = rows(check, group, &columns, units);
    for start in (0..columns.len()).step_by(TEETH_ABREAST) {
        let end = (start + TEETH_ABREAST).min(columns.len());
        let names = columns[start..end].iter().map(|column| match column {
            Some(tooth) => format!("tooth {tooth}"),
            None => "a tooth".to_owned(),
        });
        line(page, "from end", &names.collect::<Vec<_>>());
        for row in &rows {
            let cells = row.cells[start..end].iter();
            let cells = cells.map(|cell| cell.clone().unwrap_or_else(|| "-".to_owned()));
            line(page, &units.rough(row.place), &cells.collect::<Vec<_>>());
        }
    }
}

/// The teeth, those not noted first: all of them, but of diameters those that were read.
fn columns(check: &Check, group: &Group<'_>) -> Vec<Option<u32>> {
    let mut columns: Vec<Option<u32>> = group.readings.iter().map(|(_, one)| one.tooth).collect();
    if matches!(group.kind, ReadingKind::Land(_) | ReadingKind::Height(_)) {
        columns.extend((1..=check.request.plan.request.cutter.teeth()).map(Some));
    }
    columns.sort_unstable();
    columns.dedup();
    columns
}

/// Rows by place, outward from the end; what was read twice gets a row of its own.
fn rows(check: &Check, group: &Group<'_>, columns: &[Option<u32>], units: Units) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for (at, one) in &group.readings {
        let place = one.from_end.unwrap_or(Length::ZERO);
        let Some(column) = columns.iter().position(|tooth| *tooth == one.tooth) else { continue };
        let cell = cell(check, *at, one, units);
        let free = |row: &&mut Row| row.place == place && row.cells[column].is_none();
        match rows.iter_mut().find(free) {
            Some(row) => row.cells[column] = Some(cell),
            None => {
                let mut cells = vec![None; columns.len()];
                cells[column] = Some(cell);
                rows.push(Row { place, cells });
            }
        }
    }
    rows.sort_by(|a, b| a.place.mm().total_cmp(&b.place.mm()));
    rows
}

fn cell(check: &Check, at: usize, one: &Observed, units: Units) -> String {
    let figure = match one.kind {
        ReadingKind::Height(_) => words::signed(one.measured, units),
        _ => words::bare(one.measured, units),
    };
    let aside = check.set_aside.iter().any(|aside| aside.reading == at);
    if aside { format!("({figure})") } else { figure }
}

/// A line of figures under a heading of the same widths.
pub(super) fn line(page: &mut Page, first: &str, cells: &[String]) {
    let mut padded = vec![(first, PLACE)];
    padded.extend(cells.iter().map(|cell| (cell.as_str(), CELL)));
    page.columns(&padded, "");
}
