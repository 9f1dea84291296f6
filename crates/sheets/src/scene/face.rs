//! The faces that words are set in, and how wide their letters are.
//!
//! Both are vendored, so that a word is as wide on one machine as on any other, and a picture
//! places it by the very figures by which a PDF sets it.

use std::collections::HashMap;
use std::sync::OnceLock;

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

/// A face of the type.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Face {
    /// Upright.
    Plain,
    /// Bold, for what is read first.
    Bold,
}

/// The file of the upright face, DejaVu Sans.
static PLAIN: &[u8] = include_bytes!("../../fonts/DejaVuSans.ttf");

/// The file of the bold face, DejaVu Sans Bold.
static BOLD: &[u8] = include_bytes!("../../fonts/DejaVuSans-Bold.ttf");

/// A letter's shape in its file, and its advance as a share of the size of the type.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Letter {
    /// The shape's number.
    pub(super) glyph: u32,
    /// How far the next letter stands from it.
    pub(super) advance: f64,
}

/// Every letter of a face.
struct Letters {
    of: HashMap<char, Letter>,
    /// What is shown for a letter that the face does not have.
    other: Letter,
}

/// The advance of a letter of which nothing is known.
const ADVANCE_UNKNOWN: f64 = 0.6;

impl Face {
    /// Every face.
    pub const ALL: [Self; 2] = [Self::Plain, Self::Bold];

    /// Its file.
    pub(super) const fn file(self) -> &'static [u8] {
        match self {
            Self::Plain => PLAIN,
            Self::Bold => BOLD,
        }
    }

    /// A letter of it.
    pub(super) fn letter(self, letter: char) -> Letter {
        let letters = self.letters();
        letters.of.get(&letter).copied().unwrap_or(letters.other)
    }

    /// Whether it has a shape for a letter.
    pub fn has(self, letter: char) -> bool {
        self.letters().of.contains_key(&letter)
    }

    /// Width of a text at a size, letter after letter, without kerning.
    pub fn width_mm(self, text: &str, size_mm: f64) -> f64 {
        text.chars().map(|letter| self.letter(letter).advance).sum::<f64>() * size_mm
    }

    fn letters(self) -> &'static Letters {
        static LETTERS: [OnceLock<Letters>; 2] = [OnceLock::new(), OnceLock::new()];
        let at = match self {
            Self::Plain => 0,
            Self::Bold => 1,
        };
        LETTERS[at].get_or_init(|| Letters::of_file(self.file()).unwrap_or_else(Letters::none))
    }
}

impl Letters {
    fn of_file(file: &'static [u8]) -> Option<Self> {
        let font = FontRef::new(file).ok()?;
        let widths = font.glyph_metrics(Size::unscaled(), LocationRef::default());
        let em = f64::from(font.metrics(Size::unscaled(), LocationRef::default()).units_per_em);
        let letter = |glyph: skrifa::GlyphId| {
            let advance = f64::from(widths.advance_width(glyph)?) / em;
            Some(Letter { glyph: glyph.to_u32(), advance })
        };
        let charmap = font.charmap();
        let known = charmap
            .mappings()
            .filter_map(|(code, glyph)| Some((char::from_u32(code)?, letter(glyph)?)));
        let other = letter(skrifa::GlyphId::NOTDEF)?;
        Some(Self { of: known.collect(), other })
    }

    fn none() -> Self {
        let other = Letter { glyph: 0, advance: ADVANCE_UNKNOWN };
        Self { of: HashMap::new(), other }
    }
}

#[cfg(test)]
mod tests {
    use super::Face;

    /// OpenType, table `hmtx`: advances of the two files in units of 1/2048 of the size, as the
    /// tables of Debian's package fonts-dejavu-core 2.37 have them.
    #[test]
    fn advances_are_those_of_the_files() {
        let units = |face: Face, letter: char| (face.letter(letter).advance * 2048.0).round();
        assert_eq!(['0', 'm', 'i', ' '].map(|l| units(Face::Plain, l)), [1303., 1995., 569., 651.]);
        assert_eq!(['0', 'm', 'i', ' '].map(|l| units(Face::Bold, l)), [1425., 2134., 702., 713.]);
    }

    #[test]
    fn faces_have_the_letters_of_the_trade() {
        for face in Face::ALL {
            for letter in "⌀°±−×½⅛′″…→µØäéñß".chars() {
                assert!(face.has(letter), "{face:?} {letter}");
            }
        }
        assert!(!Face::Plain.has('\u{10FFFF}'));
    }
}
