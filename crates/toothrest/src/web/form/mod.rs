//! Forms: what is to be filled in, what was typed, and what is wrong with it.
//!
//! A field is named by the key that it has in the files people keep, such as `cutter.teeth`. What
//! was typed is written as the text of such a file and read by the same reader, so a page and an
//! editor give the same record and the same messages.

mod entries;
mod field;
mod toml_text;

use crate::files::FileProblems;
use geometry::System;

pub(crate) use entries::{Entries, system, system_name};
pub(crate) use field::{Choice, Field, Kind};

/// A form as a page shows it.
#[derive(Clone, Debug)]
pub(crate) struct Form {
    /// Where it is sent.
    pub(crate) action: String,
    /// The word on its button.
    pub(crate) submit: String,
    /// The system that bare numbers count in.
    pub(crate) system: System,
    /// The number of the last entry that the page has seen; 0 where that does not matter.
    pub(crate) seen: u64,
    /// The groups of fields.
    pub(crate) groups: Vec<Group>,
    /// What is wrong with none of the fields in particular.
    pub(crate) problems: Vec<String>,
}

/// Fields that belong together.
#[derive(Clone, Debug, Default)]
pub(crate) struct Group {
    pub(crate) title: String,
    pub(crate) words: String,
    pub(crate) fields: Vec<Field>,
    /// Fields that stand above a table and belong to all of it.
    pub(crate) above: Vec<Field>,
    /// Headings of columns, where the fields stand as a table; empty otherwise.
    pub(crate) columns: Vec<String>,
    /// Labels of rows, where the fields stand as a table.
    pub(crate) rows: Vec<String>,
    /// Whether it is folded away until it is asked for.
    pub(crate) is_folded: bool,
    /// Whether its entries are only carried along, and asked for on another page.
    pub(crate) is_carried: bool,
}

impl Group {
    pub(crate) fn new(title: impl Into<String>, fields: Vec<Field>) -> Self {
        Self { title: title.into(), fields, ..Self::default() }
    }

    pub(crate) fn words(self, words: impl Into<String>) -> Self {
        Self { words: words.into(), ..self }
    }

    pub(crate) fn folded(self) -> Self {
        Self { is_folded: true, ..self }
    }

    /// As a table, row by row.
    pub(crate) fn table(self, columns: Vec<String>, rows: Vec<String>) -> Self {
        Self { columns, rows, ..self }
    }

    pub(crate) fn above(self, above: Vec<Field>) -> Self {
        Self { above, ..self }
    }

    pub(crate) fn is_table(&self) -> bool {
        !self.columns.is_empty()
    }

    /// The fields of a table row by row, each row with its label.
    pub(crate) fn lines(&self) -> Vec<(&str, &[Field])> {
        let width = self.columns.len().max(1);
        self.rows.iter().map(String::as_str).zip(self.fields.chunks(width)).collect()
    }

    /// What is wrong in a table, told below it.
    pub(crate) fn table_problems(&self) -> Vec<String> {
        let wrong = self.fields.iter().filter(|field| !field.problem.is_empty());
        wrong.map(|field| format!("{}: {}", field.label, field.problem)).collect()
    }

    /// A folded group opens where something in it is filled in or wrong.
    pub(crate) fn is_open(&self) -> bool {
        !self.is_folded
            || self.above.iter().chain(&self.fields).any(|field| {
                let is_silent = field.is_hidden() || field.is_given || !field.choices().is_empty();
                !field.problem.is_empty() || (!field.value.is_empty() && !is_silent)
            })
    }
}

impl Form {
    pub(crate) fn new(action: impl Into<String>, submit: impl Into<String>) -> Self {
        Self {
            action: action.into(),
            submit: submit.into(),
            system: System::Millimetre,
            seen: 0,
            groups: Vec::new(),
            problems: Vec::new(),
        }
    }

    pub(crate) fn shown_in(self, system: System) -> Self {
        Self { system, ..self }
    }

    pub(crate) fn having_seen(self, seen: u64) -> Self {
        Self { seen, ..self }
    }

    pub(crate) fn group(mut self, group: Group) -> Self {
        self.groups.push(group);
        self
    }

    pub(crate) fn system_name(&self) -> &'static str {
        system_name(self.system)
    }

    pub(crate) fn fields(&self) -> impl Iterator<Item = &Field> {
        self.groups.iter().flat_map(|group| group.above.iter().chain(&group.fields))
    }

    pub(crate) fn fields_mut(&mut self) -> impl Iterator<Item = &mut Field> {
        self.groups.iter_mut().flat_map(|group| group.above.iter_mut().chain(&mut group.fields))
    }

    /// The field of that name.
    pub(crate) fn field(&mut self, name: &str) -> Option<&mut Field> {
        self.fields_mut().find(|field| field.name == name)
    }

    /// Puts what was typed into the fields, under the system it was typed in.
    pub(crate) fn fill(mut self, entries: &Entries) -> Self {
        self.system = entries.shown_in().unwrap_or(self.system);
        for field in self.fields_mut() {
            match field.kind {
                Kind::Flag => {
                    field.value =
                        if entries.has(&field.name) { "yes".to_owned() } else { String::new() };
                }
                Kind::Several(_) => field.value = entries.all(&field.name).join("\n"),
                _ if entries.has(&field.name) => {
                    entries.get(&field.name).clone_into(&mut field.value);
                }
                _ => {}
            }
        }
        self
    }

    /// Puts into the fields what a file has under their keys.
    pub(crate) fn load(mut self, text: &str) -> Self {
        for (name, value) in toml_text::read(text, self.fields()) {
            if let Some(field) = self.field(&name) {
                field.value = value;
            }
        }
        self
    }

    /// Shows the page in the other system; what was typed keeps its meaning.
    pub(crate) fn switched(mut self, to: System) -> Self {
        let from = self.system;
        if from != to {
            for field in self.fields_mut().filter(|field| field.kind == Kind::Length) {
                field.value = field.with_unit(from);
            }
        }
        self.system = to;
        self
    }

    /// What was typed, as the text of a file.
    pub(crate) fn toml(&self) -> String {
        toml_text::written(self.fields(), self.system).0
    }

    /// Says what is wrong beside the fields it concerns, and above the form what concerns none.
    pub(crate) fn blame(&mut self, problems: &FileProblems) {
        let (_, keys) = toml_text::written(self.fields(), self.system);
        for problem in problems.problems() {
            let words = plain(&format!("{}; {}", problem.message, problem.right));
            // What is wrong with a whole row is told at its first place.
            let row = format!("{}[0]", problem.path);
            let named = |wanted: &str| keys.iter().find(|(_, key)| **key == wanted);
            let name = named(&problem.path).or_else(|| named(&row)).map(|(name, _)| name);
            self.blame_key(name.unwrap_or(&problem.key), &words);
        }
    }

    /// Says what is wrong with one field; one of the page's own is known by its name without the
    /// underscore.
    pub(crate) fn blame_key(&mut self, key: &str, words: &str) {
        let is_meant = |name: &str| name == key || name.strip_prefix('_') == Some(key);
        let shown = |field: &&mut Field| !field.is_hidden() && is_meant(&field.name);
        if let Some(field) = self.fields_mut().find(shown) {
            if field.problem.is_empty() {
                words.clone_into(&mut field.problem);
            }
            return;
        }
        let words = if key.is_empty() { words.to_owned() } else { format!("{key}: {words}") };
        self.problems.push(words);
    }

    pub(crate) fn is_blamed(&self) -> bool {
        !self.problems.is_empty() || self.fields().any(|field| !field.problem.is_empty())
    }
}

/// What a reader of files says, for somebody who fills in a form: nobody there writes quotation
/// marks.
fn plain(words: &str) -> String {
    words
        .replace("must be a whole number, not text", "is no whole number")
        .replace(" without quotation marks", "")
        .replace("write it as text in quotation marks", "fill it in")
}
