//! The `[[axis]]` sections of a machine file.

use geometry::{Angle, Length};
use shop::record::{AxisDraft, AxisRole, Motion, Named, Reads, Side, SlideScale, SwivelScale};

use super::section::Section;
use super::value::{Readable, wrong};

/// The motions a file can name.
#[derive(Clone, Copy, PartialEq, Eq)]
enum MotionName {
    Slide,
    Swivel,
}

impl Named for MotionName {
    const ALL: &'static [Self] = &[Self::Slide, Self::Swivel];

    fn name(self) -> &'static str {
        match self {
            Self::Slide => "slide",
            Self::Swivel => "swivel",
        }
    }
}

pub(super) fn axis_draft(section: Section<'_, '_>) -> AxisDraft {
    let role = section.choose("role", "a role of an axis", AxisRole::CrossFeed);
    let draft = AxisDraft {
        name: section.need("name"),
        role,
        side: section.choose("side", "a side of the machine", Side::Work),
        motion: match motion(&section, role) {
            MotionName::Slide => Motion::Slide(slide(&section, role)),
            MotionName::Swivel => Motion::Swivel(swivel(&section)),
        },
        zero: section.need("zero"),
        positive: section.need("positive"),
    };
    section.close();
    draft
}

/// The motion written; where that contradicts the role, the motion the role asks for, so that the
/// marks of the scale are not refused as well.
fn motion(section: &Section<'_, '_>, role: AxisRole) -> MotionName {
    let fitting = if role.turns() { MotionName::Swivel } else { MotionName::Slide };
    let written = section.choose("motion", "a motion", fitting);
    if section.is_doubted("role") || section.is_doubted("motion") || written == fitting {
        return written;
    }
    let name = fitting.name();
    section.refuse("motion", wrong(format!("a {role} is a {name}"), format!("write \"{name}\"")));
    fitting
}

fn slide(section: &Section<'_, '_>, role: AxisRole) -> SlideScale {
    SlideScale {
        graduation: section.need("graduation"),
        vernier: section.maybe("vernier"),
        per_turn: section.maybe("per_turn"),
        reads: reads(section, role),
        backlash: section.maybe("backlash").unwrap_or(Length::ZERO),
        range: range(section),
        halves: section.maybe("halves").unwrap_or(false),
    }
}

/// What comes off depends on what the cross feed's dial counts, so a file must say it; the other
/// slides count their own way unless the file says otherwise.
fn reads(section: &Section<'_, '_>, role: AxisRole) -> Reads {
    let noun = "a way for a dial to read";
    if role == AxisRole::CrossFeed && !section.is_doubted("role") {
        section.choose("reads", noun, Reads::Radius)
    } else {
        section.may_choose("reads", noun).unwrap_or(Reads::Radius)
    }
}

fn swivel(section: &Section<'_, '_>) -> SwivelScale {
    for key in ["reads", "per_turn"] {
        section.forbid(key, "a swivel has none");
    }
    SwivelScale {
        graduation: section.need("graduation"),
        vernier: section.maybe("vernier"),
        backlash: section.maybe("backlash").unwrap_or(Angle::ZERO),
        range: range(section),
        halves: section.maybe("halves").unwrap_or(false),
    }
}

/// A range is a list of its lowest and its highest reading.
fn range<T: Readable + Copy>(section: &Section<'_, '_>) -> Option<(T, T)> {
    let ends: Vec<T> = section.many("range", T::read);
    section.require("range", !section.has("range") || ends.len() == 2, || {
        wrong("a range has two ends", "write the lowest and the highest reading, as [\"…\", \"…\"]")
    });
    match ends.as_slice() {
        &[low, high] => Some((low, high)),
        _ => None,
    }
}
