//! The least value of a function that falls, then rises.

/// Steps after which a dent is as near as rounding lets it come.
const DENT_STEPS_MAX: u32 = 60;

/// The lesser share of the golden section.
const GOLDEN: f64 = 0.381_966_011_250_105_1;

/// Where a function with one dent between two ends is least, the ends among it, and how much it is
/// there. The place is told to within `error`.
///
/// **Source** \[numerical-recipes\] section 10.3, Brent: the foot of the parabola through three
/// places where that closes in on the dent, else a golden section. **Departs** in asking for the
/// ends as well. **Error** `error` in place. **Domain** functions that fall, then rise; where they
/// do not, one of their dents. They may be without end or not smooth.
pub(crate) fn dent(f: impl Fn(f64) -> f64, (low, high): (f64, f64), error: f64) -> (f64, f64) {
    let start = low + GOLDEN * (high - low);
    let mut dent = Dent::new((start, f(start)), (low, high));
    for _ in 0..DENT_STEPS_MAX {
        let Some(at) = dent.next(error) else { break };
        dent.take((at, f(at)));
    }
    let ends = [low, high].map(|end| (end, f(end)));
    ends.into_iter().fold(dent.best, |best, one| if one.1 < best.1 { one } else { best })
}

/// What is known of a dent: the best three places so far, and between which it lies.
struct Dent {
    low: f64,
    high: f64,
    best: (f64, f64),
    second: (f64, f64),
    third: (f64, f64),
    /// The step before last, which a parabola must halve, and the last one.
    steps: (f64, f64),
}

impl Dent {
    const fn new(start: (f64, f64), (low, high): (f64, f64)) -> Self {
        Self { low, high, best: start, second: start, third: start, steps: (0.0, 0.0) }
    }

    /// Where to look next; None where the dent is told to within `error`.
    fn next(&mut self, error: f64) -> Option<f64> {
        let (x, middle) = (self.best.0, 0.5 * (self.low + self.high));
        let error = error.max(f64::EPSILON * x.abs());
        if (x - middle).abs() <= 2.0 * error - 0.5 * (self.high - self.low) {
            return None;
        }
        let step = self.foot(error).unwrap_or_else(|| {
            let whole = if x >= middle { self.low - x } else { self.high - x };
            self.steps.1 = whole;
            GOLDEN * whole
        });
        self.steps = (self.steps.1, step);
        Some(if step.abs() >= error { x + step } else { x + error.copysign(step) })
    }

    /// The step to the foot of the parabola through the three places, where it can be trusted.
    fn foot(&self, error: f64) -> Option<f64> {
        let before_last = self.steps.0;
        let ((x, fx), (w, fw), (v, fv)) = (self.best, self.second, self.third);
        let (r, q) = ((x - w) * (fx - fv), (x - v) * (fx - fw));
        let step = ((x - w) * r - (x - v) * q) / (2.0 * (q - r));
        let is_within = x + step > self.low && x + step < self.high;
        // What is not a number fails here, as do three places that are one.
        if before_last.abs() <= error || !is_within || step.abs() >= 0.5 * before_last.abs() {
            return None;
        }
        let is_by_an_end = x + step - self.low < 2.0 * error || self.high - x - step < 2.0 * error;
        let inward = error.copysign(0.5 * (self.low + self.high) - x);
        Some(if is_by_an_end { inward } else { step })
    }

    fn take(&mut self, at: (f64, f64)) {
        if at.1 <= self.best.1 {
            if at.0 >= self.best.0 {
                self.low = self.best.0
            } else {
                self.high = self.best.0
            }
            (self.third, self.second, self.best) = (self.second, self.best, at);
            return;
        }
        if at.0 < self.best.0 {
            self.low = at.0
        } else {
            self.high = at.0
        }
        let places = (self.best.0, self.second.0, self.third.0);
        if at.1 <= self.second.1 || places.1 == places.0 {
            (self.third, self.second) = (self.second, at);
        } else if at.1 <= self.third.1 || places.2 == places.0 || places.2 == places.1 {
            self.third = at;
        }
    }
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::dent;

    /// A function, where its dent is, and in how many looks it should be found.
    type Case<'a> = (&'a dyn Fn(f64) -> f64, f64, u32);

    /// Dents whose place is known: smooth, with a corner, at an end, and beside what has no end.
    #[test]
    fn a_dent_is_found_wherever_it_lies() {
        let unbounded = |x: f64| if x < 0.3 { f64::INFINITY } else { (x - 1.7).powi(2) };
        let dents: [Case<'_>; 5] = [
            (&|x| (x - 1.3).powi(2) + 2.0, 1.3, 12),
            (&|x| -(x - 2.2).cos(), 2.2, 20),
            (&|x| (x - 0.77).abs(), 0.77, 40),
            (&|x| x.exp(), 0.0, 40),
            (&unbounded, 1.7, 20),
        ];
        for (f, expected, steps_max) in dents {
            let asked = Cell::new(0);
            let counted = |x: f64| {
                asked.set(asked.get() + 1);
                f(x)
            };
            let (at, value) = dent(counted, (0.0, 3.0), 1e-6);
            assert!((at - expected).abs() < 3e-6, "{at} for {expected}");
            assert!((value - f(at)).abs() < 1e-15);
            assert!(asked.get() <= steps_max, "{} steps for {expected}", asked.get());
        }
    }
}
