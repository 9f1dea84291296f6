//! What the code of a crate may touch: no files, net, clock or printing where functions are
//! promised; no clock but in the executable; no serialisation of the shop's types; no word of
//! the trade in geometry.

use crate::house::{File, House, Rust};
use crate::miss::Miss;
use crate::tokens::{Token, closing, reads};

/// Crates that are functions of their arguments and nothing else.
const PURE: [&str; 3] = ["geometry", "trade", "shop"];

/// What those crates may not take from the standard library.
const WORLD: [&str; 5] = ["env", "fs", "net", "process", "time"];

/// What those crates may not print with.
const PRINTERS: [&str; 5] = ["dbg", "eprint", "eprintln", "print", "println"];

/// Crates whose types are not serialisable.
const NO_SERDE: [&str; 2] = ["geometry", "shop"];

/// The only crate that reads the clock.
const CLOCK: &str = "toothrest";

/// Words of materials, abrasives and the shop. Geometry speaks of wheels, teeth, reliefs, lands
/// and rests, for those are shapes and places; it does not know what they are made of, nor what
/// they are for, nor what they cost. A plural in s is forbidden with its word.
const TRADE_WORDS: [&str; 33] = [
    "abrasive",
    "aluminium",
    "boron",
    "carbide",
    "cbn",
    "cobalt",
    "coolant",
    "corundum",
    "customer",
    "diamond",
    "dress",
    "dressed",
    "dresser",
    "dressing",
    "endmill",
    "grit",
    "hss",
    "invoice",
    "machinist",
    "operator",
    "price",
    "reamer",
    "regrind",
    "regrinding",
    "reground",
    "resharpen",
    "resharpened",
    "resharpening",
    "resinoid",
    "shop",
    "steel",
    "trueing",
    "vitrified",
];

/// The misses of every source.
pub(crate) fn check(house: &House) -> Vec<Miss> {
    let shipped = house.shipped().flat_map(|(name, file, rust)| of_crate(name, file, rust));
    let clocks = house.sources().flat_map(|(file, rust)| clock(file, rust));
    shipped.chain(clocks).collect()
}

fn of_crate(name: &str, file: &File, rust: &Rust) -> Vec<Miss> {
    let mut misses = Vec::new();
    if PURE.contains(&name) {
        misses.extend(world(name, file, rust));
        misses.extend(printing(name, file, rust));
    }
    if NO_SERDE.contains(&name) {
        misses.extend(serde(name, file, rust));
    }
    if name == "geometry" {
        misses.extend(trade_words(file));
    }
    misses
}

/// The tokens that ship, each with its index.
fn shipped(rust: &Rust) -> impl Iterator<Item = (usize, &Token)> {
    rust.tokens.iter().enumerate().filter(|(_, token)| !rust.is_test(token.line))
}

fn world(name: &str, file: &File, rust: &Rust) -> Vec<Miss> {
    let starts = shipped(rust).filter(|(_, token)| ["std", "core"].contains(&token.text.as_str()));
    let taken = starts.flat_map(|(at, _)| next_segments(&rust.tokens, at));
    let wrong = taken.filter(|token| WORLD.contains(&token.text.as_str()));
    let what = |part: &str| {
        format!("{name} may not use std::{part}; let the caller hand in what it gives")
    };
    wrong.map(|token| Miss::at(&file.path, token.line, what(&token.text))).collect()
}

/// The words that follow the path's start at `at`: one, or the first ones of a braced group.
fn next_segments(tokens: &[Token], at: usize) -> Vec<&Token> {
    if reads(tokens, at + 1, &["::", "{"]) {
        let group = &tokens[at + 2..closing(tokens, at + 2)];
        let heads = group.windows(2).filter(|pair| ["{", ","].contains(&pair[0].text.as_str()));
        return heads.map(|pair| &pair[1]).collect();
    }
    tokens.get(at + 2).into_iter().filter(|_| reads(tokens, at + 1, &["::"])).collect()
}

fn printing(name: &str, file: &File, rust: &Rust) -> Vec<Miss> {
    let prints = |(at, token): &(usize, &Token)| {
        PRINTERS.contains(&token.text.as_str()) && reads(&rust.tokens, at + 1, &["!"])
    };
    let what = |macro_name: &str| {
        format!("{name} may not print; return what {macro_name}! would have told")
    };
    let found = shipped(rust).filter(prints);
    found.map(|(_, token)| Miss::at(&file.path, token.line, what(&token.text))).collect()
}

fn serde(name: &str, file: &File, rust: &Rust) -> Vec<Miss> {
    let found = rust.tokens.iter().filter(|token| token.text == "serde");
    let what = format!("no serde in {name}; give the file or the wire a struct of its own");
    found.map(|token| Miss::at(&file.path, token.line, what.clone())).collect()
}

/// Reads of the clock anywhere but in the executable: `SystemTime` by name, or a path to `now`.
fn clock(file: &File, rust: &Rust) -> Vec<Miss> {
    if file.shipped_crate() == Some(CLOCK) || file.path.starts_with("benches/") {
        return Vec::new();
    }
    let is_read = |(at, token): &(usize, &Token)| {
        let next = rust.tokens.get(at + 1).map_or("", |next| &next.text);
        token.text == "SystemTime" || (token.text == "::" && is_now(next))
    };
    let found = rust.tokens.iter().enumerate().filter(is_read);
    let what = "only toothrest reads the clock; take the time as an argument";
    found.map(|(_, token)| Miss::at(&file.path, token.line, what)).collect()
}

fn is_now(word: &str) -> bool {
    word == "now" || word.starts_with("now_")
}

fn trade_words(file: &File) -> Vec<Miss> {
    let found = file.lines().flat_map(|(line, text)| {
        words(text).into_iter().filter(|word| is_of_trade(word)).map(move |word| (line, word))
    });
    let what = |word| format!("geometry knows no trade word: say it without {word:?}");
    found.map(|(line, word)| Miss::at(&file.path, line, what(word))).collect()
}

fn is_of_trade(word: &str) -> bool {
    TRADE_WORDS.iter().any(|wrong| word == *wrong || word.strip_suffix('s') == Some(wrong))
}

/// The words of a line in lower case; `CamelCase` and `snake_case` names come apart.
fn words(line: &str) -> Vec<String> {
    let mut spaced = String::new();
    let mut was_lower = false;
    for char in line.chars() {
        if was_lower && char.is_uppercase() {
            spaced.push(' ');
        }
        was_lower = char.is_lowercase();
        spaced.push(if char.is_alphanumeric() { char } else { ' ' });
    }
    spaced.split_whitespace().map(str::to_lowercase).collect()
}

#[cfg(test)]
fn planted_lines(path: &str, source: &str) -> Vec<usize> {
    check(&House::planted(&[(path, source)])).iter().map(|miss| miss.line).collect()
}

#[test]
fn the_world_is_kept_out_of_pure_crates() {
    let source = "use std::{fmt,\n fs::File,\n path::Path};\nfn a() { core::time::b(); }\n\
        fn c() { println!(\"std::net\") }\n// std::fs\n#[cfg(test)]\nmod t { use std::fs; }\n";
    assert_eq!(planted_lines("crates/shop/src/a.rs", source), [2, 4, 5]);
    assert_eq!(planted_lines("crates/sheets/src/a.rs", source), [0; 0]);
    assert_eq!(
        planted_lines("crates/trade/src/a.rs", "const A: &str = include_str!(\"a\");"),
        [0; 0]
    );
}

#[test]
fn the_clock_is_read_in_the_executable_only() {
    let source = "fn a() {\n Instant::now();\n}\nuse std::time::SystemTime;\n\
        fn b(clock: &C) { clock.now(); }\n";
    assert_eq!(planted_lines("crates/book/src/a.rs", source), [2, 4]);
    assert_eq!(planted_lines("checks/tests/a.rs", "fn a() { Zoned::now(); }"), [1]);
    assert_eq!(planted_lines("crates/toothrest/src/a.rs", source), [0; 0]);
}

#[test]
fn the_shop_is_not_serialisable() {
    assert_eq!(planted_lines("crates/shop/src/a.rs", "\n#[derive(serde::Serialize)]"), [2]);
    assert_eq!(planted_lines("crates/trade/src/a.rs", "use serde::Deserialize;"), [0; 0]);
}

#[test]
fn geometry_knows_no_trade_word() {
    let source =
        "/// Of a Wheel on a tooth.\nstruct CarbideTooth;\nlet grits = 3;\n// high-speed steel\n";
    assert_eq!(planted_lines("crates/geometry/src/a.rs", source), [2, 3, 4]);
    assert_eq!(
        planted_lines("crates/geometry/src/a.rs", "// integrity, address, workshop"),
        [0; 0]
    );
}
