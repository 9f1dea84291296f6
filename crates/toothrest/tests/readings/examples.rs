//! Every example of readings reads as it stands, and holds what its head says.

use geometry::Length;
use shop::record::{Cutter, LandReading, LandStage, Readings};
use toothrest::files::{load, read_readings};

use super::plans::{cutter, files, folder};

/// The cutter that a file is named after.
fn cutter_of(file: &str) -> Cutter {
    let cutters = files("cutters");
    let number = &file[..5];
    let is_named = |name: &str| name.starts_with(number);
    let name = cutters.iter().find_map(|path| {
        path.file_name()?.to_str().filter(|name| is_named(name)).map(str::to_owned)
    });
    cutter(&name.unwrap_or_else(|| panic!("no cutter {number} for {file}")))
}

fn readings(file: &str) -> Readings {
    let cutter = cutter_of(file);
    let path = folder("readings").join(file);
    load(&path, |file, text| read_readings(file, text, &cutter))
        .unwrap_or_else(|problems| panic!("{problems}"))
}

fn lands(readings: &Readings) -> Vec<LandReading> {
    readings.lands().iter().flat_map(|group| group.readings.clone()).collect()
}

fn widths(lands: &[LandReading], those: impl Fn(&LandReading) -> bool) -> Vec<f64> {
    lands.iter().filter(|land| those(land)).map(|land| land.width.thou()).collect()
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn spread(values: &[f64]) -> f64 {
    let ends = |pick: fn(f64, f64) -> f64| values.iter().copied().reduce(pick).unwrap();
    ends(f64::max) - ends(f64::min)
}

#[test]
fn every_example_reads_and_says_what_it_shows() {
    let paths = files("readings");
    assert!(paths.len() >= 7, "{paths:?}");
    let mut csv = 0;
    for path in &paths {
        let file = path.file_name().unwrap().to_str().unwrap();
        assert!(std::fs::read_to_string(path).unwrap().starts_with("# "), "{file} has no head");
        let found = readings(file).draft();
        let number = cutter_of(file).number().to_owned();
        assert_eq!(found.cutter.as_deref(), Some(number.as_str()), "{file}");
        assert!(!found.ground_order.is_empty(), "{file}");
        csv += usize::from(file.to_ascii_lowercase().ends_with(".csv"));
    }
    assert!((2..paths.len() - 1).contains(&csv), "{csv} of {} are CSV", paths.len());
}

#[test]
fn heavy_toward_the_shank_is_so_on_every_tooth() {
    let readings = readings("k-117-heavy-toward-shank.toml");
    let lands = lands(&readings);
    let end = Length::from_inches(0.2);
    for tooth in 1..=4 {
        let of = |near: bool| {
            widths(&lands, |land| land.tooth == tooth && (land.from_end < end) == near)
        };
        assert!(mean(&of(false)) > mean(&of(true)) + 2.0, "tooth {tooth}");
    }
    let diameters = &readings.diameters()[0].readings;
    assert!(diameters[0].reading > diameters[3].reading, "wider lands, smaller diameter");
}

#[test]
fn different_lands_differ_far_beyond_the_glass() {
    let readings = readings("k-117-every-land-different.csv");
    let lands = lands(&readings);
    assert_eq!(lands.len(), 12);
    let instrument = readings.land_instrument().unwrap();
    for place in [0.125, 0.625, 1.125] {
        let at = Length::from_inches(place);
        let of = widths(&lands, |land| (land.from_end - at).abs() < Length::from_um(1.0));
        assert_eq!(of.len(), 4);
        let mut single: Vec<_> = of.iter().map(|thou| thou.round()).collect();
        single.sort_by(f64::total_cmp);
        single.dedup();
        assert_eq!(single.len(), 4, "{of:?} at {place} in");
        assert!(spread(&of) > 7.0 * instrument.resolution.thou(), "{of:?} at {place} in");
    }
}

#[test]
fn one_land_stands_out_of_all() {
    let lands = lands(&readings("k-117-one-bad-reading.toml"));
    let mut all = widths(&lands, |_| true);
    all.sort_by(f64::total_cmp);
    let bad = all.pop().unwrap();
    assert!(spread(&all) < 1.5 && bad > mean(&all) + 10.0, "{bad} beside {all:?}");
}

#[test]
fn half_empty_holds_three_readings() {
    let draft = readings("k-117-half-empty.csv").draft();
    assert_eq!(draft.lands[0].readings.len(), 2);
    assert_eq!(draft.diameters[0].readings.len(), 1);
    assert!(draft.indicator[0].readings.is_empty() && draft.drops[0].readings.is_empty());
    assert!(draft.runouts.is_empty() && draft.signs.is_empty());
}

#[test]
fn as_planned_holds_every_kind() {
    let draft = readings("k-117-as-planned.toml").draft();
    let stages: Vec<_> = draft.lands.iter().map(|group| group.stage).collect();
    assert_eq!(stages, [LandStage::AfterPrimary, LandStage::AfterSecondary]);
    assert!(!draft.diameters.is_empty() && !draft.indicator.is_empty());
    assert!(!draft.runouts.is_empty() && !draft.drops.is_empty() && !draft.signs.is_empty());
}

/// Between flat anvils three teeth read three quarters of the diameter: one radius and the half
/// of it on which the other two stand.
#[test]
fn three_teeth_read_one_size_both_ways() {
    let draft = readings("k-112-three-teeth.toml").draft();
    let [flat, vee] = [0, 1].map(|group| draft.diameters[group].readings[0].reading);
    assert!((flat / 0.75 - vee).abs() < Length::from_thou(0.1), "{flat:?} {vee:?}");
}

#[test]
fn lands_of_a_wheel_that_breaks_down_follow_the_order_of_grinding() {
    let readings = readings("k-145-wheel-breaks-down.csv");
    let lands = lands(&readings);
    let order = readings.ground_order().unwrap();
    let of = |tooth: u32| mean(&widths(&lands, |land| land.tooth == tooth));
    let first_half = mean(&order[..3].iter().map(|&tooth| of(tooth)).collect::<Vec<_>>());
    let last_half = mean(&order[3..].iter().map(|&tooth| of(tooth)).collect::<Vec<_>>());
    assert!(of(order[0]) > of(order[5]) + 3.0 && first_half > last_half + 1.0);
}
