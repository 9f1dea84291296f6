//! `toothrest licences`: what is inside the program, from the page that a test holds to be true.

use super::args::LicencesArguments;
use super::columns::Columns;
use super::failure::Failure;
use crate::wire;

/// The list of everything inside; `checks/tests/licences.rs` writes it and compares it.
const LIST: &str = include_str!("../../../../docs/LICENCES.md");

/// The texts that the list counts.
const TEXTS: &str = include_str!("../../licences/texts.txt");

/// How all of them are shown.
const ALL: &str = "toothrest licences --texts";

/// A row of the list.
pub(crate) struct Inside<'a> {
    pub(crate) name: &'a str,
    pub(crate) version: &'a str,
    pub(crate) licence: &'a str,
    /// The numbers of its texts, as they are written.
    texts: &'a str,
}

const HEAD: &str = concat!(
    "Inside toothrest ",
    env!("CARGO_PKG_VERSION"),
    ", each part with its licence and the numbers of its texts. Where there\nis a choice, any of \
     those named may be chosen.\n\n"
);

pub(super) fn run(asked: &LicencesArguments) -> Result<String, Failure> {
    if asked.json {
        let answer = wire::licences(&rows(LIST));
        return Ok(serde_json::to_string_pretty(&answer)? + "\n");
    }
    let list = in_words(&rows(LIST));
    Ok(if asked.texts { list + "\n" + TEXTS } else { list + "\nTheir texts: " + ALL + "\n" })
}

/// The rows of every table on the page.
fn rows(page: &str) -> Vec<Inside<'_>> {
    let cells = |line| {
        let mut cells = str::split(line, '|').map(str::trim).skip(1);
        let mut cell = || cells.next();
        let (name, version, licence, texts) = (cell()?, cell()?, cell()?, cell()?);
        let is_row = name != "What" && !name.starts_with("---");
        is_row.then_some(Inside { name, version, licence, texts })
    };
    page.lines().filter(|line| line.starts_with('|')).filter_map(cells).collect()
}

fn in_words(rows: &[Inside<'_>]) -> String {
    let mut table = Columns::new(["what", "version", "licence", "texts"]);
    for Inside { name, version, licence, texts } in rows {
        table.row([name, version, licence, texts].map(|cell| (*cell).to_owned()));
    }
    HEAD.to_owned() + &table.text()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_has_a_name_a_version_and_a_licence() {
        let rows = rows(LIST);
        assert!(rows.len() > 100, "{}", rows.len());
        for row in &rows {
            assert!(!row.name.is_empty() && !row.licence.is_empty(), "{}", row.name);
        }
        assert!(rows.iter().any(|row| row.name == "clap" && row.licence.contains("MIT")));
        assert!(rows.iter().any(|row| row.name.contains("DejaVu")));
    }
}
