//! What every drawing of every kind of plan must be, whatever its figures.

use std::sync::OnceLock;

use crate::paper;
use crate::plans::{Case, cases, without_periphery};
use geometry::System;
use kurbo::Rect;
use sheets::drawing::{drop_run, end_view, tooth_section};
use sheets::scene::{Mark, Scene, Weight};

/// Every drawing of every plan, in both systems, with a name; drawn once for all tests.
fn drawings() -> &'static [(String, Scene)] {
    static DRAWINGS: OnceLock<Vec<(String, Scene)>> = OnceLock::new();
    DRAWINGS.get_or_init(draw_all)
}

fn draw_all() -> Vec<(String, Scene)> {
    let of_case = |case: &Case| {
        [System::Inch, System::Millimetre]
            .into_iter()
            .flat_map(|system| {
                let drawings = [
                    ("tooth", tooth_section(&case.plan, system)),
                    ("end view", end_view(&case.plan, system)),
                    ("run", drop_run(&case.plan, system)),
                ];
                drawings.map(|(kind, scene)| {
                    let name = format!("{} {kind} {}", case.name, system.unit());
                    (name, scene.expect("the plan grinds the periphery"))
                })
            })
            .collect::<Vec<_>>()
    };
    cases().iter().flat_map(of_case).collect()
}

#[test]
fn nothing_is_drawn_where_no_periphery_is_ground() {
    let plan = without_periphery();
    assert!(plan.peripheral.is_none());
    for system in [System::Inch, System::Millimetre] {
        assert!(tooth_section(&plan, system).is_none());
        assert!(end_view(&plan, system).is_none());
        assert!(drop_run(&plan, system).is_none());
    }
}

#[test]
fn all_lies_on_the_paper_and_is_a_number() {
    for (name, scene) in drawings() {
        let inner = scene.paper().inset(-2.0);
        for mark in scene.marks() {
            let bounds = mark.bounds();
            assert!(bounds.is_finite(), "{name}: {mark:?}");
            assert!(inner.union(bounds) == inner, "{name}: {bounds:?} {mark:?}");
        }
    }
}

#[test]
fn words_are_large_and_never_overlap() {
    for (name, scene) in drawings() {
        let words: Vec<_> = scene.words().collect();
        for (index, one) in words.iter().enumerate() {
            assert!(one.size_mm >= 3.0, "{name}: {one:?}");
            for other in &words[index + 1..] {
                let common = one.bounds().intersect(other.bounds());
                assert!(common.area() <= 0.0, "{name}: {:?} on {:?}", one.text, other.text);
            }
        }
    }
}

#[test]
fn no_heavy_line_runs_through_words() {
    for (name, scene) in drawings() {
        let words: Vec<_> = scene.words().map(|words| (words.bounds(), &words.text)).collect();
        for mark in scene.marks() {
            let Mark::Stroke { path, weight: Weight::Outline } = mark else { continue };
            for (bounds, text) in &words {
                // A letter's own room is a little smaller than the box that is kept free for it.
                let area = bounds.inset(-0.3);
                assert!(!paper::comes_into(path, area), "{name}: a line through {text:?}");
            }
        }
    }
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    for ((name, once), (_, again)) in drawings().iter().zip(draw_all()) {
        assert_eq!(once.to_svg(), again.to_svg(), "{name}");
    }
}

/// W3C XML 1.0 (fifth edition), 2.1: every element closed in order, one root, and no mark-up in
/// texts or attributes; checked by the reader in `paper`, which knows nothing of the writer.
#[test]
fn files_are_well_formed_and_sized_in_millimetres() {
    for (name, scene) in drawings() {
        let svg = scene.to_svg();
        let elements = paper::elements(&svg).unwrap_or_else(|why| panic!("{name}: {why}"));
        assert_eq!(elements[0], "svg", "{name}");
        assert_eq!(elements[1..3], ["title", "desc"], "{name}");
        assert!(svg.contains("width=\"180mm\" height=\"120mm\" viewBox=\"0 0 180 120\""), "{name}");
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{name}");
        assert!(!scene.title().is_empty() && scene.description().len() > 60, "{name}");
    }
}

/// The bar of a drawing to scale is as long as its words and the stated scale say.
#[test]
fn scale_bars_are_true() {
    for (name, scene) in drawings().iter().filter(|(name, _)| !name.contains("run")) {
        let texts = |part| paper::texts(scene, part);
        let said: geometry::Length = texts("scale bar")[0].parse().unwrap();
        let scale = texts("scale")[0].trim_start_matches("scale ").to_owned();
        let (paper_side, thing_side) = scale.split_once(':').unwrap();
        let factor: f64 = paper_side.parse::<f64>().unwrap() / thing_side.parse::<f64>().unwrap();
        let part = scene.parts().iter().find(|part| part.name == "scale bar").unwrap();
        let drawn = part.marks[0].bounds();
        assert!((drawn.width() - said.mm() * factor).abs() < 1e-6, "{name}: {scale} {said:?}");
        assert!(drawn.width() > 6.0 && drawn.union(Rect::ZERO).x1 < 175.0, "{name}");
    }
}
