//! Sheets of paper: what leaves the bench, page by page, each page a scene.
//!
//! A sheet is a function from records to [`Pages`]. It reads no clock: its date is given. Every
//! page carries the date, the record's number and revision, the units and its own number. Ink
//! alone is used, so that any printer will do.

mod flow;
mod life;
mod lot;
mod setup;
mod setup_check;
mod setup_grind;
mod table;
mod tray;
mod words;
mod written;

use geometry::System;
use kurbo::Point;
use shop::record::Named;

use crate::scene::{PdfError, Scene, Words, to_pdf};

pub use flow::{FIGURES_LEAST_MM, RESULTS_LEAST_MM, WORDS_LEAST_MM, WORDS_ONE_PAGE_LEAST_MM};
pub use life::{LifeCard, LifeLine, life_card};
pub use lot::{DeliveryLine, DeliveryNote, QuoteSheet, comes_off, delivery_note, quote_sheet};
pub use setup::{Elsewhere, OtherPages, setup_sheet};
pub use tray::{TrayList, setup_words, tray_list};
pub use written::{
    ball_setup_sheet, corrective_setup_sheet, end_setup_sheet, face_setup_sheet, not_planned_sheet,
};

/// The size of the paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Paper {
    /// ISO 216 A4, 210 by 297 millimetres.
    A4,
    /// Letter, 8 1/2 by 11 inches.
    Letter,
}

impl Paper {
    /// Width and height in millimetres, upright.
    pub const fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }

    /// The paper that lies in the printer of a shop that works in a system (common practice, no
    /// source): letter in inch shops, A4 in all others.
    pub const fn of_system(system: System) -> Self {
        match system {
            System::Inch => Self::Letter,
            System::Millimetre => Self::A4,
        }
    }
}

impl Named for Paper {
    const ALL: &'static [Self] = &[Self::A4, Self::Letter];

    fn name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
        }
    }
}

/// What is given to every sheet: on which paper, and what its pages carry at their head.
#[derive(Clone, Debug, PartialEq)]
pub struct Imprint {
    /// The paper.
    pub paper: Paper,
    /// The number of the record that it is made from.
    pub record: String,
    /// Which state of that record: an entry of the book, or the digest of files.
    pub revision: String,
    /// The date in plain words.
    pub date: String,
    /// The system of its lengths.
    pub system: System,
}

/// The pages of one sheet or list.
#[derive(Clone, Debug, PartialEq)]
pub struct Pages {
    title: String,
    scenes: Vec<Scene>,
    /// Where the numbers of pages end that have any.
    numbers_at: Option<Point>,
}

/// The part of a page that is its number.
const NUMBER: &str = "page number";

impl Pages {
    /// Pages that were drawn elsewhere.
    pub(crate) const fn of(title: String, scenes: Vec<Scene>) -> Self {
        Self { title, scenes, numbers_at: None }
    }

    /// Pages with their numbers, which end at a point of each.
    pub(crate) fn numbered(title: String, scenes: Vec<Scene>, at: Point) -> Self {
        let mut pages = Self { title, scenes, numbers_at: Some(at) };
        pages.number();
        pages
    }

    /// With another sheet behind this one; the numbers of their pages run on.
    #[must_use]
    pub fn followed_by(mut self, other: Self) -> Self {
        self.scenes.extend(other.scenes);
        self.number();
        self
    }

    fn number(&mut self) {
        let Some(at) = self.numbers_at else { return };
        let of = self.scenes.len();
        for (index, scene) in self.scenes.iter_mut().enumerate() {
            scene.take_away(NUMBER);
            scene.part(NUMBER);
            let number = format!("page {} of {of}", index + 1);
            scene.text(Words::ending(at, flow::SMALL, number));
        }
    }

    /// What it is, in a few words.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// Its pages in order.
    pub fn scenes(&self) -> &[Scene] {
        &self.scenes
    }

    /// The whole as a PDF.
    ///
    /// # Errors
    /// As [`to_pdf`].
    pub fn to_pdf(&self) -> Result<Vec<u8>, PdfError> {
        to_pdf(&self.title, &self.scenes)
    }
}

/// The words for the units of a sheet.
const fn units_words(system: System) -> &'static str {
    match system {
        System::Inch => "lengths in inches unless marked",
        System::Millimetre => "lengths in millimetres unless marked",
    }
}
