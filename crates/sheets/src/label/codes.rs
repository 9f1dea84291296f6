//! The cutter's number as a square code: QR and Data Matrix, as areas in millimetres.

use datamatrix::{DataMatrix, SymbolList};
use kurbo::{BezPath, Point, Rect, Shape};
use qrcode::{Color, EcLevel, QrCode};

use super::LabelError;
use crate::scene::{Paint, Scene};

/// Which code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Kind {
    /// QR Code, ISO/IEC 18004.
    Qr,
    /// Data Matrix ECC 200, ISO/IEC 16022.
    DataMatrix,
}

impl Kind {
    /// Free modules that must stand on all sides: four about a QR code (ISO/IEC 18004:2015,
    /// 6.3.8), one about a Data Matrix (ISO/IEC 16022:2006, 7.2). Clauses from memory.
    pub(super) const fn quiet(self) -> usize {
        match self {
            Self::Qr => 4,
            Self::DataMatrix => 1,
        }
    }
}

/// A code as dark and light modules.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Code {
    kind: Kind,
    width: usize,
    height: usize,
    dark: Vec<bool>,
}

impl Code {
    /// The code of a text.
    pub(super) fn of(kind: Kind, text: &str) -> Result<Self, LabelError> {
        let made = match kind {
            Kind::Qr => qr(text),
            Kind::DataMatrix => data_matrix(text),
        };
        made.ok_or_else(|| LabelError::Number { number: text.to_owned() })
    }

    /// Modules along the longer side, those that stay free counted.
    pub(super) fn modules(&self) -> usize {
        self.width.max(self.height) + 2 * self.kind.quiet()
    }

    /// Draws it with its free modules, their left upper corner at a place.
    pub(super) fn draw(&self, scene: &mut Scene, at: Point, module_mm: f64) {
        let free = self.kind.quiet() as f64;
        let place = |x: usize, y: usize| {
            at + (kurbo::Vec2::new(x as f64, y as f64) + kurbo::Vec2::new(free, free)) * module_mm
        };
        let mut path = BezPath::new();
        for y in 0..self.height {
            for (from, to) in self.runs(y) {
                let area = Rect::from_points(place(from, y), place(to, y + 1));
                path.extend(area.path_elements(0.01));
            }
        }
        scene.fill_path(path, Paint::Black);
    }

    /// Dark modules of a row, those side by side together.
    fn runs(&self, y: usize) -> Vec<(usize, usize)> {
        let row = &self.dark[y * self.width..(y + 1) * self.width];
        let mut runs: Vec<(usize, usize)> = Vec::new();
        for (x, _) in row.iter().enumerate().filter(|(_, dark)| **dark) {
            match runs.last_mut() {
                Some((_, to)) if *to == x => *to = x + 1,
                _ => runs.push((x, x + 1)),
            }
        }
        runs
    }
}

fn qr(text: &str) -> Option<Code> {
    let code = QrCode::with_error_correction_level(text.as_bytes(), EcLevel::M).ok()?;
    let width = code.width();
    let dark = code.to_colors().into_iter().map(|colour| colour == Color::Dark).collect();
    Some(Code { kind: Kind::Qr, width, height: width, dark })
}

fn data_matrix(text: &str) -> Option<Code> {
    let sizes = SymbolList::default().enforce_square();
    let code = DataMatrix::encode_str(text, sizes).ok()?;
    let bitmap = code.bitmap();
    let (width, height) = (bitmap.width(), bitmap.height());
    let dark = bitmap.bits().to_vec();
    Some(Code { kind: Kind::DataMatrix, width, height, dark })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO/IEC 18004: version 1 has 21 modules, with 4 free ones on each side 29. ISO/IEC 16022:
    /// the square symbols begin at 10 modules; six letters and digits fit 12 by 12 (from memory).
    #[test]
    fn codes_are_of_the_sizes_of_their_standards() {
        assert_eq!(Code::of(Kind::Qr, "K-117").unwrap().modules(), 29);
        let small = Code::of(Kind::DataMatrix, "K-117").unwrap();
        assert_eq!((small.width, small.modules()), (12, 14));
    }

    /// ISO/IEC 16022: the left and the lower side of a Data Matrix are dark throughout.
    #[test]
    fn a_data_matrix_has_its_finder() {
        let code = Code::of(Kind::DataMatrix, "K-117").unwrap();
        assert!((0..code.height).all(|y| code.dark[y * code.width]));
        assert!(code.dark[(code.height - 1) * code.width..].iter().all(|dark| *dark));
    }

    #[test]
    fn a_number_longer_than_any_code_is_refused() {
        let long = "9".repeat(8000);
        assert!(matches!(Code::of(Kind::Qr, &long), Err(LabelError::Number { .. })));
    }
}
