//! Where on the paper there is surely room for words, and where there surely is none.
//!
//! What has been drawn is laid into cells. For most places the cells alone tell whether anything
//! would be covered there; only for the rest the lines themselves have to be asked. Places of one
//! size, a cell's side apart, are all told at once: [`Sieve`].

use kurbo::{Line, Point, Rect};

/// Side of a cell.
pub(super) const CELL_MM: f64 = 1.0;

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

    /// What is told of a box, and of the same box moved right by whole cells, and down by up to so
    /// many.
    pub(super) fn sieve(&self, first: Rect, down: u32) -> Sieve {
        let area = first - self.origin.to_vec2();
        // Between two points of a line lies half of their distance at most.
        let outer = area.inflate(0.5 * APART_MM + ROUNDING_MM, 0.5 * APART_MM + ROUNDING_MM);
        let inner = area.inflate(-ROUNDING_MM, -ROUNDING_MM);
        let cell = |at_mm: f64| (at_mm / CELL_MM).floor() as i64;
        let touched = Window {
            first: (cell(outer.x0), cell(outer.y0)),
            count: (cell(outer.x1) - cell(outer.x0) + 1, cell(outer.y1) - cell(outer.y0) + 1),
        };
        let within = Window {
            first: (cell(inner.x0) + 1, cell(inner.y0) + 1),
            count: (cell(inner.x1) - cell(inner.x0) - 1, cell(inner.y1) - cell(inner.y0) - 1),
        };
        let ends = (self.columns as i64, self.rows.len() as i64);
        let is_told = self.is_known && outer.is_finite() && touched.is_within(ends);
        let taken = |window: Window| {
            let is_any = is_told && window.count.0 > 0 && window.count.1 > 0;
            if is_any { self.taken_together(window, down) } else { Taken::default() }
        };
        Sieve { ends, is_told, any: taken(touched), sure: taken(within), touched, within }
    }

    /// Where a window begins in which any cell is taken, in the rows that it can begin in: what is
    /// joined already is joined with itself moved, twice as far each time.
    fn taken_together(&self, window: Window, down: u32) -> Taken {
        let (rows, width) = (self.rows.len(), self.columns.div_ceil(BITS));
        let within = |row: i64| usize::try_from(row).unwrap_or(0).min(rows);
        let (columns, high) = window.count;
        let first = within(window.first.1);
        let after = within(window.first.1 + i64::from(down) + high);
        let mut bits = self.rows[first..after].concat();
        for moved in doublings(columns as usize) {
            bits.chunks_mut(width).for_each(|row| join_moved(row, moved));
        }
        for moved in doublings(high as usize).map(|moved| moved * width) {
            for at in 0..bits.len().saturating_sub(moved) {
                bits[at] |= bits[at + moved];
            }
        }
        Taken { bits, width, first }
    }
}

/// Some cells next to each other, the first column and row of them and how many there are.
#[derive(Clone, Copy, Debug)]
struct Window {
    first: (i64, i64),
    count: (i64, i64),
}

impl Window {
    /// Whether it could lie within so many columns and rows, if it were moved.
    fn is_within(&self, ends: (i64, i64)) -> bool {
        (1..=ends.0).contains(&self.count.0) && (1..=ends.1).contains(&self.count.1)
    }

    /// Its first column and row, moved right and down.
    fn moved(&self, (right, down): (u32, u32)) -> (i64, i64) {
        (self.first.0 + i64::from(right), self.first.1 + i64::from(down))
    }
}

/// What the cells tell of boxes of one size that stand whole cells apart.
#[derive(Clone, Debug)]
pub(super) struct Sieve {
    ends: (i64, i64),
    is_told: bool,
    /// Where a window begins in which a cell is taken: that a box touches, or that lies within it.
    any: Taken,
    sure: Taken,
    touched: Window,
    within: Window,
}

impl Sieve {
    /// Whether anything comes into the box that stands so many cells right of the first and below.
    pub(super) fn about(&self, moved: (u32, u32)) -> Room {
        let (column, row) = self.touched.moved(moved);
        let last = (column + self.touched.count.0, row + self.touched.count.1);
        let is_inside = column >= 0 && row >= 0 && last.0 <= self.ends.0 && last.1 <= self.ends.1;
        if !(self.is_told && is_inside) {
            return Room::Unsure;
        }
        if !self.any.is_set((column, row)) {
            return Room::Free;
        }
        if self.sure.is_set(self.within.moved(moved)) { Room::Taken } else { Room::Unsure }
    }
}

/// Cells from which on some cell is taken, in rows of some bits each.
#[derive(Clone, Debug, Default)]
struct Taken {
    bits: Vec<u64>,
    /// Words of bits in a row.
    width: usize,
    /// The first row that is held.
    first: usize,
}

impl Taken {
    /// Whether a cell is set; none is off the rows.
    fn is_set(&self, (column, row): (i64, i64)) -> bool {
        let (Ok(column), Ok(row)) = (usize::try_from(column), usize::try_from(row)) else {
            return false;
        };
        let Some(row) = row.checked_sub(self.first).filter(|_| column < self.width * BITS) else {
            return false;
        };
        let bits = self.bits.get(row * self.width + column / BITS);
        bits.is_some_and(|bits| bits >> (column % BITS) & 1 == 1)
    }
}

/// The moves that make one cell so many: 1, 2, 4 and so on, and the rest.
fn doublings(count: usize) -> impl Iterator<Item = usize> {
    let mut have = 1;
    std::iter::from_fn(move || {
        let moved = have.min(count.saturating_sub(have));
        have += moved;
        (moved > 0).then_some(moved)
    })
}

/// Joins a row of bits with itself, moved toward its first.
fn join_moved(row: &mut [u64], moved: usize) {
    let (whole, bits) = (moved / BITS, moved % BITS);
    for at in 0..row.len() {
        let low = row.get(at + whole).copied().unwrap_or(0) >> bits;
        let high = row.get(at + whole + 1).copied().unwrap_or(0);
        row[at] |= low | if bits == 0 { 0 } else { high << (BITS - bits) };
    }
}

#[cfg(test)]
mod tests {
    use kurbo::{ParamCurve, Vec2};

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
        let about =
            |x: f64, y: f64| cells.sieve(Rect::new(x, y, x + 6.0, y + 4.0), 0).about((0, 0));
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
            let is_boxed = area.overlaps(Rect::new(60.0, 20.0, 80.0, 24.0));
            is_boxed || (0..=400).any(|at| area.contains(line.eval(f64::from(at) / 400.0)))
        };
        let mut seen = [0; 3];
        for case in 0..16 {
            let (aside, above) = (0.317 + 0.0617 * f64::from(case), 0.211 * f64::from(case % 5));
            let size = (3.3 + f64::from(case), 2.1 + 0.4 * f64::from(case));
            let first = Rect::from_origin_size((aside - 6.0, above - 6.0), size);
            let sieve = cells.sieve(first, 69);
            for at in 0..110 * 70 {
                let moved = (at % 110, at / 110);
                let area = first + Vec2::new(f64::from(moved.0), f64::from(moved.1));
                let room = sieve.about(moved);
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
        let sieve = cells.sieve(Rect::new(50.0, 50.0, 56.0, 54.0), 0);
        assert_eq!(sieve.about((0, 0)), Room::Unsure);
    }
}
