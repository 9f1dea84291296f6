//! Files of bench readings, as TOML or as CSV.
//!
//! Both forms end in the same draft. A [`Origins`] goes along with it, so that what the draft's
//! check finds violated is said at the line and the key, or the column, where it was written.

mod cells;
mod column;
mod grid;
mod headings;
mod kind;
mod lines;
mod looked;
mod notes;
mod origins;
mod rows;
mod sections;
mod tool;

use std::path::Path;

use shop::record::{Cutter, Readings};

use super::INPUT_NAME;
use super::problem::FileProblems;
use origins::WHOLE;

/// Reads a file of readings of this cutter: a name that ends in `.csv` is CSV, any other is TOML.
/// Of standard input, which has no such name, the first line with anything on it tells.
///
/// # Errors
/// Everything wrong with the file, and readings that cannot be of this cutter.
pub fn read_readings(file: &str, text: &str, cutter: &Cutter) -> Result<Readings, FileProblems> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let is_csv = if file == INPUT_NAME { has_cells(text) } else { is_csv(file) };
    let read =
        if is_csv { lines::read(file, text, cutter) } else { sections::read(file, text, cutter) };
    read.map_err(without_echo)
}

fn is_csv(file: &str) -> bool {
    Path::new(file).extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv"))
}

/// Whether the first line that says anything is one of cells: in TOML it opens a section or sets a
/// key.
fn has_cells(text: &str) -> bool {
    let mut lines = text.lines().map(str::trim);
    let first = lines.find(|line| !line.is_empty() && !line.starts_with('#'));
    first.is_some_and(|line| !line.starts_with('[') && !line.contains('='))
}

/// Where something could not be read, it is no news that too little was read.
fn without_echo(problems: FileProblems) -> FileProblems {
    let (whole, others): (Vec<_>, Vec<_>) =
        problems.problems().iter().cloned().partition(|problem| problem.key == WHOLE);
    FileProblems::in_order_of_lines(if others.is_empty() { whole } else { others })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ending_of_the_name_tells_the_form() {
        for (file, csv) in [
            ("a.csv", true),
            ("bench/a.CSV", true),
            ("a.Csv", true),
            ("a.toml", false),
            ("csv", false),
            ("a.csv.toml", false),
            ("a", false),
        ] {
            assert_eq!(is_csv(file), csv, "{file}");
        }
    }
}
