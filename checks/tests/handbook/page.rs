//! The table at the end of the page of numbers: written on demand, compared otherwise.

use std::fs;
use std::path::{Path, PathBuf};

use crate::ledger::Record;

const BEGIN: &str = "<!-- checks:begin -->\n";
const END: &str = "<!-- checks:end -->";

/// The command that writes the table anew.
const UPDATE: &str = "UPDATE_NUMBERS=1 cargo test -p checks --test handbook";

fn page() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/NUMBERS.md")
}

fn table(records: &[Record]) -> String {
    let head = "| topic | source | grade | rows | worst miss |\n|---|---|---|---|---|\n";
    records.iter().fold(head.to_owned(), |table, record| table + &record.line())
}

/// A page before, within and after the marks.
fn parts(text: &str) -> Option<(&str, &str, &str)> {
    let (before, rest) = text.split_once(BEGIN)?;
    let (within, after) = rest.split_once(END)?;
    Some((before, within, after))
}

/// Writes the table into the page where that is asked for, else holds the page to it.
pub(crate) fn hold(records: &[Record]) {
    let text = fs::read_to_string(page()).expect("docs/NUMBERS.md can be read");
    let (before, within, after) = parts(&text).expect("docs/NUMBERS.md has its two marks");
    let found = table(records);
    if std::env::var_os("UPDATE_NUMBERS").is_some_and(|value| value == "1") {
        let text = format!("{before}{BEGIN}{found}{END}{after}");
        fs::write(page(), text).expect("docs/NUMBERS.md can be written");
        return;
    }
    assert!(
        within == found,
        "docs/NUMBERS.md does not hold what the checks found. Read the difference; if it is \
         right, run: {UPDATE}\nfound:\n{found}\nthe page holds:\n{within}"
    );
}

#[test]
fn a_page_comes_apart_at_its_marks() {
    let text = format!("a\n{BEGIN}b\n{END}\nc");
    assert_eq!(parts(&text), Some(("a\n", "b\n", "\nc")));
    assert_eq!(parts("a"), None);
}
