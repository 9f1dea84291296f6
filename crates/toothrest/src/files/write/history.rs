//! A history as a file.

use shop::learn::{CutterGrind, Known, WheelGrind};

use super::page::Page;
use super::quantity::read_in;

/// What is known of a cutter and its wheels as a file that
/// [`read_history`](crate::files::read_history) reads back as the same.
pub fn history_text(cutter: Option<&str>, known: &Known) -> String {
    let sizes = known.cutter.grinds().iter().map(|grind| grind.after);
    let wheels = known.wheels.values().flat_map(|history| history.grinds());
    let fed = wheels.flat_map(|grind| [grind.fed, grind.came_off, grind.face_lost]).flatten();
    let mut page = Page::new(read_in(sizes.chain(fed)));
    page.maybe_words("cutter", cutter);
    known.cutter.grinds().iter().for_each(|grind| cutter_grind(&mut page, grind));
    for (wheel, history) in &known.wheels {
        history.grinds().iter().for_each(|grind| wheel_grind(&mut page, wheel, grind));
    }
    page.finish()
}

fn cutter_grind(page: &mut Page, grind: &CutterGrind) {
    page.section("[[grind]]");
    page.words("entry", &grind.entry);
    page.maybe_length("sharp_before", grind.sharp_before);
    page.maybe_length("dull", grind.dull);
    page.length("after", grind.after);
    page.maybe_length("wear_land", grind.wear_land);
    page.maybe_angle("worn_on", grind.worn_on);
}

fn wheel_grind(page: &mut Page, wheel: &str, grind: &WheelGrind) {
    page.section("[[wheel_grind]]");
    page.words("entry", &grind.entry);
    page.words("wheel", wheel);
    page.maybe_length("fed", grind.fed);
    page.maybe_length("came_off", grind.came_off);
    page.maybe_length("face_lost", grind.face_lost);
    page.bare("cutters", grind.cutters);
}
