//! Diameters over anvils, and surface speeds.

use geometry::Length;
use geometry::closed_form::{
    diameter_from_flat_anvils, flat_anvil_reading, surface_speed_m_per_s, vee_anvil_angle,
};

use crate::bench::inches;
use crate::ledger::{Grade, Topic};

/// Factors from a reading over flat anvils to the diameter, for odd teeth.
const FACTORS: [(u32, f64); 4] = [(3, 1.3333), (5, 1.1056), (7, 1.0521), (9, 1.0311)];

pub(crate) fn odd_teeth_over_flat_anvils() -> Topic {
    let source = ("own-derivation", "equal spacing, tips in one plane");
    let topic = Topic::new("Odd teeth over flat anvils", source, Grade::D, "factor");
    let topic = FACTORS.into_iter().fold(topic, |topic, (teeth, factor)| {
        let got = diameter_from_flat_anvils(Length::from_mm(1.0), teeth).mm();
        topic.near(format!("{teeth} teeth"), factor, 0.000_05, got)
    });
    [4, 6, 8].into_iter().fold(topic, |topic, teeth| {
        let got = diameter_from_flat_anvils(Length::from_mm(1.0), teeth).mm();
        topic.near(format!("{teeth} teeth read their diameter"), 1.0, 1e-12, got)
    })
}

/// The same reading as the least width of the tips between two parallel planes, found by turning
/// them: a hand rocks the cutter to the least reading.
pub(crate) fn odd_teeth_turned() -> Topic {
    let source = ("own-derivation", "least width of the tips, turned in small steps");
    let topic = Topic::new("Odd teeth turned between planes", source, Grade::D, "mm");
    [3_u32, 5, 7, 9, 11].into_iter().fold(topic, |topic, teeth| {
        let tip = |number: u32, turn: f64| {
            let angle = std::f64::consts::TAU * f64::from(number) / f64::from(teeth) + turn;
            5.0 * angle.sin()
        };
        let width = |step: u32| {
            let turn = f64::from(step) * 1e-5 * std::f64::consts::PI;
            let heights = (0..teeth).map(|number| tip(number, turn));
            let (low, high) = heights.fold((f64::MAX, f64::MIN), |(low, high), height| {
                (low.min(height), high.max(height))
            });
            high - low
        };
        let least = (0..=100_000 / teeth).map(width).fold(f64::MAX, f64::min);
        let got = flat_anvil_reading(Length::from_mm(10.0), teeth).mm();
        topic.near(format!("{teeth} teeth"), least, 1e-4, got)
    })
}

/// Vee-anvil micrometers are made for three, five and seven flutes with included angles of 60,
/// 108 and 128 deg 34 min 17 sec. *Common practice, no source*; the angles are from memory.
pub(crate) fn vees_of_micrometers() -> Topic {
    let source = ("common-practice", "vee anvils for 3, 5 and 7 flutes (from memory)");
    let seventh = 128.0 + 34.0 / 60.0 + 17.0 / 3600.0;
    Topic::new("Included angle of a vee anvil", source, Grade::B, "deg")
        .near("3 flutes", 60.0, 0.5, vee_anvil_angle(3).degrees())
        .near("5 flutes", 108.0, 0.5, vee_anvil_angle(5).degrees())
        .near("7 flutes", seventh, 0.5 / 3600.0, vee_anvil_angle(7).degrees())
}

/// Feet in a metre, by the inch of 25.4 mm.
const FEET_PER_METRE: f64 = 1000.0 / 304.8;

pub(crate) fn speeds_in_other_units() -> Topic {
    let source = ("A maker's page on wheel speed", "6500 sfm in metres per minute (read)");
    // A wheel of one foot round turns as often as it runs feet.
    let one_foot_round = inches(12.0) / std::f64::consts::PI;
    let per_minute = |diameter, turns| 60.0 * surface_speed_m_per_s(diameter, turns);
    Topic::new("6500 surface feet per minute", source, Grade::B, "m/min").near(
        "one foot round, 6500 turns",
        1981.0,
        0.5,
        per_minute(one_foot_round, 6500.0),
    )
}

pub(crate) fn speed_of_a_bench_wheel() -> Topic {
    let source = ("own-derivation", "6 in at 3600 turns a minute");
    let feet = 60.0 * surface_speed_m_per_s(inches(6.0), 3600.0) * FEET_PER_METRE;
    Topic::new("Speed of a 6 in wheel", source, Grade::D, "sfm").near("6 in", 5655.0, 0.5, feet)
}
