//! The text of a file: which line an offset lies on, and how a piece of it is shown.

use std::ops::Range;

/// Longest piece of a file that a message repeats, in characters.
const SHOWN_CHARACTERS_MAX: usize = 48;

/// A file's name and text.
#[derive(Clone)]
pub(super) struct Source<'t> {
    file: &'t str,
    text: &'t str,
    /// Where the second line begins, and the third, and so on.
    line_starts: Vec<usize>,
}

impl<'t> Source<'t> {
    pub(super) fn new(file: &'t str, text: &'t str) -> Self {
        let ends = text.bytes().enumerate().filter(|&(_, byte)| byte == b'\n');
        Self { file, text, line_starts: ends.map(|(end, _)| end + 1).collect() }
    }

    pub(super) const fn file(&self) -> &'t str {
        self.file
    }

    pub(super) const fn text(&self) -> &'t str {
        self.text
    }

    /// The line on which an offset lies, counted from 1.
    pub(super) fn line(&self, offset: usize) -> usize {
        self.line_starts.partition_point(|&start| start <= offset) + 1
    }

    /// A piece of the text, or nothing where the span does not fall between characters.
    pub(super) fn piece(&self, span: &Range<usize>) -> &'t str {
        self.text.get(span.clone()).unwrap_or_default()
    }

    /// What stands before the equals sign of the line on which an offset lies, if anything does.
    pub(super) fn key_on_line(&self, offset: usize) -> &'t str {
        let line = self.line(offset);
        let start = if line < 2 { 0 } else { self.line_starts[line - 2] };
        let line = self.piece(&(start..self.text.len())).lines().next().unwrap_or_default();
        line.split_once('=').map_or("", |(key, _)| key.trim())
    }
}

/// A piece of a file as messages repeat it: its first line, shortened.
pub(super) fn shorten(piece: &str) -> String {
    let piece = piece.trim();
    let first = piece.lines().next().unwrap_or_default();
    let mut shown: String = first.chars().take(SHOWN_CHARACTERS_MAX).collect();
    if shown.len() < piece.len() {
        shown.push('…');
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_counted_from_one_and_never_run_out() {
        let source = Source::new("a.toml", "one = 1\ntwo = \"½ in\"\n");
        assert_eq!(source.line(0), 1);
        assert_eq!(source.line(7), 1);
        assert_eq!(source.line(8), 2);
        assert_eq!(source.line(usize::MAX), 3);
        assert_eq!(source.key_on_line(0), "one");
        assert_eq!(source.key_on_line(10), "two");
        assert_eq!(source.key_on_line(usize::MAX), "");
    }

    #[test]
    fn a_span_inside_a_character_is_nothing() {
        let source = Source::new("a.toml", "½ in");
        assert_eq!(source.piece(&(0..1)), "");
        assert_eq!(source.piece(&(0..2)), "½");
        assert_eq!(source.piece(&(3..99)), "");
    }

    #[test]
    fn long_and_many_lined_pieces_are_shortened() {
        assert_eq!(shorten(&"é".repeat(60)).chars().count(), 49);
        assert_eq!(shorten("[1,\n2]"), "[1,…");
        assert_eq!(shorten(" \"12 mm\" "), "\"12 mm\"");
    }
}
