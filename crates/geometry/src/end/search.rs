//! The least value of a function that never changes faster than its argument, such as a distance.

/// Steps after which a search gives the least that it has seen.
const STEPS_MAX: usize = 4000;

/// The least of `f` between two ends, to within `error` of it: halves where the least could lie,
/// and nowhere else.
///
/// **Source** \[own-derivation\] between two places a function of slope one at most is nowhere less
/// than half of the sum of its values less their distance. **Departs** nowhere. **Error** `error`.
/// **Domain** functions of slope one at most.
pub(super) fn least(f: impl Fn(f64) -> f64, low: f64, high: f64, error: f64) -> f64 {
    least_below(f, (low, high), error, f64::INFINITY)
}

/// The same where only what lies below a ceiling matters: the ceiling itself where nothing does.
pub(super) fn least_below(
    f: impl Fn(f64) -> f64,
    (low, high): (f64, f64),
    error: f64,
    ceiling: f64,
) -> f64 {
    let (at_low, at_high) = (f(low), f(high));
    let mut least = at_low.min(at_high).min(ceiling);
    let mut open = vec![(low, at_low, high, at_high)];
    let mut steps = 0;
    while let Some((a, at_a, b, at_b)) = open.pop() {
        steps += 1;
        let bound = 0.5 * (at_a + at_b - (b - a));
        if bound >= least - error || steps > STEPS_MAX {
            continue;
        }
        let middle = 0.5 * (a + b);
        let at_middle = f(middle);
        least = least.min(at_middle);
        let halves = [(a, at_a, middle, at_middle), (middle, at_middle, b, at_b)];
        // The half that can hold less is looked at first.
        let first_is_lower = at_a < at_b;
        let [one, other] = halves;
        open.extend(if first_is_lower { [other, one] } else { [one, other] });
    }
    least
}

#[cfg(test)]
mod tests {
    use super::least;

    #[test]
    fn the_least_of_several_dents_is_found() {
        let dents = |x: f64| 0.3 * (3.0 * x).sin() + 0.05 * (x - 4.0).abs();
        let seen = (0..=200_000).map(|step| dents(f64::from(step) * 1e-4));
        let expected = seen.fold(f64::INFINITY, f64::min);
        assert!((least(dents, 0.0, 20.0, 1e-6) - expected).abs() < 2e-6);
    }
}
