//! Searches: the least value of a function that never changes faster than its argument, such as a
//! distance; a dent, and a crossing.

mod crossing;
mod dent;

use std::cmp::Ordering;
use std::collections::BinaryHeap;

pub(crate) use crossing::crossing;
pub(crate) use dent::dent;

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

#[cfg(test)]
mod tests {
    use super::{above, least};

    /// A level is proved just below the least value, and a lesser place is shown just above it.
    #[test]
    fn a_level_is_proved_or_a_place_below_it_is_shown() {
        let dented = |x: f64| 0.3 * (3.0 * x).sin() + 0.05 * (x - 4.0).abs();
        let seen = (0..=200_000).map(|step| dented(f64::from(step) * 1e-4));
        let lowest = seen.fold(f64::INFINITY, f64::min);
        assert_eq!(above(dented, (0.0, 20.0), lowest - 1e-4, 1e-5), Ok(()));
        let place = above(dented, (0.0, 20.0), lowest + 1e-3, 1e-5).expect_err("a lesser place");
        assert!(dented(place) < lowest + 1e-3, "{place}");
    }

    #[test]
    fn the_least_of_several_dents_is_found() {
        let dents = |x: f64| 0.3 * (3.0 * x).sin() + 0.05 * (x - 4.0).abs();
        let seen = (0..=200_000).map(|step| dents(f64::from(step) * 1e-4));
        let expected = seen.fold(f64::INFINITY, f64::min);
        assert!((least(dents, 0.0, 20.0, 1e-6) - expected).abs() < 2e-6);
    }
}
