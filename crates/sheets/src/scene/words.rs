//! Words on a drawing.

use kurbo::{Point, Rect};

/// Which end of a line of words stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Anchor {
    /// Its left end.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// One line of words, level, in a plain sans-serif face.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// Where it stands, on its baseline.
    pub at: Point,
    /// Which end stands there.
    pub anchor: Anchor,
    /// Size of the type.
    pub size_mm: f64,
    /// What it says.
    pub text: String,
}

/// How far letters reach above and below the baseline, as a share of the size.
const ABOVE: f64 = 0.76;
const BELOW: f64 = 0.24;

/// Advances of groups of letters, as a share of the size; they are those of a wide face (DejaVu
/// Sans, which the PDF carries), so that no ordinary face needs more room.
const ADVANCES: [(&str, f64); 9] = [
    ("ijl'", 0.28),
    (" .,:;ftI!/", 0.40),
    ("r()[]-·", 0.42),
    ("cszvxykJ°", 0.60),
    ("abdeghnopqu0123456789?L", 0.64),
    ("ABCEFKPRSTVXYZ", 0.70),
    ("DGHNOQUw+=<>", 0.84),
    ("⌀", 0.84),
    ("mMW@%", 1.00),
];

/// An advance for any other letter.
const ADVANCE_OF_OTHERS: f64 = 0.85;

fn advance(letter: char) -> f64 {
    let group = ADVANCES.iter().find(|(letters, _)| letters.contains(letter));
    group.map_or(ADVANCE_OF_OTHERS, |(_, advance)| *advance)
}

/// Width of a text at a size; a little too large rather than too small.
pub fn width_mm(text: &str, size_mm: f64) -> f64 {
    text.chars().map(advance).sum::<f64>() * size_mm
}

impl Words {
    /// Words that start at a place.
    pub fn starting(at: impl Into<Point>, size_mm: f64, text: impl Into<String>) -> Self {
        Self { at: at.into(), anchor: Anchor::Start, size_mm, text: text.into() }
    }

    /// Words about a place.
    pub fn about(at: impl Into<Point>, size_mm: f64, text: impl Into<String>) -> Self {
        Self { anchor: Anchor::Middle, ..Self::starting(at, size_mm, text) }
    }

    /// Words that end at a place.
    pub fn ending(at: impl Into<Point>, size_mm: f64, text: impl Into<String>) -> Self {
        Self { anchor: Anchor::End, ..Self::starting(at, size_mm, text) }
    }

    /// The paper that they need at most.
    pub fn bounds(&self) -> Rect {
        let width = width_mm(&self.text, self.size_mm);
        let left = match self.anchor {
            Anchor::Start => self.at.x,
            Anchor::Middle => self.at.x - width / 2.0,
            Anchor::End => self.at.x - width,
        };
        let (above, below) = (ABOVE * self.size_mm, BELOW * self.size_mm);
        Rect::new(left, self.at.y - above, left + width, self.at.y + below)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn anchors_move_the_same_box() {
        let start = Words::starting((50.0, 20.0), 4.0, "land 0.020 in");
        let width = start.bounds().width();
        assert!((width - width_mm("land 0.020 in", 4.0)).abs() < 1e-12 && width > 20.0);
        let end = Words::ending((50.0, 20.0), 4.0, "land 0.020 in");
        assert!((start.bounds().x0 - end.bounds().x1).abs() < 1e-12);
        let middle = Words::about((50.0, 20.0), 4.0, "land 0.020 in");
        assert!((middle.bounds().center().x - 50.0).abs() < 1e-12);
        assert!(middle.bounds().y0 < 20.0 && middle.bounds().y1 > 20.0);
    }

    #[test]
    fn no_letter_has_two_advances() {
        let letters: Vec<char> = ADVANCES.iter().flat_map(|(letters, _)| letters.chars()).collect();
        let mut single = letters.clone();
        single.sort_unstable();
        single.dedup();
        assert_eq!(single.len(), letters.len());
    }
}
