//! When to pull a cutter, against what is in print.
//!
//! Grades: B handbook, manual or published table · D own derivation.

use geometry::{Angle, Length};
use shop::cost::{Economy, Money, PullBound, WearCurve, WearReading, pull_at, wear_curve};

/// Printed: end of each range of diameters, in, and the wear land at which to pull a finishing
/// cutter, in. Grade B as plausibility, read: \[cutter-maker-data-page\], "about".
const PRINTED: [(f64, f64); 4] = [(0.375, 0.004), (0.750, 0.006), (1.000, 0.008), (1.250, 0.010)];

/// A job of our own: rates and prices are invented, for a cutter of this diameter.
fn economy(diameter_in: f64, grind_share: f64) -> Economy {
    let price = 15.0 + 60.0 * diameter_in;
    Economy {
        new_price: Money::from_amount(price),
        grind: Money::from_amount(grind_share * price),
        grind_per_mm: Money::from_amount(0.1 * price),
        change: Money::from_amount(5.0),
        room: Length::from_inches(0.12 * diameter_in),
        beyond_wear: Length::from_inches(0.007),
        relief: Angle::from_degrees(10.0),
        rake: Angle::from_degrees(10.0),
        edge_share: 0.9,
    }
}

/// Invented wear in three stages: 0.0012 in with the first parts, then 0.001 in for each 25 parts,
/// the rate doubled at the wear land given.
fn curve(doubles_in: f64) -> WearCurve {
    let start = (0.0012 / doubles_in).atan();
    let reading = |at: u32| {
        let parts = 10.0 * f64::from(at);
        let wear_in = doubles_in * (start + 4e-5 * parts / doubles_in).tan();
        WearReading { parts, wear_land: Length::from_inches(wear_in) }
    };
    let is_read = |one: &WearReading| (0.0..0.03).contains(&one.wear_land.inches());
    let readings: Vec<WearReading> = (1..=40).map(reading).take_while(is_read).collect();
    wear_curve(&readings).expect("the wear grows")
}

/// The printed limits are those of a finish and a size that still serve. Cost alone must not ask to
/// pull before them, even where the wear runs away from the printed limit on; and with the printed
/// limit as the widest that the work allows, the answer is that limit, and says why.
#[test]
fn cost_alone_never_pulls_before_the_printed_limits() {
    for (diameter_in, printed_in) in PRINTED {
        for grind_share in [0.1, 0.35, 0.8] {
            let economy = economy(diameter_in, grind_share);
            let curve = curve(printed_in);
            let free = pull_at(&economy, &curve, Length::from_inches(0.1)).unwrap();
            let best_in = free.wear_land.inches();
            assert!(best_in > printed_in, "{diameter_in} in: {best_in}, printed {printed_in}");
            let printed = Length::from_inches(printed_in);
            let held = pull_at(&economy, &curve, printed).unwrap();
            assert_eq!((held.wear_land, held.bound), (printed, PullBound::WorkAllows));
            assert!(held.cost_per_part > free.cost_per_part);
        }
    }
}

/// The bundled table holds the same printed limits, so that a caller can pass them on.
#[test]
fn the_printed_limits_are_in_the_table() {
    let tables = trade::Tables::bundled().unwrap();
    for (end_in, printed_in) in PRINTED {
        let diameter = Length::from_inches(end_in - 0.05);
        let limit = tables.wear_limit(trade::WearKind::Finishing, diameter).unwrap();
        assert!((limit.chosen.value.wear_land.inches() - printed_in).abs() < 1e-9);
    }
}
