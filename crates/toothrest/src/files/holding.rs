//! The `[work_holding]` and `[rest]` sections of a machine file.

use shop::record::{
    Centres, Dividing, Finger, FingerKind, Fixture, HoldingDraft, Named, RestDraft, RestStand,
};

use super::section::Section;
use super::value::Readable;

/// The fixtures a file can name; the air pressure has a key of its own.
#[derive(Clone, Copy, PartialEq, Eq)]
enum FixtureName {
    AirSpindle,
    ColletFixture,
    Centres,
    IndexHead,
}

impl Named for FixtureName {
    const ALL: &'static [Self] =
        &[Self::AirSpindle, Self::ColletFixture, Self::Centres, Self::IndexHead];

    fn name(self) -> &'static str {
        match self {
            Self::AirSpindle => Fixture::AirSpindle { psi: 0 }.name(),
            Self::ColletFixture => Fixture::ColletFixture.name(),
            Self::Centres => Fixture::Centres.name(),
            Self::IndexHead => Fixture::IndexHead.name(),
        }
    }
}

pub(super) fn holding_draft(section: Section<'_, '_>) -> HoldingDraft {
    let draft = HoldingDraft {
        fixture: fixture(&section),
        shank_min: section.need("shank_min"),
        shank_max: section.need("shank_max"),
        squaring: section.need("squaring"),
        dividing: dividing(&section),
        centres: Centres {
            height: section.maybe("centre_height"),
            longest: section.maybe("longest"),
        },
        nose_diameter: section.maybe("nose_diameter"),
    };
    section.close();
    draft
}

fn dividing(section: &Section<'_, '_>) -> Dividing {
    Dividing {
        ratio: section.maybe("ratio"),
        circles: section.many("circles", u32::read),
        direct: section.many("direct", u32::read),
    }
}

fn fixture(section: &Section<'_, '_>) -> Fixture {
    let name = section.choose("fixture", "a fixture", FixtureName::ColletFixture);
    if name == FixtureName::AirSpindle {
        return Fixture::AirSpindle { psi: section.need("psi") };
    }
    if section.is_doubted("fixture") {
        section.know("psi");
    } else {
        section.forbid("psi", "only an air spindle runs on air");
    }
    match name {
        FixtureName::Centres => Fixture::Centres,
        FixtureName::IndexHead => Fixture::IndexHead,
        FixtureName::AirSpindle | FixtureName::ColletFixture => Fixture::ColletFixture,
    }
}

pub(super) fn rest_draft(section: Section<'_, '_>) -> RestDraft {
    let draft = RestDraft {
        stands_on: section.choose("stands_on", "a stand for the rest", RestStand::WheelHead),
        fingers: section.sections("finger").into_iter().map(finger).collect(),
    };
    section.close();
    draft
}

fn finger(section: Section<'_, '_>) -> Finger {
    let finger = Finger {
        name: section.need("name"),
        width: section.need("width"),
        kind: section.choose("kind", "a kind of finger", FingerKind::Plain),
    };
    section.close();
    finger
}
