//! Following a contact curve into runs that are functions of the angle in the section.

use nalgebra::Vector3;

use super::contact::{Curve, Meeting, Touch};
use super::cubic::{Cubic, Knot};

/// Interpolation error allowed at the cutting circle, in millimetres; farther out it grows with
/// the cube of the radius.
pub(super) const TRACE_ERROR_MM: f64 = 1e-5;

/// Well ahead of the edge nothing is ground, and this many times the error will do.
const AHEAD_FACTOR: f64 = 100.0;

/// Parts into which a curve is cut before halving begins.
const FIRST_PARTS: u32 = 3;

/// Halvings after which a stretch is left out: it is then shorter than any error that matters.
const HALVINGS_MAX: u32 = 40;

/// The angles and the radius within which a curve is followed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Window {
    pub(super) from_rad: f64,
    pub(super) to_rad: f64,
    /// From here on the full accuracy is wanted.
    pub(super) exact_from_rad: f64,
    /// Radius of the cutting circle, which sets the error allowed.
    pub(super) circle_mm: f64,
    /// Beyond this radius the wheel counts as leaving no surface.
    pub(super) radius_max_mm: f64,
}

/// One cubic of a run, and the stretch of the contact curve's parameter that it stands for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    pub(super) cubic: Cubic,
    /// Parameters at the cubic's start and end.
    pub(super) parameters: (f64, f64),
}

/// A run of one contact curve along which the angle only grows; stretches in order of angle.
#[derive(Clone, Debug)]
pub(super) struct Run {
    /// Index of the curve.
    pub(super) curve: usize,
    /// Whole turns by which the curve's own angles were brought back to the section's.
    pub(super) turn_rad: f64,
    pub(super) stretches: Vec<Stretch>,
}

impl Run {
    pub(super) fn start_rad(&self) -> f64 {
        self.stretches[0].cubic.from_rad
    }

    pub(super) fn end_rad(&self) -> f64 {
        self.stretches[self.stretches.len() - 1].cubic.to_rad
    }
}

/// Halvings of one curve in all. Ordinary curves need fewer than two hundred; this ends the work on
/// one that rounding keeps from ever being fair.
const CURVE_HALVINGS_MAX: u32 = 4000;

/// How far a curve may stray between two samples, as a share of the chord between them.
const STRAY: f64 = 0.75;

/// The middle of a stretch, in its parameter, must lie this share of its angle from either end.
const FAIR_SHARE: f64 = 0.2;

/// Halves come at least so many times closer than the whole, in a stretch short enough to be kept.
const WHOLE_FACTOR: f64 = 16.0;

#[derive(Clone, Copy)]
struct Sample {
    parameter: f64,
    knot: Knot,
    radius_mm: f64,
    point: Vector3<f64>,
}

struct Tracer<'a> {
    meeting: &'a Meeting,
    window: &'a Window,
    curve: &'a Curve,
    index: usize,
    turn_rad: f64,
    runs: Vec<Run>,
    rising: Option<bool>,
    last_parameter: f64,
    halvings: u32,
}

/// Follows one curve through the window, its angles less `turn_rad`.
pub(super) fn trace(
    meeting: &Meeting,
    window: &Window,
    (index, curve): (usize, &Curve),
    turn_rad: f64,
    runs: &mut Vec<Run>,
) {
    let last_parameter = f64::NAN;
    let mut tracer = Tracer {
        meeting,
        window,
        curve,
        index,
        turn_rad,
        runs: Vec::new(),
        rising: None,
        last_parameter,
        halvings: 0,
    };
    let part = (curve.to - curve.from) / f64::from(FIRST_PARTS);
    let mut low = tracer.sample(curve.from);
    for count in 1..=FIRST_PARTS {
        let parameter =
            if count == FIRST_PARTS { curve.to } else { curve.from + part * f64::from(count) };
        let high = tracer.sample(parameter);
        let middle = tracer.between(&low, &high);
        tracer.halve([&low, &middle, &high], 0);
        low = high;
    }
    tracer.close();
    runs.append(&mut tracer.runs);
}

impl Tracer<'_> {
    fn sample(&self, parameter: f64) -> Sample {
        let Touch { point, heelward_rad, radius_mm, slope_mm_per_rad, .. } =
            self.meeting.at(self.curve, parameter);
        let value = 1.0 / radius_mm;
        let slope = -slope_mm_per_rad * value * value;
        Sample {
            parameter,
            knot: Knot { at_rad: heelward_rad - self.turn_rad, value, slope },
            radius_mm,
            point,
        }
    }

    /// The sample half-way between two, in the parameter.
    fn between(&self, low: &Sample, high: &Sample) -> Sample {
        self.sample(0.5 * (low.parameter + high.parameter))
    }

    fn halve(&mut self, [low, middle, high]: [&Sample; 3], depth: u32) {
        let samples = [low, middle, high];
        // A long stretch can turn in angle and come back; in space it cannot stray so far.
        if self.is_beyond(&samples) || (depth > 0 && self.is_aside(&samples)) {
            self.close();
            return;
        }
        let (a, m, b) = (low.knot.at_rad, middle.knot.at_rad, high.knot.at_rad);
        if !(a.is_finite() && m.is_finite() && b.is_finite()) {
            // Where a contact curve degenerates there is nothing to follow; its neighbours cover
            // it.
            self.close();
            return;
        }
        let (first, second) = (self.between(low, middle), self.between(middle, high));
        let (before, behind) = ([low, &first, middle], [middle, &second, high]);
        // What is kept are the halves, each proved at its own middle; that the whole is near as
        // well keeps an agreement by chance from passing for a proof.
        let is_near = self.is_close([low, middle, high], WHOLE_FACTOR);
        if is_near && self.is_close(before, 1.0) && self.is_close(behind, 1.0) {
            self.keep(low, middle, a < b);
            self.keep(middle, high, a < b);
        } else if depth < HALVINGS_MAX
            && self.halvings < CURVE_HALVINGS_MAX
            && (b - a).abs().max((m - a).abs()) > 1e-12
        {
            self.halvings += 1;
            self.halve(before, depth + 1);
            self.halve(behind, depth + 1);
        }
    }

    /// Whether a stretch stays aside of the window: all three samples do, by more than the curve
    /// can stray between them if it is no more than half as long again as its chords.
    fn is_aside(&self, samples @ [low, middle, high]: &[&Sample; 3]) -> bool {
        let Window { from_rad, to_rad, .. } = *self.window;
        let turn = |a: &Sample, b: &Sample| (a.knot.at_rad - b.knot.at_rad).abs();
        let stray_rad = STRAY * turn(low, middle).max(turn(middle, high));
        samples.iter().all(|sample| sample.knot.at_rad + stray_rad < from_rad)
            || samples.iter().all(|sample| sample.knot.at_rad - stray_rad > to_rad)
    }

    /// Whether a stretch stays beyond the greatest radius, by more than the curve can stray.
    fn is_beyond(&self, samples @ [low, middle, high]: &[&Sample; 3]) -> bool {
        let chord = |a: &Sample, b: &Sample| (a.point - b.point).norm();
        let stray_mm = STRAY * chord(low, middle).max(chord(middle, high));
        samples.iter().all(|sample| sample.radius_mm - stray_mm > self.window.radius_max_mm)
    }

    /// Whether the cubic over a stretch passes within so many times the allowed error of the sample
    /// at its middle.
    fn is_close(&self, [low, middle, high]: [&Sample; 3], factor: f64) -> bool {
        if !(low.knot.slope.is_finite() && high.knot.slope.is_finite()) {
            return false;
        }
        let Knot { at_rad, value, slope } = middle.knot;
        let width_rad = high.knot.at_rad - low.knot.at_rad;
        // A middle sample that stands near one end in angle would prove nothing about the middle.
        let share = (at_rad - low.knot.at_rad) / width_rad;
        if !(FAIR_SHARE..=1.0 - FAIR_SHARE).contains(&share) {
            return false;
        }
        let cubic = ordered(&low.knot, &high.knot);
        // An error that changes sign at the middle shows in the slope there, not in the value.
        let miss = (cubic.value(at_rad) - value).abs();
        let tilt = (cubic.slope(at_rad) - slope).abs() * 0.25 * width_rad.abs();
        let (radius_mm, circle_mm) = (middle.radius_mm, self.window.circle_mm);
        let outside = (radius_mm / circle_mm).max(1.0).powi(3);
        let end_rad = low.knot.at_rad.max(high.knot.at_rad);
        let ahead = if end_rad < self.window.exact_from_rad { AHEAD_FACTOR } else { 1.0 };
        miss.max(tilt) * radius_mm * radius_mm <= factor * TRACE_ERROR_MM * outside * ahead
    }

    fn keep(&mut self, low: &Sample, high: &Sample, rising: bool) {
        let follows = self.rising == Some(rising) && self.last_parameter == low.parameter;
        if !follows {
            self.close();
            self.rising = Some(rising);
            let (curve, turn_rad) = (self.index, self.turn_rad);
            self.runs.push(Run { curve, turn_rad, stretches: Vec::with_capacity(16) });
        }
        let (first, second) = if rising { (low, high) } else { (high, low) };
        let stretch = Stretch {
            cubic: Cubic::between(&first.knot, &second.knot),
            parameters: (first.parameter, second.parameter),
        };
        if let Some(run) = self.runs.last_mut() {
            run.stretches.push(stretch);
        }
        self.last_parameter = high.parameter;
    }

    /// Ends the current run; one that was followed against the angle is turned round.
    fn close(&mut self) {
        if self.rising.take() == Some(false)
            && let Some(run) = self.runs.last_mut()
        {
            run.stretches.reverse();
        }
    }
}

fn ordered(a: &Knot, b: &Knot) -> Cubic {
    if a.at_rad < b.at_rad { Cubic::between(a, b) } else { Cubic::between(b, a) }
}
