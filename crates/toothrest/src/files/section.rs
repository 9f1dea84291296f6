//! Sections of a file, read key by key. A section knows every key it was asked for, so that
//! whatever else stands in it is reported as unknown.

use std::cell::RefCell;

use shop::record::Named;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::ledger::Ledger;
use super::syntax::below;
use super::value::{Readable, Wrong, choice, choices, nearest, wrong};

/// One section, or the whole file as the outermost one.
pub(super) struct Section<'r, 't> {
    ledger: &'r RefCell<Ledger<'t>>,
    /// Nothing where the section is missing or is no section; that has been noted already.
    table: Option<&'r DeTable<'t>>,
    path: String,
    asked: RefCell<Vec<Asked>>,
    missing: RefCell<Vec<(&'static str, String)>>,
}

/// A key a section was asked for.
#[derive(Clone, Copy)]
struct Asked {
    key: &'static str,
    /// Whether a section was wanted there, so that slips are sought among their like.
    is_section: bool,
}

type Entry<'r, 't> = &'r Spanned<DeValue<'t>>;

impl<'r, 't> Section<'r, 't> {
    pub(super) fn new(
        ledger: &'r RefCell<Ledger<'t>>,
        table: Option<&'r DeTable<'t>>,
        path: String,
    ) -> Self {
        Self { ledger, table, path, asked: RefCell::default(), missing: RefCell::default() }
    }

    /// The path of a key of this section.
    pub(super) fn at(&self, key: &str) -> String {
        below(&self.path, key)
    }

    /// Whether the key is written.
    pub(super) fn has(&self, key: &str) -> bool {
        self.table.is_some_and(|table| table.contains_key(key))
    }

    /// A value that must be there.
    pub(super) fn need<T: Readable>(&self, key: &'static str) -> T {
        self.required(key, T::read, T::example).unwrap_or_else(T::stand_in)
    }

    /// A value that may be there.
    pub(super) fn maybe<T: Readable>(&self, key: &'static str) -> Option<T> {
        self.optional(key, T::read)
    }

    /// A choice that must be made; `noun` says what is chosen, with its article.
    pub(super) fn choose<T: Named>(&self, key: &'static str, noun: &str, stand_in: T) -> T {
        self.required(key, |value| choice(value, noun), || choices::<T>(None)).unwrap_or(stand_in)
    }

    /// A choice that may be made.
    pub(super) fn may_choose<T: Named>(&self, key: &'static str, noun: &str) -> Option<T> {
        self.optional(key, |value| choice(value, noun))
    }

    /// A list of values, each read by itself; empty where the key is not written.
    pub(super) fn many<T>(
        &self,
        key: &'static str,
        read: impl Fn(&DeValue<'_>) -> Result<T, Wrong>,
    ) -> Vec<T> {
        let Some(entry) = self.look(key) else { return Vec::new() };
        let path = self.at(key);
        let DeValue::Array(members) = entry.get_ref() else {
            self.refuse(key, wrong("must be a list", "write it in brackets, as in [\"…\", \"…\"]"));
            return Vec::new();
        };
        let read_member = |(index, member): (usize, Entry<'r, 't>)| {
            let path = format!("{path}[{index}]");
            self.ledger.borrow_mut().place(&path, member.span());
            self.read_at(&path, member, &read)
        };
        let values: Vec<_> = members.iter().enumerate().filter_map(read_member).collect();
        if values.len() < members.len() {
            self.ledger.borrow_mut().doubt(&path);
        }
        values
    }

    /// A section that must be there.
    pub(super) fn section(&self, key: &'static str) -> Section<'r, 't> {
        self.maybe_section(key).unwrap_or_else(|| {
            if !self.has(key) {
                let header = format!("write [{}] with its keys below it", self.at(key));
                self.miss(key, header);
            }
            Section::new(self.ledger, None, self.at(key))
        })
    }

    /// A section that may be there.
    pub(super) fn maybe_section(&self, key: &'static str) -> Option<Section<'r, 't>> {
        let entry = self.look_for(key, true)?;
        self.open(entry, self.at(key))
    }

    /// A list of sections, `[[…]]`; a single section counts as a list of one.
    pub(super) fn sections(&self, key: &'static str) -> Vec<Section<'r, 't>> {
        let Some(entry) = self.look_for(key, true) else { return Vec::new() };
        let path = self.at(key);
        match entry.get_ref() {
            DeValue::Array(members) => members
                .iter()
                .enumerate()
                .filter_map(|(index, member)| self.open(member, format!("{path}[{index}]")))
                .collect(),
            _ => self.open(entry, path).into_iter().collect(),
        }
    }

    /// A list of sections with one member at least.
    pub(super) fn need_sections(&self, key: &'static str) -> Vec<Section<'r, 't>> {
        if !self.has(key) {
            self.miss(key, format!("write [{0}], or [[{0}]] for several", self.at(key)));
        }
        self.sections(key)
    }

    /// Makes a key known without reading it.
    pub(super) fn know(&self, key: &'static str) {
        self.look(key);
    }

    /// Refuses a key that other values leave no room for.
    pub(super) fn forbid(&self, key: &'static str, why: &str) {
        if self.look(key).is_some() {
            self.refuse(key, wrong(why, "leave it out"));
        }
    }

    /// Whether something was wrong with a key's value.
    pub(super) fn is_doubted(&self, key: &str) -> bool {
        self.ledger.borrow().is_doubted(&self.at(key))
    }

    /// The path of the section itself.
    pub(super) fn path(&self) -> &str {
        &self.path
    }

    /// Notes that a key's value is wrong.
    pub(super) fn refuse(&self, key: &str, wrong: Wrong) {
        self.ledger.borrow_mut().refuse(&self.at(key), wrong);
    }

    /// Notes that a key's value is wrong unless something holds or the value is in doubt.
    pub(super) fn require(&self, key: &str, holds: bool, wrong: impl FnOnce() -> Wrong) {
        if !holds && !self.is_doubted(key) {
            self.refuse(key, wrong());
        }
    }

    /// Reports what is missing and what is unknown. A missing key of which a misspelling stands
    /// in the section is reported once, as the misspelling.
    pub(super) fn close(self) {
        let Some(table) = self.table else { return };
        let asked = self.asked.borrow();
        let mut misspelt = Vec::new();
        for (key, value) in table {
            if asked.iter().all(|asked| asked.key != key.get_ref().as_ref()) {
                misspelt.extend(self.unknown(key, value));
            }
        }
        let mut ledger = self.ledger.borrow_mut();
        for (key, right) in self.missing.borrow().iter() {
            if !misspelt.contains(key) {
                ledger.refuse(&self.at(key), wrong("is missing", right));
            }
        }
    }

    /// Reports an unknown key and returns the known one it resembles.
    fn unknown(
        &self,
        key: &Spanned<impl AsRef<str>>,
        value: Entry<'r, 't>,
    ) -> Option<&'static str> {
        let written = key.get_ref().as_ref();
        let is_section = is_section(value.get_ref());
        let known = self.known(is_section);
        let near = nearest(written, &known);
        let (path, mut ledger) = (self.at(written), self.ledger.borrow_mut());
        if is_section {
            ledger.place_section(&path, value.span().start);
        } else {
            ledger.place(&path, value.span());
        }
        let what = if is_section { "section" } else { "key" };
        let right = match near {
            Some(name) => format!("the nearest known is \"{name}\""),
            None if known.is_empty() => self.elsewhere(),
            None => format!("known here: {}", known.join(", ")),
        };
        ledger.refuse(&path, wrong(format!("no such {what}"), right));
        near
    }

    /// Where a key belongs that stands in a place where there are none.
    fn elsewhere(&self) -> String {
        match self.known(true).join("], [") {
            sections if sections.is_empty() => "leave it out".to_owned(),
            sections => format!("write it below its section, one of [{sections}]"),
        }
    }

    /// The known keys of values, or of sections.
    fn known(&self, sections: bool) -> Vec<&'static str> {
        let asked = self.asked.borrow();
        let alike = asked.iter().filter(|asked| asked.is_section == sections);
        alike.map(|asked| asked.key).collect()
    }

    fn required<T>(
        &self,
        key: &'static str,
        read: impl Fn(&DeValue<'_>) -> Result<T, Wrong>,
        example: impl FnOnce() -> String,
    ) -> Option<T> {
        if !self.has(key) {
            self.miss(key, example());
        }
        self.optional(key, read)
    }

    fn optional<T>(
        &self,
        key: &'static str,
        read: impl Fn(&DeValue<'_>) -> Result<T, Wrong>,
    ) -> Option<T> {
        let entry = self.look(key)?;
        self.read_at(&self.at(key), entry, read)
    }

    fn read_at<T>(
        &self,
        path: &str,
        entry: Entry<'r, 't>,
        read: impl Fn(&DeValue<'_>) -> Result<T, Wrong>,
    ) -> Option<T> {
        match read(entry.get_ref()) {
            Ok(value) => Some(value),
            Err(wrong) => {
                let mut ledger = self.ledger.borrow_mut();
                if !ledger.is_doubted(path) {
                    ledger.refuse(path, wrong);
                }
                None
            }
        }
    }

    /// Looks a key up and remembers that it is known and where it stands.
    fn look(&self, key: &'static str) -> Option<Entry<'r, 't>> {
        self.look_for(key, false)
    }

    fn look_for(&self, key: &'static str, is_section: bool) -> Option<Entry<'r, 't>> {
        self.asked.borrow_mut().push(Asked { key, is_section });
        let entry = self.table?.get(key)?;
        let (path, mut ledger) = (self.at(key), self.ledger.borrow_mut());
        if is_section {
            ledger.place_section(&path, entry.span().start);
        } else {
            ledger.place(&path, entry.span());
        }
        Some(entry)
    }

    fn miss(&self, key: &'static str, right: String) {
        self.ledger.borrow_mut().doubt(&self.at(key));
        self.missing.borrow_mut().push((key, right));
    }

    fn open(&self, entry: Entry<'r, 't>, path: String) -> Option<Section<'r, 't>> {
        let mut ledger = self.ledger.borrow_mut();
        if let DeValue::Table(table) = entry.get_ref() {
            ledger.place_section(&path, entry.span().start);
            return Some(Section::new(self.ledger, Some(table), path));
        }
        ledger.place(&path, entry.span());
        let right = format!("write [{path}] on a line of its own, its keys below it");
        ledger.refuse(&path, wrong("must be a section", right));
        None
    }
}

/// Whether a value is a section or a list of sections.
fn is_section(value: &DeValue<'_>) -> bool {
    match value {
        DeValue::Table(_) => true,
        DeValue::Array(members) => members
            .iter()
            .next()
            .is_some_and(|member| matches!(member.get_ref(), DeValue::Table(_))),
        _ => false,
    }
}
