//! How each result spreads, with what is wanted of it.

use geometry::System;
use kurbo::Point;
use shop::study::{BINS, Spread, Study};

use super::super::frame::LEFT;
use super::super::leaf::{LARGE, LINE_MM, RIGHT, SMALL, leaf, set};
use super::note;
use crate::scene::{Paint, Scene, Weight, Words};
use crate::text::Units;
use crate::text::study_words::{percent, shown, wanted};

/// Where the first distribution begins.
const TOP: f64 = 18.0;

/// Left and right end of the bars.
const BARS_X: (f64, f64) = (LEFT + 4.0, RIGHT - 4.0);

/// Height of the tallest bar, of the words above and of those below.
const BAR_MM: f64 = 20.0;
const ABOVE_MM: f64 = 2.0 * LINE_MM + 2.0;
const BELOW_MM: f64 = LINE_MM + 5.0;

/// The limits stand out above the bars and below their line by so much.
const LIMIT_MM: f64 = 2.0;

/// From distribution to distribution.
const ROW_MM: f64 = ABOVE_MM + BAR_MM + BELOW_MM;

/// One distribution on its place.
struct Row<'a> {
    spread: &'a Spread,
    units: Units,
    top: f64,
    /// The values at the two ends of the line.
    ends: (f64, f64),
}

/// Every result's distribution: bars inside what is wanted are hollow, those outside black.
pub fn spread_view(study: &Study, system: System) -> Scene {
    let units = Units { system, both: false };
    let height_mm = TOP + ROW_MM * study.spreads.len() as f64 + 2.0;
    let heading = "How the finished teeth spread";
    let mut scene = leaf(heading, &note(study), description(study, units), height_mm);
    for (index, spread) in study.spreads.iter().enumerate() {
        Row::of(spread, units, TOP + ROW_MM * index as f64).draw(&mut scene);
    }
    scene
}

fn description(study: &Study, units: Units) -> String {
    let one = |spread: &Spread| {
        let [low, middle, high] = spread.quantiles.map(|value| shown(spread.measure, value, units));
        format!(
            "{}: nine tenths from {low} to {high}, half below {middle}; wanted {}.",
            spread.measure.name(),
            wanted(spread, units)
        )
    };
    study.spreads.iter().map(one).collect::<Vec<_>>().join(" ")
}

impl<'a> Row<'a> {
    fn of(spread: &'a Spread, units: Units, top: f64) -> Self {
        // Limits that lie near are shown; far ones would press the bars together.
        let (from, to) = spread.range;
        let room = to - from;
        let limits = spread.wanted.as_ref().map_or((from, to), |cited| cited.value);
        let low = limits.0.clamp(from - 0.6 * room, from);
        let high = limits.1.clamp(to, to + 0.6 * room);
        Self { spread, units, top, ends: (low - 0.05 * room, high + 0.05 * room) }
    }

    fn x(&self, value: f64) -> f64 {
        let share = (value - self.ends.0) / (self.ends.1 - self.ends.0);
        BARS_X.0 + share * (BARS_X.1 - BARS_X.0)
    }

    fn foot(&self) -> f64 {
        self.top + ABOVE_MM + BAR_MM
    }

    fn draw(&self, scene: &mut Scene) {
        self.draw_words(scene);
        self.draw_bars(scene);
        self.draw_limits(scene);
        self.draw_quantiles(scene);
    }

    fn draw_words(&self, scene: &mut Scene) {
        scene.part("results");
        let spread = self.spread;
        let name = Words::starting((LEFT, self.top + LINE_MM), LARGE, spread.measure.name());
        scene.text(name);
        if let Some(within) = spread.within {
            let held = format!("{} as wanted", percent(within));
            scene.text(Words::ending((RIGHT, self.top + LINE_MM), LARGE, held));
        }
        let planned = shown(spread.measure, spread.planned, self.units);
        let words = match spread.wanted {
            Some(_) => format!("planned {planned}; wanted {}", wanted(spread, self.units)),
            None => format!("planned {planned}"),
        };
        let at = (LEFT, self.top + 2.0 * LINE_MM);
        set(scene, Words::starting(at, SMALL, words), RIGHT - LEFT);
    }

    fn draw_bars(&self, scene: &mut Scene) {
        scene.part("bars");
        let (from, to) = self.spread.range;
        let wide = (to - from) / BINS as f64;
        let tallest = self.spread.bars.iter().fold(f64::MIN_POSITIVE, |a, b| a.max(*b));
        for (index, share) in self.spread.bars.iter().enumerate() {
            let low = from + wide * index as f64;
            let tall = share / tallest * BAR_MM;
            if tall < 0.05 {
                continue;
            }
            let (x0, x1, y) = (self.x(low), self.x(low + wide), self.foot());
            let corners = [(x0, y), (x0, y - tall), (x1, y - tall), (x1, y)].map(Point::from);
            let middle = low + 0.5 * wide;
            let is_out = self
                .spread
                .wanted
                .as_ref()
                .is_some_and(|cited| middle < cited.value.0 || middle > cited.value.1);
            if is_out {
                scene.fill(&corners, Paint::Black);
            } else {
                scene.polyline(&corners, Weight::Thin);
            }
        }
        let y = self.foot();
        scene.line(Point::new(BARS_X.0, y), Point::new(BARS_X.1, y), Weight::Outline);
    }

    fn draw_limits(&self, scene: &mut Scene) {
        scene.part("limits");
        let Some(cited) = &self.spread.wanted else { return };
        for limit in [cited.value.0, cited.value.1] {
            if (self.ends.0..=self.ends.1).contains(&limit) {
                let (x, y) = (self.x(limit), self.foot());
                let top = Point::new(x, y - BAR_MM - LIMIT_MM);
                scene.line(top, Point::new(x, y + LIMIT_MM), Weight::Centre);
            }
        }
    }

    /// Ticks at the middle and at the two ends of nine tenths, and what they are below the line.
    fn draw_quantiles(&self, scene: &mut Scene) {
        scene.part("quantiles");
        let y = self.foot();
        let words =
            self.spread.quantiles.map(|value| shown(self.spread.measure, value, self.units));
        let places = self.spread.quantiles.map(|value| self.x(value));
        for x in places {
            scene.line(Point::new(x, y), Point::new(x, y + 1.4), Weight::Thin);
        }
        let [low, middle, high] = words;
        let base = y + LINE_MM + 0.8;
        let centre = 0.5 * (LEFT + RIGHT);
        scene.text(Words::starting((LEFT, base), SMALL, format!("5 % below {low}")));
        scene.text(Words::about((centre, base), SMALL, format!("half below {middle}")));
        scene.text(Words::ending((RIGHT, base), SMALL, format!("95 % below {high}")));
    }
}
