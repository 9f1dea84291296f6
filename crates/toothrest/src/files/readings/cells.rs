//! One reading of one CSV file: its cells turned into values, what is wrong with them, and the
//! draft that they make.

use std::collections::BTreeMap;

use geometry::{Length, QuantityError};
use shop::record::{Cutter, Named, Readings, ReadingsDraft, WearSign};

use super::looked::{empty, is_unread};
use super::origins::Origins;
use crate::files::ledger::Ledger;
use crate::files::problem::FileProblems;
use crate::files::source::{Source, shorten};
use crate::files::value::{Wrong, choices, wrong};

/// What is left of a value that was refused: the problem is noted, the value is gone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Refused;

/// The heading that a length stands under.
#[derive(Clone, Copy, Debug)]
pub(super) struct Under<'a> {
    pub(super) heading: &'a str,
    /// The unit of the whole column.
    pub(super) unit: Option<&'a str>,
}

/// How a tooth is named.
pub(super) const TOOTH: &str = "write the tooth's number, counted from the marked tooth";

/// Where a cell stands, and what is written in it.
struct Written {
    line: usize,
    text: Option<String>,
}

/// A CSV file being read. The path of a cell is its column's name with the line in brackets, so
/// that doubt about a column covers all of its cells.
pub(super) struct Cells<'t> {
    ledger: Ledger<'t>,
    written: BTreeMap<String, Written>,
    separator: char,
    pub(super) draft: ReadingsDraft,
    pub(super) origins: Origins,
}

impl<'t> Cells<'t> {
    pub(super) fn new(file: &'t str) -> Self {
        Self {
            ledger: Ledger::new(Source::new(file, "")),
            written: BTreeMap::new(),
            separator: ',',
            draft: ReadingsDraft::default(),
            origins: Origins::default(),
        }
    }

    pub(super) fn set_separator(&mut self, separator: char) {
        self.separator = separator;
    }

    pub(super) const fn separator(&self) -> char {
        self.separator
    }

    /// Remembers what is written in a column on a line, and gives the path of that.
    pub(super) fn place(&mut self, column: &str, line: usize, text: &str) -> String {
        let column = on_one_line(column).replace('[', "(").replace(']', ")");
        let path = cell_path(&column, line);
        let text = Some(shorten(&on_one_line(text))).filter(|text| !text.is_empty());
        self.written.insert(path.clone(), Written { line, text });
        path
    }

    /// Notes a problem that no cell has.
    pub(super) fn note(&mut self, line: Option<usize>, key: &str, wrong: Wrong) {
        self.ledger.note(line, key, None, wrong);
    }

    /// Notes a problem with what stands at a path, which is in doubt from now on; of what is in
    /// doubt already nothing more is said.
    pub(super) fn refuse(&mut self, path: &str, wrong: Wrong) -> Refused {
        if self.ledger.is_doubted(path) {
            return Refused;
        }
        let written = self.written.get(path);
        let line = written.map_or(1, |written| written.line);
        let text = written.and_then(|written| written.text.clone());
        self.ledger.doubt(path);
        self.ledger.note(Some(line), path, text, wrong);
        Refused
    }

    /// Notes that a column is not what the file means, so that its cells go without a word.
    pub(super) fn doubt(&mut self, column: &str) {
        self.ledger.doubt(column);
    }

    /// Takes a value, or notes why there is none.
    pub(super) fn take<T>(&mut self, path: &str, read: Result<T, Wrong>) -> Result<T, Refused> {
        read.map_err(|wrong| self.refuse(path, wrong))
    }

    /// A length with its own unit, or else with that of the heading it stands under.
    pub(super) fn length(
        &mut self,
        path: &str,
        text: &str,
        under: Option<Under<'_>>,
    ) -> Result<Length, Refused> {
        let read = read_length(&self.with_point(text), under);
        self.take(path, read)
    }

    /// A length, or none where nobody looked.
    pub(super) fn looked(
        &mut self,
        path: &str,
        text: &str,
        under: Under<'_>,
    ) -> Result<Option<Length>, Refused> {
        match text {
            "" => Err(self.refuse(path, empty())),
            unread if is_unread(unread) => Ok(None),
            read => self.length(path, read, Some(under)).map(Some),
        }
    }

    /// A tooth's number.
    pub(super) fn tooth(&mut self, path: &str, text: &str) -> Result<u32, Refused> {
        let read = text.parse::<u32>().map_err(|_| wrong("not a whole number", TOOTH));
        self.take(path, read)
    }

    /// One of a closed choice.
    pub(super) fn choose<T: Named>(
        &mut self,
        path: &str,
        text: &str,
        noun: &str,
    ) -> Result<T, Refused> {
        let name = super::column::spaced(text);
        let read = T::from_name(&name)
            .ok_or_else(|| wrong(format!("not {noun}"), choices::<T>(Some(&name))));
        self.take(path, read)
    }

    /// The cutter the readings belong to, which is named once.
    pub(super) fn name_cutter(&mut self, path: &str, text: &str) {
        let (again, text) = (self.draft.cutter.is_some(), text.to_owned());
        if self.note_once(again, "cutter", path).is_ok() {
            self.draft.cutter = Some(text);
        }
    }

    /// The order in which the teeth were ground last, which is written once.
    pub(super) fn order_teeth(&mut self, path: &str, text: &str) {
        let again = !self.draft.ground_order.is_empty();
        if let Ok(order) = self.take(path, read_order(text))
            && self.note_once(again, "ground_order", path).is_ok()
        {
            self.draft.ground_order = order;
        }
    }

    /// A sign of wear, which is written once.
    pub(super) fn see_sign(&mut self, path: &str, sign: WearSign) {
        let again = self.draft.signs.contains(&sign);
        if self.note_once(again, "signs", path).is_ok() {
            self.draft.signs.push(sign);
        }
    }

    fn note_once(&mut self, again: bool, field: &str, path: &str) -> Result<(), Refused> {
        if again {
            return Err(self.refuse(path, wrong("stands a second time", "write it once")));
        }
        self.origins.note(field, path);
        Ok(())
    }

    /// In a file of semicolons a comma between digits is a point.
    fn with_point(&self, text: &str) -> String {
        let is_decimal = |(before, after): (&str, &str)| {
            let digit = |letter: char| letter.is_ascii_digit();
            before.ends_with(digit) && after.starts_with(digit) && !after.contains(',')
        };
        let decimal = text.split_once(',').filter(|&halves| is_decimal(halves));
        match decimal.filter(|_| self.separator == ';' && !text.contains('.')) {
            Some((before, after)) => format!("{before}.{after}"),
            None => text.to_owned(),
        }
    }

    /// The sound readings, or none where the draft's check finds something violated.
    pub(super) fn settle(&mut self, cutter: &Cutter) -> Option<Readings> {
        let errors = match std::mem::take(&mut self.draft).build(cutter) {
            Ok(readings) => return Some(readings),
            Err(errors) => errors,
        };
        for error in errors {
            let path = self.origins.path(&error.field);
            self.refuse(&path, wrong(error.fact, error.right));
        }
        None
    }

    /// The readings, if nothing at all is wrong with the file.
    pub(super) fn finish(mut self, readings: Option<Readings>) -> Result<Readings, FileProblems> {
        match readings {
            Some(readings) if !self.ledger.has_problems() => Ok(readings),
            _ => Err(FileProblems::in_order_of_lines(self.ledger.take_problems())),
        }
    }
}

/// The path of a cell.
pub(super) fn cell_path(column: &str, line: usize) -> String {
    format!("{column}[{line}]")
}

/// A text as a message can repeat it.
fn on_one_line(text: &str) -> String {
    text.replace(char::is_control, " ")
}

fn read_length(text: &str, under: Option<Under<'_>>) -> Result<Length, Wrong> {
    let as_wrong = |error: QuantityError| wrong(error.wrong(), error.right());
    let bare = match text.parse::<Length>() {
        Ok(length) => return Ok(length),
        Err(error) if error.wrong() == HAS_NO_UNIT => as_wrong(error),
        Err(error) => return Err(as_wrong(error)),
    };
    match under {
        Some(Under { unit: Some(unit), .. }) => format!("{text} {unit}").parse().map_err(as_wrong),
        Some(Under { heading, unit: None }) => {
            let right =
                format!("{}, or the unit into the heading, as in {heading} (mm)", bare.right);
            Err(Wrong { right, ..bare })
        }
        None => Err(bare),
    }
}

/// What is said of a length that lacks nothing but its unit.
const HAS_NO_UNIT: &str = "has no unit";

fn read_order(text: &str) -> Result<Vec<u32>, Wrong> {
    let parts = text.split(|letter: char| letter.is_whitespace() || ",;-".contains(letter));
    let numbers = parts.filter(|part| !part.is_empty()).map(str::parse);
    let order: Vec<u32> = numbers.collect::<Result<_, _>>().unwrap_or_default();
    if order.is_empty() {
        let right = "write the numbers of the teeth with spaces between them, as in 3 1 2 4";
        return Err(wrong("not an order of teeth", right));
    }
    Ok(order)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(separator: char, text: &str, unit: Option<&str>) -> Result<f64, String> {
        let mut cells = Cells::new("a.csv");
        cells.set_separator(separator);
        let path = cells.place("reading", 2, text);
        match cells.length(&path, text, Some(Under { heading: "reading", unit })) {
            Ok(length) => Ok((length.mm() * 1e6).round() / 1e6),
            Err(Refused) => Err(cells.finish(None).unwrap_err().to_string()),
        }
    }

    #[test]
    fn a_cell_takes_its_columns_unit_where_it_has_none() {
        assert_eq!(read(',', "0.5 in", Some("mm")), Ok(12.7));
        assert_eq!(read(',', "0.5", Some("in")), Ok(12.7));
        assert_eq!(read(',', "1-3/8", Some("in")), Ok(34.925));
        assert_eq!(read(',', "-0.002", Some("mm")), Ok(-0.002));
        let said = "a.csv:2: reading = 0.5: has no unit; write 0.5 mm or 0.5 in, or the unit into \
                    the heading, as in reading (mm)";
        assert_eq!(read(',', "0.5", None), Err(said.to_owned()));
    }

    #[test]
    fn a_comma_is_a_point_between_semicolons_only() {
        assert_eq!(read(';', "0,51 mm", None), Ok(0.51));
        assert_eq!(read(';', "0,51", Some("mm")), Ok(0.51));
        for (separator, text) in
            [(',', "0,51 mm"), (';', "1.234,5 mm"), (';', "1,2,3 mm"), (';', "3, mm")]
        {
            let said = read(separator, text, None).unwrap_err();
            assert!(said.contains("has a comma"), "{said}");
        }
    }

    #[test]
    fn an_order_is_read_however_its_numbers_are_parted() {
        for text in ["3 1 2 4", "3, 1, 2, 4", "3-1-2-4", "3;1;2;4"] {
            assert_eq!(read_order(text).ok(), Some(vec![3, 1, 2, 4]), "{text}");
        }
        for text in ["", "-", "3 one 2 4", "3 1 2.5 4"] {
            assert_eq!(read_order(text).err().unwrap().message, "not an order of teeth", "{text}");
        }
    }
}
