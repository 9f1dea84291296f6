//! One cubic of a section's curve, in the reciprocal of its radius.
//!
//! The reciprocal of the radius is what is interpolated, because a straight line is a plain cosine
//! in it: a few knots then hold a whole relief to a hundredth of a micrometre.

/// A cubic in the angle from its start.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cubic {
    /// Where it starts.
    pub(super) from_rad: f64,
    /// Where it ends.
    pub(super) to_rad: f64,
    /// Coefficients, lowest power first.
    pub(super) coefficients: [f64; 4],
}

/// A point of a curve to be interpolated: angle, value, slope.
#[derive(Clone, Copy, Debug)]
pub(super) struct Knot {
    pub(super) at_rad: f64,
    pub(super) value: f64,
    pub(super) slope: f64,
}

impl Cubic {
    /// The Hermite cubic between two knots, the first at the smaller angle.
    pub(super) fn between(low: &Knot, high: &Knot) -> Self {
        let step = high.at_rad - low.at_rad;
        let rise = (high.value - low.value) / step;
        let bend = (3.0 * rise - 2.0 * low.slope - high.slope) / step;
        let twist = (low.slope + high.slope - 2.0 * rise) / (step * step);
        let coefficients = [low.value, low.slope, bend, twist];
        Self { from_rad: low.at_rad, to_rad: high.at_rad, coefficients }
    }

    pub(super) fn value(&self, at_rad: f64) -> f64 {
        let [c0, c1, c2, c3] = self.coefficients;
        let x = at_rad - self.from_rad;
        c0 + x * (c1 + x * (c2 + x * c3))
    }

    pub(super) fn slope(&self, at_rad: f64) -> f64 {
        let [_, c1, c2, c3] = self.coefficients;
        let x = at_rad - self.from_rad;
        c1 + x * (2.0 * c2 + x * 3.0 * c3)
    }

    /// Second derivative.
    pub(super) fn bend(&self, at_rad: f64) -> f64 {
        2.0 * self.coefficients[2] + 6.0 * self.coefficients[3] * (at_rad - self.from_rad)
    }

    /// The angles strictly between `low` and `high` at which this cubic crosses another, in order.
    pub(super) fn crossings(&self, other: &Self, low: f64, high: f64) -> Vec<f64> {
        let difference = |at: f64| self.value(at) - other.value(at);
        let ends = self.stationary_differences(other, low, high);
        let mut found = Vec::new();
        for pair in ends.windows(2) {
            let (mut a, mut b) = (pair[0], pair[1]);
            let at_a = difference(a);
            if at_a * difference(b) >= 0.0 {
                continue;
            }
            while b - a > 1e-13 * (1.0 + b.abs()) {
                let middle = 0.5 * (a + b);
                if middle <= a || middle >= b {
                    break;
                }
                if difference(middle) * at_a > 0.0 { a = middle } else { b = middle }
            }
            found.push(0.5 * (a + b));
        }
        found
    }

    /// `low`, `high` and between them the angles where the difference of two cubics is stationary.
    fn stationary_differences(&self, other: &Self, low: f64, high: f64) -> Vec<f64> {
        let slope = self.slope(low) - other.slope(low);
        let bend = self.bend(low) - other.bend(low);
        let twist = 3.0 * (self.coefficients[3] - other.coefficients[3]);
        let mut ends = vec![low, high];
        let discriminant = bend * bend - 4.0 * twist * slope;
        if discriminant > 0.0 {
            let half = -0.5 * (bend + discriminant.sqrt().copysign(bend));
            ends.extend([low + half / twist, low + slope / half]);
            ends.retain(|end| (low..=high).contains(end));
            ends.sort_by(f64::total_cmp);
        }
        ends
    }
}
