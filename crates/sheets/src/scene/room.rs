//! Where on the paper there is surely room for words, and where there surely is none.
//!
//! What has been drawn is laid into cells. For most places the cells alone tell whether anything
//! would be covered there; only for the rest the lines themselves have to be asked.

use std::ops::Range;

use kurbo::{Line, Point, Rect};

/// Side of a cell.
const CELL_MM: f64 = 1.0;

/// From point to point of a line that is laid into cells.
const APART_MM: f64 = 0.5;

/// How far off the paper is looked at.
const MARGIN_MM: f64 = 4.0;

/// A line longer than this is no line of a drawing, and nothing is said any more.
const LINE_MM_MAX: f64 = 1e4;

/// No sheet has more cells in a row or a column.
const CELLS_MAX: f64 = 4096.0;

/// Cells that are held together.
const BITS: usize = u64::BITS as usize;

/// What rounding may move a point by.
const ROUNDING_MM: f64 = 1e-6;

/// Whether anything that has been drawn comes into a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Room {
    /// Surely nothing does.
    Free,
    /// Surely something does.
    Taken,
    /// The cells cannot tell.
    Unsure,
}

/// The cells of a sheet in which something has been drawn.
#[derive(Clone, Debug)]
pub(super) struct Cells {
    origin: Point,
    columns: usize,
    /// One bit for each cell of a row, the row's first cell lowest.
    rows: Vec<Vec<u64>>,
    is_known: bool,
}

impl Cells {
    /// No cell is taken.
    pub(super) fn of(paper: Rect) -> Self {
        let sheet = paper.inflate(MARGIN_MM, MARGIN_MM);
        let count = |length_mm: f64| (length_mm / CELL_MM).clamp(0.0, CELLS_MAX) as usize + 1;
        let (columns, rows) = (count(sheet.width()), count(sheet.height()));
        let rows = vec![vec![0; columns.div_ceil(BITS)]; rows];
        Self { origin: sheet.origin(), columns, rows, is_known: true }
    }

    /// Lays a line into the cells.
    pub(super) fn add_line(&mut self, line: &Line) {
        let length_mm = (line.p1 - line.p0).hypot();
        if length_mm > LINE_MM_MAX || length_mm.is_nan() {
            self.is_known = false;
            return;
        }
        let steps = (length_mm / APART_MM).ceil().max(1.0);
        for step in 0..=steps as u32 {
            let at = line.p0.lerp(line.p1, f64::from(step) / steps) - self.origin;
            if at.x >= 0.0 && at.y >= 0.0 {
                self.take((at.x / CELL_MM) as usize, (at.y / CELL_MM) as usize);
            }
        }
    }

    /// Lays a box into the cells.
    pub(super) fn add_box(&mut self, area: Rect) {
        if !area.is_finite() || area.x0 > area.x1 || area.y0 > area.y1 {
            self.is_known = false;
            return;
        }
        let area = area - self.origin.to_vec2();
        let within = |from_mm: f64, to_mm: f64| {
            let cell = |at_mm: f64| (at_mm / CELL_MM).clamp(0.0, CELLS_MAX) as usize;
            // What ends before the first cell takes none.
            cell(from_mm)..cell(to_mm) + usize::from(to_mm >= 0.0)
        };
        for row in within(area.y0, area.y1) {
            within(area.x0, area.x1).for_each(|column| self.take(column, row));
        }
    }

    /// What lies off the cells is not asked for either.
    fn take(&mut self, column: usize, row: usize) {
        if column < self.columns
            && let Some(row) = self.rows.get_mut(row)
        {
            row[column / BITS] |= 1 << (column % BITS);
        }
    }

    /// Whether anything that was laid into the cells comes into a box.
    pub(super) fn about(&self, area: Rect) -> Room {
        let area = area - self.origin.to_vec2();
        // Between two points of a line lies half of their distance at most.
        let outer = area.inflate(0.5 * APART_MM + ROUNDING_MM, 0.5 * APART_MM + ROUNDING_MM);
        let is_inside = outer.x0 >= 0.0
            && outer.y0 >= 0.0
            && outer.x1 < self.columns as f64 * CELL_MM
            && outer.y1 < self.rows.len() as f64 * CELL_MM;
        if !(self.is_known && is_inside) {
            return Room::Unsure;
        }
        let cell = |at_mm: f64| (at_mm / CELL_MM) as usize;
        let touched = (cell(outer.x0)..cell(outer.x1) + 1, cell(outer.y0)..cell(outer.y1) + 1);
        if !self.is_any_taken(touched) {
            return Room::Free;
        }
        let inner = area.inflate(-ROUNDING_MM, -ROUNDING_MM);
        let within = (cell(inner.x0) + 1..cell(inner.x1), cell(inner.y0) + 1..cell(inner.y1));
        if self.is_any_taken(within) { Room::Taken } else { Room::Unsure }
    }

    fn is_any_taken(&self, (columns, rows): (Range<usize>, Range<usize>)) -> bool {
        if columns.is_empty() || rows.is_empty() {
            return false;
        }
        let (first, last) = (columns.start / BITS, (columns.end - 1) / BITS);
        let from = u64::MAX << (columns.start % BITS);
        let to = u64::MAX >> (BITS - 1 - (columns.end - 1) % BITS);
        self.rows[rows].iter().any(|row| {
            let all = if first == last {
                row[first] & from & to
            } else {
                let between = row[first + 1..last].iter().fold(0, |all, bits| all | bits);
                (row[first] & from) | between | (row[last] & to)
            };
            all != 0
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells() -> Cells {
        let mut cells = Cells::of(Rect::new(0.0, 0.0, 100.0, 60.0));
        cells.add_line(&Line::new((10.0, 10.0), (40.0, 30.0)));
        cells.add_box(Rect::new(60.0, 20.0, 80.0, 24.0));
        cells
    }

    #[test]
    fn boxes_are_told_apart() {
        let cells = cells();
        let about = |x: f64, y: f64| cells.about(Rect::new(x, y, x + 6.0, y + 4.0));
        assert_eq!([about(2.0, 2.0), about(80.0, 40.0)], [Room::Free; 2]);
        assert_eq!([about(22.0, 18.0), about(70.0, 21.0)], [Room::Taken; 2]);
        // It ends just before the first point of the line.
        assert_eq!(about(3.9, 8.0), Room::Unsure);
        assert_eq!(about(-9.0, 2.0), Room::Unsure);
    }

    /// Slid over the sheet in odd steps, a box is never called free where a line comes into it, and
    /// never taken where none does.
    #[test]
    fn what_is_sure_is_true() {
        let cells = cells();
        let line = Line::new((10.0, 10.0), (40.0, 30.0));
        let comes_in = |area: Rect| {
            (0..=3000).any(|step| area.contains(line.p0.lerp(line.p1, f64::from(step) / 3000.0)))
        };
        let mut seen = [0; 3];
        for row in 0..70 {
            for column in 0..70 {
                let (x, y) = (0.317 + 0.731 * f64::from(column), 0.211 + 0.613 * f64::from(row));
                let area = Rect::new(x, y, x + 3.3, y + 2.1);
                let room = cells.about(area);
                seen[room as usize] += 1;
                match room {
                    Room::Free => assert!(!comes_in(area), "{area:?}"),
                    Room::Taken => assert!(comes_in(area.inflate(0.01, 0.01)), "{area:?}"),
                    Room::Unsure => {}
                }
            }
        }
        assert!(seen.iter().all(|count| *count > 100), "{seen:?}");
    }

    #[test]
    fn what_is_no_number_makes_everything_unsure() {
        let mut cells = Cells::of(Rect::new(0.0, 0.0, 100.0, 60.0));
        cells.add_line(&Line::new((10.0, f64::NAN), (40.0, 30.0)));
        assert_eq!(cells.about(Rect::new(50.0, 50.0, 56.0, 54.0)), Room::Unsure);
    }
}
