//! What to read on a set-up sheet, with a box for each reading.

use shop::plan::Peripheral;

use super::flow::{BODY, Flow, RESULT};
use super::setup::{Cell, boxes};
use crate::scene::Face;
use crate::text::{Units, drops_in_words, limits_in_words, size_band_in_words, size_in_words};

/// Width and height of a tooth's box, and of that for the diameter.
const TOOTH_MM: (f64, f64) = (15.5, 9.6);
const SIZE_MM: (f64, f64) = (44.0, 11.0);

/// Size of the names in the boxes.
const NAME: f64 = 2.6;

/// Readings to expect and boxes for what was read, between two sides.
pub(super) fn readings(
    flow: &mut Flow<'_>,
    work: &Peripheral,
    teeth: u32,
    units: Units,
    sides: (f64, f64),
) {
    let expected = &work.expected;
    flow.set_within(Face::Bold, RESULT, &size_in_words(expected, units), sides);
    flow.set_within(Face::Plain, BODY, &size_band_in_words(expected, units), sides);
    boxes(flow, &["diameter", "taper"].map(named), sides, SIZE_MM);
    let land = units.length(expected.land);
    let alike = units.length(expected.land_band.max(geometry::Length::from_thou(1.0)));
    flow.set_within(Face::Bold, RESULT, &format!("Land {land}"), sides);
    flow.set_within(Face::Plain, BODY, &format!("on each tooth, alike to {alike}:"), sides);
    let cells: Vec<Cell> = (1..=teeth).map(|tooth| Cell::new(tooth.to_string(), NAME)).collect();
    boxes(flow, &cells, sides, TOOTH_MM);
    let words = format!("{} {}", drops_in_words(expected, units), limits_in_words(expected, units));
    flow.set_within(Face::Plain, BODY, &words, sides);
    flow.set_within(Face::Plain, BODY, &format!("Ink: {}.", expected.ink), sides);
}

fn named(name: &str) -> Cell {
    Cell::new(name.to_owned(), NAME)
}
