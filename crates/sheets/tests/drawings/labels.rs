//! The words that the drawings of each kind of plan must carry, and those that they must not.

use crate::plans::{Case, cases};
use geometry::System;
use sheets::drawing::{drop_run, end_view, tooth_section};
use sheets::scene::Scene;
use shop::plan::{Hold, ReliefBy};

fn all_words(scene: &Scene) -> Vec<String> {
    scene.words().map(|words| words.text.clone()).collect()
}

fn has(scene: &Scene, wanted: &str) -> bool {
    scene.words().any(|words| words.text.contains(wanted))
}

fn assert_has(case: &Case, scene: &Scene, wanted: &[&str]) {
    for text in wanted {
        assert!(has(scene, text), "{}: no {text:?} in {:?}", case.name, all_words(scene));
    }
}

#[test]
fn a_tooth_section_tells_every_figure() {
    for case in cases() {
        let peripheral = case.plan.peripheral.as_ref().unwrap();
        let scene = tooth_section(&case.plan, System::Millimetre).unwrap();
        let length = |length: geometry::Length| length.show(System::Millimetre).to_string();
        let drop = peripheral.expected.drops.last().unwrap();
        let wanted = [
            format!("land {}", length(peripheral.expected.land)),
            format!("drop {}", length(drop.drop)),
            format!("at {} behind the edge", length(drop.distance)),
            format!("primary {:.1}°", peripheral.stanced.relief.degrees()),
            format!("secondary {:.1}°", peripheral.secondary.stanced.relief.degrees()),
            format!("rake {:.1}°", case.plan.request.cutter.rake().degrees()),
        ];
        assert_has(case, &scene, &wanted.each_ref().map(String::as_str));
        let named = ["off the radius", "tooth rest", "way of the cut", "wheel, primary", "scale"];
        assert_has(case, &scene, &named);
    }
}

#[test]
fn an_end_view_tells_how_all_stands() {
    for case in cases() {
        let peripheral = case.plan.peripheral.as_ref().unwrap();
        let scene = end_view(&case.plan, System::Inch).unwrap();
        let inset = peripheral.stanced.stance().rest_inset.show(System::Inch).to_string();
        let named =
            ["heel", "tooth rest", "relief setting", "leading", "rest inset", "tip", "shank"];
        assert_has(case, &scene, &named);
        assert_has(case, &scene, &[inset.as_str(), "face toward the", "From above"]);
        let (runs, not) = match peripheral.direction.hold {
            Hold::Down => ("runs down", "runs up"),
            Hold::Lifts => ("runs up", "runs down"),
            Hold::Along => unreachable!("no periphery is ground along the flute"),
        };
        assert!(has(&scene, runs) && !has(&scene, not), "{}", case.name);
        let height = match peripheral.stanced.relief_by {
            ReliefBy::WheelAbove => "the centre line",
            _ => "below centre",
        };
        assert_has(case, &scene, &[height]);
    }
}

#[test]
fn a_left_hand_cutter_is_seen_from_its_tip_and_lies_the_other_way() {
    for case in cases() {
        let scene = end_view(&case.plan, System::Inch).unwrap();
        let x = |name: &str| {
            let words = scene.words().find(|words| words.text == name).unwrap();
            words.bounds().center().x
        };
        let is_left = case.name == "left hand";
        assert_eq!(has(&scene, "seen from the tip end"), is_left, "{}", case.name);
        assert_eq!(has(&scene, "seen from the shank end"), !is_left, "{}", case.name);
        assert_eq!(x("shank") < x("tip"), is_left, "{}", case.name);
    }
}

#[test]
fn a_run_marks_what_there_is_to_mark() {
    for case in cases() {
        let scene = drop_run(&case.plan, System::Inch).unwrap();
        assert_has(case, &scene, &["drop 0.00", "handbook's plane", "end of the land", "thou"]);
        assert_eq!(has(&scene, "the heel drags from"), case.name == "heel drag", "{}", case.name);
        let is_straight = case.plan.request.cutter.is_straight();
        assert!(!is_straight || !has(&scene, "rest at the wheel's corner"), "{}", case.name);
    }
    let half = &cases()[0];
    let scene = drop_run(&half.plan, System::Inch).unwrap();
    assert!(has(&scene, "rest at the wheel's corner"));
}

#[test]
fn figures_follow_the_system_of_units() {
    let half = &cases()[0];
    let millimetres = drop_run(&half.plan, System::Millimetre).unwrap();
    assert!(has(&millimetres, "behind the edge, mm") && !has(&millimetres, "thou"));
    let inches = tooth_section(&half.plan, System::Inch).unwrap();
    assert!(!all_words(&inches).iter().any(|text| text.contains(" mm")));
}
