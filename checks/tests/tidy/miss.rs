//! A miss: one place where the house breaks one of its laws.

/// One broken law at one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Miss {
    /// The file, from the root of the repository.
    pub(crate) path: String,
    /// The line, from 1; 0 where the whole file is meant.
    pub(crate) line: usize,
    /// What is wrong and what to do about it.
    pub(crate) what: String,
}

impl Miss {
    /// A miss at a line, counted from 1.
    pub(crate) fn at(path: &str, line: usize, what: impl Into<String>) -> Self {
        Self { path: path.to_owned(), line, what: what.into() }
    }

    /// A miss of a whole file.
    pub(crate) fn of(path: &str, what: impl Into<String>) -> Self {
        Self::at(path, 0, what)
    }

    /// As `file:line: what`, so that an editor can jump there.
    fn told(&self) -> String {
        match self.line {
            0 => format!("{}: {}", self.path, self.what),
            line => format!("{}:{line}: {}", self.path, self.what),
        }
    }
}

/// Fails with every miss at once, or passes when there is none.
pub(crate) fn report(misses: &[Miss]) {
    let told: Vec<String> = misses.iter().map(Miss::told).collect();
    assert!(told.is_empty(), "{} to tidy:\n{}\n", told.len(), told.join("\n"));
}

#[test]
fn a_miss_names_file_and_line() {
    assert_eq!(Miss::at("a.rs", 3, "split it").told(), "a.rs:3: split it");
    assert_eq!(Miss::of("a.rs", "add it").told(), "a.rs: add it");
}

#[test]
#[should_panic(expected = "1 to tidy")]
fn a_report_of_one_miss_fails() {
    report(&[Miss::of("a.rs", "add it")]);
}
