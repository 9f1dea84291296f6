//! Flat slices of the wheel, square to the cutter's axis, for the polygon section.
//!
//! A slice is built from level chords. At the place `t` along the cutter and the distance `y`
//! from its axis, the wheel shows a chord about the height of its own axis: from the axis out to
//! the wheel's profile, less the bore of a cup. The ends of the chords over a row of distances
//! are points on the wheel's surface itself, and joined they are the slice's outline.

use super::setup::{Setup, Wheel};

/// A point of a slice as `[y, z]`, in millimetres.
pub type Point = [f64; 2];

/// An outline without its closing edge, running counter-clockwise.
pub type Outline = Vec<Point>;

/// How many halvings find the border of a slice.
const HALVINGS: usize = 60;

/// Cuts a wheel standing in its place into slices.
#[derive(Clone, Debug)]
pub struct Slicer {
    setup: Setup,
    corner_y_mm: f64,
    sin: f64,
    cos: f64,
    outer_mm: f64,
}

/// The two half-heights of a chord: nothing stands between the axis and the inner one.
#[derive(Clone, Copy, Debug)]
struct Chord {
    inner: f64,
    outer: f64,
}

impl Slicer {
    /// The wheel of `setup` at the given distance from the cutter's axis (cup: its virtual
    /// leading corner; disc: its axis at the `t` of the leading corner's nearest point).
    pub fn new(setup: &Setup, wheel_from_axis_mm: f64) -> Self {
        let (sin, cos) = setup.lean_rad.sin_cos();
        let corner_y_mm = wheel_from_axis_mm - setup.axis_behind_corner_mm();
        Self { setup: *setup, corner_y_mm, sin, cos, outer_mm: setup.wheel_radius_mm() }
    }

    /// The places along the cutter, as distances from the leading corner in the sense in which
    /// the face runs, between which the wheel can stand at all within reach in `y`.
    pub fn stretch(&self) -> (f64, f64) {
        let back = (self.setup.reach_mm() - self.corner_y_mm).max(0.0) / self.cos;
        match self.setup.wheel {
            Wheel::Cup => (-back * self.sin, self.outer_mm * self.cos),
            Wheel::Disc => (-back * self.sin, self.setup.face_width_mm * self.cos),
        }
    }

    /// The outlines of the slice at the distance `tau_mm` from the leading corner, in the machine
    /// frame, with about `samples` chords; none where the slice misses the wheel.
    pub fn outlines(&self, tau_mm: f64, samples: usize) -> Vec<Outline> {
        let Some(span) = self.extent(tau_mm) else {
            return Vec::new();
        };
        let chords: Vec<(f64, Chord)> = self
            .stations(tau_mm, span, samples)
            .into_iter()
            .filter_map(|eta| Some((eta, self.chord(tau_mm, eta)?)))
            .collect();
        if chords.len() < 2 {
            return Vec::new();
        }
        self.joined(&chords)
    }

    /// Coordinates of the wheel's own at `tau` and the distance `eta` behind the leading corner
    /// along `y`: depth along the wheel's axis, and level distance from that axis (negative on
    /// the leading side).
    fn own(&self, tau: f64, eta: f64) -> (f64, f64) {
        let along = tau * self.cos + eta * self.sin;
        let back = eta * self.cos - tau * self.sin;
        match self.setup.wheel {
            Wheel::Cup => (back, along - self.outer_mm),
            Wheel::Disc => (along, back - self.outer_mm),
        }
    }

    /// Outer radius of the wheel's profile at a depth along its axis: the tangent arc of the
    /// leading corner, then the wall.
    fn profile(&self, depth: f64) -> f64 {
        let corner = self.setup.corner_radius_mm;
        if depth >= corner {
            return self.outer_mm;
        }
        let before = corner - depth.max(0.0);
        self.outer_mm - corner + ((corner - before) * (corner + before)).max(0.0).sqrt()
    }

    /// By how much the profile stands beyond the level plane through the axis: a concave function
    /// of `eta`, at least zero where the slice has a chord.
    fn margin(&self, tau: f64, eta: f64) -> f64 {
        let (depth, level) = self.own(tau, eta);
        self.profile(depth) - level.abs()
    }

    fn chord(&self, tau: f64, eta: f64) -> Option<Chord> {
        let (depth, level) = self.own(tau, eta);
        let half = |radius: f64| ((radius - level) * (radius + level)).max(0.0).sqrt();
        let outer = half(self.profile(depth));
        let inner = self.setup.bore_radius_mm().map_or(0.0, half);
        (inner <= outer).then_some(Chord { inner, outer })
    }

    /// The distances behind the leading corner at which the slice lies on the wheel's width and,
    /// for a cup, on its leading half, and within reach.
    fn on_the_width(&self, tau: f64) -> Option<(f64, f64)> {
        let reach = self.setup.reach_mm();
        let (low, high) = (-reach - self.corner_y_mm, reach - self.corner_y_mm);
        let (sin, cos) = (self.sin, self.cos);
        let along_max = match self.setup.wheel {
            Wheel::Cup => self.outer_mm,
            Wheel::Disc => self.setup.face_width_mm,
        };
        let along_end = end_of_rise(tau * cos, sin, along_max, high)?;
        let first = match self.setup.wheel {
            Wheel::Cup => tau * sin / cos,
            Wheel::Disc => start_of_rise(tau * cos, sin, low)?,
        };
        let span = (first.max(low), along_end.min(high));
        (span.0 < span.1).then_some(span)
    }

    /// The part of [`Slicer::on_the_width`] on which the slice has chords.
    fn extent(&self, tau: f64) -> Option<(f64, f64)> {
        let (first, last) = self.on_the_width(tau)?;
        let margin = |eta: f64| self.margin(tau, eta);
        let top = top_of_concave(&margin, first, last);
        if margin(top) < 0.0 {
            return None;
        }
        let start = if margin(first) >= 0.0 { first } else { border(&margin, first, top) };
        let end = if margin(last) >= 0.0 { last } else { border(&margin, last, top) };
        (start < end).then_some((start, end))
    }

    /// Distances at which chords are taken: crowded at the front of each of three stretches (the
    /// corner's arc, what lies within reach in height, the rest), where the outline turns.
    fn stations(&self, tau: f64, (start, end): (f64, f64), samples: usize) -> Vec<f64> {
        let mut ends = vec![start];
        ends.extend(self.arc_end(tau).filter(|&eta| eta > start && eta < end));
        ends.extend(self.out_of_height(tau, (ends[ends.len() - 1], end)));
        ends.push(end);
        let each = (samples / (ends.len() - 1)).max(2);
        let mut stations = vec![start];
        for pair in ends.windows(2) {
            let step = |j: usize| (j as f64 / each as f64).powi(2);
            stations.extend((1..=each).map(|j| pair[0] + (pair[1] - pair[0]) * step(j)));
        }
        stations
    }

    fn arc_end(&self, tau: f64) -> Option<f64> {
        let corner = self.setup.corner_radius_mm;
        let eta = match self.setup.wheel {
            Wheel::Cup => (corner + tau * self.sin) / self.cos,
            Wheel::Disc => (corner - tau * self.cos) / self.sin,
        };
        (corner > 0.0 && eta.is_finite()).then_some(eta)
    }

    /// Where the outline leaves the heights within reach of the cutter's axis, if it does so.
    fn out_of_height(&self, tau: f64, (start, end): (f64, f64)) -> Option<f64> {
        let height = self.setup.reach_mm() + self.setup.centre_above_mm.abs();
        let below = |eta: f64| self.chord(tau, eta).map_or(0.0, |chord| chord.outer) - height;
        (below(start) < 0.0 && below(end) > 0.0).then(|| border(&below, start, end))
    }

    /// Joins the ends of the chords: one outline where there is no bore, else one above and one
    /// below it.
    fn joined(&self, chords: &[(f64, Chord)]) -> Vec<Outline> {
        let point =
            |eta: f64, above: f64| [self.corner_y_mm + eta, self.setup.centre_above_mm + above];
        let outer = |sign: f64| chords.iter().map(move |(eta, c)| point(*eta, sign * c.outer));
        if chords.iter().all(|(_, chord)| chord.inner == 0.0) {
            return vec![outer(-1.0).chain(outer(1.0).rev()).collect()];
        }
        let inner = |sign: f64| chords.iter().map(move |(eta, c)| point(*eta, sign * c.inner));
        vec![
            inner(1.0).chain(outer(1.0).rev()).collect(),
            outer(-1.0).chain(inner(-1.0).rev()).collect(),
        ]
    }
}

/// Last `eta` at which `start + eta * rise` is at most `limit`.
fn end_of_rise(start: f64, rise: f64, limit: f64, level_end: f64) -> Option<f64> {
    if rise == 0.0 { (start <= limit).then_some(level_end) } else { Some((limit - start) / rise) }
}

/// First `eta` at which `start + eta * rise` is at least zero.
fn start_of_rise(start: f64, rise: f64, level_start: f64) -> Option<f64> {
    if rise == 0.0 { (start >= 0.0).then_some(level_start) } else { Some(-start / rise) }
}

/// Place of the greatest value of a concave function, by thirds.
fn top_of_concave(function: &impl Fn(f64) -> f64, low: f64, high: f64) -> f64 {
    let (mut low, mut high) = (low, high);
    for _ in 0..2 * HALVINGS {
        let third = (high - low) / 3.0;
        let (left, right) = (low + third, high - third);
        if function(left) > 0.0 {
            return left;
        }
        if function(left) < function(right) {
            low = left;
        } else {
            high = right;
        }
    }
    0.5 * (low + high)
}

/// Border between `negative`, where the function is below zero, and `positive`, where it is not;
/// the answer is on the side that is not.
fn border(function: &impl Fn(f64) -> f64, negative: f64, positive: f64) -> f64 {
    let (mut negative, mut positive) = (negative, positive);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (negative + positive);
        if function(middle) < 0.0 {
            negative = middle;
        } else {
            positive = middle;
        }
    }
    positive
}
