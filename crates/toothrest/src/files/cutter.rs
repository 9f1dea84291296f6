//! Cutter files: `[cutter]`, `[as_ground]` and `[wear]`.

use geometry::{Angle, Length};
use shop::record::{
    AsGround, Cutter, CutterDraft, EndForm, EndTeeth, Hand, Named, Profile, Special, WearDraft,
};
use trade::ToolMaterial;

use super::problem::FileProblems;
use super::reading::Reading;
use super::section::Section;
use super::syntax::below;
use super::value::{Readable, wrong};
use super::wear::wear_draft;

/// Reads a cutter file, its wear included where the file holds it.
///
/// # Errors
/// Everything wrong with the file.
pub fn read_cutter(file: &str, text: &str) -> Result<Cutter, FileProblems> {
    let reading = Reading::open(file, text);
    let top = reading.top();
    let draft = cutter_draft(&top);
    let wear = top.maybe_section("wear").map(wear_draft);
    top.close();
    let cutter = reading.settle(draft.build(), cutter_path);
    let worn = match wear {
        Some(wear) => settle_wear(&reading, cutter, wear),
        None => cutter,
    };
    reading.finish(worn)
}

/// Joins a cutter and its wear, if both are sound and fit each other.
pub(super) fn settle_wear(
    reading: &Reading<'_>,
    cutter: Option<Cutter>,
    wear: WearDraft,
) -> Option<Cutter> {
    let wear = reading.settle(wear.build(), |field| below("wear", field))?;
    reading.settle(cutter?.with_wear(wear), |field| below("wear", field))
}

/// The sharp state and the end teeth have sections of their own in files.
fn cutter_path(field: &str) -> String {
    let own = field.starts_with("as_ground") || field.starts_with("end_teeth");
    if own { field.to_owned() } else { below("cutter", field) }
}

fn cutter_draft(top: &Section<'_, '_>) -> CutterDraft {
    let section = top.section("cutter");
    let draft = CutterDraft {
        number: section.need("number"),
        diameter: section.need("diameter"),
        teeth: section.need("teeth"),
        hand: section.choose("hand", "a hand of cut", Hand::Right),
        helix: section.need("helix"),
        helix_hand: section.may_choose("helix_hand", "a hand of helix"),
        rake: section.need("rake"),
        material: section.choose("material", "a tool material", ToolMaterial::HighSpeedSteel),
        end: end_form(&section),
        profile: section.choose("profile", "a profile", Profile::Plain),
        flute_length: section.need("flute_length"),
        overall_length: section.need("overall_length"),
        shank_diameter: section.need("shank_diameter"),
        core_diameter: section.maybe("core_diameter"),
        tooth_thickness: section.maybe("tooth_thickness"),
        centre_cutting: section.maybe("centre_cutting").unwrap_or(false),
        coating: section.maybe("coating"),
        work: section.maybe("work").unwrap_or_else(|| "any".to_owned()),
        regrinds: section.maybe("regrinds").unwrap_or(0),
        unequal_index: section.maybe("unequal_index"),
        as_ground: top.maybe_section("as_ground").map(as_ground),
        end_teeth: top.maybe_section("end_teeth").map(end_teeth),
        special: Special {
            index: section.many("index", Angle::read),
            tooth_helix: section.many("tooth_helix", Angle::read),
            taper: section.maybe("taper").unwrap_or(Angle::ZERO),
        },
    };
    section.close();
    draft
}

fn as_ground(section: Section<'_, '_>) -> AsGround {
    let ground = AsGround {
        diameter: section.need("diameter"),
        primary: section.need("primary"),
        secondary: section.need("secondary"),
        land: section.need("land"),
        next_primary: section.maybe("next_primary"),
    };
    section.close();
    ground
}

fn end_teeth(section: Section<'_, '_>) -> EndTeeth {
    let end = EndTeeth {
        dish: section.maybe("dish"),
        relief: section.maybe("relief"),
        secondary: section.maybe("secondary"),
        land: section.maybe("land"),
        ahead_of_centre: section.maybe("ahead_of_centre"),
        centre_hole: section.maybe("centre_hole"),
        gash_angle: section.maybe("gash_angle"),
        gash_rake: section.maybe("gash_rake"),
        gash_root: section.maybe("gash_root"),
        gash_from_centre: section.maybe("gash_from_centre"),
        corner_chamfer: section.maybe("corner_chamfer"),
        corner_angle: section.maybe("corner_angle"),
        corner_relief: section.maybe("corner_relief"),
    };
    section.close();
    end
}

/// The ends a file can name; the radius of a rounded corner has a key of its own.
#[derive(Clone, Copy, PartialEq, Eq)]
enum EndName {
    Square,
    CornerRadius,
    Ball,
}

impl Named for EndName {
    const ALL: &'static [Self] = &[Self::Square, Self::CornerRadius, Self::Ball];

    fn name(self) -> &'static str {
        match self {
            Self::Square => EndForm::Square.name(),
            Self::CornerRadius => EndForm::CornerRadius(Length::ZERO).name(),
            Self::Ball => EndForm::Ball.name(),
        }
    }
}

fn end_form(section: &Section<'_, '_>) -> EndForm {
    let name = section.choose("end", "a form of end", EndName::Square);
    let radius: Option<Length> = section.maybe("corner_radius");
    let sure = !section.is_doubted("end");
    let (given, rounded) = (section.has("corner_radius"), name == EndName::CornerRadius);
    section.require("corner_radius", given || !rounded, || {
        wrong("an end with a corner radius needs it", "write corner_radius, such as \"1 mm\"")
    });
    section.require("corner_radius", !(sure && given) || rounded, || {
        wrong(
            format!("the end is \"{}\" and has no such corner", name.name()),
            "leave it out, or write end = \"corner radius\"",
        )
    });
    match name {
        EndName::Square => EndForm::Square,
        EndName::Ball => EndForm::Ball,
        EndName::CornerRadius => EndForm::CornerRadius(radius.unwrap_or(Length::ZERO)),
    }
}
