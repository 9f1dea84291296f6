//! Files of labels: one `[roll]` or one `[sheet]`.

use geometry::Length;
use sheets::label::{LabelError, LabelSheet, LabelStock, Roll};
use sheets::paper::Paper;

use super::problem::FileProblems;
use super::reading::Reading;
use super::section::Section;
use super::value::wrong;

/// Reads a file of labels.
///
/// # Errors
/// Everything wrong with the file.
pub fn read_labels(file: &str, text: &str) -> Result<LabelStock, FileProblems> {
    let reading = Reading::open(file, text);
    let top = reading.top();
    let stock = if top.has("roll") { roll(&top) } else { sheet(&top) };
    top.close();
    reading.finish(stock)
}

fn roll(top: &Section<'_, '_>) -> Option<LabelStock> {
    top.forbid("sheet", "tags go on a roll or on sheets, not on both");
    let section = top.section("roll");
    let roll = Roll {
        width_mm: mm(&section, "width"),
        length_mm: mm(&section, "length"),
        margin_mm: mm_or(&section, "margin", 2.0),
    };
    settled(section, LabelStock::Roll(roll))
}

fn sheet(top: &Section<'_, '_>) -> Option<LabelStock> {
    let section = top.section("sheet");
    let sheet = LabelSheet {
        paper: section.choose("paper", "a paper", Paper::A4),
        columns: section.need("columns"),
        rows: section.need("rows"),
        width_mm: mm(&section, "width"),
        height_mm: mm(&section, "height"),
        left_mm: mm(&section, "left"),
        top_mm: mm(&section, "top"),
        column_gap_mm: mm_or(&section, "column_gap", 0.0),
        row_gap_mm: mm_or(&section, "row_gap", 0.0),
        margin_mm: mm_or(&section, "margin", 2.0),
    };
    settled(section, LabelStock::Sheet(sheet))
}

/// The stock, or what its own check finds wrong at the line of that key.
fn settled(section: Section<'_, '_>, stock: LabelStock) -> Option<LabelStock> {
    let checked = stock.check();
    if let Err(LabelError::Stock { key, why, .. }) = &checked {
        let right = "mend the figure, or the one that it goes with";
        section.require(key, false, || wrong(why.clone(), right));
    }
    section.close();
    checked.ok().map(|()| stock)
}

fn mm(section: &Section<'_, '_>, key: &'static str) -> f64 {
    section.need::<Length>(key).mm()
}

fn mm_or(section: &Section<'_, '_>, key: &'static str, usual_mm: f64) -> f64 {
    section.maybe::<Length>(key).map_or(usual_mm, Length::mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROLL: &str = "[roll]\nwidth = \"62 mm\"\nlength = \"1 1/4 in\"\n";

    fn said(text: &str) -> String {
        read_labels("labels.toml", text).unwrap_err().to_string()
    }

    #[test]
    fn a_roll_is_read_in_either_system() {
        let stock = read_labels("labels.toml", ROLL).unwrap();
        assert_eq!(
            stock,
            LabelStock::Roll(Roll { width_mm: 62.0, length_mm: 31.75, margin_mm: 2.0 })
        );
    }

    #[test]
    fn what_is_wrong_is_said_by_line_key_and_value() {
        let narrow = ROLL.replace("62 mm", "40 mm");
        let words = said(&narrow);
        assert!(words.contains("labels.toml:2") && words.contains("at least 45 by 22"), "{words}");
        let both = format!("{ROLL}[sheet]\n");
        assert!(said(&both).contains("not on both"), "{}", said(&both));
        let slip = ROLL.replace("length", "lenght");
        assert!(said(&slip).contains("length"), "{}", said(&slip));
        assert!(said("").contains("[sheet]"), "{}", said(""));
    }
}
