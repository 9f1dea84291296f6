//! A file as it is written: sections, and a key on each line.

use geometry::quantity::System;
use geometry::{Angle, Length};

use super::quantity::{angle_words, length_words};

/// A file that is being written.
pub(super) struct Page {
    text: String,
    /// The system in which lengths are written where both would do.
    system: System,
}

impl Page {
    pub(super) const fn new(system: System) -> Self {
        Self { text: String::new(), system }
    }

    /// Opens a section, a blank line before it where it is not the first thing.
    pub(super) fn section(&mut self, header: &str) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        self.text += header;
        self.text.push('\n');
    }

    /// A value that TOML writes without quotation marks.
    pub(super) fn bare(&mut self, key: &str, value: impl std::fmt::Display) {
        self.text += &format!("{key} = {value}\n");
    }

    pub(super) fn words(&mut self, key: &str, words: &str) {
        self.bare(key, quoted(words));
    }

    pub(super) fn length(&mut self, key: &str, length: Length) {
        self.words(key, &length_words(length, self.system));
    }

    pub(super) fn angle(&mut self, key: &str, angle: Angle) {
        self.words(key, &angle_words(angle));
    }

    /// A list of words on one line.
    pub(super) fn list<'w>(&mut self, key: &str, words: impl Iterator<Item = &'w str>) {
        let quoted: Vec<_> = words.map(quoted).collect();
        self.bare(key, format!("[{}]", quoted.join(", ")));
    }

    pub(super) fn lengths(&mut self, key: &str, lengths: &[Length]) {
        let words: Vec<_> = lengths.iter().map(|one| length_words(*one, self.system)).collect();
        self.list(key, words.iter().map(String::as_str));
    }

    pub(super) fn angles(&mut self, key: &str, angles: &[Angle]) {
        let words: Vec<_> = angles.iter().map(|angle| angle_words(*angle)).collect();
        self.list(key, words.iter().map(String::as_str));
    }

    /// Readings of the teeth in their order; a dash where none was taken.
    pub(super) fn looked_at(&mut self, key: &str, teeth: &[Option<Length>]) {
        let words = |one: &Option<Length>| {
            one.map_or_else(|| "-".to_owned(), |one| length_words(one, self.system))
        };
        let words: Vec<_> = teeth.iter().map(words).collect();
        self.list(key, words.iter().map(String::as_str));
    }

    pub(super) fn maybe_words(&mut self, key: &str, words: Option<&str>) {
        if let Some(words) = words {
            self.words(key, words);
        }
    }

    pub(super) fn maybe_length(&mut self, key: &str, length: Option<Length>) {
        if let Some(length) = length {
            self.length(key, length);
        }
    }

    pub(super) fn maybe_angle(&mut self, key: &str, angle: Option<Angle>) {
        if let Some(angle) = angle {
            self.angle(key, angle);
        }
    }

    /// A length that stands for nothing where it is not written.
    pub(super) fn length_if_any(&mut self, key: &str, length: Length) {
        self.maybe_length(key, Some(length).filter(|length| *length != Length::ZERO));
    }

    pub(super) fn finish(self) -> String {
        self.text
    }
}

/// Text as TOML writes it in one line: quotation marks, backslashes and control characters are
/// escaped, everything else stands as it is.
pub(in crate::files) fn quoted(text: &str) -> String {
    let escaped = |letter: char| match letter {
        '"' | '\\' => format!("\\{letter}"),
        control if control.is_control() => format!("\\u{:04X}", u32::from(control)),
        other => other.to_string(),
    };
    let inside: String = text.chars().map(escaped).collect();
    format!("\"{inside}\"")
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn what_would_end_a_text_is_escaped() {
        assert_eq!(quoted(r#"K "1" \ 2"#), r#""K \"1\" \\ 2""#);
        assert_eq!(quoted("a\tb\u{7f}Ø"), "\"a\\u0009b\\u007FØ\"");
    }
}
