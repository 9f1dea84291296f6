//! Control files: `[control]`, `[words]`, `[geometry]` and `[wear]`.

use exchange::offset::{Control, ControlDraft, ControlFault, HeldSize, Mode, Register, Written};
use geometry::quantity::System;
use shop::record::Named;

use super::problem::FileProblems;
use super::reading::Reading;
use super::section::Section;
use super::value::wrong;

/// Reads the file of a control. Every fact is asked and none is guessed.
///
/// # Errors
/// Everything wrong with the file.
pub fn read_control(file: &str, text: &str) -> Result<Control, FileProblems> {
    let reading = Reading::open(file, text);
    let top = reading.top();
    let sections = Sections {
        control: top.section("control"),
        words: top.section("words"),
        geometry: top.section("geometry"),
        wear: top.maybe_section("wear"),
    };
    let built = sections.draft().build();
    let control = match built {
        Ok(control) => Some(control),
        Err(faults) => {
            faults.into_iter().for_each(|fault| sections.refuse(fault));
            None
        }
    };
    sections.close();
    top.close();
    reading.finish(control)
}

struct Sections<'r, 't> {
    control: Section<'r, 't>,
    words: Section<'r, 't>,
    geometry: Section<'r, 't>,
    wear: Option<Section<'r, 't>>,
}

impl Sections<'_, '_> {
    fn draft(&self) -> ControlDraft {
        let control = &self.control;
        ControlDraft {
            name: control.need("name"),
            units: control.choose("units", "a unit", Unit::Inch).system(),
            units_word: self.words.need("units"),
            decimals: control.need("decimals"),
            mode: control.choose("mode", "a way of writing", Mode::Absolute),
            mode_word: self.words.need("mode"),
            last_word: self.words.maybe("last"),
            number_letter: self.words.need("number"),
            value_letter: self.words.need("value"),
            numbers: (control.need("first_offset"), control.need("last_offset")),
            geometry: register(&self.geometry),
            wear: self.wear.as_ref().map(register),
            written: control.choose("write", "a register", Written::Geometry),
            clears_wear: control.need("clears_wear"),
        }
    }

    fn refuse(&self, fault: ControlFault) {
        let (section, key) = match fault.key.split_once('.') {
            Some(("words", key)) => (&self.words, key),
            Some(("geometry", key)) => (&self.geometry, key),
            Some((_, key)) => (self.wear.as_ref().unwrap_or(&self.control), key),
            None => (&self.control, of_control(fault.key)),
        };
        section.require(key, false, || wrong(fault.fact, fault.right));
    }

    fn close(self) {
        let Self { control, words, geometry, wear } = self;
        [Some(control), Some(words), Some(geometry), wear]
            .into_iter()
            .flatten()
            .for_each(Section::close);
    }
}

/// The key under which a fact of the control itself stands.
fn of_control(fact: &str) -> &str {
    match fact {
        "numbers" => "first_offset",
        "wear" => "write",
        other => other,
    }
}

fn register(section: &Section<'_, '_>) -> Register {
    let holds = section.choose("holds", "a size", HeldSize::Radius);
    Register { select: section.need("select"), holds }
}

/// The units that a control can count in.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Unit {
    Inch,
    Millimetre,
}

impl Unit {
    const fn system(self) -> System {
        match self {
            Self::Inch => System::Inch,
            Self::Millimetre => System::Millimetre,
        }
    }
}

impl Named for Unit {
    const ALL: &'static [Self] = &[Self::Inch, Self::Millimetre];

    fn name(self) -> &'static str {
        match self {
            Self::Inch => "inch",
            Self::Millimetre => "millimetre",
        }
    }
}
