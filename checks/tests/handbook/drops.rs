//! Indicator drops behind the edge of peripheral teeth.

use geometry::closed_form::plane_drop;

use crate::bench::{SQUARE, cup, cutter, degrees, inches, section};
use crate::ledger::{Grade, Topic};

const DROP_TABLE: (&str, &str) =
    ("machinerys-handbook", "indicator drops on peripheral teeth (sampled, from memory)");

/// Half of the last printed place, in inches.
const HALF_PLACE: f64 = 0.000_05;

/// Diameter, least and greatest relief, checking distance, least and greatest drop.
const DROPS: [[f64; 6]; 9] = [
    [0.125, 15.0, 19.0, 0.010, 0.0018, 0.0026],
    [0.25, 10.0, 14.0, 0.015, 0.0017, 0.0028],
    [0.375, 10.0, 13.0, 0.015, 0.0020, 0.0029],
    [0.5, 9.0, 12.0, 0.020, 0.0024, 0.0034],
    [0.75, 8.0, 11.0, 0.030, 0.0030, 0.0046],
    [1.0, 7.0, 10.0, 0.030, 0.0028, 0.0044],
    [2.0, 6.0, 9.0, 0.030, 0.0026, 0.0043],
    [4.0, 5.0, 8.0, 0.030, 0.0024, 0.0040],
    [6.0, 4.0, 7.0, 0.030, 0.0019, 0.0035],
];

/// Why a cell may stand a whole place off instead of half of one.
const ROUNDED: &str = "from memory, and the handbook rounds some cells away from the nearest place";

/// Drop of a straight tooth under a level cup, on the kernel, in inches.
fn kernel_drop(diameter: f64, relief: f64, distance: f64) -> f64 {
    let stance = geometry::section::Stance { relief_setting: degrees(relief), ..SQUARE };
    let ground = section(cutter(diameter, 0.0), cup(10.0 * diameter.max(0.5), 0.05), stance);
    ground.drop_at(inches(distance)).map_or(f64::NAN, |drop| drop.inches())
}

pub(crate) fn drops_on_the_kernel() -> Topic {
    let topic = Topic::new("Indicator drops, kernel", DROP_TABLE, Grade::B, "in");
    cells().fold(topic, |topic, (diameter, relief, distance, printed)| {
        let got = kernel_drop(diameter, relief, distance);
        let what = format!("{diameter} in, {relief} deg at {distance} in");
        if (got - printed).abs() <= HALF_PLACE {
            topic.near(what, printed, HALF_PLACE, got)
        } else {
            topic.widened(what, (printed, 2.0 * HALF_PLACE), ROUNDED, got)
        }
    })
}

/// Every cell: diameter, relief, distance, printed drop.
fn cells() -> impl Iterator<Item = (f64, f64, f64, f64)> {
    DROPS.into_iter().flat_map(|[diameter, least, greatest, distance, drop_min, drop_max]| {
        [(diameter, least, distance, drop_min), (diameter, greatest, distance, drop_max)]
    })
}
