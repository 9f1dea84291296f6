//! Tables that a check writes into the page of numbers where that is asked for, and otherwise holds
//! the page to.

use std::fs;
use std::path::Path;
use std::sync::Mutex;

/// Worst misses at or below this are rounding, whose last digits another processor may give
/// otherwise.
const ROUNDING: f64 = 1e-6;

/// One table is written at a time.
static PAGE: Mutex<()> = Mutex::new(());

/// Writes a table between the marks of its name where `UPDATE_NUMBERS` asks for that; else the page
/// must hold it already.
pub(crate) fn hold(name: &str, table: &str) {
    let turn = PAGE.lock();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/NUMBERS.md");
    let page = fs::read_to_string(&path).unwrap();
    let (begin, end) = (format!("<!-- {name}:begin -->\n"), format!("<!-- {name}:end -->"));
    let (before, rest) = page.split_once(&begin).unwrap();
    let (within, after) = rest.split_once(&end).unwrap();
    if std::env::var_os("UPDATE_NUMBERS").is_some_and(|value| value == "1") {
        fs::write(&path, format!("{before}{begin}{table}{end}{after}")).unwrap();
        return;
    }
    drop(turn);
    assert!(
        is_same(within, table),
        "docs/NUMBERS.md does not hold what was found. Read the difference; if it is right, run \
         the command that the page names there.\nfound:\n{table}\nthe page holds:\n{within}"
    );
}

/// Whether two tables say the same: the same words and counts, and figures of a worst miss that
/// differ by no more than half of the greater, or by one in the last place.
fn is_same(page: &str, found: &str) -> bool {
    let (page, found) = (cells(page), cells(found));
    page.len() == found.len() && page.iter().zip(&found).all(|(a, b)| is_same_cell(a, b))
}

fn cells(table: &str) -> Vec<&str> {
    table.lines().flat_map(|line| line.split('|')).map(str::trim).collect()
}

fn is_same_cell(page: &str, found: &str) -> bool {
    if page == found {
        return true;
    }
    let (Some((a, unit)), Some((b, other))) = (figure(page), figure(found)) else { return false };
    let (least, most) = (a.min(b), a.max(b));
    unit == other && (least >= 0.5 * most || most <= ROUNDING || most - least <= place(page) * 1.01)
}

/// A figure that is no count and no share, with what follows it.
fn figure(cell: &str) -> Option<(f64, &str)> {
    let (number, unit) = cell.split_once(' ').unwrap_or((cell, ""));
    let is_figure = number.contains('.') && unit != "%";
    is_figure.then(|| number.parse().ok()).flatten().map(|value| (value, unit))
}

/// One in the last place of a plain decimal figure; nothing for one with an exponent.
fn place(cell: &str) -> f64 {
    let number = cell.split(' ').next().unwrap_or_default();
    let digits = number.split_once('.').map_or(0, |(_, digits)| digits.len());
    if number.contains('e') { 0.0 } else { 10_f64.powi(-(digits as i32)) }
}

#[test]
fn a_table_is_held_to_its_words_its_counts_and_the_size_of_its_misses() {
    let page = "| ordinary | 30 | 8.5e-3 um | 0.0012 | 97.7 % |\n";
    assert!(is_same(page, page));
    assert!(is_same(page, "| ordinary | 30 | 6.0e-3 um | 0.0013 | 97.7 % |\n"));
    for other in [
        "| ordinary | 29 | 8.5e-3 um | 0.0012 | 97.7 % |\n",
        "| other | 30 | 8.5e-3 um | 0.0012 | 97.7 % |\n",
        "| ordinary | 30 | 4.0e-3 um | 0.0012 | 97.7 % |\n",
        "| ordinary | 30 | 8.5e-3 deg | 0.0012 | 97.7 % |\n",
        "| ordinary | 30 | 8.5e-3 um | 0.0040 | 97.7 % |\n",
        "| ordinary | 30 | 8.5e-3 um | 0.0012 | 97.6 % |\n",
        "| ordinary | 30 | 8.5e-3 um | 0.0012 |\n",
    ] {
        assert!(!is_same(page, other), "{other}");
    }
}
