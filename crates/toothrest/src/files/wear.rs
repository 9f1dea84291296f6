//! Wear, as a section of a cutter file or as a file of its own.

use geometry::Length;
use shop::record::{Cutter, ToothWear, WearDraft};

use super::cutter::settle_wear;
use super::problem::FileProblems;
use super::reading::Reading;
use super::section::Section;
use super::value::{choice, wrong};

/// Reads a wear file and returns the cutter with that wear instead of any it had. The file may
/// name the cutter it belongs to; then it must be this one.
///
/// # Errors
/// Everything wrong with the file, and wear that cannot be true of this cutter.
pub fn read_wear(file: &str, text: &str, cutter: &Cutter) -> Result<Cutter, FileProblems> {
    let reading = Reading::open(file, text);
    let top = reading.top();
    check_cutter(&top, cutter, "this wear");
    let wear = wear_draft(top.section("wear"));
    top.close();
    let worn = settle_wear(&reading, Some(cutter.clone()), wear);
    reading.finish(worn)
}

/// A file may name the cutter that it is about; then it must be this one.
pub(super) fn check_cutter(top: &Section<'_, '_>, cutter: &Cutter, what: &str) {
    let named: Option<String> = top.maybe("cutter");
    let number = cutter.number();
    top.require("cutter", named.is_none_or(|named| named == number), || {
        let right = format!("write \"{number}\", or name the other cutter's file");
        wrong(format!("{what} belongs to another cutter"), right)
    });
}

pub(super) fn wear_draft(section: Section<'_, '_>) -> WearDraft {
    let draft = WearDraft {
        measured_diameter: section.maybe("measured_diameter"),
        shank_runout: section.maybe("shank_runout"),
        signs: section.many("signs", |value| choice(value, "a sign of wear")),
        teeth: section.sections("tooth").into_iter().map(tooth_wear).collect(),
    };
    section.close();
    draft
}

fn tooth_wear(section: Section<'_, '_>) -> ToothWear {
    let or_none = |key| section.maybe(key).unwrap_or(Length::ZERO);
    let tooth = ToothWear {
        tooth: section.need("tooth"),
        wear_land: or_none("wear_land"),
        chip_depth: or_none("chip_depth"),
        chip_from_end: or_none("chip_from_end"),
        wear_from_end: section.maybe("wear_from_end"),
        corner_wear: or_none("corner_wear"),
        runout: section.maybe("runout"),
    };
    section.close();
    tooth
}
