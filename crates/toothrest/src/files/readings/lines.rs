//! Readings as CSV: the lines of the text, their cells, and which of the two shapes they make.

use shop::record::{Cutter, Readings};

use super::cells::Cells;
use super::headings::{Heading, Shape};
use super::notes::Notes;
use super::{grid, rows};
use crate::files::problem::FileProblems;
use crate::files::value::{Wrong, wrong};

/// As many readings as a hand takes make 30 kB; whatever is longer than this is no such file.
const TEXT_BYTES_MAX: usize = 500_000;

/// Stands behind a line to see whether its last cell was closed.
const BEHIND: &str = "behind";

/// One line of cells.
pub(super) struct Row {
    pub(super) line: usize,
    pub(super) cells: Vec<String>,
    /// Whether every quotation mark that opens a cell is closed on the line.
    is_closed: bool,
}

/// A line that begins with `#`.
pub(super) struct NoteLine {
    pub(super) line: usize,
    pub(super) text: String,
}

/// The lines of a text, sorted by what they are.
pub(super) struct Lines {
    separator: char,
    notes: Vec<NoteLine>,
    header: Option<Row>,
    rows: Vec<Row>,
}

/// Reads a CSV file of readings.
pub(super) fn read(file: &str, text: &str, cutter: &Cutter) -> Result<Readings, FileProblems> {
    let mut cells = Cells::new(file);
    if text.len() > TEXT_BYTES_MAX {
        let right = format!("write at most {} kB into one file", TEXT_BYTES_MAX / 1000);
        cells.note(None, "", wrong("far longer than such files are", right));
        return cells.finish(None);
    }
    let Lines { separator, notes, header, rows } = Lines::of(text);
    cells.set_separator(separator);
    let notes = Notes::read(&notes, &mut cells);
    match header {
        None => cells.note(Some(1), "", no_header()),
        Some(header) if !header.is_closed => cells.note(Some(header.line), "", unclosed()),
        Some(header) => read_below(&header, rows, &notes, cutter, &mut cells),
    }
    let readings = cells.settle(cutter);
    cells.finish(readings)
}

/// Reads the rows below a line of headings, in the shape that those tell.
fn read_below(header: &Row, rows: Vec<Row>, notes: &Notes, cutter: &Cutter, cells: &mut Cells<'_>) {
    let line = header.line;
    let headings: Vec<_> = header.cells.iter().map(|cell| Heading::of(cell)).collect();
    let shape = Shape::of(&headings);
    if shape == Shape::Neither {
        let path = cells.place(&key_of(&headings, 0), line, "");
        cells.refuse(&path, no_header());
        return;
    }
    let rows = evened(rows, &headings, cells);
    if shape == Shape::Grid {
        grid::read(line, &headings, &rows, notes, cells);
    } else {
        rows::read(line, &headings, &rows, notes, cutter, cells);
    }
}

fn no_header() -> Wrong {
    let right = "write a line such as kind,tooth,from_end,reading,resolution above the readings, \
                 or tooth,3 mm,25 mm above a table of lands";
    wrong("there is no line of headings", right)
}

fn unclosed() -> Wrong {
    let right = "close it, or take it away; a row stands on one line";
    wrong("a quotation mark is opened and not closed on this line", right)
}

/// The rows that have a cell for each heading; the others are refused, since a cell too few or
/// too many moves all that follow it.
fn evened(rows: Vec<Row>, headings: &[Heading], cells: &mut Cells<'_>) -> Vec<Row> {
    let count = headings.len();
    let mut even = Vec::new();
    for row in rows {
        let found = row.cells.len();
        if !row.is_closed {
            refuse_cell(&row, headings, found.saturating_sub(1), unclosed(), cells);
        } else if found == count {
            refuse_unheaded(&row, headings, cells);
            even.push(row);
        } else {
            let wrong = uneven(found, count, cells.separator());
            refuse_cell(&row, headings, found.min(count), wrong, cells);
        }
    }
    even
}

fn refuse_unheaded(row: &Row, headings: &[Heading], cells: &mut Cells<'_>) {
    for (place, (heading, text)) in headings.iter().zip(&row.cells).enumerate() {
        if heading.is_blank() && !text.is_empty() {
            let right = "write a heading above it, or leave it empty";
            refuse_cell(row, headings, place, wrong("stands under no heading", right), cells);
            cells.doubt(&key_of(headings, place));
        }
    }
}

/// Refuses a cell by the heading above it, or by its number where there is none.
fn refuse_cell(row: &Row, headings: &[Heading], place: usize, wrong: Wrong, cells: &mut Cells<'_>) {
    let text = row.cells.get(place).map_or("", String::as_str);
    let path = cells.place(&key_of(headings, place), row.line, text);
    cells.refuse(&path, wrong);
}

fn key_of(headings: &[Heading], place: usize) -> String {
    let heading = headings.get(place).filter(|heading| !heading.is_blank());
    heading.map_or(format!("column {}", place + 1), |heading| heading.name.clone())
}

fn uneven(found: usize, count: usize, separator: char) -> Wrong {
    let plural =
        |number: usize, noun| format!("{number} {noun}{}", if number == 1 { "" } else { "s" });
    let message = format!("{} under {}", plural(found, "cell"), plural(count, "heading"));
    let name = if separator == ';' { "semicolon" } else { "comma" };
    if found < count {
        wrong(message, format!("write a {name} for every cell, for those that are empty too"))
    } else if separator == ',' {
        wrong(message, "write one cell for each heading, and decimals with a point")
    } else {
        wrong(message, "write one cell for each heading")
    }
}

impl Lines {
    fn of(text: &str) -> Self {
        let mut lines = Self { separator: ',', notes: Vec::new(), header: None, rows: Vec::new() };
        for (number, line) in (1..).zip(text.split('\n')) {
            lines.take(number, line.strip_suffix('\r').unwrap_or(line));
        }
        lines
    }

    fn take(&mut self, line: usize, text: &str) {
        if let Some(text) = note_text(text) {
            self.notes.push(NoteLine { line, text });
            return;
        }
        if self.header.is_none() && text.contains(';') {
            self.separator = ';';
        }
        let row = Row::of(line, text, self.separator);
        // Spreadsheets write an empty row as nothing but separators.
        if row.cells.iter().all(|cell| cell.is_empty()) {
            return;
        }
        if self.header.is_none() {
            self.header = Some(row);
        } else {
            self.rows.push(row);
        }
    }
}

/// What stands behind the `#` of a line. Spreadsheets fill such a line up with separators, and
/// put it in quotation marks where it holds one.
fn note_text(line: &str) -> Option<String> {
    let line = line.trim();
    let text = match line.strip_prefix("\"#") {
        Some(_) => Row::of(0, line, if line.contains("\";") { ';' } else { ',' }).cells.join(" "),
        None => line.to_owned(),
    };
    Some(text.strip_prefix('#')?.trim_matches([' ', '\t', ',', ';']).to_owned())
}

impl Row {
    fn of(line: usize, text: &str, separator: char) -> Self {
        let whole = format!("{text}\n{BEHIND}");
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(if separator == ';' { b';' } else { b',' })
            .terminator(csv::Terminator::Any(b'\n'))
            .from_reader(whole.as_bytes());
        let mut records = reader.records().filter_map(Result::ok);
        let first = records.next().unwrap_or_default();
        let is_closed = records.next().is_some() || text.trim().is_empty();
        let cells = first.iter().map(|cell| plain(cell, is_closed)).collect();
        let cells = if text.trim().is_empty() { Vec::new() } else { cells };
        Self { line, cells, is_closed }
    }
}

/// A cell without the space around it, and without quotation marks that stood behind a space.
fn plain(cell: &str, is_closed: bool) -> String {
    let cell = if is_closed { cell } else { cell.trim_end_matches(BEHIND) };
    let cell = cell.trim();
    let inside = cell.strip_prefix('"').and_then(|cell| cell.strip_suffix('"'));
    inside.unwrap_or(cell).trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(text: &str, separator: char) -> Vec<String> {
        Row::of(1, text, separator).cells
    }

    #[test]
    fn cells_lose_the_space_around_them_and_their_quotation_marks() {
        assert_eq!(cells("1, 0.51 mm ,-", ','), ["1", "0.51 mm", "-"]);
        assert_eq!(cells("\"3, 1\", \"2 mm\",", ','), ["3, 1", "2 mm", ""]);
        assert_eq!(cells("1;0,51 mm", ';'), ["1", "0,51 mm"]);
        assert_eq!(cells("0.51\",\"0.52\"\"\"", ','), ["0.51\"", "0.52\""]);
        assert_eq!(cells("a\rb", ','), ["a\rb"]);
    }

    #[test]
    fn a_mark_that_is_not_closed_is_seen() {
        let row = Row::of(1, "1,\"0.51 mm", ',');
        assert_eq!((row.is_closed, row.cells), (false, vec!["1".to_owned(), "0.51 mm".to_owned()]));
        assert!(Row::of(1, "1,0.51\"", ',').is_closed);
        assert!(Row::of(1, "", ',').is_closed);
    }

    #[test]
    fn lines_are_sorted_by_what_they_are() {
        let text =
            "# a: 1,,\r\n\"# b: 1, 2\",,\r\n;;\r\nkind;reading\r\n\r\nland;x,y\r\n ;\r\n#c\n";
        let lines = Lines::of(text);
        let notes: Vec<_> = lines.notes.iter().map(|note| (note.line, &*note.text)).collect();
        assert_eq!(notes, [(1, "a: 1"), (2, "b: 1, 2"), (8, "c")]);
        assert_eq!(lines.header.unwrap().line, 4);
        let rows: Vec<_> = lines.rows.iter().map(|row| (row.line, row.cells.len())).collect();
        assert_eq!(rows, [(6, 2)]);
    }
}
