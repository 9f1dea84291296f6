//! How long files, functions and lines may be.

use crate::functions::{functions, median};
use crate::house::{File, House, Rust};
use crate::miss::Miss;

/// The most lines of a Rust source.
const FILE_LINES: usize = 700;

/// The most lines of a function, counted as `functions` tells.
const FUNCTION_LINES: usize = 70;

/// The most lines of the median function of the shipped crates, their tests left out.
const MEDIAN_LINES: usize = 8;

/// The most columns of a line.
const COLUMNS: usize = 100;

/// The misses of every source and every page.
pub(crate) fn check(house: &House) -> Vec<Miss> {
    let mut misses: Vec<Miss> =
        house.sources().flat_map(|(file, rust)| of_source(file, rust)).collect();
    misses.extend(house.files.iter().flat_map(long_lines));
    misses.extend(long_median(house));
    misses
}

fn of_source(file: &File, rust: &Rust) -> Vec<Miss> {
    let lines = file.lines().count();
    let long_file = (lines > FILE_LINES).then(|| {
        Miss::of(&file.path, format!("{lines} lines; split it by noun, {FILE_LINES} at most"))
    });
    let long = functions(rust).into_iter().filter(|function| function.length > FUNCTION_LINES);
    let long = long.map(|function| {
        let (name, length) = (&function.name, function.length);
        let what = format!("fn {name} has {length} lines; split it, {FUNCTION_LINES} at most");
        Miss::at(&file.path, function.line, what)
    });
    long_file.into_iter().chain(long).collect()
}

fn long_median(house: &House) -> Option<Miss> {
    let lengths: Vec<usize> =
        house.shipped().flat_map(|(_, _, rust)| shipped_lengths(rust)).collect();
    let count = lengths.len();
    let middle = median(lengths).filter(|&middle| middle > MEDIAN_LINES)?;
    let what = format!(
        "the median of {count} functions has {middle} lines; split functions until it has \
         {MEDIAN_LINES} at most"
    );
    Some(Miss::of("crates", what))
}

fn shipped_lengths(rust: &Rust) -> Vec<usize> {
    let shipped = functions(rust).into_iter().filter(|function| !rust.is_test(function.line));
    shipped.map(|function| function.length).collect()
}

fn long_lines(file: &File) -> Vec<Miss> {
    let is_page = file.path.ends_with(".md");
    if !is_page && file.rust.is_none() {
        return Vec::new();
    }
    let long = file.lines().map(|(line, text)| (line, text, text.chars().count()));
    let long =
        long.filter(|&(_, text, columns)| columns > COLUMNS && !(is_page && may_be_long(text)));
    long.map(|(line, _, columns)| {
        Miss::at(&file.path, line, format!("{columns} columns; break the line, {COLUMNS} at most"))
    })
    .collect()
}

/// Rows of tables and lines with an address cannot be broken on a page.
fn may_be_long(text: &str) -> bool {
    text.trim_start().starts_with('|') || text.contains("://")
}

#[cfg(test)]
fn planted(path: &str, text: &str) -> Vec<usize> {
    check(&House::planted(&[(path, text)])).iter().map(|miss| miss.line).collect()
}

#[cfg(test)]
fn function_of(lines: usize) -> String {
    format!("fn a() {{\n{}}}\n", "    b();\n".repeat(lines - 2))
}

#[test]
fn a_long_file_is_found() {
    assert_eq!(planted("checks/a.rs", &"// a\n".repeat(FILE_LINES)), [0; 0]);
    assert_eq!(planted("checks/a.rs", &"// a\n".repeat(FILE_LINES + 1)), [0]);
}

#[test]
fn a_long_function_is_found() {
    assert_eq!(planted("checks/a.rs", &function_of(FUNCTION_LINES)), [0; 0]);
    assert_eq!(planted("checks/a.rs", &format!("\n{}", function_of(FUNCTION_LINES + 1))), [2]);
}

#[test]
fn a_long_median_is_found() {
    let nine = function_of(MEDIAN_LINES + 1).repeat(3);
    assert_eq!(planted("crates/shop/src/a.rs", &nine), [0]);
    let mixed = format!("{nine}{}", function_of(MEDIAN_LINES).repeat(4));
    assert_eq!(planted("crates/shop/src/a.rs", &mixed), [0; 0]);
    let tests = format!("{mixed}#[cfg(test)]\nmod t {{\n{nine}}}\n");
    assert_eq!(planted("crates/shop/src/a.rs", &tests), [0; 0]);
}

#[test]
fn a_long_line_is_found() {
    let long = "é".repeat(COLUMNS + 1);
    assert_eq!(planted("checks/a.rs", &format!("\n//{long}\n")), [2]);
    assert_eq!(planted("docs/A.md", &long), [1]);
    assert_eq!(planted("docs/A.md", &format!("| {long} |\n\nhttps://{long}\n")), [0; 0]);
    assert_eq!(planted("crates/trade/data/a.toml", &long), [0; 0]);
    assert_eq!(planted("docs/A.md", &"é".repeat(COLUMNS)), [0; 0]);
}
