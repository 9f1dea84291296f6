//! The trade's quantities are rows of data, each with its source; none stands in its code.

use crate::house::{File, House, Rust};
use crate::miss::Miss;
use crate::tokens::{Token, reads};

/// Units as they end a name in code or follow a number in a text.
const UNITS: [&str; 15] = [
    "deg", "ft", "in", "inch", "inches", "m", "min", "mm", "rad", "rpm", "s", "sfm", "thou", "um",
    "µm",
];

/// The misses of the trade's sources.
pub(crate) fn check(house: &House) -> Vec<Miss> {
    let trade = house.shipped().filter(|(name, ..)| *name == "trade");
    trade.flat_map(|(_, file, rust)| of_file(file, rust)).collect()
}

fn of_file(file: &File, rust: &Rust) -> Vec<Miss> {
    let calls = (0..rust.tokens.len()).filter(|&at| is_made(&rust.tokens, at));
    let names = (0..rust.tokens.len()).filter(|&at| is_named(&rust.tokens, at));
    let in_code = calls.chain(names).map(|at| rust.tokens[at].line);
    let texts = rust.views.texts.iter().enumerate();
    let in_texts = texts.filter(|(_, text)| tells_quantity(text)).map(|(at, _)| at + 1);
    let shipped = in_code.chain(in_texts).filter(|&line| !rust.is_test(line));
    let what =
        "a quantity stands in the code; move it to a row of crates/trade/data with its source";
    shipped.map(|line| Miss::at(&file.path, line, what)).collect()
}

/// `from_mm(0.5` or the like: a value made from a bare number.
fn is_made(tokens: &[Token], at: usize) -> bool {
    let from_unit = tokens[at].text.strip_prefix("from_").is_some_and(is_unit);
    from_unit && reads(tokens, at + 1, &["("]) && is_number_at(tokens, at + 2)
}

/// `depth_mm_max: f64 = 0.5` or the like: a bare number under a name with a unit.
fn is_named(tokens: &[Token], at: usize) -> bool {
    let binds = ["const", "static", "let", "mut"].contains(&tokens[at].text.as_str());
    let Some(name) = tokens.get(at + 1).filter(|_| binds) else { return false };
    let has_unit = name.text.to_lowercase().split('_').skip(1).any(is_unit);
    let rest = tokens.iter().enumerate().skip(at + 2).take_while(|(_, token)| token.text != ";");
    let equals = rest.into_iter().find(|(_, token)| token.text == "=").map(|(at, _)| at);
    has_unit && equals.is_some_and(|at| is_number_at(tokens, at + 1))
}

fn is_unit(word: &str) -> bool {
    UNITS.contains(&word) || ["degrees", "minutes", "radians"].contains(&word)
}

fn is_number_at(tokens: &[Token], at: usize) -> bool {
    let sign = usize::from(reads(tokens, at, &["-"]));
    tokens.get(at + sign).is_some_and(Token::is_number)
}

/// Whether a line's literals hold a number with a unit behind it.
fn tells_quantity(text: &str) -> bool {
    let clean = text.replace('"', " ");
    let words: Vec<&str> = clean.split_whitespace().collect();
    words.windows(2).any(|pair| pair[0].parse::<f64>().is_ok() && is_unit(pair[1]))
}

#[cfg(test)]
fn planted_lines(path: &str, source: &str) -> Vec<usize> {
    check(&House::planted(&[(path, source)])).iter().map(|miss| miss.line).collect()
}

#[test]
fn quantities_in_code_are_found() {
    let source = "let a = Length::from_mm(-0.5);\nconst LAND_MM_MAX: f64 = 0.8;\n\
        let b = \"12.7 mm\";\nlet c = Length::from_mm(row.land_mm);\n// 3 mm\nlet d_mm = a + 1.0;\n\
        const NAMES: [&str; 2] = [\"mm\", \"2 lines in all\"];\n";
    assert_eq!(planted_lines("crates/trade/src/a.rs", source), [1, 2, 3]);
    assert_eq!(planted_lines("crates/shop/src/a.rs", source), [0; 0]);
    assert_eq!(planted_lines("crates/trade/src/a.rs", "#[test]\nfn a() { from_mm(1.0) }"), [0; 0]);
}
