//! How far a rest stands below centre, or a wheel's axis above it.

use geometry::Angle;
use geometry::closed_form::{disc_relief, relief_from_offset, rest_offset, straight_line_offset};

use crate::bench::{axis_above_for, degrees, inches, relief_on_disc, rest_below_for};
use crate::ledger::{Grade, Topic};

const CIRCULAR: &str = "ch. 5 (read)";

/// TC 9-524, ch. 5, worked example: clearance 5 deg on a straight wheel of 6 in, 0.264 in printed.
/// Its constant 0.0088 is π/360 rounded up: the sine gives 0.26147 in, 0.0025 in less.
pub(crate) fn worked_example_of_the_circular() -> Topic {
    let source = ("tc-9-524", "ch. 5, worked example (read)");
    let rule = straight_line_offset(0.0088, inches(6.0), degrees(5.0)).inches();
    let sine = rest_offset(inches(6.0), degrees(5.0)).inches();
    let solved = axis_above_for(2.0, 6.0, 5.0);
    Topic::new("Offset for 5 deg on a 6 in wheel", source, Grade::B, "in")
        .near("the rule's own figure", 0.264, 0.0005, rule)
        .near("half the diameter times the sine", 0.261_47, 0.000_005, sine)
        .near("the kernel run backwards", 0.261_47, 0.000_005, solved)
        .near("the manual's excess over the kernel", 0.0025, 0.000_05, rule - solved)
}

/// The clearance that the printed offset gives on the kernel, to the printed whole degree.
pub(crate) fn clearance_at_the_printed_offset() -> Topic {
    let source = ("tc-9-524", "ch. 5, worked example (read)");
    Topic::new("Clearance at the printed 0.264 in", source, Grade::B, "deg")
        .near("straight tooth, kernel", 5.0, 0.5, relief_on_disc(2.0, 6.0, 0.264))
        .near("closed form", 5.0, 0.5, {
            let relief = disc_relief(inches(2.0), inches(6.0), degrees(0.0), inches(0.264));
            relief.map_or(f64::NAN, Angle::degrees)
        })
}

/// The same rule takes the wheel's diameter for a straight wheel and the cutter's for a cup: on
/// the kernel the other diameter must not matter. The tolerance is what the constant is off by.
pub(crate) fn which_diameter_counts() -> Topic {
    let because = "0.0088 is pi/360 rounded up by 0.84 percent, and the sine is 0.13 percent less";
    let mut topic =
        Topic::new("Which diameter sets the offset", ("tc-9-524", CIRCULAR), Grade::B, "in");
    for cutter in [1.0, 2.0, 3.0] {
        let rule = 0.0088 * 5.0 * 6.0;
        let what = format!("{cutter} in cutter on a 6 in straight wheel");
        topic = topic.widened(what, (rule, 0.01 * rule), because, axis_above_for(cutter, 6.0, 5.0));
    }
    for cup in [3.0, 4.0, 6.0] {
        let rule = 0.0088 * 5.0 * 2.0;
        let what = format!("2 in cutter under a {cup} in cup");
        topic = topic.widened(what, (rule, 0.01 * rule), because, rest_below_for(2.0, cup, 5.0));
    }
    topic
}

/// The Navy's constant 0.0087 against the sine, in percent.
pub(crate) fn constant_of_the_navy() -> Topic {
    let printed = [(5.0, -0.2, 0.05), (10.0, 0.2, 0.05), (20.0, 1.75, 0.005), (30.0, 4.4, 0.05)];
    let source = ("navy-machinery-repairman", "ch. 10, cutter sharpening (read); excess derived");
    let topic = Topic::new("0.0087 times degrees against the sine", source, Grade::D, "percent");
    printed.into_iter().fold(topic, |topic, (relief, excess, half_place)| {
        let rule = straight_line_offset(0.0087, inches(3.0), degrees(relief));
        let exact = rest_offset(inches(3.0), degrees(relief));
        topic.near(format!("{relief} deg"), excess, half_place, 100.0 * (rule / exact - 1.0))
    })
}

/// Wheel in inches, clearance in degrees, printed offset in inches.
const CELLS: [(f64, f64, f64); 8] = [
    (6.0, 5.0, 0.261),
    (6.0, 8.0, 0.418),
    (6.0, 10.0, 0.521),
    (6.0, 12.0, 0.624),
    (4.0, 5.0, 0.174),
    (4.0, 10.0, 0.347),
    (8.0, 7.0, 0.487),
    (8.0, 12.0, 0.832),
];

const OFFSET_TABLE: (&str, &str) =
    ("machinerys-handbook", "cutter grinding, offsets for disc wheels (sampled, from memory)");

pub(crate) fn offset_table_closed() -> Topic {
    let topic = Topic::new("Offset table, closed forms", OFFSET_TABLE, Grade::B, "in");
    CELLS.into_iter().fold(topic, |topic, (wheel, clearance, printed)| {
        let offset = rest_offset(inches(wheel), degrees(clearance)).inches();
        topic.near(format!("{wheel} in, {clearance} deg"), printed, 0.0005, offset)
    })
}

/// From the printed offset back to the angle, by both closed forms; half of the last printed place
/// is turned into an angle on that wheel.
pub(crate) fn offset_table_backwards() -> Topic {
    let topic = Topic::new("Offset table read backwards", OFFSET_TABLE, Grade::B, "deg");
    CELLS.into_iter().fold(topic, |topic, (wheel, clearance, printed)| {
        let half_place = (0.0005 / (0.5 * wheel * degrees(clearance).cos())).to_degrees();
        let disc = disc_relief(inches(1.0), inches(wheel), degrees(0.0), inches(printed));
        let sine = relief_from_offset(inches(wheel), inches(printed));
        [disc, sine].into_iter().fold(topic, |topic, relief| {
            let got = relief.map_or(f64::NAN, Angle::degrees);
            topic.near(format!("{wheel} in, {printed} in"), clearance, half_place, got)
        })
    })
}

/// The same cells on the real kernel, a straight tooth of 1 in: offset for the angle, and relief
/// for the offset.
pub(crate) fn offset_table_on_the_kernel() -> Topic {
    let topic = Topic::new("Offset table, kernel", OFFSET_TABLE, Grade::B, "in");
    CELLS.into_iter().fold(topic, |topic, (wheel, clearance, printed)| {
        let found = relief_on_disc(1.0, wheel, printed);
        let found_in = 0.5 * wheel * degrees(found).sin();
        let wanted_in = 0.5 * wheel * degrees(clearance).sin();
        topic
            .near(
                format!("{wheel} in, {clearance} deg"),
                printed,
                0.0005,
                axis_above_for(1.0, wheel, clearance),
            )
            .near(format!("{wheel} in, {printed} in"), wanted_in, 0.0005, found_in)
    })
}

/// Rose: for a fixed offset the clearance falls as the wheel's diameter grows.
pub(crate) fn clearance_falls_as_the_wheel_grows() -> Topic {
    let source = ("rose-1880s", "grinding milling cutters (read)");
    let topic = Topic::new("A larger wheel gives less clearance", source, Grade::B, "deg");
    let wheels = [3.0, 4.0, 5.0, 6.0, 8.0, 10.0];
    [0.1, 0.25, 0.5].into_iter().fold(topic, |topic, offset| {
        let reliefs = wheels.map(|wheel| relief_on_disc(2.0, wheel, offset));
        topic.falling(&format!("{offset} in offset"), &reliefs)
    })
}
