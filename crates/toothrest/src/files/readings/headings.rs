//! The line of headings of a CSV file: which columns it names, in which units, and which of the
//! two shapes follows.

use geometry::Length;
use shop::record::Named;

use super::cells::Cells;
use super::column::Column;
use crate::files::value::{Wrong, nearest, wrong};

/// What to write where a heading gives no unit of length.
pub(super) const NO_UNIT: &str = "write mm, um, in or thou between the brackets";

/// One heading.
pub(super) struct Heading {
    /// As written, but for its unit; of a known column, the name of that.
    pub(super) name: String,
    /// The column it names, if any.
    pub(super) column: Option<Column>,
    /// The unit behind it, in brackets.
    pub(super) unit: Option<String>,
}

impl Heading {
    pub(super) fn of(cell: &str) -> Self {
        let (name, unit) = split_unit(cell);
        match Column::from_name(name) {
            Some(column) => {
                let unit = unit.map(str::to_owned);
                Self { name: column.name().to_owned(), column: Some(column), unit }
            }
            None => Self { name: cell.to_owned(), column: None, unit: None },
        }
    }

    /// Whether nothing at all is written.
    pub(super) fn is_blank(&self) -> bool {
        self.name.is_empty()
    }
}

fn split_unit(cell: &str) -> (&str, Option<&str>) {
    let bracketed = |open: char, close: char| {
        let (name, unit) = cell.strip_suffix(close)?.rsplit_once(open)?;
        Some((name.trim(), Some(unit.trim())))
    };
    bracketed('(', ')').or_else(|| bracketed('[', ']')).unwrap_or((cell, None))
}

/// Whether lengths can be written in this unit.
pub(super) fn is_unit(unit: &str) -> bool {
    let plain = !unit.contains(|letter: char| letter.is_numeric());
    plain && format!("1 {unit}").parse::<Length>().is_ok()
}

/// The two shapes of a CSV file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shape {
    /// One reading a row.
    Rows,
    /// Lands, with a row for each tooth and a column for each place.
    Grid,
    /// Neither: no heading is known.
    Neither,
}

impl Shape {
    /// A grid begins with the tooth and has no other column by name.
    pub(super) fn of(headings: &[Heading]) -> Self {
        let columns: Vec<_> = headings.iter().map(|heading| heading.column).collect();
        match columns.as_slice() {
            [Some(Column::Tooth), others @ ..] if others.iter().all(Option::is_none) => Self::Grid,
            all if all.iter().all(Option::is_none) => Self::Neither,
            _ => Self::Rows,
        }
    }
}

/// Notes what is wrong with the headings of rows, and says whether the rows can be read at all.
pub(super) fn check(header: usize, headings: &[Heading], cells: &mut Cells<'_>) -> bool {
    let count = |column| headings.iter().filter(|other| other.column == Some(column)).count();
    for heading in headings.iter().filter(|heading| !heading.is_blank()) {
        let path = cells.place(&heading.name, header, heading.unit.as_deref().unwrap_or(""));
        let Some(column) = heading.column else {
            cells.refuse(&path, unknown(&heading.name));
            continue;
        };
        if count(column) > 1 {
            cells.refuse(&path, wrong("this column stands twice", "keep one of them"));
            cells.doubt(&heading.name);
        } else if let Some(wrong) = wrong_unit(heading) {
            cells.refuse(&path, wrong);
            cells.doubt(&heading.name);
        }
    }
    for column in [Column::Kind, Column::Reading] {
        if count(column) == 0 {
            let path = cells.place(column.name(), header, "");
            let right = "write the headings kind and reading, as in kind,tooth,from_end,reading";
            cells.refuse(&path, wrong("there is no such column", right));
        }
    }
    count(Column::Kind) == 1 && count(Column::Reading) == 1
}

fn unknown(name: &str) -> Wrong {
    let known: Vec<_> = Column::ALL.iter().map(|column| column.name()).collect();
    let right = match nearest(name, &known) {
        Some(near) => format!("the nearest known is \"{near}\""),
        None => format!("known here: {}", known.join(", ")),
    };
    wrong("no such column", right)
}

fn wrong_unit(heading: &Heading) -> Option<Wrong> {
    let unit = heading.unit.as_deref()?;
    if !heading.column.is_some_and(Column::holds_lengths) {
        return Some(wrong("no lengths stand in this column", "leave its unit out"));
    }
    (!is_unit(unit)).then(|| wrong("not a unit of length", NO_UNIT))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn heading(cell: &str) -> (Option<Column>, Option<String>, String) {
        let heading = Heading::of(cell);
        (heading.column, heading.unit, heading.name)
    }

    #[test]
    fn headings_are_read_in_whatever_way_they_are_joined() {
        let from_end = |unit: Option<&str>| {
            (Some(Column::FromEnd), unit.map(str::to_owned), "from_end".to_owned())
        };
        for (cell, unit) in [
            ("from_end", None),
            ("From End", None),
            ("FROM-END (mm)", Some("mm")),
            ("from  end[in]", Some("in")),
            ("from_end ()", Some("")),
        ] {
            assert_eq!(heading(cell), from_end(unit), "{cell}");
        }
        assert_eq!(heading("3 mm"), (None, None, "3 mm".to_owned()));
        assert_eq!(heading("0.5 in (12.7 mm)"), (None, None, "0.5 in (12.7 mm)".to_owned()));
    }

    #[test]
    fn a_unit_is_a_unit_of_length_and_nothing_else() {
        for (unit, sound) in [
            ("mm", true),
            ("in", true),
            ("\"", true),
            ("", false),
            ("cm", false),
            ("1/2 in", false),
        ] {
            assert_eq!(is_unit(unit), sound, "{unit:?}");
        }
    }

    #[test]
    fn the_headings_tell_the_shape() {
        for (headings, shape) in [
            (&["tooth (mm)", "3 mm"][..], Shape::Grid),
            (&["Tooth", "3", ""], Shape::Grid),
            (&["tooth", "kind", "reading"], Shape::Rows),
            (&["tooth", "3 mm", "how"], Shape::Rows),
            (&["station", "tooth"], Shape::Rows),
            (&["1", "0.51 mm"], Shape::Neither),
        ] {
            let read: Vec<_> = headings.iter().map(|cell| Heading::of(cell)).collect();
            assert_eq!(Shape::of(&read), shape, "{headings:?}");
        }
    }
}
