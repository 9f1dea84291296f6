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
    pub(super) fn crossings(
        &self,
        other: &Self,
        low: f64,
        high: f64,
    ) -> impl Iterator<Item = f64> + use<> {
        let difference = Difference::between(self, other, low);
        let mut found = [None; 3];
        if !difference.is_apart(high - low) {
            let at = |at: f64| self.value(at) - other.value(at);
            let (ends, count) = difference.stationary(low, high);
            for (pair, found) in ends[..count].windows(2).zip(&mut found) {
                *found = crossing(at, pair[0], pair[1]);
            }
        }
        found.into_iter().flatten()
    }
}

/// Where a difference that rises or falls throughout changes its sign, by halving.
fn crossing(difference: impl Fn(f64) -> f64, mut a: f64, mut b: f64) -> Option<f64> {
    let at_a = difference(a);
    if at_a * difference(b) >= 0.0 {
        return None;
    }
    while b - a > 1e-13 * (1.0 + b.abs()) {
        let middle = 0.5 * (a + b);
        if middle <= a || middle >= b {
            break;
        }
        if difference(middle) * at_a > 0.0 { a = middle } else { b = middle }
    }
    Some(0.5 * (a + b))
}

/// The difference of two cubics at an angle, and how it goes on from there.
struct Difference {
    value: f64,
    slope: f64,
    bend: f64,
    twist: f64,
}

impl Difference {
    fn between(one: &Cubic, other: &Cubic, at_rad: f64) -> Self {
        Self {
            value: one.value(at_rad) - other.value(at_rad),
            slope: one.slope(at_rad) - other.slope(at_rad),
            bend: one.bend(at_rad) - other.bend(at_rad),
            twist: 3.0 * (one.coefficients[3] - other.coefficients[3]),
        }
    }

    /// Whether the two surely stay apart over a width: even if every change went one way. Most
    /// pairs do, and need no further look.
    fn is_apart(&self, width_rad: f64) -> bool {
        let Self { value, slope, bend, twist } = *self;
        let curving = 0.5 * bend.abs() + width_rad * twist.abs() / 3.0;
        let change = width_rad * (slope.abs() + width_rad * curving);
        value.abs() > change * (1.0 + 1e-6) + ROUNDING
    }

    /// `low`, `high` and between them the angles where the difference is stationary, in order, and
    /// how many they are; it is taken at `low`.
    fn stationary(&self, low: f64, high: f64) -> ([f64; 4], usize) {
        let Self { slope, bend, twist, .. } = *self;
        let (mut ends, mut count) = ([low, high, 0.0, 0.0], 2);
        let discriminant = bend * bend - 4.0 * twist * slope;
        if discriminant > 0.0 {
            let half = -0.5 * (bend + discriminant.sqrt().copysign(bend));
            for end in [low + half / twist, low + slope / half] {
                if (low..=high).contains(&end) {
                    ends[count] = end;
                    count += 1;
                }
            }
            ends[..count].sort_by(f64::total_cmp);
        }
        (ends, count)
    }
}

/// What rounding may make of a difference of two reciprocal radii, per millimetre, and far more.
const ROUNDING: f64 = 1e-12;

#[cfg(test)]
mod tests {
    use super::*;

    /// Crossings without the short way past pairs that stay apart.
    fn all_crossings(one: &Cubic, other: &Cubic, low: f64, high: f64) -> Vec<f64> {
        let (ends, count) = Difference::between(one, other, low).stationary(low, high);
        let at = |at: f64| one.value(at) - other.value(at);
        ends[..count].windows(2).filter_map(|pair| crossing(at, pair[0], pair[1])).collect()
    }

    /// Pairs near and far, with none to three crossings: the short way leaves none out.
    #[test]
    fn no_crossing_is_passed_over() {
        let mut random = 20_261_130_u64;
        let mut share = || {
            random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (random >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
        };
        let mut seen = [0; 4];
        for _ in 0..40_000 {
            let near = 10.0_f64.powf(8.0 * share() - 4.0);
            let mut cubic = |apart: f64| Cubic {
                from_rad: 0.02 * share(),
                to_rad: 0.3,
                coefficients: [0.1 + apart * share(), share(), 4.0 * share(), 30.0 * share()],
            };
            let (one, other) = (cubic(near), cubic(near));
            let (low, high) = (0.01, 0.01 + 0.3 * (share() + 0.5));
            let all = all_crossings(&one, &other, low, high);
            assert_eq!(one.crossings(&other, low, high).collect::<Vec<_>>(), all);
            seen[all.len()] += 1;
        }
        assert!(seen.iter().all(|count| *count > 5), "{seen:?}");
    }
}
