//! The cutter's outline along its axis, and where it stands on paper.

use shop::record::{Cutter, EndForm};

use crate::scene::Scale;

use super::TIP_X;

/// How much of the shank is always drawn, in its own diameters.
const SHANK_DIAMETERS: f64 = 1.2;

/// A shank is broken off where that makes the drawing larger by this ratio.
const WORTH_BREAKING: f64 = 1.4;

/// Gap on paper between the two sides of a break.
const BREAK_MM: f64 = 3.0;

/// Points of a rounded end.
const END_POINTS: u32 = 24;

/// The sizes of a cutter's body, in millimetres from its end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Body {
    pub(super) diameter_mm: f64,
    pub(super) flute_mm: f64,
    pub(super) overall_mm: f64,
    pub(super) shank_mm: f64,
    end: EndForm,
    factor: f64,
    /// From where to where the shank is left out.
    pub(super) left_out_mm: Option<(f64, f64)>,
}

impl Body {
    pub(super) fn of(cutter: &Cutter) -> Self {
        let diameter = cutter.as_ground().map_or(cutter.diameter(), |ground| ground.diameter);
        Self {
            diameter_mm: diameter.mm(),
            flute_mm: cutter.flute_length().mm(),
            overall_mm: cutter.overall_length().mm(),
            shank_mm: cutter.shank_diameter().mm(),
            end: cutter.end(),
            factor: 1.0,
            left_out_mm: None,
        }
    }

    /// The scale at which it fits on paper, and itself as it is drawn at that.
    pub(super) fn scaled(self, (long_mm, broad_mm): (f64, f64)) -> (Scale, Self) {
        let broad = Scale::fitting(self.diameter_mm.max(self.shank_mm), broad_mm);
        let whole = Scale::fitting(self.overall_mm, long_mm).min(broad);
        let shank_mm = (SHANK_DIAMETERS * self.shank_mm).min(self.overall_mm - self.neck_mm());
        let short_mm = self.neck_mm() + shank_mm;
        let short = Scale::fitting(short_mm, long_mm - BREAK_MM).min(broad);
        let is_broken = short.factor() >= WORTH_BREAKING * whole.factor();
        let scale = if is_broken { short } else { whole };
        let gap = (self.neck_mm() + 0.5 * shank_mm, self.overall_mm - 0.5 * shank_mm);
        let left_out_mm = Some(gap).filter(|_| is_broken);
        (scale, Self { factor: scale.factor(), left_out_mm, ..self })
    }

    /// Where the shank begins: behind a cone of 45 degrees where it is the stouter.
    pub(super) fn neck_mm(&self) -> f64 {
        let cone_mm = 0.5 * (self.shank_mm - self.diameter_mm);
        (self.flute_mm + cone_mm.max(0.0)).min(self.overall_mm)
    }

    /// Where on paper something stands from the end.
    pub(super) fn x(&self, from_end_mm: f64) -> f64 {
        let full = TIP_X + from_end_mm * self.factor;
        match self.left_out_mm {
            Some((from, to)) if from_end_mm > from => full - (to - from) * self.factor + BREAK_MM,
            _ => full,
        }
    }

    /// Radius over the edges at a distance from the end, within the flutes.
    pub(super) fn radius_mm(&self, from_end_mm: f64) -> f64 {
        let radius = 0.5 * self.diameter_mm;
        let corner = self.corner_mm();
        if from_end_mm >= corner {
            return radius;
        }
        let short = corner - from_end_mm.max(0.0);
        radius - corner + (corner * corner - short * short).max(0.0).sqrt()
    }

    /// Radius of the rounded corner: nothing for a square end, half the diameter for a ball.
    pub(super) fn corner_mm(&self) -> f64 {
        let radius = 0.5 * self.diameter_mm;
        match self.end {
            EndForm::Square => 0.0,
            EndForm::CornerRadius(corner) => corner.mm().min(radius),
            EndForm::Ball => radius,
        }
    }

    /// Distances from the end over the flutes at which curves are taken, the end's rounding close.
    pub(super) fn stations_mm(&self, steps: u32) -> Vec<f64> {
        let corner = self.corner_mm().min(self.flute_mm);
        let turn = |step: u32| {
            let share = f64::from(step) / f64::from(END_POINTS);
            corner * (1.0 - (share * std::f64::consts::FRAC_PI_2).cos())
        };
        let rest = self.flute_mm - corner;
        let run = (0..=steps).map(|step| corner + rest * f64::from(step) / f64::from(steps));
        let round = (0..END_POINTS).map(turn).filter(|_| corner > 0.0);
        round.chain(run).collect()
    }

    /// The upper half of the outline from the axis at the tip to the axis at the shank's end.
    pub(super) fn outline_mm(&self) -> Vec<(f64, f64)> {
        let mut points = vec![(0.0, 0.0)];
        points.extend(self.stations_mm(1).into_iter().map(|at| (at, self.radius_mm(at))));
        if self.neck_mm() < self.overall_mm {
            points.push((self.neck_mm(), 0.5 * self.shank_mm));
            points.push((self.overall_mm, 0.5 * self.shank_mm));
        }
        points.push((self.overall_mm, 0.0));
        points
    }
}
