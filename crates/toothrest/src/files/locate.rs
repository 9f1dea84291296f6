//! Finding where a key stands in a file that has been read already, so that what the work says of
//! a value can be said with the line it stands on.

use toml::de::{DeTable, DeValue};
use toml::{Spanned, Spanned as At};

/// A place in a file: the line, counted from 1, and the value as it is written there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The line.
    pub line: usize,
    /// The value as written; empty for a section.
    pub value: String,
}

/// Where a dotted key stands in a text; None where the text has no such key.
pub fn locate(text: &str, key: &str) -> Option<Place> {
    let (table, _) = DeTable::parse_recoverable(text);
    let mut table = table.get_ref();
    let mut parts = key.split('.').peekable();
    while let Some(part) = parts.next() {
        let (name, value): (&At<_>, &Spanned<DeValue<'_>>) =
            table.iter().find(|(name, _)| name.get_ref() == part)?;
        if parts.peek().is_none() {
            let line = text[..name.span().start].matches('\n').count() + 1;
            let written = match value.get_ref() {
                DeValue::Table(_) => "",
                _ => text.get(value.span())?,
            };
            return Some(Place { line, value: written.to_owned() });
        }
        let DeValue::Table(inner) = value.get_ref() else {
            return None;
        };
        table = inner;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_found_with_their_lines() {
        let text = "[cutter]\nteeth = 4\n\n[setting]\nrest_inset = \"9 mm\" # far\n";
        let place = |line, value: &str| Some(Place { line, value: value.to_owned() });
        assert_eq!(locate(text, "setting.rest_inset"), place(5, "\"9 mm\""));
        assert_eq!(locate(text, "cutter.teeth"), place(2, "4"));
        assert_eq!(locate(text, "setting"), place(4, ""));
        assert_eq!(locate(text, "setting.relief"), None);
        assert_eq!(locate(text, "cutter.teeth.x"), None);
    }
}
