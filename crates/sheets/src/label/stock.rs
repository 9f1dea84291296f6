//! What tags are printed on: a roll, or sheets with labels in rows and columns.

use kurbo::{Point, Rect};
use shop::record::Named;

use super::LabelError;
use crate::paper::Paper;

/// The least width and height of a label on which a tag can be read.
pub const LABEL_MIN_MM: (f64, f64) = (45.0, 22.0);

/// A roll of labels, or a continuous one that is cut to length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roll {
    /// Width of the roll.
    pub width_mm: f64,
    /// Length of one label along it.
    pub length_mm: f64,
    /// What stays free on all sides.
    pub margin_mm: f64,
}

/// Sheets of labels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LabelSheet {
    /// The paper.
    pub paper: Paper,
    /// Labels side by side.
    pub columns: u32,
    /// Labels one below the other.
    pub rows: u32,
    /// Width of a label.
    pub width_mm: f64,
    /// Height of a label.
    pub height_mm: f64,
    /// From the left edge of the paper to the first label.
    pub left_mm: f64,
    /// From the upper edge of the paper to the first label.
    pub top_mm: f64,
    /// Between labels side by side.
    pub column_gap_mm: f64,
    /// Between labels one below the other.
    pub row_gap_mm: f64,
    /// What stays free on all sides of a label.
    pub margin_mm: f64,
}

/// What tags are printed on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LabelStock {
    /// A roll: each tag is a page of its own.
    Roll(Roll),
    /// Sheets.
    Sheet(LabelSheet),
}

impl LabelStock {
    /// Checks that every figure makes sense and that all labels lie on their paper.
    ///
    /// # Errors
    /// The first fact that is violated, with its value.
    pub fn check(&self) -> Result<(), LabelError> {
        let (wide, high) = self.room();
        for (key, value) in self.lengths() {
            if !(value.is_finite() && (0.0..=1000.0).contains(&value)) {
                return Err(refused(key, value, "write a length from 0 to 1000 mm"));
            }
        }
        let words = format!(
            "inside its margin a label must be at least {} by {} mm, or nothing on it can be read",
            LABEL_MIN_MM.0, LABEL_MIN_MM.1
        );
        if wide < LABEL_MIN_MM.0 - 1e-9 {
            return Err(refused(self.width_key(), wide, &words));
        }
        if high < LABEL_MIN_MM.1 - 1e-9 {
            return Err(refused(self.height_key(), high, &words));
        }
        match self {
            Self::Roll(_) => Ok(()),
            Self::Sheet(sheet) => sheet.check(),
        }
    }

    fn lengths(&self) -> Vec<(&'static str, f64)> {
        match self {
            Self::Roll(roll) => vec![
                ("width", roll.width_mm),
                ("length", roll.length_mm),
                ("margin", roll.margin_mm),
            ],
            Self::Sheet(sheet) => vec![
                ("width", sheet.width_mm),
                ("height", sheet.height_mm),
                ("left", sheet.left_mm),
                ("top", sheet.top_mm),
                ("column_gap", sheet.column_gap_mm),
                ("row_gap", sheet.row_gap_mm),
                ("margin", sheet.margin_mm),
            ],
        }
    }

    const fn width_key(&self) -> &'static str {
        "width"
    }

    const fn height_key(&self) -> &'static str {
        match self {
            Self::Roll(_) => "length",
            Self::Sheet(_) => "height",
        }
    }

    /// What there is of a label inside its margin.
    pub(super) const fn room(&self) -> (f64, f64) {
        match self {
            Self::Roll(Roll { width_mm, length_mm, margin_mm }) => {
                (*width_mm - 2.0 * *margin_mm, *length_mm - 2.0 * *margin_mm)
            }
            Self::Sheet(sheet) => {
                (sheet.width_mm - 2.0 * sheet.margin_mm, sheet.height_mm - 2.0 * sheet.margin_mm)
            }
        }
    }

    /// Width and height of a page.
    pub(super) const fn page_mm(&self) -> (f64, f64) {
        match self {
            Self::Roll(roll) => (roll.width_mm, roll.length_mm),
            Self::Sheet(sheet) => sheet.paper.size_mm(),
        }
    }

    /// How many labels a page has.
    pub const fn per_page(&self) -> u32 {
        match self {
            Self::Roll(_) => 1,
            Self::Sheet(sheet) => sheet.columns * sheet.rows,
        }
    }

    /// Where the inside of a label begins, the labels of a page counted row by row from nothing.
    pub(super) fn place(&self, at: u32) -> Point {
        match self {
            Self::Roll(roll) => Point::new(roll.margin_mm, roll.margin_mm),
            Self::Sheet(sheet) => {
                let (column, row) = (at % sheet.columns.max(1), at / sheet.columns.max(1));
                let label = sheet.label(column, row);
                Point::new(label.x0 + sheet.margin_mm, label.y0 + sheet.margin_mm)
            }
        }
    }
}

impl LabelSheet {
    fn label(&self, column: u32, row: u32) -> Rect {
        let x = self.left_mm + f64::from(column) * (self.width_mm + self.column_gap_mm);
        let y = self.top_mm + f64::from(row) * (self.height_mm + self.row_gap_mm);
        Rect::new(x, y, x + self.width_mm, y + self.height_mm)
    }

    fn check(&self) -> Result<(), LabelError> {
        for (key, count) in [("columns", self.columns), ("rows", self.rows)] {
            if !(1..=100).contains(&count) {
                return Err(refused(key, f64::from(count), "write a whole number from 1 to 100"));
            }
        }
        let last = self.label(self.columns - 1, self.rows - 1);
        let (wide, high) = self.paper.size_mm();
        let name = self.paper.name();
        if last.x1 > wide + 0.05 {
            let why = format!(
                "the last column ends {:.1} mm from the left of {name}, which is {wide} mm wide",
                last.x1
            );
            return Err(refused("columns", f64::from(self.columns), &why));
        }
        if last.y1 > high + 0.05 {
            let why = format!(
                "the last row ends {:.1} mm from the top of {name}, which is {high} mm high",
                last.y1
            );
            return Err(refused("rows", f64::from(self.rows), &why));
        }
        Ok(())
    }
}

fn refused(key: &'static str, value: f64, why: &str) -> LabelError {
    LabelError::Stock { key, value: format!("{value}"), why: why.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet() -> LabelSheet {
        LabelSheet {
            paper: Paper::A4,
            columns: 3,
            rows: 7,
            width_mm: 63.5,
            height_mm: 38.1,
            left_mm: 7.2,
            top_mm: 15.1,
            column_gap_mm: 2.5,
            row_gap_mm: 0.0,
            margin_mm: 2.0,
        }
    }

    #[test]
    fn labels_stand_row_by_row() {
        let stock = LabelStock::Sheet(sheet());
        assert!(stock.check().is_ok());
        assert_eq!(stock.per_page(), 21);
        let near = |at: u32, x: f64, y: f64| stock.place(at).distance(Point::new(x, y)) < 1e-9;
        assert!(near(0, 9.2, 17.1) && near(2, 7.2 + 2.0 * 66.0 + 2.0, 17.1));
        assert!(near(3, 9.2, 17.1 + 38.1));
    }

    #[test]
    fn what_does_not_fit_its_paper_is_refused_by_key_and_value() {
        let said = |sheet: LabelSheet| {
            LabelStock::Sheet(sheet).check().map_err(|error| error.to_string()).unwrap_err()
        };
        assert!(said(LabelSheet { columns: 4, ..sheet() }).starts_with("columns = 4: the last"));
        assert!(said(LabelSheet { rows: 8, ..sheet() }).starts_with("rows = 8: the last row"));
        assert!(said(LabelSheet { columns: 0, ..sheet() }).starts_with("columns = 0: write"));
        assert!(said(LabelSheet { height_mm: 20.0, ..sheet() }).starts_with("height = 16: inside"));
        assert!(said(LabelSheet { left_mm: f64::NAN, ..sheet() }).starts_with("left = NaN: write"));
        let roll = Roll { width_mm: 40.0, length_mm: 30.0, margin_mm: 1.0 };
        let error = LabelStock::Roll(roll).check().unwrap_err().to_string();
        assert!(error.starts_with("width = 38: inside its margin"), "{error}");
    }
}
