//! Indicator drops behind the edge of peripheral teeth.

use geometry::Length;
use geometry::closed_form::plane_drop;
use geometry::section::Stance;

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

/// Cells that stand up to a whole place off, each with the reason. The table is from memory.
const WIDENED: [(f64, f64, &str); 5] = [
    (0.125, 19.0, "0.002524 is printed rounded up"),
    (0.375, 13.0, "0.002817 is printed rounded up"),
    (0.5, 9.0, "0.002343 is printed rounded up"),
    (1.0, 10.0, "0.004349 is printed rounded up"),
    (2.0, 6.0, "0.002695 is printed a place low, or is remembered so"),
];

/// Drop of a straight tooth under a level cup, on the kernel, in inches.
fn kernel_drop(diameter: f64, relief: f64, distance: f64) -> f64 {
    let stance = Stance { relief_setting: degrees(relief), ..SQUARE };
    let ground = section(cutter(diameter, 0.0), cup(10.0 * diameter.max(0.5), 0.05), stance);
    ground.drop_at(inches(distance)).map_or(f64::NAN, Length::inches)
}

/// Every cell of the table held to a way of working out its drop.
fn held(title: &'static str, drop: impl Fn(f64, f64, f64) -> f64) -> Topic {
    let topic = Topic::new(title, DROP_TABLE, Grade::B, "in");
    cells().fold(topic, |topic, (diameter, relief, distance, printed)| {
        let what = format!("{diameter} in, {relief} deg at {distance} in");
        let got = drop(diameter, relief, distance);
        let is_cell = |cell: &&(f64, f64, &'static str)| (cell.0, cell.1) == (diameter, relief);
        match WIDENED.iter().find(is_cell) {
            None => topic.near(what, printed, HALF_PLACE, got),
            Some((.., because)) => topic.widened(what, (printed, 2.0 * HALF_PLACE), because, got),
        }
    })
}

pub(crate) fn drops_closed() -> Topic {
    held("Indicator drops, closed form", |diameter, relief, distance| {
        plane_drop(inches(diameter), degrees(relief), inches(distance)).inches()
    })
}

pub(crate) fn drops_on_the_kernel() -> Topic {
    held("Indicator drops, kernel", kernel_drop)
}

/// The distance times the tangent alone forgets that the circle falls away too: about half as much
/// again on a small cutter, and outside the table in every cell.
pub(crate) fn the_circle_counts() -> Topic {
    let topic = Topic::new("Drop without the circle (must fail)", DROP_TABLE, Grade::B, "percent");
    let flat = |relief: f64, distance: f64| distance * degrees(relief).tan();
    let excess = 100.0 * (flat(10.0, 0.015) / 0.0017 - 1.0);
    let because = "the source says about 50 percent";
    let topic = topic.widened("1/4 in, 10 deg at 0.015 in", (50.0, 10.0), because, excess);
    cells().fold(topic, |topic, (diameter, relief, distance, printed)| {
        let what = format!("{diameter} in, {relief} deg: outside the table");
        topic.above(what, printed + HALF_PLACE, flat(relief, distance))
    })
}

/// Every cell: diameter, relief, distance, printed drop.
fn cells() -> impl Iterator<Item = (f64, f64, f64, f64)> {
    DROPS.into_iter().flat_map(|[diameter, least, greatest, distance, drop_min, drop_max]| {
        [(diameter, least, distance, drop_min), (diameter, greatest, distance, drop_max)]
    })
}
