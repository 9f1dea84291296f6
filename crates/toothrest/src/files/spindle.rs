//! The `[spindle]` section of a machine file.

use shop::record::{NutThread, SpindleDraft, SpindleSpeed};

use super::section::Section;
use super::value::choice;

pub(super) fn spindle_draft(section: Section<'_, '_>) -> SpindleDraft {
    let draft = SpindleDraft {
        speeds: section.sections("speed").into_iter().map(speed).collect(),
        rotations: section.many("rotation", |value| choice(value, "a direction of rotation")),
        nut_thread: section.choose("nut_thread", "a thread of the nut", NutThread::Right),
        nut_end: section.need("nut_end"),
        flange_diameter: section.maybe("flange_diameter"),
    };
    section.close();
    draft
}

fn speed(section: Section<'_, '_>) -> SpindleSpeed {
    let speed = SpindleSpeed { rpm: section.need("rpm"), belt: section.need("belt") };
    section.close();
    speed
}
