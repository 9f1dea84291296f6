//! What every page must be as a scene, before anything is written.

use crate::given::all_sheets;
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

/// A dial mark is read at arm's length where its figures stand at least 3 mm high (own choice, no
/// source); a figure of this face is 0.73 of its size high.
#[test]
fn dial_marks_are_large() {
    for (name, _, pages) in all_sheets().iter().filter(|(name, ..)| name.starts_with("set-up")) {
        let bold =
            pages.scenes()[0].words().filter(|words| words.face == sheets::scene::Face::Bold);
        let large = bold.filter(|words| words.size_mm * 0.73 >= 2.6).count();
        assert!(large >= 8 || name.contains("no periphery"), "{name}: {large}");
    }
}

#[test]
fn a_set_up_is_one_page() {
    for (name, _, pages) in all_sheets().iter().filter(|(name, ..)| name.starts_with("set-up")) {
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
