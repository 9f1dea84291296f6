//! Words that do not belong in a file of the house: where a thing was seen while it was made,
//! paths of somebody's machine, hosts that hand out packages.

use crate::house::{File, House};
use crate::miss::Miss;

/// The words, each in two halves so that this file does not hold them itself.
const WORDS: [(&str, &str); 13] = [
    ("seed doc", "ument"),
    ("recording", " of"),
    ("vid", "eo"),
    ("you", "tube"),
    ("demonst", "ration"),
    ("/wo", "rk/"),
    ("/tm", "p/"),
    ("../sha", "red"),
    ("crates", ".io"),
    ("npm", "js.org"),
    ("py", "pi.org"),
    ("proxy.gol", "ang.org"),
    ("docs", ".rs"),
];

/// The lock files name the registry of every package, as cargo writes them, and the texts of
/// licences stand as their authors wrote them.
const LEFT_OUT: [&str; 4] =
    ["Cargo.lock", "benches/Cargo.lock", "fuzz/Cargo.lock", "crates/toothrest/licences/texts.txt"];

/// The misses of every file that is text.
pub(crate) fn check(house: &House) -> Vec<Miss> {
    let read = house.files.iter().filter(|file| !LEFT_OUT.contains(&file.path.as_str()));
    read.flat_map(of_file).collect()
}

fn of_file(file: &File) -> Vec<Miss> {
    let found = file
        .lines()
        .flat_map(|(line, text)| wrong_words(text).into_iter().map(move |word| (line, word)));
    let what = |word| format!("{word:?} does not belong here; say it without");
    let in_lines = found.map(|(line, word)| Miss::at(&file.path, line, what(word)));
    let in_path = wrong_words(&file.path).into_iter().map(|word| Miss::of(&file.path, what(word)));
    in_path.chain(in_lines).collect()
}

fn wrong_words(text: &str) -> Vec<String> {
    let text = text.to_lowercase();
    let words = WORDS.iter().map(|(head, tail)| format!("{head}{tail}"));
    words.filter(|word| text.contains(word)).collect()
}

#[test]
fn every_word_is_found() {
    for (head, tail) in WORDS {
        let text = format!("\nSo {}{tail}x.\n", head.to_uppercase());
        let misses = check(&House::planted(&[("docs/A.md", &text)]));
        assert_eq!(misses.iter().map(|miss| miss.line).collect::<Vec<_>>(), [2], "{head}|{tail}");
    }
}

#[test]
fn the_lock_file_and_plain_words_pass() {
    let lock = format!("source = \"{}{}\"", WORDS[8].0, WORDS[8].1);
    let files = [("Cargo.lock", lock.as_str()), ("a.md", "the shop's workbench; recording a wear")];
    assert_eq!(check(&House::planted(&files)), []);
    assert_eq!(check(&House::planted(&[("b.md", &lock)])).len(), 1);
}
