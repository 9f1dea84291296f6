//! The words that pictures must carry, and those that they never may.

use geometry::System;
use sheets::drawing::{cutter_view, day_view, dial_view, life_scale, tag_view, wheel_view};
use sheets::scene::Scene;

use crate::cutters::cutters;
use crate::every::SYSTEMS;
use crate::others::{days, dials, lives, tags, wheels};

/// All words of a scene as one text, a blank between any two.
fn text(scene: &Scene) -> String {
    scene.words().map(|words| words.text.as_str()).collect::<Vec<_>>().join(" ")
}

fn assert_has(scene: &Scene, wanted: &[&str]) {
    let text = text(scene);
    for words in wanted {
        assert!(text.contains(words), "no {words:?} in {text:?}");
    }
}

fn of<T>(all: Vec<(&'static str, T)>, name: &str) -> T {
    all.into_iter().find(|(found, _)| *found == name).unwrap().1
}

#[test]
fn a_cutter_tells_its_sizes_and_its_teeth() {
    let half = cutter_view(&of(cutters(), "half inch"), System::Inch);
    let sizes = ["⌀ 0.4969 in as last ground", "nominal 1/2 in (−0.0031 in)", "flutes 1 in"];
    assert_has(&half, &sizes);
    // Lead of 1/2 in at 30 degrees: π/2 / tan 30°, 2.7207 in. Own arithmetic.
    let words = ["overall 3-1/4 in", "shank ⌀ 1/2 in", "4 teeth, right-hand cut", "lead 2.7207 in"];
    assert_has(&half, &words);
    let left = cutter_view(&of(cutters(), "left hand"), System::Millimetre);
    assert_has(&left, &["left-hand cut", "counterclockwise", "Helix 30.0° left-hand"]);
    let straight = cutter_view(&of(cutters(), "straight"), System::Inch);
    assert_has(&straight, &["Straight teeth", "as ground: not noted", "⌀ nominal 3/4 in"]);
    let ball = cutter_view(&of(cutters(), "ball"), System::Millimetre);
    assert_has(&ball, &["ball R 4.75 mm"]);
    let corner = cutter_view(&of(cutters(), "corner"), System::Millimetre);
    assert_has(&corner, &["corner R 1.5 mm"]);
}

#[test]
fn wear_is_told_tooth_by_tooth_and_like_teeth_together() {
    let chipped = cutter_view(&of(cutters(), "chipped two inch"), System::Inch);
    assert_has(&chipped, &["Tooth 1: wear land 0.0071 in.", "tooth 4: chip, behind"]);
    assert_has(&chipped, &["chip 0.0433 in deep, up to 3/4 in from the end", "chipped"]);
    let corners = cutter_view(&of(cutters(), "corners gone"), System::Millimetre);
    assert_has(&corners, &["Teeth 1, 2, 3 and 4: wear land 0.300 mm; corner gone over 0.800 mm"]);
    let unseen = cutter_view(&of(cutters(), "half inch"), System::Inch);
    assert_has(&unseen, &["nobody has looked yet"]);
    let rougher = cutter_view(&of(cutters(), "rougher"), System::Inch);
    assert_has(&rougher, &["its waves are not drawn", "spaced unequally; they are drawn equal"]);
}

#[test]
fn a_life_tells_what_is_left() {
    let three = life_scale(&of(lives(), "three grinds"), System::Inch);
    assert_has(&three, &["4 regrinds left, 2 at the least and 7 at the most", "4 March 2023"]);
    assert_has(&three, &["nominal", "1/2 in", "smallest useful", "now 0.4803 in"]);
    let none = life_scale(&of(lives(), "worn out"), System::Millimetre);
    assert_has(&none, &["No regrind left", "at its smallest useful size"]);
    let below = life_scale(&of(lives(), "below the smallest"), System::Millimetre);
    assert_has(&below, &["stands 0.200 mm below its smallest useful size"]);
    let many = life_scale(&of(lives(), "twenty grinds"), System::Millimetre);
    assert_has(&many, &["13 regrinds are marked without a date"]);
    assert!(many.description().contains("49.56 mm"), "every regrind is in the description");
}

#[test]
fn a_day_tells_who_did_what_and_the_totals() {
    let day = day_view(&of(days(), "ordinary"));
    assert_has(&day, &["K-117", "TB", "JM", "AHL"]);
    assert_has(&day, &["received 2, planned 2, ground 3, checked 3, handed back 2"]);
    assert_has(&day, &["Ground and not yet handed back: K-134.", "AHL 1 step, JM 5 steps"]);
    assert!(day.description().contains("K-130: received 7:31 JM, planned 13:02 AHL."));
    let nothing = day_view(&of(days(), "nothing"));
    assert_has(&nothing, &["0 cutters: received 0"]);
}

#[test]
fn a_tag_says_plainly_that_a_size_is_not_nominal() {
    let tag = |name: &str, system| tag_view(&of(tags(), name), system);
    let square = tag("square", System::Inch);
    assert_has(&square, &["K-117", "NOT NOMINAL", "⌀ 0.4870 in", "square end", "regrind 3"]);
    assert_has(&square, &["−0.0130 in from nominal 1/2 in", "24 November 2026", "TB"]);
    let corner = tag("corner", System::Millimetre);
    assert_has(&corner, &["R 0.700 mm, −0.062 mm from 0.762 mm", "flute left 31 mm"]);
    let full = tag("full", System::Inch);
    assert_has(&full, &["NOMINAL SIZE"]);
    assert!(!text(&full).contains("NOT"));
    // Initials are never cut, and of a number as much stands there as two lines hold.
    assert_has(&tag("long", System::Inch), &["ABCDEFG", "The long cutter from"]);
    assert_eq!(square.paper().size(), kurbo::Size::new(70.0, 36.0));
}

#[test]
fn a_wheel_tells_its_mark_and_no_picture_calls_it_safe() {
    for (name, wheel) in wheels() {
        for system in SYSTEMS {
            let scene = wheel_view(&wheel, system);
            assert_has(&scene, &["marked on it:", "6000 rpm", wheel.grit()]);
            let told = format!("{} {} {}", text(&scene), scene.title(), scene.description());
            assert!(!told.to_lowercase().contains("safe"), "{name}");
        }
    }
    let cup = wheel_view(&of(wheels(), "flaring cup"), System::Millimetre);
    assert_has(&cup, &["⌀ 100 mm", "depth 35 mm", "face 2 mm", "wall 20.0°", "40 m/s", "⌀ 20 mm"]);
    // 40 m/s are 40 · 60 / 0.3048 = 7874 ft/min. Own arithmetic.
    let inch = wheel_view(&of(wheels(), "flaring cup"), System::Inch);
    assert_has(&inch, &["7874 ft/min"]);
    let taken = wheel_view(&of(wheels(), "flaring, no wall"), System::Inch);
    assert_has(&taken, &["how far the wall leans is not on record", "worn corner"]);
}

#[test]
fn a_dial_tells_turns_and_mark() {
    let dial = |name: &str| {
        let (_, mark, motion) = dials().into_iter().find(|(found, _, _)| *found == name).unwrap();
        dial_view(&mark, &motion)
    };
    // 12.34 = 3 · 4 + 0.34; 0.237 = 2 · 0.100 + 0.037; 0.346 = 17 · 0.02 + 3 · 0.002;
    // −5.3 = −2 · 4 + 2.7. Own arithmetic.
    assert_has(&dial("metric"), &["12.34 mm", "3 whole turns", "mark 0.34", "on diameter"]);
    assert_has(&dial("inch"), &["0.237 in", "2 whole turns", "mark 37", "Figures in thou"]);
    assert_has(&dial("vernier"), &["0.346 mm", "less than one turn", "mark 0.34, vernier line 3"]);
    assert_has(&dial("halves"), &["1.225 mm", "mark 1.2 and a half"]);
    assert_has(&dial("back"), &["−5.30 mm", "1 whole turn", "back from 0", "mark 2.7"]);
    assert_has(&dial("at zero"), &["8.00 mm", "2 whole turns", "mark 0"]);
    assert_has(&dial("very fine"), &["2.998 mm", "2 whole turns", "mark 0.998"]);
    assert_has(&dial("quarter degrees"), &["89.25 deg", "mark 89.25", "A part of it is drawn"]);
    assert_has(&dial("minutes"), &["mark −8, vernier line 9"]);
    assert!(!text(&dial("rule")).contains("turn"));
}
