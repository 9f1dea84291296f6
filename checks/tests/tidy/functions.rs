//! Where the functions of a source stand and how long they are.
//!
//! The length of a function is the number of its lines that hold code, from the line of `fn` to
//! the line of its closing brace, both counted. Blank lines and lines that hold only a comment do
//! not count; attributes and docs stand before `fn` and do not count either. A function inside
//! another counts in both. A declaration without a body is no function here.

use crate::house::Rust;
use crate::tokens::{Token, closing};

/// One function with a body.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Function {
    /// Its name.
    pub(crate) name: String,
    /// The line of `fn`, from 1.
    pub(crate) line: usize,
    /// Its lines of code.
    pub(crate) length: usize,
}

/// Every function with a body, in the order in which they start.
pub(crate) fn functions(rust: &Rust) -> Vec<Function> {
    let starts = rust.tokens.windows(2).enumerate();
    starts
        .filter(|(_, pair)| pair[0].text == "fn" && pair[1].is_word())
        .filter_map(|(at, pair)| {
            let last = rust.tokens[body_end(&rust.tokens, at)?].line;
            let (name, line) = (pair[1].text.clone(), pair[0].line);
            Some(Function { name, line, length: code_lines(rust, line, last) })
        })
        .collect()
}

/// The index of the brace that closes the body of the function at `at`; nothing without a body.
fn body_end(tokens: &[Token], at: usize) -> Option<usize> {
    let mut here = at;
    loop {
        match tokens.get(here)?.text.as_str() {
            "(" | "[" => here = closing(tokens, here) + 1,
            "{" => return Some(closing(tokens, here)),
            ";" => return None,
            _ => here += 1,
        }
    }
}

/// How many lines from `first` to `last` hold code.
fn code_lines(rust: &Rust, first: usize, last: usize) -> usize {
    rust.views.code[first - 1..last].iter().filter(|line| !line.trim().is_empty()).count()
}

/// The median of the lengths, the upper one of the two middle ones; nothing without a length.
pub(crate) fn median(mut lengths: Vec<usize>) -> Option<usize> {
    lengths.sort_unstable();
    lengths.get(lengths.len() / 2).copied()
}

#[test]
fn lengths_leave_out_blanks_and_comments() {
    let source = "trait A { fn none(&self) -> [u8; 3]; }\n\
        /// Doc.\nfn outer(a: fn(u8) -> u8) {\n    // Why.\n\n    let s = \"}\n }\";\n\
        fn inner() { s() }\n}\n";
    let found = functions(&Rust::of(source));
    let told: Vec<_> = found.iter().map(|f| (f.name.as_str(), f.line, f.length)).collect();
    assert_eq!(told, [("outer", 3, 5), ("inner", 8, 1)]);
}

#[test]
fn the_median_is_the_upper_middle() {
    assert_eq!(median(vec![9, 1, 5]), Some(5));
    assert_eq!(median(vec![9, 1, 5, 7]), Some(7));
    assert_eq!(median(Vec::new()), None);
}
