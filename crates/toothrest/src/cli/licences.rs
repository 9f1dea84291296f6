//! `toothrest licences`: what is inside the program, from the page that a test holds to be true.

use super::args::LicencesArguments;
use super::failure::Failure;
use crate::wire;

/// The list of everything inside; `checks/tests/licences.rs` writes it and compares it.
const LIST: &str = include_str!("../../../../docs/LICENCES.md");

/// The texts that the list counts.
const TEXTS: &str = include_str!("../../licences/texts.txt");

/// A row of the list.
pub(crate) struct Inside<'a> {
    pub(crate) name: &'a str,
    pub(crate) version: &'a str,
    pub(crate) licence: &'a str,
}

pub(super) fn run(asked: &LicencesArguments) -> Result<String, Failure> {
    if asked.json {
        let answer = wire::licences(&rows(LIST));
        return Ok(serde_json::to_string_pretty(&answer)? + "\n");
    }
    Ok(if asked.texts { format!("{}\n{TEXTS}", shown(LIST)) } else { shown(LIST) })
}

/// The rows of every table on the page.
fn rows(page: &str) -> Vec<Inside<'_>> {
    let cells = |line| {
        let mut cells = str::split(line, '|').map(str::trim).skip(1);
        let (name, version, licence) = (cells.next()?, cells.next()?, cells.next()?);
        let is_row = name != "What" && !name.starts_with("---");
        is_row.then_some(Inside { name, version, licence })
    };
    page.lines().filter(|line| line.starts_with('|')).filter_map(cells).collect()
}

/// The page without the marks that a terminal does not show.
fn shown(page: &str) -> String {
    let rules = page.lines().filter(|line| !line.starts_with("|---"));
    let plain = |line: &str| {
        let line = line.trim_start_matches(['#', '|']).trim_end_matches('|').trim();
        line.replace('`', "") + "\n"
    };
    rules.map(plain).collect()
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
