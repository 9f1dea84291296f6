//! What the best explanation leaves of each reading.

use geometry::System;
use kurbo::{Point, Vec2};
use shop::check::{Check, Observed, SetAsideReading};

use super::super::figure;
use super::super::frame::{LEFT, NOTE, RIGHT};
use super::page::{FIELD_TOP, FOOT_MM, Key, LINE_MM, cross, dot, keys, page, set_notes, wrapped};
use super::show;
use super::strip::{Laid, SMALL, STRIP_LEFT, place, strips};
use crate::scene::{Scene, Weight, Words};

/// Paper for one standard deviation.
const DEVIATION_MM: f64 = 4.8;

/// Marks beyond this stand at it, with an arrow that says so.
const SHOWN_MAX: f64 = 3.5;

/// The upper and the lower edge of a strip, in deviations.
const STRIP_END: f64 = 4.1;

/// Above a strip for the kinds, below it for teeth and places.
const ABOVE_MM: f64 = 5.0;
const BELOW_MM: f64 = 10.0;

/// The lines of a strip run at least to here.
const LINES_TO_MIN: f64 = 90.0;

/// From strip to strip.
const STRIP_MM: f64 = ABOVE_MM + 2.0 * STRIP_END * DEVIATION_MM + BELOW_MM + 3.0;

/// What is drawn.
struct Residuals<'a> {
    check: &'a Check,
    system: System,
    strips: Vec<Vec<Laid>>,
}

/// For every reading, measured less fitted in standard deviations of the reading, by kind and
/// place, with lines at two and at three; readings that were set aside are crossed. None where
/// nothing was read.
pub fn residuals(check: &Check, system: System) -> Option<Scene> {
    let strips = strips(check, system);
    (!strips.is_empty()).then(|| Residuals { check, system, strips }.draw())
}

/// Measured less fitted, in standard deviations of the reading as the fit took them.
///
/// **Source** \[own-derivation\] (m − f)/(k s), k the factor by which the readings scatter more
/// than their instruments' steps say. **Departs** nowhere. **Error** rounding. **Domain** s > 0.
fn deviations(check: &Check, at: usize) -> f64 {
    let (one, fitted) = (&check.observed[at], check.fitted.get(at));
    let deviation = one.deviation * check.noise_factor;
    let off = fitted.map_or(0.0, |fitted| (one.measured - *fitted) / deviation);
    if off.is_finite() { off } else { 0.0 }
}

impl Residuals<'_> {
    fn draw(&self) -> Scene {
        let notes = self.notes();
        let bottom = FIELD_TOP + STRIP_MM * self.strips.len() as f64;
        let height_mm = bottom + LINE_MM * (2 + notes.len()) as f64 + FOOT_MM;
        let note = format!(
            "{}: measured less what the best explanation makes of it, in standard deviations",
            show::cutter(self.check)
        );
        let scatter = self.scatter();
        let heading = "Readings against the best explanation";
        let mut scene = page(heading, [&note, &scatter], self.tell(), height_mm);
        for (index, strip) in self.strips.iter().enumerate() {
            let top = FIELD_TOP + STRIP_MM * index as f64 + ABOVE_MM;
            self.draw_strip(&mut scene, strip, top + STRIP_END * DEVIATION_MM);
        }
        self.draw_legend(&mut scene, bottom);
        scene.part("notes");
        set_notes(&mut scene, bottom + LINE_MM * 2.0 + 3.0, &notes);
        scene
    }

    /// How far the readings scatter, where it is more than the instruments say.
    fn scatter(&self) -> String {
        let factor = self.check.noise_factor;
        if factor <= 1.0 {
            return String::new();
        }
        format!("One deviation is {factor:.1} times what the instruments' steps say.")
    }

    fn aside(&self, at: usize) -> Option<&SetAsideReading> {
        self.check.set_aside.iter().find(|aside| aside.reading == at)
    }

    fn draw_strip(&self, scene: &mut Scene, strip: &[Laid], zero_y: f64) {
        let ends = strip.iter().map(|laid| laid.x1 + 2.0);
        self.draw_lines(scene, zero_y, ends.fold(LINES_TO_MIN, f64::max).min(RIGHT));
        for laid in strip {
            self.draw_group(scene, laid, zero_y);
        }
        let below = zero_y + STRIP_END * DEVIATION_MM;
        scene.part("names");
        scene.text(Words::starting((LEFT, below + 3.6), SMALL, "tooth"));
        scene.text(Words::starting((LEFT, below + 8.2), SMALL, "place"));
    }

    fn draw_lines(&self, scene: &mut Scene, zero_y: f64, right: f64) {
        scene.part("lines");
        let lines = [
            (0.0, Weight::Thin, "0"),
            (2.0, Weight::Hidden, "+2"),
            (-2.0, Weight::Hidden, "-2"),
            (3.0, Weight::Centre, "+3"),
            (-3.0, Weight::Centre, "-3"),
        ];
        for (deviations, weight, words) in lines {
            let y = zero_y - deviations * DEVIATION_MM;
            let left = STRIP_LEFT - 3.0;
            scene.line(Point::new(left, y), Point::new(right, y), weight);
            scene.text(Words::ending((left - 1.2, y + 0.36 * NOTE), NOTE, words));
        }
    }

    fn draw_group(&self, scene: &mut Scene, laid: &Laid, zero_y: f64) {
        let end_mm = STRIP_END * DEVIATION_MM;
        if let Some(header) = laid.header {
            scene.part("kinds");
            scene.text(Words::starting((laid.x0, zero_y - end_mm - 1.2), NOTE, header));
        }
        scene.part("readings");
        for (index, at) in laid.group.readings.iter().enumerate() {
            self.draw_reading(scene, *at, Point::new(laid.x(index), zero_y));
        }
        scene.part("names");
        let below = zero_y + end_mm;
        for (index, at) in laid.group.readings.iter().enumerate() {
            let tooth = self.check.observed[*at].tooth;
            let tooth = tooth.map_or_else(|| "-".to_owned(), |tooth| tooth.to_string());
            scene.text(Words::about((laid.x(index), below + 3.6), SMALL, tooth));
        }
        let middle = 0.5 * (laid.x0 + laid.x1);
        scene.text(Words::about((middle, below + 8.2), SMALL, laid.group.place.as_str()));
    }

    fn draw_reading(&self, scene: &mut Scene, at: usize, zero: Point) {
        let off = deviations(self.check, at);
        let up = |deviations: f64| zero - Vec2::new(0.0, deviations * DEVIATION_MM);
        let mark = up(off.clamp(-SHOWN_MAX, SHOWN_MAX));
        scene.line(zero, mark, Weight::Thin);
        if off.abs() > SHOWN_MAX {
            let way = Vec2::new(0.0, -off.signum());
            scene.arrowhead(up(off.signum() * STRIP_END), way);
        }
        match self.aside(at) {
            Some(_) => cross(scene, mark),
            None => dot(scene, mark),
        }
    }

    fn draw_legend(&self, scene: &mut Scene, top: f64) {
        scene.part("legend");
        let row = |row: u32| Point::new(LEFT, top + LINE_MM * f64::from(row) + 3.0);
        let mut first = vec![(Key::Dot, "reading")];
        if !self.check.set_aside.is_empty() {
            first.push((Key::Cross, "set aside: the other readings speak against it"));
        }
        keys(scene, row(0), &first);
        let two = (Key::Line(Weight::Hidden), "one good reading in 20 lies beyond");
        keys(scene, row(1), &[two, (Key::Line(Weight::Centre), "one in 400")]);
    }

    /// A reading by its kind, tooth and place.
    fn named(&self, one: &Observed) -> String {
        let tooth = one.tooth.map_or_else(String::new, |tooth| format!(" of tooth {tooth}"));
        let kind = match one.kind {
            shop::check::ReadingKind::Land(_) => "land",
            shop::check::ReadingKind::Diameter(_) => "diameter",
            shop::check::ReadingKind::Height(_) => "indicator height",
            shop::check::ReadingKind::Runout(_) => "runout",
            shop::check::ReadingKind::Drop(_) => "drop",
        };
        format!("{kind}{tooth} at {}", place(one, self.system))
    }

    /// What was set aside and what stands beyond the strips, in words.
    fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        for (at, one) in self.check.observed.iter().enumerate() {
            let off = deviations(self.check, at);
            let said = match self.aside(at) {
                Some(aside) => aside.others_say,
                None if off.abs() > SHOWN_MAX => self.check.fitted[at],
                None => continue,
            };
            let by = if self.aside(at).is_some() { "Set aside" } else { "Beyond" };
            let note = format!(
                "{by}: {}, read {}; the others say {} ({off:+.1}).",
                self.named(one),
                figure::length(one.measured, self.system),
                figure::length(said, self.system)
            );
            notes.extend(wrapped(&note));
        }
        notes
    }

    /// The same in words.
    fn tell(&self) -> String {
        let offs: Vec<f64> = (0..self.check.observed.len())
            .filter(|at| self.aside(*at).is_none())
            .map(|at| deviations(self.check, at).abs())
            .collect();
        let beyond = |limit: f64| offs.iter().filter(|off| **off > limit).count();
        format!(
            "What the best explanation leaves of {} readings, in standard deviations of each: {} \
             beyond two, {} beyond three, {} set aside.",
            self.check.observed.len(),
            beyond(2.0),
            beyond(3.0),
            self.check.set_aside.len()
        )
    }
}
