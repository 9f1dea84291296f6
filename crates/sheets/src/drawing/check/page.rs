//! The page of a check's drawing: as wide as the other sheets and as high as what stands on it.

use kurbo::{Point, Vec2};

use super::super::frame::{HEADING, LEFT, NOTE, RIGHT, SHEET, Sample, legend};
use crate::scene::{Hatching, Paint, Scene, Weight, Words, width_mm};

/// Where the field of a drawing begins, below heading and notes.
pub(super) const FIELD_TOP: f64 = 20.0;

/// From line to line of a legend.
pub(super) const LINE_MM: f64 = 5.0;

/// Paper kept free at the lower edge.
pub(super) const FOOT_MM: f64 = 4.0;

/// Hatching of what was expected.
pub(super) const EXPECTED: Hatching =
    Hatching { turn_rad: -std::f64::consts::FRAC_PI_4, spacing_mm: 0.8 };

/// A page with its heading and up to two lines of notes.
pub(super) fn page(heading: &str, notes: [&str; 2], description: String, height_mm: f64) -> Scene {
    let mut scene = Scene::new(heading.to_owned(), description, SHEET.0, height_mm);
    scene.part("heading");
    scene.text(Words::starting((LEFT, 7.5), HEADING, heading));
    for (note, y) in notes.into_iter().zip([12.5, 17.0]) {
        if !note.is_empty() {
            scene.text(Words::starting((LEFT, y), NOTE, note));
        }
    }
    scene
}

/// What the legend of a check shows beside its words.
#[derive(Clone, Copy, Debug)]
pub(super) enum Key {
    /// A line.
    Line(Weight),
    /// A solid area.
    Solid,
    /// A hatched area.
    Hatched,
    /// A reading that was set aside.
    Cross,
    /// A reading.
    Dot,
    /// An edge, heavy, at the end of its bar, with its band.
    Edge,
}

/// Width of the sample of a key, with the gap to its words.
const SAMPLE_MM: f64 = 9.8;

/// Gap between two entries.
const GAP_MM: f64 = 5.0;

/// Draws entries one after another from a place, and gives the end of the last.
pub(super) fn keys(scene: &mut Scene, from: Point, entries: &[(Key, &str)]) -> f64 {
    let mut x = from.x;
    for (key, words) in entries {
        draw_key(scene, Point::new(x, from.y), *key, words);
        x += SAMPLE_MM + width_mm(words, NOTE) + GAP_MM;
    }
    x
}

fn draw_key(scene: &mut Scene, at: Point, key: Key, words: &str) {
    let sample = match key {
        Key::Line(weight) => Some(Sample::Line(weight)),
        Key::Hatched => Some(Sample::Hatch(EXPECTED)),
        _ => None,
    };
    if let Some(sample) = sample {
        return legend(scene, at, sample, words);
    }
    let middle = at + Vec2::new(4.0, -0.3 * NOTE);
    match key {
        Key::Solid => scene.fill(&rectangle(middle, 4.0, 0.9), Paint::Black),
        Key::Cross => cross(scene, middle),
        Key::Dot => dot(scene, middle),
        _ => draw_edge_sample(scene, middle),
    }
    scene.text(Words::starting((at.x + SAMPLE_MM, at.y), NOTE, words));
}

/// An edge on the end of its bar, with its band.
fn draw_edge_sample(scene: &mut Scene, at: Point) {
    let right = |mm: f64| at + Vec2::new(mm, 0.0);
    scene.polyline(&closed(rectangle(right(-1.6), 2.4, BAR_HALF_MM)), Weight::Thin);
    whisker(scene, right(-1.6), right(3.2), Vec2::new(0.0, 1.0));
    scene.line(right(0.8) - TICK, right(0.8) + TICK, Weight::Outline);
}

const TICK: Vec2 = Vec2::new(0.0, 1.6);

/// Half the width of a bar round a cutter.
pub(super) const BAR_HALF_MM: f64 = 0.8;

/// Half the width of the cap of a band.
const CAP_HALF_MM: f64 = 0.8;

/// A band from end to end with caps along a direction.
pub(super) fn whisker(scene: &mut Scene, from: Point, to: Point, along: Vec2) {
    scene.line(from, to, Weight::Thin);
    for end in [from, to] {
        scene.line(end - along * CAP_HALF_MM, end + along * CAP_HALF_MM, Weight::Thin);
    }
}

/// The corners of a level rectangle about a middle.
fn rectangle(middle: Point, half_wide_mm: f64, half_high_mm: f64) -> Vec<Point> {
    let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    let corner = |(x, y): (f64, f64)| middle + Vec2::new(x * half_wide_mm, y * half_high_mm);
    corners.map(corner).to_vec()
}

/// A polygon with its first point again at its end.
pub(super) fn closed(mut points: Vec<Point>) -> Vec<Point> {
    points.extend(points.first().copied());
    points
}

/// Half the size of a cross and the radius of a dot.
const CROSS_MM: f64 = 1.5;
const DOT_MM: f64 = 0.8;

/// The cross on a reading that was set aside.
pub(super) fn cross(scene: &mut Scene, at: Point) {
    for across in [Vec2::new(CROSS_MM, CROSS_MM), Vec2::new(CROSS_MM, -CROSS_MM)] {
        scene.line(at - across, at + across, Weight::Outline);
    }
}

/// The dot of a reading.
pub(super) fn dot(scene: &mut Scene, at: Point) {
    let turn = |step: u32| Vec2::from_angle(f64::from(step) * std::f64::consts::TAU / 16.0);
    scene.fill(&(0..16).map(|step| at + turn(step) * DOT_MM).collect::<Vec<_>>(), Paint::Black);
}

/// Words broken into lines no wider than the sheet.
pub(super) fn wrapped(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if width_mm(&format!("{line} {word}"), NOTE) <= RIGHT - LEFT => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Sets lines below one another from a baseline.
pub(super) fn set_notes(scene: &mut Scene, from: f64, lines: &[String]) {
    for (row, line) in lines.iter().enumerate() {
        scene.text(Words::starting((LEFT, from + LINE_MM * row as f64), NOTE, line.as_str()));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_notes_are_broken_between_words_and_lose_none() {
        let text = "set aside, because the other readings speak against it: ".repeat(6);
        let lines = wrapped(text.trim_end());
        assert!(lines.len() > 2);
        assert!(lines.iter().all(|line| width_mm(line, NOTE) <= RIGHT - LEFT));
        assert_eq!(lines.join(" "), text.trim_end());
    }
}
