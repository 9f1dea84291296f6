//! What stands at the top of the house: nothing unexpected, nothing missing.

use std::collections::BTreeSet;

use crate::house::House;
use crate::miss::Miss;

/// What may stand at the top.
const ALLOWED: [&str; 21] = [
    ".ci",
    ".editorconfig",
    ".gitattributes",
    ".gitignore",
    "CHANGELOG.md",
    "CONTRIBUTING.md",
    "Cargo.lock",
    "Cargo.toml",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "benches",
    "checks",
    "clippy.toml",
    "crates",
    "dist",
    "docs",
    "examples",
    "fuzz",
    "rustfmt.toml",
    "test",
];

/// What must be there.
const NEEDED: [&str; 9] = [
    ".ci/run",
    ".gitignore",
    "CONTRIBUTING.md",
    "Cargo.lock",
    "Cargo.toml",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "test",
];

/// What must be runnable.
const PROGRAMS: [&str; 4] = [".ci/run", "checks/package.sh", "dist/package", "test"];

/// The misses at the top.
pub(crate) fn check(house: &House) -> Vec<Miss> {
    let mut misses = unexpected(house);
    misses.extend(missing(house));
    misses.extend(not_runnable(house));
    misses.extend(loose_lock(house));
    misses
}

fn unexpected(house: &House) -> Vec<Miss> {
    let tops: BTreeSet<&str> = house.files.iter().map(|file| top_of(&file.path)).collect();
    let wrong = tops.into_iter().filter(|top| !ALLOWED.contains(top));
    let what = "this does not belong at the top; move it, or ignore it in .gitignore";
    wrong.map(|top| Miss::of(top, what)).collect()
}

fn top_of(path: &str) -> &str {
    path.split('/').next().unwrap_or(path)
}

fn missing(house: &House) -> Vec<Miss> {
    let gone = NEEDED.iter().filter(|path| house.file(path).is_none());
    gone.map(|path| Miss::of(path, "is missing (or ignored by git); add it")).collect()
}

fn not_runnable(house: &House) -> Vec<Miss> {
    let programs = PROGRAMS.iter().filter_map(|path| house.file(path));
    let wrong = programs.filter(|file| !file.is_executable);
    wrong.map(|file| Miss::of(&file.path, "cannot be run; chmod +x it")).collect()
}

/// The lock file must be tracked as soon as anything is.
fn loose_lock(house: &House) -> Option<Miss> {
    let is_loose = house.untracked.contains("Cargo.lock");
    is_loose.then(|| Miss::of("Cargo.lock", "is not tracked; git add it"))
}

#[cfg(test)]
fn whole_house() -> House {
    let mut house = House::planted(&NEEDED.map(|path| (path, "")));
    for file in &mut house.files {
        file.is_executable = true;
    }
    house
}

#[test]
fn a_whole_house_passes_and_each_missing_piece_is_found() {
    assert_eq!(check(&whole_house()), []);
    for (at, path) in NEEDED.iter().enumerate() {
        let mut house = whole_house();
        house.files.remove(at);
        assert_eq!(check(&house).len(), 1, "{path}");
    }
}

#[test]
fn junk_and_a_loose_lock_and_a_dull_script_are_found() {
    let mut house = whole_house();
    house.files.extend(House::planted(&[("notes/a.txt", ""), ("core", "")]).files);
    house.untracked.insert("Cargo.lock".to_owned());
    house.files[0].is_executable = false;
    let told: Vec<String> = check(&house).into_iter().map(|miss| miss.path).collect();
    assert_eq!(told, ["core", "notes", ".ci/run", "Cargo.lock"]);
}
