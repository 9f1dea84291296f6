//! A cutter, and its wear, as files.

use geometry::Angle;
use geometry::quantity::System;
use shop::record::{AsGround, Cutter, CutterDraft, EndForm, EndTeeth, Special, ToothWear, Wear};

use super::page::Page;
use super::quantity::read_in;

/// A cutter as a file that [`read_cutter`](crate::files::read_cutter) reads back as an equal
/// cutter, its wear included where it has any.
pub fn cutter_text(cutter: &Cutter) -> String {
    let draft = cutter.draft();
    let mut page = Page::new(cutter.system());
    page.section("[cutter]");
    teeth(&mut page, &draft);
    body(&mut page, &draft);
    if let Some(ground) = cutter.as_ground() {
        as_ground(&mut page, ground);
    }
    if let Some(end) = cutter.end_teeth() {
        end_teeth(&mut page, end);
    }
    if let Some(wear) = cutter.wear() {
        wear_section(&mut page, wear);
    }
    page.finish()
}

/// Wear as a file that [`read_wear`](crate::files::read_wear) reads back as equal wear, onto any
/// cutter that it can be true of.
pub fn wear_text(wear: &Wear) -> String {
    let mut page = Page::new(system_of_wear(wear));
    wear_section(&mut page, wear);
    page.finish()
}

/// Wear knows no nominal size, so its own readings say how they were taken.
fn system_of_wear(wear: &Wear) -> System {
    let lands = wear.teeth().iter().map(|tooth| tooth.wear_land);
    read_in(wear.measured_diameter().into_iter().chain(lands))
}

fn teeth(page: &mut Page, draft: &CutterDraft) {
    page.words("number", &draft.number);
    page.length("diameter", draft.diameter);
    page.bare("teeth", draft.teeth);
    page.words("hand", draft.hand.name());
    page.angle("helix", draft.helix);
    page.maybe_words("helix_hand", draft.helix_hand.map(|hand| hand.name()));
    page.angle("rake", draft.rake);
    page.words("material", draft.material.name());
    page.words("end", draft.end.name());
    if let EndForm::CornerRadius(radius) = draft.end {
        page.length("corner_radius", radius);
    }
    page.words("profile", draft.profile.name());
}

fn body(page: &mut Page, draft: &CutterDraft) {
    page.length("flute_length", draft.flute_length);
    page.length("overall_length", draft.overall_length);
    page.length("shank_diameter", draft.shank_diameter);
    page.maybe_length("core_diameter", draft.core_diameter);
    page.maybe_length("tooth_thickness", draft.tooth_thickness);
    page.bare("centre_cutting", draft.centre_cutting);
    page.maybe_words("coating", draft.coating.as_deref());
    page.words("work", &draft.work);
    page.bare("regrinds", draft.regrinds);
    if let Some(unequal) = draft.unequal_index {
        page.bare("unequal_index", unequal);
    }
    special(page, &draft.special);
}

fn special(page: &mut Page, special: &Special) {
    for (key, angles) in [("index", &special.index), ("tooth_helix", &special.tooth_helix)] {
        if !angles.is_empty() {
            page.angles(key, angles);
        }
    }
    page.maybe_angle("taper", Some(special.taper).filter(|taper| *taper != Angle::ZERO));
}

fn as_ground(page: &mut Page, ground: &AsGround) {
    page.section("[as_ground]");
    page.length("diameter", ground.diameter);
    page.angle("primary", ground.primary);
    page.angle("secondary", ground.secondary);
    page.length("land", ground.land);
    page.maybe_angle("next_primary", ground.next_primary);
}

fn end_teeth(page: &mut Page, end: &EndTeeth) {
    page.section("[end_teeth]");
    page.maybe_angle("dish", end.dish);
    page.maybe_angle("relief", end.relief);
    page.maybe_angle("secondary", end.secondary);
    page.maybe_length("land", end.land);
    page.maybe_length("ahead_of_centre", end.ahead_of_centre);
    page.maybe_length("centre_hole", end.centre_hole);
    page.maybe_angle("gash_angle", end.gash_angle);
    page.maybe_angle("gash_rake", end.gash_rake);
    page.maybe_length("gash_root", end.gash_root);
    page.maybe_length("gash_from_centre", end.gash_from_centre);
    page.maybe_length("corner_chamfer", end.corner_chamfer);
    page.maybe_angle("corner_angle", end.corner_angle);
    page.maybe_angle("corner_relief", end.corner_relief);
}

fn wear_section(page: &mut Page, wear: &Wear) {
    page.section("[wear]");
    page.maybe_length("measured_diameter", wear.measured_diameter());
    page.maybe_length("shank_runout", wear.shank_runout());
    if !wear.signs().is_empty() {
        page.list("signs", wear.signs().iter().map(|sign| sign.name()));
    }
    wear.teeth().iter().for_each(|tooth| tooth_wear(page, tooth));
}

fn tooth_wear(page: &mut Page, tooth: &ToothWear) {
    page.section("[[wear.tooth]]");
    page.bare("tooth", tooth.tooth);
    page.length("wear_land", tooth.wear_land);
    page.length_if_any("chip_depth", tooth.chip_depth);
    page.length_if_any("chip_from_end", tooth.chip_from_end);
    page.maybe_length("wear_from_end", tooth.wear_from_end);
    page.length_if_any("corner_wear", tooth.corner_wear);
    page.maybe_length("runout", tooth.runout);
}
