//! What every page must be as a scene, before anything is written.

use crate::given::all_sheets;
use sheets::paper::{
    FIGURES_LEAST_MM, RESULTS_LEAST_MM, WORDS_LEAST_MM, WORDS_ONE_PAGE_LEAST_MM as ONE_PAGE_MM,
};
use sheets::scene::{Mark, Scene};

fn pages() -> impl Iterator<Item = (&'static str, &'static Scene)> {
    all_sheets()
        .iter()
        .flat_map(|(name, _, pages)| pages.scenes().iter().map(move |scene| (name.as_str(), scene)))
}

#[test]
fn all_lies_within_the_margins() {
    for (name, scene) in pages() {
        let inner = scene.paper().inset(-8.0);
        for mark in scene.marks() {
            let bounds = mark.bounds();
            assert!(bounds.is_finite() && inner.union(bounds) == inner, "{name}: {mark:?}");
        }
    }
}

#[test]
fn words_never_overlap_and_none_is_too_small() {
    for (name, scene) in pages() {
        let words: Vec<_> = scene.words().filter(|words| !words.text.is_empty()).collect();
        for (index, one) in words.iter().enumerate() {
            assert!(one.size_mm >= 1.7, "{name}: {one:?}");
            for other in &words[index + 1..] {
                let common = one.bounds().intersect(other.bounds());
                let covers = common.width() > 0.05 && common.height() > 0.35;
                assert!(!covers, "{name}: {:?} on {:?}", one.text, other.text);
            }
        }
    }
}

/// At arm's length, 70 cm, 12 points are seen as 5 points are at 30 cm (own arithmetic): as the
/// small print of a newspaper, and not smaller.
#[test]
fn figures_that_are_set_or_read_are_large_and_no_word_is_small() {
    for (name, _, pages) in all_sheets().iter().filter(|(name, ..)| name.starts_with("set-up")) {
        let words = || pages.scenes().iter().flat_map(Scene::words);
        for one in words() {
            let least_mm = if pages.scenes().len() > 1 { WORDS_LEAST_MM } else { ONE_PAGE_MM };
            assert!(one.size_mm >= least_mm - 1e-9, "{name}: {one:?}");
        }
        if name.contains("no periphery") {
            continue;
        }
        let bold = || words().filter(|words| words.face == sheets::scene::Face::Bold);
        let large = bold().filter(|words| words.size_mm >= FIGURES_LEAST_MM - 1e-9).count();
        assert!(large >= 10, "{name}: {large}");
        for result in ["Diameter ", "Land "] {
            let is_result = |words: &&sheets::scene::Words| words.text.starts_with(result);
            let size_mm = bold().find(is_result).map(|words| words.size_mm);
            assert!(size_mm.is_some_and(|size| size >= RESULTS_LEAST_MM), "{name}: {size_mm:?}");
        }
    }
}

/// A sheet is clamped to the machine: the usual set-ups are one page on both papers.
#[test]
fn a_usual_set_up_is_one_page() {
    let all = all_sheets();
    let set_ups = all.iter().filter(|(name, ..)| name.starts_with("set-up"));
    for (name, _, pages) in set_ups {
        assert_eq!(pages.scenes().len(), 1, "{name}");
    }
}

#[test]
fn boxes_are_large_enough_for_a_pencil() {
    for (name, _, pages) in all_sheets().iter().filter(|(name, ..)| name.contains("tray")) {
        let boxes = pages.scenes()[0].marks().filter(|mark| {
            let bounds = mark.bounds();
            matches!(mark, Mark::Stroke { .. }) && bounds.height() > 4.5 && bounds.width() > 9.0
        });
        assert!(boxes.count() > 10, "{name}");
    }
}
