//! The cells of a list, from CSV or from a workbook, before anybody knows what they mean.

use std::io::{Cursor, Read, copy, sink};
use std::panic::{AssertUnwindSafe, catch_unwind, set_hook, take_hook};
use std::sync::Once;

use calamine::{DataRef, Reader, Xlsx};

use super::problem::{ListProblem, problem};

/// The longest file that is read, in bytes: some ten thousand cutters.
pub const FILE_BYTES_MAX: usize = 4 << 20;
/// The most that a workbook may hold once it is unpacked, so that a small file cannot fill the
/// memory of the bench.
const UNPACKED_BYTES_MAX: u64 = 64 << 20;
/// The most rows and columns.
const ROWS_MAX: usize = 10_000;
const COLUMNS_MAX: usize = 200;

/// What a cell holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) enum Cell {
    /// Nothing, or blanks.
    #[default]
    Blank,
    /// Words as they are written.
    Text(String),
    /// A number, as workbooks keep it.
    Number(f64),
    /// Yes or no.
    Flag(bool),
    /// Something that is no value: a date, or the error of a formula.
    Other(String),
}

/// A row with its place in the file.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    /// The line of the file, or the row of the sheet, counted from 1.
    pub(super) line: usize,
    /// Its cells.
    pub(super) cells: Vec<Cell>,
}

/// The rows of a list that hold anything; the first has the headings.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Grid {
    /// The rows.
    pub(super) rows: Vec<Row>,
    /// Whether a comma stands for the point: only where semicolons or tabs part the cells.
    pub(super) has_decimal_comma: bool,
}

impl Cell {
    /// What is written, for a person.
    pub(super) fn shown(&self) -> String {
        match self {
            Self::Blank => String::new(),
            Self::Text(text) | Self::Other(text) => text.clone(),
            Self::Number(number) => number.to_string(),
            Self::Flag(flag) => if *flag { "TRUE" } else { "FALSE" }.to_owned(),
        }
    }

    fn of_text(text: &str) -> Self {
        let text = text.trim();
        if text.is_empty() { Self::Blank } else { Self::Text(text.to_owned()) }
    }
}

/// Reads a list: a workbook where its bytes say so, else CSV.
///
/// # Errors
/// Why it cannot be read at all.
pub(super) fn read_grid(bytes: &[u8], sheet: Option<&str>) -> Result<Grid, ListProblem> {
    if bytes.len() > FILE_BYTES_MAX {
        let right = format!("write at most {} MB into one list", FILE_BYTES_MAX >> 20);
        return Err(problem("far longer than a list of cutters is", right));
    }
    let grid = if bytes.starts_with(b"PK") { guarded_workbook(bytes, sheet)? } else { csv(bytes)? };
    if grid.rows.is_empty() {
        let right = "write a line of headings, such as number,diameter (mm),teeth";
        return Err(problem("the list is empty", right));
    }
    Ok(grid)
}

fn csv(bytes: &[u8]) -> Result<Grid, ListProblem> {
    let text = std::str::from_utf8(bytes).map_err(|_| {
        problem("this is no text in UTF-8", "save it as CSV UTF-8, or as an .xlsx workbook")
    })?;
    let text = text.trim_start_matches('\u{feff}');
    let separator = separator(text);
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .from_reader(text.as_bytes());
    let mut grid = Grid { rows: Vec::new(), has_decimal_comma: separator != b',' };
    let mut lines = LineCount { text: text.as_bytes(), at: 0, line: 1 };
    for record in reader.records() {
        let record = record.map_err(|error| {
            problem(format!("cannot be read as CSV: {error}"), "mend that line")
        })?;
        let begins = record.position().map_or(0, |at| usize::try_from(at.byte()).unwrap_or(0));
        let cells: Vec<Cell> = record.iter().map(Cell::of_text).collect();
        add(&mut grid, lines.line_of(begins), cells)?;
    }
    Ok(grid)
}

/// Counts lines as an editor does. The reader's own count is one short where lines end in two
/// letters, and knows nothing of the empty lines that it passes over.
struct LineCount<'t> {
    text: &'t [u8],
    at: usize,
    line: usize,
}

impl LineCount<'_> {
    /// The line of the record that is found from here on; places only grow.
    fn line_of(&mut self, begins: usize) -> usize {
        let is_end = |byte: &u8| matches!(byte, b'\n' | b'\r');
        let rest = self.text.get(begins..).unwrap_or_default();
        let first = begins + rest.iter().take_while(|byte| is_end(byte)).count();
        let passed = self.text.get(self.at..first).unwrap_or_default();
        self.line += passed.iter().filter(|byte| **byte == b'\n').count();
        self.at = first.max(self.at);
        self.line
    }
}

/// The first line has the headings, which hold no commas of their own but to part them.
fn separator(text: &str) -> u8 {
    let first = text.lines().find(|line| is_of_list(line)).unwrap_or_default();
    let count = |separator: u8| first.bytes().filter(|byte| *byte == separator).count();
    let all = [b',', b';', b'\t'];
    all.into_iter().rev().max_by_key(|separator| count(*separator)).unwrap_or(b',')
}

fn is_of_list(line: &str) -> bool {
    let line = line.trim();
    !line.is_empty() && !line.starts_with('#')
}

/// Adds a row that holds anything; a line that begins with # is a remark.
fn add(grid: &mut Grid, line: usize, cells: Vec<Cell>) -> Result<(), ListProblem> {
    let is_remark = matches!(cells.first(), Some(Cell::Text(text)) if text.starts_with('#'));
    if is_remark || cells.iter().all(|cell| *cell == Cell::Blank) {
        return Ok(());
    }
    check_place(grid.rows.len(), cells.len())?;
    grid.rows.push(Row { line, cells });
    Ok(())
}

fn check_place(row: usize, columns: usize) -> Result<(), ListProblem> {
    if row > ROWS_MAX || columns > COLUMNS_MAX {
        let right = format!("take at most {ROWS_MAX} rows of {COLUMNS_MAX} columns at once");
        return Err(problem("more than one list holds", right));
    }
    Ok(())
}

thread_local! {
    /// Whether this thread reads a workbook, over which it may stumble.
    static MAY_STUMBLE: std::cell::Cell<bool> = const { std::cell::Cell::new(false) };
}

/// Lets a stumble over a workbook go by without a word: the hand gets one of ours, and not the
/// library's. All others are told as before.
fn stumble_quietly() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let others = take_hook();
        set_hook(Box::new(move |stumble| {
            if !MAY_STUMBLE.get() {
                others(stumble);
            }
        }));
    });
}

/// The library that reads workbooks may stumble over one that was spoilt; nothing else shall.
fn guarded_workbook(bytes: &[u8], sheet: Option<&str>) -> Result<Grid, ListProblem> {
    stumble_quietly();
    MAY_STUMBLE.set(true);
    let read = catch_unwind(AssertUnwindSafe(|| workbook(bytes, sheet)));
    MAY_STUMBLE.set(false);
    read.unwrap_or_else(|_| {
        let right = "save it once more as .xlsx, or as CSV UTF-8";
        Err(problem("this is no whole workbook: a cell in it cannot be made out", right))
    })
}

fn workbook(bytes: &[u8], sheet: Option<&str>) -> Result<Grid, ListProblem> {
    let unread = |why: String| {
        problem(format!("cannot be read as a workbook: {why}"), "save it as .xlsx, or as CSV UTF-8")
    };
    check_unpacked(bytes)?;
    let mut book = Xlsx::new(Cursor::new(bytes)).map_err(|error| unread(error.to_string()))?;
    let name = sheet_name(&book.sheet_names(), sheet)?;
    let mut cells =
        book.worksheet_cells_reader(&name).map_err(|error| unread(error.to_string()))?;
    let mut grid = Grid::default();
    let mut row: (usize, Vec<Cell>) = (0, Vec::new());
    while let Some(cell) = cells.next_cell().map_err(|error| unread(error.to_string()))? {
        let (line, column) = cell.get_position();
        let (line, column) = (line as usize + 1, column as usize);
        // A workbook may say the same place again and again.
        check_place(grid.rows.len(), column.max(row.1.len()) + 1)?;
        if line != row.0 {
            add(&mut grid, row.0, std::mem::take(&mut row.1))?;
            row.0 = line;
        }
        row.1.resize(column.max(row.1.len()), Cell::Blank);
        row.1.insert(column, of_workbook(cell.get_value()));
    }
    add(&mut grid, row.0, row.1)?;
    Ok(grid)
}

fn sheet_name(names: &[String], asked: Option<&str>) -> Result<String, ListProblem> {
    let listed = || names.join(", ");
    match (asked, names) {
        (Some(asked), _) => {
            let found = names.iter().find(|name| name.eq_ignore_ascii_case(asked.trim()));
            found.cloned().ok_or_else(|| {
                problem(format!("there is no sheet {asked:?}"), format!("name one of {}", listed()))
            })
        }
        (None, [only]) => Ok(only.clone()),
        (None, []) => Err(problem("the workbook has no sheet", "save the list in one")),
        (None, _) => {
            Err(problem("the workbook has several sheets", format!("name one of {}", listed())))
        }
    }
}

fn of_workbook(value: &DataRef<'_>) -> Cell {
    match value {
        DataRef::Empty => Cell::Blank,
        DataRef::String(text) => Cell::of_text(text),
        DataRef::SharedString(text) => Cell::of_text(text),
        DataRef::Float(number) => Cell::Number(*number),
        // Workbooks keep no whole number that a float cannot hold.
        DataRef::Int(number) => Cell::Number(*number as f64),
        DataRef::Bool(flag) => Cell::Flag(*flag),
        DataRef::Error(error) => Cell::Other(error.to_string()),
        DataRef::DateTimeIso(date) | DataRef::DurationIso(date) => Cell::Other(date.clone()),
        // A number that the workbook shows as a day; as a number it would say nothing to a person.
        DataRef::DateTime(_) => Cell::Other("a date or a time".to_owned()),
    }
}

/// Unpacks everything once and keeps nothing, since what an archive says of its sizes may be wrong.
fn check_unpacked(bytes: &[u8]) -> Result<(), ListProblem> {
    let unread = |why: String| {
        let right = "save it once more as .xlsx, or as CSV UTF-8";
        problem(format!("this is no whole workbook: {why}"), right)
    };
    let archive = zip::ZipArchive::new(Cursor::new(bytes));
    let mut archive = archive.map_err(|error| unread(error.to_string()))?;
    let mut left = UNPACKED_BYTES_MAX;
    for place in 0..archive.len() {
        let part = archive.by_index(place).map_err(|error| unread(error.to_string()))?;
        let read = copy(&mut part.take(left + 1), &mut sink());
        let read = read.map_err(|error| unread(error.to_string()))?;
        if read > left {
            let right = format!("save the list alone; {} MB unpacked is the most", left >> 20);
            return Err(problem("unpacked, this workbook is far larger than a list is", right));
        }
        left -= read;
    }
    Ok(())
}
