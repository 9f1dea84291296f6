//! A machine as a file.

use geometry::Angle;
use shop::plan::system_of;
use shop::record::{
    Axis, AxisRole, Fixture, Machine, Motion, Reads, Rest, SlideScale, Spindle, SwivelScale,
    WorkHolding,
};

use super::page::Page;

/// A machine as a file that [`read_machine`](crate::files::read_machine) reads back as an equal
/// machine. Lengths that could be of either system are written in that of the cross feed's dial.
pub fn machine_text(machine: &Machine) -> String {
    let mut page = Page::new(system_of(machine.cross_feed().graduation));
    page.section("[machine]");
    page.words("name", machine.name());
    page.words("coolant", machine.coolant().name());
    page.bare("extraction", machine.extraction());
    spindle(&mut page, machine.spindle());
    machine.axes().iter().for_each(|axis| axis_section(&mut page, axis));
    holding(&mut page, machine.holding());
    rest(&mut page, machine.rest());
    page.finish()
}

fn spindle(page: &mut Page, spindle: &Spindle) {
    page.section("[spindle]");
    page.words("nut_thread", spindle.nut_thread().name());
    page.list("rotation", spindle.rotations().iter().map(|rotation| rotation.name()));
    page.words("nut_end", spindle.nut_end());
    page.maybe_length("flange_diameter", spindle.flange_diameter());
    for speed in spindle.speeds() {
        page.section("[[spindle.speed]]");
        page.bare("rpm", speed.rpm);
        page.words("belt", &speed.belt);
    }
}

fn axis_section(page: &mut Page, axis: &Axis) {
    page.section("[[axis]]");
    page.words("name", axis.name());
    page.words("role", axis.role().name());
    page.words("side", axis.side().name());
    match axis.motion() {
        Motion::Slide(scale) => slide(page, axis.role(), scale),
        Motion::Swivel(scale) => swivel(page, scale),
    }
    page.words("zero", axis.zero());
    page.words("positive", axis.positive());
}

/// What a dial reads is written where a file must say it, and where it is not the usual.
fn slide(page: &mut Page, role: AxisRole, scale: &SlideScale) {
    page.words("motion", "slide");
    page.length("graduation", scale.graduation);
    page.maybe_length("vernier", scale.vernier);
    page.maybe_length("per_turn", scale.per_turn);
    if role == AxisRole::CrossFeed || scale.reads != Reads::Radius {
        page.words("reads", scale.reads.name());
    }
    page.length_if_any("backlash", scale.backlash);
    if let Some((low, high)) = scale.range {
        page.lengths("range", &[low, high]);
    }
    halves(page, scale.halves);
}

fn swivel(page: &mut Page, scale: &SwivelScale) {
    page.words("motion", "swivel");
    page.angle("graduation", scale.graduation);
    page.maybe_angle("vernier", scale.vernier);
    page.maybe_angle("backlash", Some(scale.backlash).filter(|backlash| *backlash != Angle::ZERO));
    if let Some((low, high)) = scale.range {
        page.angles("range", &[low, high]);
    }
    halves(page, scale.halves);
}

fn halves(page: &mut Page, halves: bool) {
    if halves {
        page.bare("halves", true);
    }
}

fn holding(page: &mut Page, holding: &WorkHolding) {
    page.section("[work_holding]");
    page.words("fixture", holding.fixture().name());
    if let Fixture::AirSpindle { psi } = holding.fixture() {
        page.bare("psi", psi);
    }
    let (thinnest, thickest) = holding.shanks();
    page.length("shank_min", thinnest);
    page.length("shank_max", thickest);
    page.words("squaring", holding.squaring());
    let dividing = holding.dividing();
    if let Some(ratio) = dividing.ratio {
        page.bare("ratio", ratio);
    }
    for (key, holes) in [("circles", &dividing.circles), ("direct", &dividing.direct)] {
        if !holes.is_empty() {
            page.bare(key, format!("{holes:?}"));
        }
    }
    page.maybe_length("centre_height", holding.centres().height);
    page.maybe_length("longest", holding.centres().longest);
    page.maybe_length("nose_diameter", holding.nose_diameter());
}

fn rest(page: &mut Page, rest: &Rest) {
    page.section("[rest]");
    page.words("stands_on", rest.stands_on().name());
    for finger in rest.fingers() {
        page.section("[[rest.finger]]");
        page.words("name", &finger.name);
        page.length("width", finger.width);
        page.words("kind", finger.kind.name());
    }
}
