//! Words on a drawing.

use kurbo::{Point, Rect};

use super::Face;

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

/// One line of words, level, in a sans-serif face.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// Where it stands, on its baseline.
    pub at: Point,
    /// Which end stands there.
    pub anchor: Anchor,
    /// Size of the type.
    pub size_mm: f64,
    /// Which face it is set in.
    pub face: Face,
    /// What it says.
    pub text: String,
}

/// How far letters reach above and below the baseline, as a share of the size.
const ABOVE: f64 = 0.76;
const BELOW: f64 = 0.24;

/// Width of a text in the plain face at a size.
pub fn width_mm(text: &str, size_mm: f64) -> f64 {
    Face::Plain.width_mm(text, size_mm)
}

impl Words {
    /// Words that start at a place.
    pub fn starting(at: impl Into<Point>, size_mm: f64, text: impl Into<String>) -> Self {
        let (anchor, face) = (Anchor::Start, Face::Plain);
        Self { at: at.into(), anchor, size_mm, face, text: text.into() }
    }

    /// Words about a place.
    pub fn about(at: impl Into<Point>, size_mm: f64, text: impl Into<String>) -> Self {
        Self { anchor: Anchor::Middle, ..Self::starting(at, size_mm, text) }
    }

    /// Words that end at a place.
    pub fn ending(at: impl Into<Point>, size_mm: f64, text: impl Into<String>) -> Self {
        Self { anchor: Anchor::End, ..Self::starting(at, size_mm, text) }
    }

    /// The same in bold.
    pub fn bold(self) -> Self {
        Self { face: Face::Bold, ..self }
    }

    /// How wide they are.
    pub fn width_mm(&self) -> f64 {
        self.face.width_mm(&self.text, self.size_mm)
    }

    /// The paper that they need.
    pub fn bounds(&self) -> Rect {
        let width = self.width_mm();
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
    fn bold_words_need_more_room() {
        let words = Words::starting((0.0, 0.0), 4.0, "0.4878 in");
        let plain = words.width_mm();
        assert!(words.bold().width_mm() > plain);
    }
}
