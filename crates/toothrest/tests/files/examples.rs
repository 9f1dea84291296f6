//! Every example reads, and holds what its comments claim.

use std::collections::BTreeSet;
use std::path::PathBuf;

use geometry::wheel::FaceToward;
use shop::record::{
    AxisRole, Coolant, Cutter, EndForm, Finest, Fixture, Hand, HeadZero, Machine, Profile, Reads,
    WearSign, Wheel, WheelForm, WheelShape,
};
use toothrest::files::{
    FileProblems, GrindsWith, SettingFile, load, read_cutter, read_machine, read_setting,
    read_wear, read_wheels,
};
use trade::{Abrasive, ToolMaterial};

fn folder(name: &str) -> PathBuf {
    [env!("CARGO_MANIFEST_DIR"), "..", "..", "examples", name].iter().collect()
}

/// Every file of a folder, read; in the order of their names.
fn all<T>(name: &str, read: impl Fn(&str, &str) -> Result<T, FileProblems>) -> Vec<T> {
    let entries = std::fs::read_dir(folder(name)).unwrap();
    let paths: BTreeSet<_> = entries.map(|entry| entry.unwrap().path()).collect();
    let read_one =
        |path: &PathBuf| load(path, &read).unwrap_or_else(|problems| panic!("{problems}"));
    paths.iter().map(read_one).collect()
}

fn cutter(file: &str) -> Cutter {
    load(&folder("cutters").join(file), read_cutter).unwrap()
}

fn setting(file: &str) -> SettingFile {
    load(&folder("settings").join(file), read_setting).unwrap()
}

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-9, "{found} is not {expected}");
}

#[test]
fn cutters_cover_what_comes_over_the_counter() {
    let cutters = all("cutters", read_cutter);
    assert!(cutters.len() >= 12);
    let numbers: BTreeSet<_> = cutters.iter().map(Cutter::number).collect();
    assert_eq!(numbers.len(), cutters.len(), "each cutter has a number of its own");
    let teeth: BTreeSet<_> = cutters.iter().map(Cutter::teeth).collect();
    assert_eq!(teeth, BTreeSet::from([2, 3, 4, 6, 12]));
    let some = |holds: &dyn Fn(&Cutter) -> bool| cutters.iter().any(holds);
    for material in ToolMaterial::ALL {
        assert!(some(&|cutter| cutter.material() == material), "{}", material.name());
    }
    assert!(some(&|cutter| cutter.hand() == Hand::Left));
    assert!(some(&|cutter| cutter.is_straight()));
    assert!(some(&|cutter| (cutter.helix().degrees() - 45.0).abs() < 1e-9));
    assert!(some(&|cutter| cutter.end() == EndForm::Ball));
    assert!(some(&|cutter| cutter.profile() == Profile::Rougher));
    assert!(some(&|cutter| cutter.unequal_index()));
    let diameters = || cutters.iter().map(|cutter| cutter.diameter().mm());
    near(diameters().fold(f64::INFINITY, f64::min), 3.0);
    near(diameters().fold(0.0, f64::max), 50.8);
}

#[test]
fn the_dull_half_inch_holds_what_the_bench_saw() {
    let cutter = cutter("k-117-half-inch-dull.toml");
    near(cutter.diameter().inches(), 0.5);
    near(cutter.flute_length().inches(), 1.25);
    // Lead = pi D / tan(helix); 12.7 mm at 30 degrees by hand: 12.7 * 5.441398093 = 69.1057558.
    assert!((cutter.lead().unwrap().mm() - 69.105_755_8).abs() < 1e-6);
    near(cutter.helix_sign(), 1.0);
    let ground = cutter.as_ground().unwrap();
    near(ground.primary.degrees(), 10.0);
    near(ground.land.thou(), 20.0);
    let wear = cutter.wear().unwrap();
    near(wear.measured_diameter().unwrap().inches(), 0.4905);
    assert!(wear.shows(WearSign::CornerGone) && !wear.shows(WearSign::Chipped));
    assert_eq!(wear.teeth().len(), 4);
    let worst = wear.teeth().iter().max_by(|a, b| a.wear_land.mm().total_cmp(&b.wear_land.mm()));
    assert_eq!(worst.unwrap().tooth, 3);
    near(wear.tooth(3).unwrap().runout.unwrap().thou(), 0.6);
}

#[test]
fn the_chipped_and_the_hopeless_differ_by_their_chips() {
    let chipped = cutter("k-130-two-inch-chipped.toml");
    let chip = chipped.wear().unwrap().tooth(4).unwrap();
    near(chip.chip_depth.inches(), 0.045);
    near(chip.chip_from_end.inches(), 0.75);
    let hopeless = cutter("k-149-hopeless.toml");
    let chip = hopeless.wear().unwrap().tooth(2).unwrap();
    let left = hopeless.as_ground().unwrap().diameter / 2.0 - chip.chip_depth;
    let core = hopeless.core_diameter().unwrap() / 2.0;
    assert!((left - core).mm() < 1.0, "the chip ends within 1 mm of the core");
}

#[test]
fn straight_and_left_hand_cutters_have_no_surprises() {
    let straight = cutter("k-145-straight-tooth.toml");
    assert_eq!((straight.helix_hand(), straight.lead()), (None, None));
    near(straight.helix_sign(), 1.0);
    let left = cutter("k-134-left-hand.toml");
    assert_eq!((left.hand(), left.helix_hand()), (Hand::Left, Some(Hand::Left)));
    near(left.helix_sign(), 1.0);
    assert_eq!(cutter("k-101-eighth-inch.toml").work(), "steel");
    let rounded = cutter("k-121-corner-radius.toml");
    let EndForm::CornerRadius(radius) = rounded.end() else { panic!("{:?}", rounded.end()) };
    near(radius.inches(), 0.030);
}

#[test]
fn wear_of_its_own_joins_its_cutter_and_no_other() {
    let path = folder("wear").join("k-126.toml");
    let sharp = cutter("k-126-one-inch-powder.toml");
    assert!(sharp.wear().is_none());
    let worn = load(&path, |file, text| read_wear(file, text, &sharp)).unwrap();
    assert_eq!(worn.number(), sharp.number());
    assert_eq!(worn.wear().unwrap().teeth().len(), 6);
    near(worn.wear().unwrap().tooth(4).unwrap().wear_land.thou(), 12.0);
    let other = cutter("k-117-half-inch-dull.toml");
    let problems = load(&path, |file, text| read_wear(file, text, &other)).unwrap_err();
    assert!(problems.to_string().contains("this wear belongs to another cutter; write \"K-117\""));
}

fn machine(file: &str) -> Machine {
    load(&folder("machines").join(file), read_machine).unwrap()
}

#[test]
fn every_machine_can_set_relief() {
    let machines = all("machines", read_machine);
    assert_eq!(machines.len(), 6);
    for machine in &machines {
        let untold = shop::pose::MachineChain::of(machine, Hand::Right).untold().to_vec();
        assert!(untold.is_empty(), "{}: {untold:?}", machine.name());
        assert!(machine.relief_axes().count() >= 1, "{}", machine.name());
        assert!(machine.axis(AxisRole::TableTravel).is_some(), "{}", machine.name());
    }
}

#[test]
fn the_left_bench_is_fine_and_counts_radius() {
    let machine = machine("left-bench.toml");
    let feed = machine.cross_feed();
    assert_eq!(feed.reads, Reads::Radius);
    near(feed.finest_travel().thou(), 0.5);
    near(machine.head_swivel().finest().degrees() * 60.0, 5.0);
    assert_eq!(machine.head_zero(), HeadZero::ParallelToTravel);
    let dial = machine.axis(AxisRole::ReliefDial).unwrap();
    let Finest::Angle(finest) = dial.finest() else { panic!("{dial:?}") };
    near(finest.degrees(), 0.25);
    assert_eq!(machine.holding().fixture(), Fixture::AirSpindle { psi: 60 });
    let speeds: Vec<_> = machine.spindle().speeds().iter().map(|speed| speed.rpm).collect();
    assert_eq!(speeds, [3600, 4800, 6200]);
    near(machine.rest().finger("narrow").unwrap().width.inches(), 0.040);
    assert!(machine.holding().holds(cutter("k-117-half-inch-dull.toml").shank_diameter()));
    assert!(!machine.holding().holds(cutter("k-152-fifty-mm.toml").shank_diameter()));
}

#[test]
fn the_right_bench_counts_diameter() {
    let machine = machine("right-bench.toml");
    let feed = machine.cross_feed();
    assert_eq!(feed.reads, Reads::Diameter);
    near(feed.finest().mm(), 0.01);
    near(feed.finest_travel().mm(), 0.005);
    near(feed.reading(feed.travel(feed.graduation)).mm(), 0.01);
    near(machine.head_swivel().finest().degrees(), 0.5);
    assert_eq!(machine.coolant(), Coolant::Wet);
    let roles: Vec<_> = machine.relief_axes().map(shop::record::Axis::role).collect();
    assert_eq!(roles, [AxisRole::WheelHeadHeight, AxisRole::RestHeight]);
}

#[test]
fn the_universal_bench_has_a_chain_of_swivels_on_either_side() {
    let machine = machine("universal-bench.toml");
    let chain = shop::pose::MachineChain::of(&machine, Hand::Right);
    let names: Vec<_> =
        chain.swivels().into_iter().filter_map(|joint| Some(chain.axis(joint)?.name())).collect();
    let expected =
        ["head circle", "head tilt", "table top", "work head base", "work head tilt", "index dial"];
    assert_eq!(names, expected);
}

#[test]
fn the_corner_bench_sets_relief_by_its_rest_alone() {
    let machine = machine("corner-bench.toml");
    near(machine.head_swivel().finest().degrees(), 1.0);
    let roles: Vec<_> = machine.relief_axes().map(shop::record::Axis::role).collect();
    assert_eq!(roles, [AxisRole::RestHeight]);
    assert!(!machine.extraction());
    assert_eq!(machine.holding().fixture(), Fixture::ColletFixture);
}

#[test]
fn wheels_cover_every_abrasive_and_form() {
    let wheels: Vec<Wheel> = all("wheels", read_wheels).into_iter().flatten().collect();
    assert!(wheels.len() >= 8);
    let numbers: BTreeSet<_> = wheels.iter().map(Wheel::number).collect();
    assert_eq!(numbers.len(), wheels.len(), "each wheel has a number of its own");
    for abrasive in Abrasive::ALL {
        assert!(wheels.iter().any(|wheel| wheel.abrasive() == abrasive), "{}", abrasive.name());
    }
    let forms =
        [WheelForm::Straight, WheelForm::StraightCup, WheelForm::FlaringCup, WheelForm::Dish];
    for form in forms {
        assert!(wheels.iter().any(|wheel| wheel.shape().form() == form), "{}", form.name());
    }
    for wheel in &wheels {
        // The quickest such wheels are marked for 50 m/s; common practice, no source.
        let metres = std::f64::consts::PI * wheel.diameter().mm() / 1000.0;
        let speed = metres * f64::from(wheel.marked_rpm()) / 60.0;
        assert!((20.0..50.0).contains(&speed), "{} runs at {speed} m/s", wheel.number());
    }
}

#[test]
fn a_rack_keeps_its_wheels_apart() {
    let rack = load(&folder("wheels").join("rack-other.toml"), read_wheels).unwrap();
    let shapes: Vec<_> = rack.iter().map(Wheel::shape).collect();
    assert_eq!(shapes, [WheelShape::Symbol6A2, WheelShape::Symbol12V9, WheelShape::Symbol1A1]);
    assert_eq!(rack[0].coolant(), Some(Coolant::Wet));
    let path = folder("wheels").join("w-01-flaring-cup-oxide.toml");
    let flaring = load(&path, read_wheels).unwrap().remove(0);
    assert_eq!((flaring.grade(), flaring.concentration()), (Some('K'), None));
    // 6000 ft/min is 30.48 m/s exactly, since the international foot of 1959.
    near(flaring.marked_speed_m_per_s().unwrap(), 30.48);
}

#[test]
fn the_cup_setting_says_what_the_contract_says() {
    let SettingFile { cutter, wheel, setting, distances } = setting("cup.toml");
    near(cutter.diameter.mm(), 12.7);
    assert_eq!((cutter.teeth, cutter.hand, cutter.helix_hand), (4, Hand::Right, Hand::Right));
    near(cutter.helix.degrees(), 30.0);
    near(cutter.rake.degrees(), 10.0);
    assert_eq!(wheel.shape, GrindsWith::Face);
    near(wheel.diameter.mm(), 100.0);
    near(wheel.face_width.mm(), 1.6);
    near(wheel.corner_radius.mm(), 0.0);
    near(wheel.trailing_corner_radius.mm(), 0.0);
    near(setting.head_angle.degrees(), 89.25);
    assert_eq!(setting.face_toward, FaceToward::Tip);
    near(setting.rest_inset.mm(), 0.2);
    near(setting.relief_setting.degrees(), 10.0);
    near(setting.centre_above.mm(), 0.0);
    near(setting.new_diameter.mm(), 12.6);
    let distances: Vec<_> = distances.iter().map(|distance| distance.mm()).collect();
    assert_eq!(distances, [0.0635, 0.127]);
}

#[test]
fn the_other_settings_hold_what_their_comments_claim() {
    assert_eq!(all("settings", read_setting).len(), 5);
    let disc = setting("disc.toml");
    assert_eq!(disc.wheel.shape, GrindsWith::Periphery);
    near(disc.cutter.rake.degrees(), 0.0);
    let relief = (disc.setting.centre_above / (disc.wheel.diameter / 2.0)).asin().to_degrees();
    assert!((relief - 7.0).abs() < 0.005, "{relief}");
    // Machinery's Handbook's eccentric relief, tan W = tan R tan H, from memory: 5.81 degrees.
    near(setting("eccentric.toml").setting.head_angle.degrees(), 5.81);
    near(setting("worn-corner.toml").wheel.corner_radius.mm(), 0.4);
    near(setting("worn-corner.toml").wheel.trailing_corner_radius.mm(), 0.1);
    let left = setting("left-hand.toml");
    assert_eq!((left.cutter.hand, left.cutter.helix_hand), (Hand::Left, Hand::Left));
    near(left.setting.head_angle.degrees(), 89.25);
    assert!(left.distances.is_empty());
}
