//! Faults of the TOML itself, said in plain words.
//!
//! Text without quotation marks and keys that stand twice leave the rest of the file readable, so
//! reading goes on after them. Anything else may have moved whole sections; then only the faults
//! of form are reported, because whatever followed would be noise.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue, Error};

use super::ledger::Ledger;
use super::source::Source;
use super::value::{Wrong, wrong};

/// How the parser calls text that lacks its quotation marks.
const UNQUOTED: &str = "string values must be quoted";
/// How the parser calls a key that stands twice.
const TWICE: &str = "duplicate key";
/// How the parser calls members of a list that run into each other.
const COMMA: &str = "missing comma";

/// How people write what TOML calls true and false.
const TRUTHS: [&str; 6] = ["yes", "no", "on", "off", "true", "false"];

/// A value's path and where it stands.
type Held = (String, Range<usize>);

/// Parses a file, notes faults of form, and says whether what was parsed can be trusted.
pub(super) fn parse<'t>(source: &Source<'t>, ledger: &mut Ledger<'t>) -> (DeTable<'t>, bool) {
    let (root, mut errors) = DeTable::parse_recoverable(source.text());
    let root = root.into_inner();
    let mut values = Values::default();
    values.walk(&root, "");
    values.sort();
    let mut trusted = true;
    for (path, span) in values.outermost_lists().filter(|(_, span)| spans_lines(source, span)) {
        trusted &= !note_broken_list(path, span, &mut errors, ledger);
    }
    for error in errors {
        let fault = error.span().unwrap_or_default();
        match values.holder(&fault) {
            Some((path, span)) => {
                // Text that runs on over the end of its line has swallowed what followed.
                trusted &= !spans_lines(source, span);
                note_value(source, path, span, &error, ledger);
            }
            None => {
                trusted &= error.message().starts_with(TWICE);
                note(source, &error, &fault, ledger);
            }
        }
    }
    (root, trusted)
}

/// Where every single value and every list of a file stands.
#[derive(Default)]
struct Values {
    single: Vec<Held>,
    lists: Vec<Held>,
}

impl Values {
    /// Puts everything into the order of the text, which [`DeTable`] does not keep.
    fn sort(&mut self) {
        self.single.sort_by_key(|(_, span)| span.start);
        self.lists.sort_by_key(|(_, span)| (span.start, usize::MAX - span.end));
    }

    /// The lists that lie in no other.
    fn outermost_lists(&self) -> impl Iterator<Item = &Held> {
        let mut end = 0;
        self.lists.iter().filter(move |(_, span)| {
            let is_outermost = span.end > end;
            end = end.max(span.end);
            is_outermost
        })
    }

    /// The single value that a fault lies in.
    fn holder(&self, fault: &Range<usize>) -> Option<&Held> {
        let after = self.single.partition_point(|(_, span)| span.start <= fault.start);
        let last = self.single.get(after.checked_sub(1)?)?;
        lies_within(fault, &last.1).then_some(last)
    }

    fn walk(&mut self, table: &DeTable<'_>, above: &str) {
        for (key, value) in table {
            self.walk_value(value, below(above, key.get_ref()));
        }
    }

    fn walk_value(&mut self, value: &Spanned<DeValue<'_>>, path: String) {
        match value.get_ref() {
            DeValue::Table(table) => self.walk(table, &path),
            DeValue::Array(members) => {
                for (index, member) in members.iter().enumerate() {
                    self.walk_value(member, format!("{path}[{index}]"));
                }
                self.lists.push((path, value.span()));
            }
            _ => self.single.push((path, value.span())),
        }
    }
}

fn lies_within(fault: &Range<usize>, span: &Range<usize>) -> bool {
    span.start <= fault.start && fault.end <= span.end
}

fn spans_lines(source: &Source<'_>, span: &Range<usize>) -> bool {
    source.piece(span).contains('\n')
}

/// The path of a key below a section.
pub(super) fn below(section: &str, key: &str) -> String {
    if section.is_empty() { key.to_owned() } else { format!("{section}.{key}") }
}

/// A list over several lines that is not closed swallows what follows it, and every line of that
/// is a fault of its own: the list is noted once instead, and the other faults are dropped.
fn note_broken_list(
    path: &str,
    span: &Range<usize>,
    errors: &mut Vec<Error>,
    ledger: &mut Ledger<'_>,
) -> bool {
    let inside = |error: &Error| error.span().is_some_and(|fault| lies_within(&fault, span));
    let breaks = |error: &&Error| inside(error) && !error.message().starts_with(UNQUOTED);
    let Some(first) = errors.iter().find(breaks) else { return false };
    let message = cannot_be_read(first);
    errors.retain(|error| !inside(error));
    ledger.place(path, span.clone());
    ledger.refuse(path, wrong(message, "write commas between the members, and ] after the last"));
    true
}

fn note_value(
    source: &Source<'_>,
    path: &str,
    span: &Range<usize>,
    error: &Error,
    ledger: &mut Ledger<'_>,
) {
    ledger.place(path, span.clone());
    if !ledger.is_doubted(path) {
        ledger.refuse(path, unreadable(source.piece(span).trim(), error));
    }
}

fn unreadable(text: &str, error: &Error) -> Wrong {
    if text.is_empty() {
        wrong("nothing follows the equals sign", "write a value after it")
    } else if TRUTHS.iter().any(|word| text.eq_ignore_ascii_case(word)) {
        wrong("neither true nor false", "write true or false, in small letters")
    } else if error.message().starts_with(UNQUOTED) {
        let text: String = text.chars().filter(|&letter| letter != '"').collect();
        wrong("text stands in quotation marks", format!("write \"{text}\""))
    } else if error.message().starts_with(COMMA) {
        wrong(cannot_be_read(error), "write a comma before it")
    } else {
        let right = "write text in quotation marks, and numbers plainly, such as 4";
        wrong(cannot_be_read(error), right)
    }
}

fn note(source: &Source<'_>, error: &Error, fault: &Range<usize>, ledger: &mut Ledger<'_>) {
    let line = Some(source.line(fault.start));
    if error.message().starts_with(TWICE) {
        let right = "write it once, with the value that holds";
        let wrong = wrong("this key or section stands twice", right);
        ledger.note(line, source.piece(fault), None, wrong);
    } else {
        let right = "write one key = value on each line, and [section] around section names";
        let key = source.key_on_line(fault.start);
        ledger.note(line, key, None, wrong(cannot_be_read(error), right));
    }
}

fn cannot_be_read(error: &Error) -> String {
    format!("cannot be read as TOML: {}", error.message())
}
