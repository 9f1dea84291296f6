//! How many more regrinds a cutter has in it.

use geometry::Length;
use geometry::fit::quantile::student_quantile;
use geometry::quantity::System;

use super::learned::{BAND, Learned};
use crate::context::Cited;
use crate::error::ShopError;

/// Nobody counts further than this; beyond it the stock is a slip of the pen.
const LIVES_MAX: u32 = 200;

/// Lives left in a cutter.
#[derive(Clone, Debug, PartialEq)]
pub struct Lives {
    /// Regrinds that are left at the learned stock.
    pub expected: u32,
    /// So many are left in 19 of 20 cases.
    pub least: u32,
    /// More than this are left in 1 of 20 cases.
    pub greatest: u32,
    /// What can still come off the diameter.
    pub room: Length,
    /// The smallest useful diameter.
    pub smallest: Cited<Length>,
    /// Where the stock per grind comes from, in words.
    pub from: String,
}

/// How many more regrinds fit between a diameter and the smallest useful one.
///
/// `sharp` is the diameter over the sharp edges: of a dull cutter that of its original edge, so
/// that the coming regrind counts as one; of the size a plan grinds to, that which is left after
/// it. `stock_min` is what a regrind takes at the very least,
/// such as two finishing passes; it bounds the lives of a cutter about which little is known.
///
/// With k regrinds, each drawn about a mean that is itself uncertain, what they take has the mean
/// k·m and the variance k²u² + k s², m and u being the learned value and its deviation, s the
/// scatter; a bound is the largest k for which that, at Student's t, stays within the room.
///
/// **Source** \[jcgm-100\] clause 5.2, the uncertainty of a sum with a common part. **Departs**
/// by taking one count of degrees of freedom for both parts. **Error** that of the learned stock.
/// **Domain** regrinds on the diameter like those that were learned from.
///
/// # Errors
/// `Invalid` where a length is not finite, or neither the stock nor its least is above zero.
pub fn lives_left(
    sharp: Length,
    smallest: &Cited<Length>,
    stock: &Learned<Length>,
    stock_min: Length,
) -> Result<Lives, ShopError> {
    check(sharp, smallest.value, stock, stock_min)?;
    let room = (sharp - smallest.value).max(Length::ZERO);
    let t = student_quantile(stock.degrees, 0.5 + 0.5 * BAND)
        .map_err(|error| ShopError::invalid("stock per grind", error.to_string()))?;
    let fits = |t: f64| largest(|k| taken_mm(stock, stock_min, k, t) <= room.mm() + ROUNDING_MM);
    Ok(Lives {
        expected: fits(0.0),
        least: fits(t),
        greatest: fits(-t),
        room,
        smallest: smallest.clone(),
        from: stock.words(),
    })
}

/// Room for rounding, so that a whole number of regrinds fits a room made for it.
const ROUNDING_MM: f64 = 1e-9;

/// What `k` regrinds take off the diameter at t deviations above their mean.
fn taken_mm(stock: &Learned<Length>, stock_min: Length, k: f64, t: f64) -> f64 {
    let deviation = (k * stock.deviation.mm()).hypot(k.sqrt() * stock.scatter.mm());
    let taken = k * stock.value.mm() + t * deviation;
    taken.max(k * stock_min.mm())
}

/// The largest count up to which every count fits.
fn largest(fits: impl Fn(f64) -> bool) -> u32 {
    (1..=LIVES_MAX).take_while(|k| fits(f64::from(*k))).last().unwrap_or(0)
}

fn check(
    sharp: Length,
    smallest: Length,
    stock: &Learned<Length>,
    stock_min: Length,
) -> Result<(), ShopError> {
    for (name, length) in [("diameter", sharp), ("smallest diameter", smallest)] {
        if !length.is_finite() || length <= Length::ZERO {
            let shown = length.show_both(System::Inch);
            return Err(ShopError::invalid(name, format!("{shown}: a diameter is above zero")));
        }
    }
    let takes_some = stock_min.max(stock.value) > Length::ZERO;
    if !stock_min.is_finite() || stock_min < Length::ZERO || !takes_some {
        let reason = "a regrind takes something off: give its least stock, such as two passes";
        return Err(ShopError::invalid("least stock", reason));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stock(value_mm: f64, deviation_mm: f64, scatter_mm: f64) -> Learned<Length> {
        Learned {
            value: Length::from_mm(value_mm),
            deviation: Length::from_mm(deviation_mm),
            least: Length::ZERO,
            greatest: Length::ZERO,
            scatter: Length::from_mm(scatter_mm),
            degrees: 1e6,
            own: 5,
            table_counts_as: 2.0,
            case: "grind",
            table: Cited::new(Length::from_mm(0.25), "table"),
            wild: Vec::new(),
            doubtful: Vec::new(),
            left_out: Vec::new(),
        }
    }

    fn lives(stock: &Learned<Length>) -> (u32, u32, u32) {
        let smallest = Cited::new(Length::from_mm(10.0), "table");
        let least = Length::from_mm(0.05);
        let found = lives_left(Length::from_mm(12.0), &smallest, stock, least).unwrap();
        (found.least, found.expected, found.greatest)
    }

    #[test]
    fn a_stock_known_exactly_leaves_no_range() {
        assert_eq!(lives(&stock(0.25, 0.0, 0.0)), (8, 8, 8));
    }

    #[test]
    fn the_range_follows_the_sum_of_uncertain_grinds() {
        // At t = 1.6449: 6 grinds take 1.5 + 1.6449 √(36·0.0025 + 6·0.0025) = 2.033 mm, 5 take
        // 1.711 mm; on the other side 13 take 3.25 − 1.6449 √(169·0.0025 + 13·0.0025) = 2.140 mm,
        // 12 take 1.973 mm. Own arithmetic.
        assert_eq!(lives(&stock(0.25, 0.05, 0.05)), (5, 8, 12));
    }

    #[test]
    fn the_least_stock_bounds_a_guess() {
        assert_eq!(lives(&stock(0.25, 0.24, 0.1)).2, 40);
    }

    #[test]
    fn a_cutter_at_its_smallest_has_no_life_left() {
        let smallest = Cited::new(Length::from_mm(12.5), "table");
        let sharp = Length::from_mm(12.0);
        let found = lives_left(sharp, &smallest, &stock(0.25, 0.0, 0.0), Length::ZERO).unwrap();
        assert_eq!((found.expected, found.greatest, found.room), (0, 0, Length::ZERO));
    }

    #[test]
    fn a_regrind_that_takes_nothing_is_refused() {
        let smallest = Cited::new(Length::from_mm(10.0), "table");
        let sharp = Length::from_mm(12.0);
        assert!(lives_left(sharp, &smallest, &stock(0.0, 0.1, 0.1), Length::ZERO).is_err());
        let nan = Length::from_mm(f64::NAN);
        assert!(lives_left(nan, &smallest, &stock(0.2, 0.1, 0.1), Length::ZERO).is_err());
    }
}
