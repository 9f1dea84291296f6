//! What every picture of the bench app must be, whatever it shows.

use std::sync::OnceLock;

use geometry::System;
use kurbo::Rect;
use sheets::drawing::{Life, cutter_view, day_view, dial_view, life_scale, tag_view, wheel_view};
use sheets::scene::{Mark, Scene, Weight};
use shop::record::{Motion, SlideScale};

use crate::cutters::{cutters, mm};
use crate::others::{days, dials, lives, tags, wheels};
use crate::paper;
use crate::truth::factor;

pub(crate) const SYSTEMS: [System; 2] = [System::Inch, System::Millimetre];

/// Every picture with a name; drawn once for all tests.
fn pictures() -> &'static [(String, Scene)] {
    static PICTURES: OnceLock<Vec<(String, Scene)>> = OnceLock::new();
    PICTURES.get_or_init(draw_all)
}

fn draw_all() -> Vec<(String, Scene)> {
    let mut all = Vec::new();
    for system in SYSTEMS {
        let mut add = |kind: &str, name: &str, scene: Scene| {
            all.push((format!("{kind} {name} {}", system.unit()), scene));
        };
        for (name, cutter) in cutters() {
            add("cutter", name, cutter_view(&cutter, system));
        }
        for (name, life) in lives() {
            add("life", name, life_scale(&life, system));
        }
        for (name, tag) in tags() {
            add("tag", name, tag_view(&tag, system));
        }
        for (name, wheel) in wheels() {
            add("wheel", name, wheel_view(&wheel, system));
        }
    }
    all.extend(days().iter().map(|(name, day)| (format!("day {name}"), day_view(day))));
    let dial = |(name, mark, motion): &_| (format!("dial {name}"), dial_view(mark, motion));
    all.extend(dials().iter().map(dial));
    all
}

#[test]
fn all_lies_on_the_paper_and_is_a_number() {
    for (name, scene) in pictures() {
        let inner = scene.paper().inset(if name.starts_with("tag") { -0.5 } else { -2.0 });
        for mark in scene.marks() {
            let bounds = mark.bounds();
            assert!(bounds.is_finite(), "{name}: {mark:?}");
            assert!(inner.union(bounds) == inner, "{name}: {bounds:?} {mark:?}");
        }
    }
}

/// Scales and lives have public fields, and nobody has checked them when they are drawn.
#[test]
fn what_no_record_has_checked_is_drawn_all_the_same() {
    let (_, mark, motion) = dials().remove(0);
    let Motion::Slide(scale) = motion else { panic!("the first dial is a slide's") };
    for graduation in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let scale = SlideScale { graduation: mm(graduation), ..scale };
        let scene = dial_view(&mark, &Motion::Slide(scale));
        assert!(paper::elements(&scene.to_svg()).is_ok(), "{graduation}");
    }
    let (_, life) = lives().remove(0);
    for odd in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let per_grind = mm(odd);
        let odd = Life {
            per_grind,
            expected: u32::MAX,
            now: mm(odd),
            counted_from: mm(odd),
            ..life.clone()
        };
        let scene = life_scale(&odd, System::Inch);
        assert!(scene.marks().all(|mark| mark.bounds().is_finite()), "{odd:?}");
    }
}

/// Shown 700 dots wide, words are 14 dots high.
#[test]
fn words_are_large_and_never_overlap() {
    for (name, scene) in pictures() {
        let words: Vec<_> = scene.words().collect();
        let least_mm = 14.0 * scene.paper().width() / 700.0;
        for (index, one) in words.iter().enumerate() {
            assert!(one.size_mm >= least_mm - 1e-9, "{name}: {one:?}");
            for other in &words[index + 1..] {
                let common = one.bounds().intersect(other.bounds());
                assert!(common.area() <= 0.0, "{name}: {:?} on {:?}", one.text, other.text);
            }
        }
    }
}

#[test]
fn no_heavy_line_and_no_dark_area_runs_through_words() {
    for (name, scene) in pictures() {
        let words: Vec<_> = scene.words().map(|words| (words.bounds(), &words.text)).collect();
        for mark in scene.marks() {
            let path = match mark {
                Mark::Stroke { path, weight: Weight::Outline } => path,
                Mark::Fill { path, paint: sheets::scene::Paint::Black } => path,
                _ => continue,
            };
            for (bounds, text) in &words {
                // A letter's own room is a little smaller than the box that is kept free for it.
                let area: Rect = bounds.inset(-0.3);
                assert!(!paper::comes_into(path, area), "{name}: a line through {text:?}");
            }
        }
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    for ((name, once), (_, again)) in pictures().iter().zip(draw_all()) {
        assert_eq!(once.to_svg(), again.to_svg(), "{name}");
    }
}

/// W3C XML 1.0 (fifth edition), 2.1, as for the drawings of plans. A strict content-security
/// policy (W3C Content Security Policy Level 3, `style-src`) forbids style attributes and
/// elements, and scripts anyway.
#[test]
fn files_are_well_formed_and_need_no_style_and_no_script() {
    for (name, scene) in pictures() {
        let svg = scene.to_svg();
        let elements = paper::elements(&svg).unwrap_or_else(|why| panic!("{name}: {why}"));
        assert_eq!(elements[..3], ["svg", "title", "desc"], "{name}");
        let known = ["svg", "title", "desc", "rect", "g", "path", "text"];
        assert!(elements.iter().all(|element| known.contains(&element.as_str())), "{name}");
        assert!(!svg.contains("style="), "{name}");
        assert!(!svg.contains("NaN") && !svg.contains("inf\""), "{name}");
        assert!(!scene.title().is_empty() && scene.description().len() > 60, "{name}");
    }
}

/// A picture in inches has no millimetres and the other way round, in words and description.
#[test]
fn figures_are_in_the_system_asked_for() {
    let kinds = ["cutter", "life", "tag", "wheel"];
    for (name, scene) in pictures() {
        if !kinds.iter().any(|kind| name.starts_with(kind)) {
            continue;
        }
        let other = if name.ends_with(" in") { "mm" } else { "in" };
        let told = scene.words().map(|words| words.text.as_str()).chain([scene.description()]);
        for text in told {
            let words: Vec<&str> = text.split([' ', ',', ';', '.', ')', ':']).collect();
            let is_figure = |word: &str| word.ends_with(|letter: char| letter.is_ascii_digit());
            let wrong = words.windows(2).any(|pair| is_figure(pair[0]) && pair[1] == other);
            assert!(!wrong, "{name}: {text:?}");
        }
    }
}

/// The bar of a picture to scale is as long as its words and the stated scale say.
#[test]
fn scale_bars_are_true() {
    let mut count = 0;
    for (name, scene) in pictures() {
        let Some(part) = scene.parts().iter().find(|part| part.name == "scale bar") else {
            continue;
        };
        let said: geometry::Length = paper::texts(scene, "scale bar")[0].parse().unwrap();
        let drawn = part.marks[0].bounds();
        let factor = factor(scene, "scale");
        assert!((drawn.width() - said.mm() * factor).abs() < 1e-6, "{name}: {said:?}");
        count += 1;
    }
    assert!(count >= 2 * (cutters().len() + wheels().len()));
}
