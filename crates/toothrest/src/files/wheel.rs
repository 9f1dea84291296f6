//! Wheel files: one `[wheel]`, or a rack of them as `[[wheel]]`.

use geometry::Length;
use shop::record::{Bond, Named, Wheel, WheelDraft, WheelShape};
use toml::de::DeValue;
use trade::Abrasive;

use super::problem::FileProblems;
use super::reading::Reading;
use super::section::Section;
use super::speed::SurfaceSpeed;
use super::syntax::below;
use super::value::{Readable, Wrong, choice, choices, wrong};

/// Reads a wheel file. Numbers must differ within a file.
///
/// # Errors
/// Everything wrong with the file.
pub fn read_wheels(file: &str, text: &str) -> Result<Vec<Wheel>, FileProblems> {
    let reading = Reading::open(file, text);
    let top = reading.top();
    let sections = top.need_sections("wheel");
    let mut numbers: Vec<String> = Vec::new();
    let mut wheels = Vec::new();
    let count = sections.len();
    for section in sections {
        let path = section.path().to_owned();
        let draft = wheel_draft(section, &mut numbers);
        wheels.extend(reading.settle(draft.build(), |field| below(&path, field)));
    }
    top.close();
    let whole = wheels.len() == count;
    reading.finish(whole.then_some(wheels))
}

fn wheel_draft(section: Section<'_, '_>, numbers: &mut Vec<String>) -> WheelDraft {
    let number: String = section.need("number");
    section.require("number", !numbers.contains(&number), || {
        wrong("another wheel in this file has this number", "write a number of its own")
    });
    numbers.push(number.clone());
    let draft = WheelDraft {
        number,
        shape: section.need("shape"),
        abrasive: section.choose("abrasive", "an abrasive", Abrasive::AluminiumOxide),
        grit: section.need("grit"),
        concentration: section.maybe("concentration"),
        grade: section.maybe("grade"),
        bond: section.choose("bond", "a bond", Bond::Vitrified),
        diameter: section.need("diameter"),
        face_width: section.need("face_width"),
        rim_width: section.maybe("rim_width"),
        corner_radius: section.maybe("corner_radius").unwrap_or(Length::ZERO),
        bore: section.need("bore"),
        depth: section.need("depth"),
        wall_angle: section.maybe("wall_angle"),
        marked_rpm: section.need("marked_rpm"),
        marked_speed_m_per_s: section.maybe("marked_speed").map(|SurfaceSpeed { m_per_s }| m_per_s),
        coolant: section.may_choose("coolant", "a way of grinding"),
    };
    section.close();
    draft
}

impl Readable for WheelShape {
    fn example() -> String {
        choices::<Self>(None)
    }

    fn stand_in() -> Self {
        Self::Type6
    }

    /// Of the conventional types the bare number will do: it is what many wheels are marked with.
    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        if let DeValue::String(text) = value
            && let Some(shape) = Self::from_name(&format!("type {}", text.trim()))
        {
            return Ok(shape);
        }
        choice(value, "a shape symbol of a cutter grinder's wheel")
    }
}

impl Readable for char {
    fn example() -> String {
        "write one letter from \"A\" (soft) to \"Z\" (hard)".to_owned()
    }

    fn stand_in() -> Self {
        'K'
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        let text =
            String::read(value).map_err(|wrong| Wrong { right: Self::example(), ..wrong })?;
        let mut letters = text.chars();
        match (letters.next(), letters.next()) {
            (Some(letter), None) => Ok(letter),
            _ => Err(wrong("a grade is one letter", Self::example())),
        }
    }
}
