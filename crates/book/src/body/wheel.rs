//! A wheel and what happens to it.

use shop::book::event::{Dressed, Inspected, Measured, Mounted, WheelEntered, WheelSize};
use shop::record::{Wheel, WheelDraft};

use super::fields::{Body, Fields, Taken, Taker};

impl Body for Wheel {
    fn put(&self, to: &mut Fields) {
        let draft = self.draft();
        to.value("number", draft.number);
        to.named("shape", draft.shape);
        to.named("abrasive", draft.abrasive);
        to.value("grit", draft.grit);
        to.maybe("concentration", draft.concentration);
        to.maybe("grade", draft.grade.map(String::from));
        to.named("bond", draft.bond);
        to.length("diameter", draft.diameter);
        to.length("face_width", draft.face_width);
        to.maybe_length("rim_width", draft.rim_width);
        to.length("corner_radius", draft.corner_radius);
        to.length("bore", draft.bore);
        to.length("depth", draft.depth);
        to.maybe_angle("wall_angle", draft.wall_angle);
        to.value("marked_rpm", draft.marked_rpm);
        to.maybe("marked_speed_m_per_s", draft.marked_speed_m_per_s);
        if let Some(coolant) = draft.coolant {
            to.named("coolant", coolant);
        }
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        let draft = WheelDraft {
            number: from.text("number")?,
            shape: from.named("shape")?,
            abrasive: from.named("abrasive")?,
            grit: from.text("grit")?,
            concentration: from.maybe_count("concentration")?,
            grade: take_grade(from)?,
            bond: from.named("bond")?,
            diameter: from.length("diameter")?,
            face_width: from.length("face_width")?,
            rim_width: from.maybe_length("rim_width")?,
            corner_radius: from.length("corner_radius")?,
            bore: from.length("bore")?,
            depth: from.length("depth")?,
            wall_angle: from.maybe_angle("wall_angle")?,
            marked_rpm: from.count("marked_rpm")?,
            marked_speed_m_per_s: from.maybe_number("marked_speed_m_per_s")?,
            coolant: from.maybe_named("coolant")?,
        };
        draft.build().map_err(|errors| from.wrong("wheel", &errors.to_string()))
    }
}

fn take_grade(from: &Taker<'_>) -> Taken<Option<char>> {
    let Some(text) = from.maybe_text("grade")? else { return Ok(None) };
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(letter), None) => Ok(Some(letter)),
        _ => Err(from.wrong("grade", "is no single letter")),
    }
}

impl Body for WheelEntered {
    fn put(&self, to: &mut Fields) {
        to.object("wheel", &self.wheel);
        to.texts("marks", &self.marks);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { wheel: from.object("wheel")?, marks: from.texts("marks")? })
    }
}

impl Body for WheelSize {
    fn put(&self, to: &mut Fields) {
        to.maybe_length("diameter", self.diameter);
        to.maybe_length("face_width", self.face_width);
        to.maybe_length("corner_radius", self.corner_radius);
        to.maybe_length("depth", self.depth);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            diameter: from.maybe_length("diameter")?,
            face_width: from.maybe_length("face_width")?,
            corner_radius: from.maybe_length("corner_radius")?,
            depth: from.maybe_length("depth")?,
        })
    }
}

impl Body for Dressed {
    fn put(&self, to: &mut Fields) {
        to.object("size", &self.size);
        to.maybe_length("taken", self.taken);
        to.value("words", self.words.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            size: from.object("size")?,
            taken: from.maybe_length("taken")?,
            words: from.text_or_none("words")?,
        })
    }
}

impl Body for Measured {
    fn put(&self, to: &mut Fields) {
        to.object("size", &self.size);
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { size: from.object("size")? })
    }
}

impl Body for Inspected {
    fn put(&self, to: &mut Fields) {
        to.value("looked", self.looked);
        to.value("rung", self.rung);
        to.value("words", self.words.clone());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self {
            looked: from.flag("looked")?,
            rung: from.flag("rung")?,
            words: from.text_or_none("words")?,
        })
    }
}

impl Body for Mounted {
    fn put(&self, to: &mut Fields) {
        to.maybe_id("machine", self.machine.as_ref());
    }

    fn take(from: &Taker<'_>) -> Taken<Self> {
        Ok(Self { machine: from.maybe_id("machine")? })
    }
}
