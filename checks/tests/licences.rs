//! What is inside the program, and under which licence: the page `docs/LICENCES.md` and the texts
//! that travel in the program hold exactly what `cargo metadata` says that it is linked from.
//!
//! `UPDATE_LICENCES=1 cargo test -p checks --test licences` writes both anew.

#![expect(clippy::unwrap_used, reason = "a test that cannot read the packages must stop")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// The platform whose packages are listed: that of the packages that `dist/package` makes.
const PLATFORM: &str = "x86_64-unknown-linux-gnu";

const PAGE: &str = "docs/LICENCES.md";
const TEXTS: &str = "crates/toothrest/licences/texts.txt";

/// How the files of a licence begin.
const BEGINNINGS: [&str; 5] = ["LICEN", "COPYING", "COPYRIGHT", "NOTICE", "UNLICENSE"];

const HEAD: &str = "# Licences

What the program is made of, and under which licence each part goes. `toothrest licences` shows this
page and `toothrest licences --texts` the texts of all of them, which lie in
[texts.txt](../crates/toothrest/licences/texts.txt); the numbers are those of the texts. Where a
licence offers a choice, any of those named may be chosen. The list is that of a build for Linux on
x86-64 and is held to be true by a test; what only helps to build or to test is not in the program
and not in the list.

";

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_path_buf()
}

/// A part of the program.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Part {
    name: String,
    version: String,
    licence: String,
    /// The texts of its licence, each with one line end and no blanks at its ends.
    texts: Vec<String>,
}

fn metadata() -> Value {
    let output = Command::new(env!("CARGO"))
        .current_dir(root())
        .args(["metadata", "--locked", "--format-version=1", "--filter-platform", PLATFORM])
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

fn words(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

/// Whether a package is a part of the compiler's work only: its code is not in the program.
fn is_macro(package: &Value) -> bool {
    let kinds = list(&package["targets"]).iter().flat_map(|target| list(&target["kind"]));
    kinds.map(words).any(|kind| kind == "proc-macro")
}

/// The packages that the program is linked from, its own crates among them.
fn linked(metadata: &Value) -> Vec<&Value> {
    let packages = list(&metadata["packages"]).iter().map(|one| (words(&one["id"]), one));
    let packages: BTreeMap<&str, &Value> = packages.collect();
    let nodes = list(&metadata["resolve"]["nodes"]).iter().map(|one| (words(&one["id"]), one));
    let nodes: BTreeMap<&str, &Value> = nodes.collect();
    let program = packages.iter().find(|(_, package)| package["name"] == "toothrest");
    let (mut found, mut open) = (BTreeSet::new(), vec![*program.unwrap().0]);
    while let Some(id) = open.pop() {
        if is_macro(packages[id]) || !found.insert(id) {
            continue;
        }
        let needs = list(&nodes[id]["deps"])
            .iter()
            .filter(|need| list(&need["dep_kinds"]).iter().any(|kind| kind["kind"].is_null()));
        open.extend(needs.map(|need| words(&need["pkg"])));
    }
    found.into_iter().map(|id| packages[id]).collect()
}

/// A text with plain line ends.
fn plain(text: &str) -> String {
    let lines = text.trim_start_matches('\u{feff}').lines().map(str::trim_end);
    lines.collect::<Vec<_>>().join("\n").trim_matches('\n').to_owned()
}

fn read(path: &Path) -> String {
    plain(&String::from_utf8_lossy(&fs::read(path).unwrap()))
}

/// The texts that lie in a package; the house's own Apache text where there are none and it may be
/// chosen.
fn texts(package: &Value) -> Vec<String> {
    let folder = Path::new(words(&package["manifest_path"])).parent().unwrap();
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let is_licence = |path: &PathBuf| {
        let name = path.file_name().unwrap().to_string_lossy().to_uppercase();
        path.is_file() && BEGINNINGS.iter().any(|beginning| name.starts_with(beginning))
    };
    let mut paths: Vec<PathBuf> = names.filter(is_licence).collect();
    paths.sort();
    if paths.is_empty() {
        assert!(words(&package["license"]).contains("Apache-2.0"), "{}", package["name"]);
        paths.push(root().join("LICENSE-APACHE"));
    }
    paths.iter().map(|path| read(path)).collect()
}

fn part(name: &str, version: &str, licence: &str, texts: Vec<String>) -> Part {
    let [name, version, licence] = [name, version, licence].map(str::to_owned);
    Part { name, version, licence, texts }
}

/// What is inside without being a package of its own.
fn others(packages: &[&Value]) -> Vec<Part> {
    let house = ["LICENSE-MIT", "LICENSE-APACHE"].map(|name| read(&root().join(name))).to_vec();
    let program = packages.iter().find(|one| one["name"] == "toothrest").unwrap();
    let faces = read(&root().join("crates/sheets/fonts/LICENSE-DEJAVU"));
    let scripts = root().join("crates/toothrest/src/web/static");
    let htmx = fs::read_to_string(scripts.join("htmx.min.js")).unwrap();
    let htmx = htmx.split_once("version:\"").unwrap().1.split('"').next().unwrap().to_owned();
    let sqlite = packages.iter().find(|one| one["name"] == "libsqlite3-sys").unwrap();
    let folder = Path::new(words(&sqlite["manifest_path"])).parent().unwrap();
    let header = fs::read_to_string(folder.join("sqlite3/sqlite3.h")).unwrap();
    let sqlite = header.split_once("SQLITE_VERSION ").unwrap().1.split('"').nth(1).unwrap();
    let choice = "MIT OR Apache-2.0";
    vec![
        part("Toothrest and its crates", words(&program["version"]), choice, house.clone()),
        part("Rust's standard library", "", choice, vec![house[1].clone()]),
        part("DejaVu Sans, DejaVu Sans Bold", "2.37", "their own", vec![faces]),
        part("htmx", &htmx, "0BSD", vec![read(&scripts.join("LICENSE-HTMX"))]),
        part("SQLite", sqlite, "public domain", Vec::new()),
    ]
}

fn parts(packages: &[&Value]) -> Vec<Part> {
    let bought = packages.iter().filter(|package| !package["source"].is_null());
    let of = |package: &&Value| {
        let [name, version, licence] = ["name", "version", "license"].map(|key| &package[key]);
        assert!(licence.is_string(), "{name} states no licence");
        part(words(name), words(version), words(licence), texts(package))
    };
    let mut parts: Vec<Part> = bought.map(of).collect();
    parts.sort();
    parts
}

/// The page and the texts.
fn written(others: &[Part], parts: &[Part]) -> (String, String) {
    let (mut numbers, mut texts) = (BTreeMap::<String, usize>::new(), String::new());
    let mut table = |parts: &[Part]| {
        let mut rows = String::from("| What | Version | Licence | Texts |\n|---|---|---|---|\n");
        for Part { name, version, licence, texts: own } in parts {
            let mut counted = Vec::new();
            for text in own {
                let next = numbers.len() + 1;
                // Line breaks and indents aside, many packages carry the same text.
                let same = text.split_whitespace().collect::<Vec<_>>().join(" ");
                let number = *numbers.entry(same).or_insert_with(|| {
                    texts += &format!("==== Text {next} ====\n\n{text}\n\n");
                    next
                });
                counted.push(number.to_string());
            }
            let counted = counted.join(", ");
            rows += &format!("| {name} | {version} | {licence} | {counted} |\n");
        }
        rows
    };
    let (first, second) = (table(others), table(parts));
    (format!("{HEAD}{first}\n## Packages\n\n{second}"), texts)
}

fn held(path: &str, expected: &str) {
    let path = root().join(path);
    if std::env::var_os("UPDATE_LICENCES").is_some() {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, expected).unwrap();
    }
    let found = fs::read_to_string(&path).unwrap_or_default();
    let differs = found.lines().zip(expected.lines()).find(|(found, expected)| found != expected);
    assert!(
        found == expected,
        "{} is out of date, first at {differs:?}; run UPDATE_LICENCES=1 cargo test -p checks \
         --test licences",
        path.display()
    );
}

#[test]
fn everything_inside_is_listed_with_its_licence() {
    let metadata = metadata();
    let packages = linked(&metadata);
    let (page, texts) = written(&others(&packages), &parts(&packages));
    held(PAGE, &page);
    held(TEXTS, &texts);
}

/// Licences that may be passed on with a program under MIT or Apache 2.0, as anybody may read in
/// their texts; a package under another is looked at by a person before it comes in.
#[test]
fn no_licence_asks_for_more_than_its_text() {
    let known = [
        "0BSD",
        "Apache-2.0",
        "BSD-2-Clause",
        "BSD-3-Clause",
        "BSL-1.0",
        "CC0-1.0",
        "MIT",
        "MIT-0",
        "Unicode-3.0",
        "Unlicense",
        "Zlib",
        "LLVM-exception",
        "OR",
        "AND",
        "WITH",
    ];
    let metadata = metadata();
    for part in parts(&linked(&metadata)) {
        let plain = part.licence.replace(['(', ')', '/'], " ");
        for word in plain.split_whitespace() {
            assert!(known.contains(&word), "{} is under {}", part.name, part.licence);
        }
    }
}

/// Planted: two parts share a text, which is counted once.
#[test]
fn a_text_that_two_parts_share_stands_once() {
    let parts =
        [part("a", "1", "MIT", vec!["one".into()]), part("b", "2", "MIT", vec!["one".into()])];
    let (page, texts) = written(&parts, &parts[1..]);
    assert_eq!(texts, "==== Text 1 ====\n\none\n\n");
    assert_eq!(page.matches("| MIT | 1 |").count(), 3);
}
