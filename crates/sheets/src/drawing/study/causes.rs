//! What each result's spread is caused by, as bars with words.

use geometry::System;
use kurbo::Point;
use shop::study::{Cause, Causes, Study};

use super::super::frame::LEFT;
use super::super::leaf::{LARGE, LINE_MM, RIGHT, SMALL, leaf, set, set_lines};
use super::note;
use crate::scene::{Paint, Scene, Weight, Words};
use crate::text::Units;
use crate::text::study_words::{listed, percent, tolerance};

/// Where the first result begins.
const TOP: f64 = 18.0;

/// Where the bars begin, and where a bar for all of it would end.
const BARS_X: (f64, f64) = (LEFT + 50.0, RIGHT - 22.0);

/// Height of a bar and from bar to bar.
const BAR_MM: f64 = 3.6;
const STEP_MM: f64 = 6.4;

/// At most so many causes of a result are drawn, and none below this share.
const DRAWN_MAX: usize = 6;
const DRAWN: f64 = 0.01;

/// Room above the bars of a result, and below.
const ABOVE_MM: f64 = LINE_MM + 2.5;
const BELOW_MM: f64 = 3.0;

/// The causes of a result that are drawn.
fn drawn(causes: &Causes) -> impl Iterator<Item = &Cause> {
    causes.causes.iter().filter(|cause| cause.share.total >= DRAWN).take(DRAWN_MAX)
}

fn height_mm(causes: &Causes) -> f64 {
    ABOVE_MM + STEP_MM * drawn(causes).count() as f64 + BELOW_MM
}

/// The causes of every result, the greatest first: black what a setting does alone, hollow what it
/// does together with others.
pub fn causes_view(study: &Study, system: System) -> Scene {
    let units = Units { system, both: false };
    let all: f64 = study.causes.iter().map(height_mm).sum();
    let legend = [
        "Shares of the variance. Black: what would be gone if only that setting were met exactly.",
        "Hollow, beyond it: what it does together with others.",
    ];
    let height = TOP + all + LINE_MM * legend.len() as f64 + 4.0;
    let description = study.causes.iter().map(told).collect::<Vec<_>>().join(" ");
    let mut scene = leaf("What the spread comes from", &note(study), description, height);
    let mut top = TOP;
    for causes in &study.causes {
        draw(&mut scene, causes, units, top);
        top += height_mm(causes);
    }
    scene.part("legend");
    set_lines(&mut scene, Point::new(LEFT, top + LINE_MM), &legend.map(str::to_owned));
    scene
}

fn told(causes: &Causes) -> String {
    format!("{}: {}.", causes.measure.name(), listed(causes))
}

fn draw(scene: &mut Scene, causes: &Causes, units: Units, top: f64) {
    scene.part("results");
    let deviation = tolerance(causes.measure.quantity(causes.deviation), units);
    let words = format!("{}: one deviation is {deviation}", causes.measure.name());
    set(scene, Words::starting((LEFT, top + LINE_MM), LARGE, words), RIGHT - LEFT);
    for (index, cause) in drawn(causes).enumerate() {
        draw_cause(scene, cause, top + ABOVE_MM + STEP_MM * index as f64);
    }
}

fn draw_cause(scene: &mut Scene, cause: &Cause, top: f64) {
    let middle = top + 0.5 * STEP_MM;
    let base = middle + 0.36 * SMALL;
    scene.part("settings");
    let room = BARS_X.0 - LEFT - 2.0;
    set(scene, Words::starting((LEFT, base), SMALL, cause.setting.name()), room);
    scene.part("bars");
    let x = |share: f64| BARS_X.0 + share.clamp(0.0, 1.0) * (BARS_X.1 - BARS_X.0);
    let (low, high) = (middle - 0.5 * BAR_MM, middle + 0.5 * BAR_MM);
    let bar = |to: f64| [(BARS_X.0, low), (to, low), (to, high), (BARS_X.0, high)].map(Point::from);
    let total = cause.share.total.max(cause.share.first);
    let outline = bar(x(total));
    scene.polyline(&[outline[0], outline[1], outline[2], outline[3], outline[0]], Weight::Thin);
    scene.fill(&bar(x(cause.share.first)), Paint::Black);
    scene.part("shares");
    scene.text(Words::starting((x(total) + 1.6, base), SMALL, percent(total.min(1.0))));
}
