//! Lands, what an inset of the rest costs, and the far side of a cup.

use geometry::closed_form::{inset_cost, land_growth, worn_depth};
use geometry::section::{GroundSection, Stance};
use geometry::{Angle, Length};

use crate::bench::{SQUARE, cup, cutter, degrees, inches, relief_of, section, setup};
use crate::ledger::{Grade, Topic};

/// The plane that a level cup leaves at a setting on a circle of a diameter, both by hand.
fn plane(diameter_mm: f64, relief: f64) -> GroundSection {
    let stance = Stance { relief_setting: degrees(relief), ..SQUARE };
    let setup = setup(cutter(1.0, 0.0), cup(10.0, 0.05), stance);
    setup.section(Length::from_mm(diameter_mm)).expect("a section")
}

/// Relief, secondary and land width in millimetres, on a 1 in cutter.
const LANDS: [(f64, f64, f64); 6] = [
    (7.0, 14.0, 0.2),
    (7.0, 14.0, 0.9),
    (5.0, 10.0, 0.5),
    (10.0, 18.0, 0.6),
    (12.0, 30.0, 0.4),
    (4.0, 12.0, 1.2),
];

/// Own derivation: two planes at a1 and a2 that meet w behind the edge. The second's parallel
/// through the edge lies w·sin(a2 − a1) deeper, which is (R2 − R)·cos a2 on its own circle R2.
pub(crate) fn where_a_land_ends() -> Topic {
    let source = ("own-derivation", "secondary w sin(a2 - a1) outside");
    let topic = Topic::new("Land between two planes, kernel", source, Grade::D, "mm");
    LANDS.into_iter().fold(topic, |topic, (first, second, width)| {
        let outside_mm = width * degrees(second - first).sin();
        let secondary = plane(25.4 + 2.0 * outside_mm / degrees(second).cos(), second);
        let got = plane(25.4, first).land_before(&secondary).map_or(f64::NAN, Length::mm);
        // Both curves may be off by their interpolation, and the land shows it magnified.
        let within = 4e-5 / degrees(second - first).sin();
        topic.near(format!("{first} and {second} deg, {width} mm"), width, within, got)
    })
}

/// About eight to one at 7 degrees between the two reliefs: by the closed form, and on the kernel
/// as the growth of the land for a thousandth taken off.
pub(crate) fn how_a_land_grows() -> Topic {
    let source = ("own-derivation", "about eight to one at 7 degrees");
    let closed = land_growth(degrees(7.0), degrees(14.0), Angle::ZERO);
    let outside_mm = 0.5 * degrees(7.0).sin();
    let secondary = plane(25.4 + 2.0 * outside_mm / degrees(14.0).cos(), 14.0);
    let land = |taken_mm: f64| {
        let land = plane(25.4 - 2.0 * taken_mm, 7.0).land_before(&secondary);
        land.map_or(f64::NAN, Length::mm)
    };
    let kernel = (land(0.0254) - land(0.0)) / 0.0254;
    Topic::new("Growth of a land with the feed", source, Grade::D, "to one")
        .near("closed form", 8.0, 0.5, closed)
        .near("kernel, 0.001 in taken", 8.0, 0.5, kernel)
        .near("kernel against the closed form", closed, 0.01, kernel)
}

/// Own derivation: a rest inset of i on a helix turns the leading corner's cut by i·tan(helix)/R.
pub(crate) fn what_an_inset_costs() -> Topic {
    let source = ("own-derivation", "0.3 mm inside, 1/4 in, 30 deg: about 3 deg");
    let relief = |inset_mm: f64| {
        let stance = Stance {
            lean: degrees(0.75),
            rest_inset: Length::from_mm(inset_mm),
            relief_setting: degrees(12.0),
            ..SQUARE
        };
        relief_of(&section(cutter(0.25, 30.0), cup(4.0, 0.0625), stance))
    };
    let closed = inset_cost(inches(0.25), degrees(30.0), Length::from_mm(0.3)).degrees();
    let kernel = relief(0.0) - relief(0.3);
    let because = "the corner is a circle and no straight line: about 1 percent of the relief";
    Topic::new("Relief lost by a rest inside the corner", source, Grade::D, "deg")
        .near("closed form", 3.0, 0.5, closed)
        .near("kernel", 3.0, 0.5, kernel)
        .widened("kernel against the closed form", (closed, 0.12), because, kernel)
}

/// Own derivation, by coordinates: the edge at the origin, heelward right, inward down. The wear
/// land is a level line from the rake face to the flank, as wide as it is measured.
pub(crate) fn how_deep_a_wear_land_is() -> Topic {
    let source = ("own-derivation", "VB tan a / (1 - tan a tan g)");
    let topic = Topic::new("Depth of a wear land", source, Grade::D, "mm");
    let cases = [(0.1, 7.0, 10.0), (0.3, 10.0, 10.0), (0.2, 12.0, -5.0), (0.4, 5.0, 0.0)];
    cases.into_iter().fold(topic, |topic, (width, relief, rake)| {
        // Halving the depth at which flank and face stand that far apart.
        let apart = |depth: f64| depth / degrees(relief).tan() - depth * degrees(rake).tan();
        let (mut low, mut high) = (0.0, width);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if apart(middle) < width { low = middle } else { high = middle }
        }
        let got = worn_depth(Length::from_mm(width), degrees(relief), degrees(rake)).mm();
        topic.near(format!("{width} mm at {relief} and {rake} deg"), low, 1e-9, got)
    })
}

/// The Navy grinds a helical plain mill with the head at 89 deg, so that the far side of the cup
/// clears: at 90 it would cut, at 89 it stands off.
pub(crate) fn why_the_head_stands_at_89() -> Topic {
    let source = ("navy-machinery-repairman", "ch. 10, helical plain mills (read)");
    let topic = Topic::new("Head at 89 deg clears a cup's far side", source, Grade::B, "mm");
    [2.0, 3.0, 4.0].into_iter().fold(topic, |topic, diameter| {
        let gap = |lean: f64| {
            let stance = Stance { lean: degrees(lean), relief_setting: degrees(5.0), ..SQUARE };
            let ground = section(cutter(diameter, 25.0), cup(4.0, 0.125), stance);
            ground.far_side_gap().map_or(f64::NAN, Length::mm)
        };
        topic.below(format!("{diameter} in, head at 90"), 0.0, gap(0.0)).above(
            format!("{diameter} in, head at 89"),
            0.0,
            gap(1.0),
        )
    })
}
