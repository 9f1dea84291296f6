//! Which lines of a source are compiled for tests only.

use std::path::Path;

use crate::tokens::{Token, closing, reads};

/// The lines, from 1 and both counted, of every item under `#[cfg(test)]` or `#[test]`.
pub(crate) fn test_spans(tokens: &[Token]) -> Vec<(usize, usize)> {
    let starts = (0..tokens.len()).filter(|&at| is_test_attribute(tokens, at));
    starts.map(|at| (tokens[at].line, tokens[item_end(tokens, at)].line)).collect()
}

/// The names of the modules of other files that are declared under `#[cfg(test)]`.
pub(crate) fn test_modules(tokens: &[Token]) -> Vec<&str> {
    let starts = (0..tokens.len()).filter(|&at| is_test_attribute(tokens, at));
    starts.filter_map(|at| declared_module(&tokens[at..=item_end(tokens, at)])).collect()
}

/// Whether the whole source is for tests: it starts with `#![cfg(test)]`.
pub(crate) fn is_all_test(tokens: &[Token]) -> bool {
    reads(tokens, 0, &["#", "!", "[", "cfg", "(", "test", ")", "]"])
}

/// Whether the module `name`, declared in the file `parent`, is or holds the file `path`.
pub(crate) fn is_in_module(path: &str, parent: &str, name: &str) -> bool {
    let parent = Path::new(parent);
    let stem = parent.file_stem().and_then(|stem| stem.to_str()).unwrap_or_default();
    let root = parent.parent().unwrap_or(Path::new(""));
    let home = match stem {
        "mod" | "lib" | "main" => root.to_path_buf(),
        other => root.join(other),
    };
    let path = Path::new(path);
    path == home.join(format!("{name}.rs")) || path.starts_with(home.join(name))
}

/// Whether `#[test]` or a `#[cfg(…test…)]` without a `not` stands at `at`.
fn is_test_attribute(tokens: &[Token], at: usize) -> bool {
    if reads(tokens, at, &["#", "[", "test", "]"]) {
        return true;
    }
    let has =
        |word: &str| tokens[at..=closing(tokens, at + 1)].iter().any(|token| token.text == word);
    reads(tokens, at, &["#", "[", "cfg", "("]) && has("test") && !has("not")
}

/// The index of the last token of the item whose attribute stands at `at`.
fn item_end(tokens: &[Token], at: usize) -> usize {
    let mut here = at;
    while here < tokens.len() {
        match tokens[here].text.as_str() {
            "(" | "[" => here = closing(tokens, here) + 1,
            "{" => return closing(tokens, here),
            ";" => return here,
            _ => here += 1,
        }
    }
    tokens.len() - 1
}

/// The name in `mod name;` at the end of an item.
fn declared_module(item: &[Token]) -> Option<&str> {
    let [.., word, name, end] = item else { return None };
    (word.text == "mod" && end.text == ";").then_some(name.text.as_str())
}

#[test]
fn spans_cover_attribute_to_closing_brace() {
    let source = "fn a() {}\n#[cfg(test)]\n#[allow(x)]\nmod t {\n fn b() {}\n}\n\
        #[cfg(not(test))]\nfn c() {}\n#[cfg(all(test, unix))]\nuse d::{E, F};\nfn g() {}\n";
    let found = test_spans(&crate::tokens::tokens_of(source));
    assert_eq!(found, [(2, 6), (9, 10)]);
}

#[test]
fn a_test_module_in_a_file_of_its_own_is_found() {
    let tokens = crate::tokens::tokens_of("#[cfg(test)]\nmod planted;\nmod real;");
    assert_eq!(test_modules(&tokens), ["planted"]);
    assert!(is_in_module("a/src/planted.rs", "a/src/lib.rs", "planted"));
    assert!(is_in_module("a/src/b/planted/deep.rs", "a/src/b.rs", "planted"));
    assert!(!is_in_module("a/src/planted_not.rs", "a/src/lib.rs", "planted"));
    assert!(is_all_test(&crate::tokens::tokens_of("#![cfg(test)]\nfn a() {}")));
}
