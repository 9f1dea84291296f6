//! Tables that a check writes into the page of numbers.

use std::fs;
use std::path::Path;

/// Writes a table between the marks of its name, where `UPDATE_NUMBERS` asks for that.
pub(crate) fn write(name: &str, table: &str) {
    if std::env::var_os("UPDATE_NUMBERS").is_none() {
        return;
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/NUMBERS.md");
    let page = fs::read_to_string(&path).unwrap();
    let (begin, end) = (format!("<!-- {name}:begin -->"), format!("<!-- {name}:end -->"));
    let (before, rest) = page.split_once(&begin).unwrap();
    let (_, after) = rest.split_once(&end).unwrap();
    fs::write(&path, format!("{before}{begin}\n{table}{end}{after}")).unwrap();
}
