//! Where a function vanishes.

/// Steps toward a crossing; it takes eight or so.
const STEPS_MAX: u32 = 80;

/// Where a function vanishes between two places at which its signs differ, each given with its
/// value there: where it is nearer to nought than `miss`, or as near as rounding lets it come. The
/// place is the last that the function was asked for.
///
/// **Source** \[numerical-recipes\] section 9.2, false position; Illinois' variant halves the value
/// at an end that stays, so that it keeps the bracket and converges fast. **Departs** nowhere.
/// **Error** `miss` in value. **Domain** continuous functions.
pub(crate) fn crossing(
    mut f: impl FnMut(f64) -> f64,
    (mut one, mut at_one): (f64, f64),
    (mut other, mut at_other): (f64, f64),
    miss: f64,
) -> f64 {
    for _ in 0..STEPS_MAX {
        let share = at_one / (at_one - at_other);
        let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.5 };
        let next = one + (other - one) * share;
        let at_next = f(next);
        if at_next.abs() < miss || next == one || next == other {
            return next;
        }
        if at_next * at_other < 0.0 {
            (one, at_one) = (other, at_other);
        } else {
            at_one *= 0.5;
        }
        (other, at_other) = (next, at_next);
    }
    other
}

#[cfg(test)]
mod tests {
    use super::crossing;

    #[test]
    fn a_crossing_is_found_in_few_steps() {
        let mut steps = 0;
        let f = |x: f64| {
            steps += 1;
            x.cos() - x
        };
        let found = crossing(f, (0.0, 1.0), (1.5, 1.5_f64.cos() - 1.5), 1e-14);
        // Dottie's number, to sixteen places from memory.
        assert!((found - 0.739_085_133_215_160_6).abs() < 1e-14, "{found}");
        assert!(steps < 12, "{steps}");
    }
}
