//! The least value of a function that never changes faster than its argument, such as a distance.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// Steps after which a search gives the least that it has seen.
const STEPS_MAX: usize = 4000;

/// A stretch in which the least could lie.
struct Stretch {
    from: (f64, f64),
    to: (f64, f64),
    /// The function is nowhere less in it.
    bound: f64,
}

impl Stretch {
    fn new(from: (f64, f64), to: (f64, f64)) -> Self {
        Self { from, to, bound: 0.5 * (from.1 + to.1 - (to.0 - from.0)) }
    }
}

impl Ord for Stretch {
    /// A heap gives its greatest first, and the stretch that can hold least is wanted first.
    fn cmp(&self, other: &Self) -> Ordering {
        other.bound.total_cmp(&self.bound)
    }
}

impl PartialOrd for Stretch {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Stretch {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Stretch {}

/// The least of `f` between two ends, to within `error` of it: halves where the least could lie,
/// the likeliest place first.
///
/// **Source** \[own-derivation\] between two places a function of slope one at most is nowhere less
/// than half of the sum of its values less their distance. **Departs** nowhere. **Error** `error`;
/// where the steps do not suffice to prove it, the least that was seen, which on a smooth function
/// lies far nearer than the last stretch is long. **Domain** functions of slope one at most.
pub(crate) fn least(f: impl Fn(f64) -> f64, low: f64, high: f64, error: f64) -> f64 {
    least_below(f, (low, high), error, f64::INFINITY)
}

/// The same where only what lies below a ceiling matters: the ceiling itself where nothing does.
pub(crate) fn least_below(
    f: impl Fn(f64) -> f64,
    ends: (f64, f64),
    error: f64,
    ceiling: f64,
) -> f64 {
    place_below(f, ends, error, ceiling).map_or(ceiling, |(_, least)| least)
}

/// Where the least below a ceiling lies, and how much it is; None where nothing does.
pub(crate) fn place_below(
    f: impl Fn(f64) -> f64,
    (low, high): (f64, f64),
    error: f64,
    ceiling: f64,
) -> Option<(f64, f64)> {
    let ends = [(low, f(low)), (high, f(high))];
    let mut found = (f64::NAN, ceiling);
    let mut look = |at: (f64, f64)| {
        if at.1 < found.1 {
            found = at;
        }
        found.1
    };
    let mut least = look(ends[0]).min(look(ends[1]));
    let mut open = BinaryHeap::from([Stretch::new(ends[0], ends[1])]);
    for _ in 0..STEPS_MAX {
        let Some(Stretch { from, to, bound }) = open.pop() else { break };
        if bound >= least - error {
            break;
        }
        let at = 0.5 * (from.0 + to.0);
        let middle = (at, f(at));
        least = look(middle);
        open.extend([Stretch::new(from, middle), Stretch::new(middle, to)]);
    }
    (!found.0.is_nan()).then_some(found)
}

/// Proves that `f` is nowhere between two ends less than `level` by more than `error`.
///
/// **Source** \[own-derivation\] as for [`least`], left as soon as a lesser place is seen.
/// **Departs** nowhere. **Error** `error`. **Domain** functions of slope one at most.
///
/// # Errors
/// A place where it is less; where the steps do not suffice, one beside which it could be.
pub(crate) fn above(
    f: impl Fn(f64) -> f64,
    (low, high): (f64, f64),
    level: f64,
    error: f64,
) -> Result<(), f64> {
    let ends = [(low, f(low)), (high, f(high))];
    let look = |at: (f64, f64)| if at.1 < level - error { Err(at.0) } else { Ok(()) };
    ends.into_iter().try_for_each(look)?;
    let mut open = BinaryHeap::from([Stretch::new(ends[0], ends[1])]);
    for _ in 0..STEPS_MAX {
        let Some(Stretch { from, to, bound }) = open.pop() else { return Ok(()) };
        if bound >= level - error {
            return Ok(());
        }
        let at = 0.5 * (from.0 + to.0);
        let middle = (at, f(at));
        look(middle)?;
        open.extend([Stretch::new(from, middle), Stretch::new(middle, to)]);
    }
    Err(open.pop().map_or(low, |stretch| stretch.from.0))
}

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

    use super::{dent, least};

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

    #[test]
    fn the_least_of_several_dents_is_found() {
        let dents = |x: f64| 0.3 * (3.0 * x).sin() + 0.05 * (x - 4.0).abs();
        let seen = (0..=200_000).map(|step| dents(f64::from(step) * 1e-4));
        let expected = seen.fold(f64::INFINITY, f64::min);
        assert!((least(dents, 0.0, 20.0, 1e-6) - expected).abs() < 2e-6);
    }
}
