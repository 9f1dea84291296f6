//! The ledger of one reading: where each key stands, which values are in doubt, what is wrong.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use shop::record::RecordError;

use super::problem::FileProblem;
use super::source::{Source, shorten};
use super::value::Wrong;

/// Where a key stands in the file.
#[derive(Clone)]
pub(super) struct Place {
    pub(super) line: usize,
    pub(super) value: Option<String>,
}

/// What one reading has noted so far. Paths are dotted, members of lists counted from 0.
pub(super) struct Ledger<'t> {
    source: Source<'t>,
    places: BTreeMap<String, Place>,
    doubted: BTreeSet<String>,
    problems: Vec<FileProblem>,
}

impl<'t> Ledger<'t> {
    pub(super) fn new(source: Source<'t>) -> Self {
        Self { source, places: BTreeMap::new(), doubted: BTreeSet::new(), problems: Vec::new() }
    }

    /// Remembers where a key's value stands.
    pub(super) fn place(&mut self, path: &str, span: Range<usize>) {
        let place = Place {
            line: self.source.line(span.start),
            value: Some(shorten(self.source.piece(&span))),
        };
        self.places.insert(path.to_owned(), place);
    }

    /// Remembers where a section begins.
    pub(super) fn place_section(&mut self, path: &str, offset: usize) {
        let place = Place { line: self.source.line(offset), value: None };
        self.places.insert(path.to_owned(), place);
    }

    /// Notes that what stands at a path, and below it, is not what the file means.
    pub(super) fn doubt(&mut self, path: &str) {
        self.doubted.insert(path.to_owned());
    }

    /// Whether a path or any section around it is in doubt.
    pub(super) fn is_doubted(&self, path: &str) -> bool {
        let ends = path.char_indices().filter(|&(_, letter)| letter == '.' || letter == '[');
        let around = ends.map(|(end, _)| &path[..end]);
        self.doubted.contains(path) || around.into_iter().any(|outer| self.doubted.contains(outer))
    }

    /// Notes a problem with the value at a path, which is in doubt from now on.
    pub(super) fn refuse(&mut self, path: &str, wrong: Wrong) {
        let place = self.nearest_place(path);
        self.doubt(path);
        self.note(Some(place.line), path, place.value, wrong);
    }

    /// Notes a problem that is not bound to a known path.
    pub(super) fn note(
        &mut self,
        line: Option<usize>,
        path: &str,
        value: Option<String>,
        wrong: Wrong,
    ) {
        self.problems.push(FileProblem {
            file: self.source.file().to_owned(),
            line,
            key: shorten(&without_counts(path)),
            path: path.to_owned(),
            value: value.filter(|value| !value.is_empty()),
            message: wrong.message,
            right: wrong.right,
        });
    }

    /// Notes the facts a record found violated, unless they rest on values in doubt. `path_of`
    /// turns a record's field into its path in this file.
    pub(super) fn refuse_record(&mut self, error: RecordError, path_of: impl Fn(&str) -> String) {
        let path = path_of(&error.field);
        let rests_on = error.depends_on.iter().map(|field| path_of(field));
        let doubtful =
            self.is_doubted(&path) || rests_on.into_iter().any(|other| self.is_doubted(&other));
        if !doubtful {
            self.refuse(&path, Wrong { message: error.fact, right: error.right });
        }
    }

    /// Where a path stands, or else the innermost section around it, without a value.
    fn nearest_place(&self, path: &str) -> Place {
        if let Some(place) = self.places.get(path) {
            return place.clone();
        }
        let ends = path.rmatch_indices(['.', '[']).map(|(end, _)| &path[..end]);
        let around = ends.into_iter().find_map(|outer| self.places.get(outer));
        Place { line: around.map_or(1, |place| place.line), value: None }
    }

    pub(super) fn has_problems(&self) -> bool {
        !self.problems.is_empty()
    }

    pub(super) fn take_problems(&mut self) -> Vec<FileProblem> {
        std::mem::take(&mut self.problems)
    }
}

/// A path without the counts of list members: the line says which member is meant.
fn without_counts(path: &str) -> String {
    let mut plain = String::with_capacity(path.len());
    let mut inside = false;
    for letter in path.chars() {
        match letter {
            '[' if !plain.is_empty() => inside = true,
            ']' if inside => inside = false,
            _ if inside => {}
            _ => plain.push(letter),
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn doubt_covers_everything_below() {
        let mut ledger = Ledger::new(Source::new("a.toml", ""));
        ledger.doubt("axis[2]");
        assert!(ledger.is_doubted("axis[2].graduation"));
        assert!(ledger.is_doubted("axis[2]"));
        assert!(!ledger.is_doubted("axis[1].graduation"));
        assert!(!ledger.is_doubted("axis"));
    }

    #[test]
    fn counts_are_left_out_of_keys_but_section_marks_stay() {
        assert_eq!(without_counts("axis[2].graduation"), "axis.graduation");
        assert_eq!(without_counts("[cutter]"), "[cutter]");
    }
}
