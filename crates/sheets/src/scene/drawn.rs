//! What has been drawn already.

use kurbo::Rect;

use super::room::{Cells, Sieve};
use super::strokes::{ROOM_TO_LINES_MM, Strokes, WORDS_ROOM_MM};
use super::{Mark, Paint, Weight};

/// What has been drawn already.
#[derive(Clone, Debug)]
pub(super) struct Drawn {
    strokes: Strokes,
    cells: Cells,
    marks: usize,
}

impl Drawn {
    /// An empty sheet.
    pub(super) fn on(paper: Rect) -> Self {
        Self { strokes: Strokes::default(), cells: Cells::of(paper), marks: 0 }
    }

    /// Takes in the marks of a sheet that came since the last time.
    pub(super) fn take_in<'a>(&mut self, marks: impl Iterator<Item = &'a Mark>) {
        for mark in marks.skip(self.marks) {
            self.marks += 1;
            let (path, weight) = match mark {
                Mark::Stroke { path, weight } => (path, *weight),
                Mark::Fill { path, paint: Paint::Black } => (path, Weight::Thin),
                Mark::Fill { .. } => continue,
                Mark::Text(words) => {
                    self.add_words(words.bounds());
                    continue;
                }
            };
            let lines = self.strokes.add(path, weight);
            lines.iter().for_each(|line| self.cells.add_line(line));
        }
    }

    fn add_words(&mut self, bounds: Rect) {
        let (aside, above) =
            (WORDS_ROOM_MM.0 - ROOM_TO_LINES_MM, WORDS_ROOM_MM.1 - ROOM_TO_LINES_MM);
        self.cells.add_box(bounds.inflate(aside, above));
        self.strokes.add_words(bounds);
    }

    /// All strokes and words.
    pub(super) const fn strokes(&self) -> &Strokes {
        &self.strokes
    }

    /// What the cells tell of a box, and of the same box moved right by whole cells, and down by up
    /// to so many.
    pub(super) fn sieve(&self, first: Rect, down: u32) -> Sieve {
        self.cells.sieve(first.inflate(ROOM_TO_LINES_MM, ROOM_TO_LINES_MM), down)
    }
}
