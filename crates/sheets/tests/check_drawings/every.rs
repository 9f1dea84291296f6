//! What every drawing of every kind of check must be, whatever its figures.

use std::sync::OnceLock;

use geometry::Length;
use sheets::drawing::{before_after, land_ring, residuals};
use sheets::scene::{Mark, Scene, Weight};

use crate::cases::{SYSTEMS, case, cases};
use crate::paper;

/// Every drawing of every check, in both systems, with a name; drawn once for all tests.
fn drawings() -> &'static [(String, Scene)] {
    static DRAWINGS: OnceLock<Vec<(String, Scene)>> = OnceLock::new();
    DRAWINGS.get_or_init(draw_all)
}

fn draw_all() -> Vec<(String, Scene)> {
    let mut all = Vec::new();
    for case in cases() {
        for system in SYSTEMS {
            let drawings = [
                ("lands", land_ring(&case.check, system)),
                ("residuals", residuals(&case.check, system)),
                ("edges", before_after(&case.check, system)),
            ];
            for (kind, scene) in drawings {
                let name = format!("{} {kind} {}", case.name, system.unit());
                all.extend(scene.map(|scene| (name, scene)));
            }
        }
    }
    all
}

#[test]
fn nothing_is_drawn_where_nothing_was_read() {
    for system in SYSTEMS {
        let signs = &case("four, signs").check;
        assert!(land_ring(signs, system).is_none());
        assert!(residuals(signs, system).is_none());
        assert!(before_after(signs, system).is_none());
        // Drops show no edge, but they are readings.
        let drops = &case("four, drops").check;
        assert!(land_ring(drops, system).is_none());
        assert!(residuals(drops, system).is_some());
        assert!(before_after(drops, system).is_none());
    }
    let silent = ["four, signs", "four, drops"];
    for case in cases().iter().filter(|case| !silent.contains(&case.name)) {
        for system in SYSTEMS {
            assert!(land_ring(&case.check, system).is_some(), "{}", case.name);
            assert!(residuals(&case.check, system).is_some(), "{}", case.name);
            assert!(before_after(&case.check, system).is_some(), "{}", case.name);
        }
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
fn no_line_runs_through_words() {
    for (name, scene) in drawings() {
        let words: Vec<_> = scene.words().map(|words| (words.bounds(), &words.text)).collect();
        for mark in scene.marks() {
            let Mark::Stroke { path, weight } = mark else { continue };
            // A thin leader may graze the box of words beside it, not the letters.
            let inset = if *weight == Weight::Outline { 0.3 } else { 0.7 };
            for (bounds, text) in &words {
                let area = bounds.inset(-inset);
                assert!(!paper::comes_into(path, area), "{name}: a line through {text:?}");
            }
        }
    }
}

#[test]
fn the_same_check_gives_the_same_bytes() {
    let again = draw_all();
    assert_eq!(again.len(), drawings().len());
    for ((name, once), (_, again)) in drawings().iter().zip(again) {
        assert_eq!(once.to_svg(), again.to_svg(), "{name}");
    }
}

/// W3C XML 1.0 (fifth edition), 2.1, as for the drawings of plans.
#[test]
fn files_are_well_formed_and_as_wide_as_a_sheet() {
    for (name, scene) in drawings() {
        let svg = scene.to_svg();
        let elements = paper::elements(&svg).unwrap_or_else(|why| panic!("{name}: {why}"));
        assert_eq!(elements[..3], ["svg", "title", "desc"], "{name}");
        assert!(svg.contains("width=\"180mm\""), "{name}");
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{name}");
        assert!(!scene.title().is_empty() && scene.description().len() > 60, "{name}");
        assert!(scene.paper().height() < 420.0, "{name}: {}", scene.paper().height());
    }
}

/// Every stated scale has its bar, and the bar is as long as both say.
#[test]
fn scale_bars_are_true() {
    for (name, scene) in drawings().iter().filter(|(name, _)| !name.contains("residuals")) {
        let scales = paper::texts(scene, "scale");
        let said = paper::texts(scene, "scale bar");
        let bars = scene.parts().iter().filter(|part| part.name == "scale bar");
        assert_eq!(scales.len(), said.len(), "{name}");
        assert!(!scales.is_empty(), "{name}");
        for ((scale, said), bar) in scales.iter().zip(&said).zip(bars) {
            let ratio = scale.rsplit_once(' ').unwrap().1;
            let (paper_side, thing_side) = ratio.split_once(':').unwrap();
            let factor = paper_side.parse::<f64>().unwrap() / thing_side.parse::<f64>().unwrap();
            let length: Length = said.parse().unwrap();
            let drawn = bar.marks[0].bounds().width();
            assert!((drawn - length.mm() * factor).abs() < 1e-6, "{name}: {scale} {said}");
            assert!(drawn > 6.0, "{name}");
        }
    }
}
