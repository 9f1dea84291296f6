//! The run of a dial's marks: what they count, where they stand, which of them bear figures.

use std::f64::consts::{FRAC_PI_2, TAU};

use geometry::{Angle, Length, System};
use kurbo::{Point, Vec2};
use shop::plan::{DialMark, Quantity, system_of};
use shop::record::{Motion, SlideScale, SwivelScale};

use super::{FIGURE_IN_MM, INDEX, figure_mm};

/// Radius of a whole ring, and the closest that its marks may stand.
const RING_MM: f64 = 46.0;
const CLOSE_MM: f64 = 0.7;

/// Radius of a circle of which a part is drawn, from mark to mark on it, and how far it is drawn
/// to each side of the index.
const ARC_MM: f64 = 120.0;
const APART_MM: f64 = 2.4;
const ASIDE_MM: f64 = 50.0;

/// A reading nearer than this share of a division to a mark stands on it.
const ON_MARK: f64 = 0.01;

/// Leading figures of the steps from figure to figure.
const ROUND: [f64; 4] = [1.0, 2.0, 2.5, 5.0];

/// How the marks run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Course {
    /// Round a ring that bears so many.
    Ring {
        /// Marks of one turn.
        marks: i64,
        /// Radius of the ring.
        radius_mm: f64,
    },
    /// Along a part of a large circle.
    Arc,
    /// Along a straight rule.
    Rule,
}

/// A dial with a reading to set.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Face {
    pub(super) course: Course,
    /// What one mark counts: inches or millimetres of a slide, degrees of a swivel.
    pub(super) division: f64,
    /// What the figures on the dial are written in, in the same unit.
    pub(super) figure_unit: f64,
    /// The reading in marks from 0.
    pub(super) marks: f64,
    /// Whole turns from 0, none where no turn is on record.
    pub(super) turns: Option<i64>,
    /// The reading as it is written.
    pub(super) reading: String,
    /// Marks of one turn, if one is on record.
    per_turn: Option<i64>,
    /// Vernier lines in one division, if it has a vernier.
    pub(super) vernier: Option<f64>,
    /// The lowest and the highest mark, where the scale ends.
    range: Option<(f64, f64)>,
    /// From figure to figure, in marks.
    step: i64,
    pub(super) system: Option<System>,
}

impl Face {
    pub(super) fn of(mark: &DialMark, motion: &Motion) -> Self {
        let face = match (mark.reading, motion) {
            (Quantity::Length(reading), Motion::Slide(scale)) => Self::of_slide(reading, scale),
            (Quantity::Angle(reading), Motion::Swivel(scale)) => Self::of_swivel(reading, scale),
            // A mark of another axis: its own finest step is all that is known of its scale.
            (Quantity::Length(reading), Motion::Swivel(_)) => {
                Self::plain_slide(reading, finest_length(mark))
            }
            (Quantity::Angle(reading), Motion::Slide(_)) => {
                Self::plain_swivel(reading, finest_angle(mark))
            }
        };
        let reading = face.reading.replace('-', "−");
        // A scale that no record has checked may have no division to count in.
        let marks = if face.marks.is_finite() { face.marks } else { 0.0 };
        let face = Self { marks, ..face };
        Self { step: face.best_step(), reading, ..face }
    }

    fn plain_slide(reading: Length, division: Length) -> Self {
        let system = system_of(division);
        let unit = match system {
            System::Inch => Length::from_inches(1.0),
            System::Millimetre => Length::from_mm(1.0),
        };
        let is_inch_dial = system == System::Inch && division < Length::from_thou(10.0);
        Self {
            course: Course::Rule,
            division: division / unit,
            figure_unit: if is_inch_dial { 0.001 } else { 1.0 },
            marks: reading / division,
            turns: None,
            per_turn: None,
            reading: reading.show_to(system, division).to_string(),
            vernier: None,
            range: None,
            step: 1,
            system: Some(system),
        }
    }

    /// A hand sets what it reads, which is the dial's finest step.
    fn of_slide(reading: Length, scale: &SlideScale) -> Self {
        let reading = reading.snapped_to(scale.finest());
        let plain = Self::plain_slide(reading, scale.graduation);
        let system = system_of(scale.finest());
        let marks = scale.per_turn.map(|turn| (turn / scale.graduation).round() as i64);
        let marks = marks.filter(|marks| *marks > 0);
        let (course, turns) = match marks {
            None => (Course::Rule, None),
            Some(marks) => {
                let course = if TAU * RING_MM / marks as f64 >= CLOSE_MM {
                    Course::Ring { marks, radius_mm: RING_MM }
                } else {
                    Course::Arc
                };
                (course, Some(((plain.marks + ON_MARK) / marks as f64).floor() as i64))
            }
        };
        let whole = marks.unwrap_or(0).saturating_mul(turns.unwrap_or(0));
        Self {
            course,
            turns,
            per_turn: marks,
            marks: plain.marks - whole as f64,
            reading: reading.show_to(system, scale.finest()).to_string(),
            vernier: scale.vernier.map(|vernier| scale.graduation / vernier),
            range: scale
                .range
                .filter(|_| turns.is_none())
                .map(|(low, high)| (low / scale.graduation, high / scale.graduation)),
            ..plain
        }
    }

    fn plain_swivel(reading: Angle, division: Angle) -> Self {
        Self {
            course: Course::Arc,
            division: division.degrees(),
            figure_unit: 1.0,
            marks: reading / division,
            turns: None,
            per_turn: None,
            reading: reading.show_to(division).to_string(),
            vernier: None,
            range: None,
            step: 1,
            system: None,
        }
    }

    fn of_swivel(reading: Angle, scale: &SwivelScale) -> Self {
        let reading = reading.snapped_to(scale.finest());
        let division = scale.graduation;
        Self {
            reading: reading.show_to(scale.finest()).to_string(),
            vernier: scale.vernier.map(|vernier| division / vernier),
            range: scale.range.map(|(low, high)| (low / division, high / division)),
            ..Self::plain_swivel(reading, division)
        }
    }

    /// From mark to mark on paper, at the marks' outer ends.
    fn apart_mm(&self) -> f64 {
        match self.course {
            Course::Ring { marks, radius_mm } => TAU * radius_mm / marks as f64,
            _ => APART_MM,
        }
    }

    /// Where a mark stands, and which way the dial's middle lies from it.
    pub(super) fn place(&self, count: f64) -> (Point, Vec2) {
        let along_mm = (count - self.marks) * self.apart_mm();
        let radius_mm = match self.course {
            Course::Ring { radius_mm, .. } => radius_mm,
            Course::Arc => ARC_MM,
            Course::Rule => return (INDEX + Vec2::new(along_mm, 0.0), Vec2::new(0.0, 1.0)),
        };
        let out = Vec2::from_angle(along_mm / radius_mm - FRAC_PI_2);
        (INDEX + Vec2::new(0.0, radius_mm) + out * radius_mm, -out)
    }

    /// The lowest and the highest mark that is drawn.
    fn ends(&self) -> (i64, i64) {
        if let Course::Ring { marks, .. } = self.course {
            return (0, marks - 1);
        }
        let aside = ASIDE_MM / self.apart_mm();
        let (low, high) = (self.marks - aside, self.marks + aside);
        let (low, high) = match self.range {
            Some((least, most)) => (low.max(least - ON_MARK), high.min(most + ON_MARK)),
            None => (low, high),
        };
        (low.ceil() as i64, high.floor() as i64)
    }

    pub(super) fn counts(&self) -> impl Iterator<Item = i64> {
        let (low, high) = self.ends();
        low..=high
    }

    /// Places along the border of an open course.
    pub(super) fn border(&self) -> impl Iterator<Item = f64> {
        let (low, high) = self.ends();
        let (low, high) = (low as f64, high as f64);
        (0..=40).map(move |step| low + (high - low) * f64::from(step) / 40.0)
    }

    /// The mark under the index, where the reading stands on one.
    pub(super) fn whole_mark(&self) -> Option<i64> {
        let near = self.marks.round();
        ((self.marks - near).abs() < ON_MARK).then_some(near as i64)
    }

    /// The last mark before the index, and how far past it the index stands.
    pub(super) fn past_mark(&self) -> (i64, f64) {
        let before = (self.marks + ON_MARK).floor();
        (before as i64, self.marks - before)
    }

    pub(super) fn is_figured(&self, count: i64) -> bool {
        // The last figure of a turn must not stand against its 0.
        let is_clear = match self.course {
            Course::Ring { marks, .. } => count == 0 || marks - count >= self.step,
            _ => true,
        };
        count.rem_euclid(self.step) == 0 && is_clear
    }

    pub(super) fn is_half(&self, count: i64) -> bool {
        let half = self.step / 2;
        self.step.rem_euclid(2) == 0 && half > 0 && count.rem_euclid(half) == 0
    }

    /// What stands on the dial at a mark. A dial that goes round begins again at 0 each turn, and
    /// so does the part of one.
    pub(super) fn figure(&self, count: i64) -> String {
        let count = self.per_turn.map_or(count, |marks| count.rem_euclid(marks));
        let value = count as f64 * self.division / self.figure_unit;
        let text = format!("{value:.4}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        if text == "-0" { "0".to_owned() } else { text.replace('-', "−") }
    }

    /// The smallest step from figure to figure that is round in the dial's unit and keeps them
    /// apart.
    fn best_step(&self) -> i64 {
        let (low, high) = self.ends();
        let wide = [low, high].map(|count| figure_mm(&self.figure(count)));
        let wide = wide.into_iter().fold(figure_mm("00"), f64::max);
        let inner = match self.course {
            Course::Ring { radius_mm, .. } => 1.0 - FIGURE_IN_MM / radius_mm,
            _ => 1.0 - FIGURE_IN_MM / ARC_MM,
        };
        let apart = |step: i64| step as f64 * self.apart_mm() * inner;
        let fits = |step: &i64| Self::keeps_apart(wide, apart(*step));
        let most = (high - low + 1).max(1);
        let round = (1..=most).filter(|step| self.is_round(*step)).find(fits);
        round.or_else(|| (1..=most).find(fits)).unwrap_or(most)
    }

    /// Whether so many marks are a round amount, and go into a turn.
    fn is_round(&self, step: i64) -> bool {
        let goes = match self.course {
            Course::Ring { marks, .. } => marks.rem_euclid(step) == 0,
            _ => true,
        };
        let value = step as f64 * self.division / self.figure_unit;
        let ten = 10.0_f64.powf(value.log10().floor());
        let is = |lead: &f64| {
            (value / ten - lead).abs() < 1e-6 || (value / ten / 10.0 - lead).abs() < 1e-6
        };
        goes && ROUND.iter().any(is)
    }
}

fn finest_length(mark: &DialMark) -> Length {
    let fallback = Length::from_mm(0.01);
    match mark.finest {
        Quantity::Length(finest) if finest > Length::ZERO => finest,
        _ => fallback,
    }
}

fn finest_angle(mark: &DialMark) -> Angle {
    let fallback = Angle::from_degrees(1.0);
    match mark.finest {
        Quantity::Angle(finest) if finest > Angle::ZERO => finest,
        _ => fallback,
    }
}
