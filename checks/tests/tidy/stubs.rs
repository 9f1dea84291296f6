//! No unfinished work, and no way to fall over in what ships.

use crate::house::{File, House, Rust};
use crate::miss::Miss;
use crate::tokens::{Token, reads};

/// Marks of unfinished work in a comment, as whole words.
const MARKS: [&str; 3] = ["FIXME", "TODO", "XXX"];

/// The misses of every source.
pub(crate) fn check(house: &House) -> Vec<Miss> {
    let unfinished = house.sources().flat_map(|(file, rust)| unfinished(file, rust));
    let falls = house.shipped().flat_map(|(_, file, rust)| falls(file, rust));
    unfinished.chain(falls).collect()
}

fn unfinished(file: &File, rust: &Rust) -> Vec<Miss> {
    let calls = (0..rust.tokens.len()).filter(|&at| {
        reads(&rust.tokens, at, &["todo", "!"]) || reads(&rust.tokens, at, &["unimplemented", "!"])
    });
    let calls = calls.map(|at| rust.tokens[at].line);
    let comments = rust.views.comments.iter().enumerate();
    let marks = comments.filter(|(_, comment)| has_mark(comment)).map(|(at, _)| at + 1);
    let what = "unfinished work; finish it or take it out";
    calls.chain(marks).map(|line| Miss::at(&file.path, line, what)).collect()
}

fn has_mark(comment: &str) -> bool {
    let mut words = comment.split(|c: char| !c.is_alphanumeric());
    words.any(|word| MARKS.contains(&word))
}

fn falls(file: &File, rust: &Rust) -> Vec<Miss> {
    let all = rust.tokens.iter().enumerate();
    let shipped = all.filter(|(_, token)| !rust.is_test(token.line));
    let found = shipped.filter(|(at, _)| is_fall(&rust.tokens, *at));
    let what = "this can fall over in the hand's face; return an error or make it total";
    found.map(|(_, token)| Miss::at(&file.path, token.line, what)).collect()
}

fn is_fall(tokens: &[Token], at: usize) -> bool {
    let falls: [&[&str]; 5] = [
        &[".", "unwrap", "("],
        &[".", "unwrap_err", "("],
        &[".", "expect", "("],
        &[".", "expect_err", "("],
        &["panic", "!"],
    ];
    falls.iter().any(|fall| reads(tokens, at, fall))
}

#[cfg(test)]
fn planted(path: &str, source: &str) -> Vec<usize> {
    check(&House::planted(&[(path, source)])).iter().map(|miss| miss.line).collect()
}

#[test]
fn unfinished_work_is_found() {
    let source = "fn a() { todo!(\"later\") }\nfn b() { unimplemented ! () }\n// FIXME: c\n\
        let d = \"todo!() FIXME\";\n/* XXX */\n// XXXL\n";
    assert_eq!(planted("checks/src/a.rs", source), [1, 2, 3, 5]);
}

#[test]
fn a_fall_is_found_in_what_ships() {
    let source = "fn a() { b\n  .unwrap(); c.expect(\"d\"); e.unwrap_or(f); }\n#[expect(g)]\n\
        fn h() { panic!() }\n/// `i.unwrap()`\n#[cfg(test)]\nmod t { fn j() { k.unwrap() } }\n";
    assert_eq!(planted("crates/shop/src/a.rs", source), [2, 2, 4]);
    assert_eq!(planted("crates/shop/tests/a.rs", source), [0; 0]);
}
