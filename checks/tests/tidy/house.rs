//! The house as the checks see it: its files, parted into views, and its workspace members.
//!
//! Real houses are read in `surroundings`; planted ones are built from strings.

use std::collections::BTreeSet;

use crate::lexer::Views;
use crate::tests_of::{is_all_test, is_in_module, test_modules, test_spans};
use crate::tokens::{Token, tokens};

/// The whole repository.
#[derive(Debug, Default)]
pub(crate) struct House {
    /// Every file that is tracked or could be, in order of path.
    pub(crate) files: Vec<File>,
    /// Paths that exist but are not tracked yet; empty where nothing is tracked at all.
    pub(crate) untracked: BTreeSet<String>,
    /// The members of the workspace.
    pub(crate) members: Vec<Member>,
}

/// One file.
#[derive(Debug)]
pub(crate) struct File {
    /// Its path from the root, with forward slashes.
    pub(crate) path: String,
    /// Its text; nothing where it is no UTF-8.
    pub(crate) text: Option<String>,
    /// Whether it may be run as a program.
    pub(crate) is_executable: bool,
    /// Its parts, where it is a Rust source.
    pub(crate) rust: Option<Rust>,
}

/// A Rust source in parts.
#[derive(Debug)]
pub(crate) struct Rust {
    /// Code, comments and literals by line.
    pub(crate) views: Views,
    /// The code as tokens.
    pub(crate) tokens: Vec<Token>,
    /// Lines, from 1 and both counted, that are compiled for tests only.
    tests: Vec<(usize, usize)>,
}

/// A member of the workspace, as cargo tells it.
#[derive(Clone, Debug)]
pub(crate) struct Member {
    /// Its name.
    pub(crate) name: String,
    /// The path of its manifest from the root.
    pub(crate) manifest: String,
    /// The oldest toolchain it promises to build on.
    pub(crate) rust_version: Option<String>,
    /// What it depends on.
    pub(crate) needs: Vec<Need>,
}

/// One dependency.
#[derive(Clone, Debug)]
pub(crate) struct Need {
    /// The package's own name, whatever it is renamed to.
    pub(crate) name: String,
    /// Whether only tests, examples and benches see it.
    pub(crate) is_for_tests: bool,
}

impl Rust {
    /// Parts a source.
    pub(crate) fn of(source: &str) -> Self {
        let views = Views::of(source);
        let tokens = tokens(&views.code);
        let tests = if is_all_test(&tokens) { whole() } else { test_spans(&tokens) };
        Self { views, tokens, tests }
    }

    /// Whether a line, from 1, is compiled for tests only.
    pub(crate) fn is_test(&self, line: usize) -> bool {
        self.tests.iter().any(|&(first, last)| (first..=last).contains(&line))
    }
}

/// The span of a source that is for tests from end to end.
fn whole() -> Vec<(usize, usize)> {
    vec![(1, usize::MAX)]
}

impl File {
    /// A file from its path and bytes.
    pub(crate) fn new(path: &str, bytes: Vec<u8>, is_executable: bool) -> Self {
        let text = String::from_utf8(bytes).ok();
        let source = text.as_deref().filter(|_| path.ends_with(".rs"));
        let rust = source.map(Rust::of);
        Self { path: path.to_owned(), text, is_executable, rust }
    }

    /// The shipped crate to whose `src` it belongs.
    pub(crate) fn shipped_crate(&self) -> Option<&str> {
        let (name, rest) = self.path.strip_prefix("crates/")?.split_once('/')?;
        (rest.starts_with("src/") || rest == "build.rs").then_some(name)
    }

    /// Its lines with their numbers, from 1; none where it is no UTF-8.
    pub(crate) fn lines(&self) -> impl Iterator<Item = (usize, &str)> {
        self.text.iter().flat_map(|text| text.lines()).enumerate().map(|(at, line)| (at + 1, line))
    }
}

impl House {
    /// A house of these files and members. Sources that other sources declare as test modules,
    /// and all that lies outside a crate's `src`, are marked as tests.
    pub(crate) fn new(files: Vec<File>, members: Vec<Member>) -> Self {
        let mut house = Self { files, untracked: BTreeSet::new(), members };
        let declared = house.declared_tests();
        let is_declared =
            |path: &str| declared.iter().any(|(parent, name)| is_in_module(path, parent, name));
        for file in &mut house.files {
            let is_test = file.shipped_crate().is_none() || is_declared(&file.path);
            if let Some(rust) = file.rust.as_mut().filter(|_| is_test) {
                rust.tests = whole();
            }
        }
        house
    }

    /// The declaring file and the name of every test module in a file of its own.
    fn declared_tests(&self) -> Vec<(String, String)> {
        let names = |(file, rust): (&File, &Rust)| {
            let path = file.path.clone();
            let names = test_modules(&rust.tokens).into_iter().map(str::to_owned);
            names.map(move |name| (path.clone(), name)).collect::<Vec<_>>()
        };
        self.sources().flat_map(names).collect()
    }

    /// The file at that path.
    pub(crate) fn file(&self, path: &str) -> Option<&File> {
        self.files.iter().find(|file| file.path == path)
    }

    /// Every Rust source with its parts.
    pub(crate) fn sources(&self) -> impl Iterator<Item = (&File, &Rust)> {
        self.files.iter().filter_map(|file| Some((file, file.rust.as_ref()?)))
    }

    /// Every Rust source of the shipped crates, with the crate's name.
    pub(crate) fn shipped(&self) -> impl Iterator<Item = (&str, &File, &Rust)> {
        self.sources().filter_map(|(file, rust)| Some((file.shipped_crate()?, file, rust)))
    }

    /// A house of planted files.
    pub(crate) fn planted(files: &[(&str, &str)]) -> Self {
        let file = |&(path, text): &(&str, &str)| File::new(path, text.into(), false);
        Self::new(files.iter().map(file).collect(), Vec::new())
    }
}

#[test]
fn lines_of_tests_are_told_from_lines_that_ship() {
    let house = House::planted(&[
        ("crates/shop/src/lib.rs", "fn a() {}\n#[cfg(test)]\nmod planted;\n"),
        ("crates/shop/src/planted.rs", "fn a() {}\n"),
        ("checks/src/lib.rs", "fn a() {}\n"),
    ]);
    let told: Vec<bool> = house.sources().map(|(_, rust)| rust.is_test(1)).collect();
    assert_eq!(told, [false, true, true]);
    assert_eq!(house.shipped().count(), 2);
}
