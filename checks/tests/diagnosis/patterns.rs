//! The patterns of lands as the trade teaches them (*common practice, no source*): equal lands,
//! sound; lands heavy toward the shank alike on every tooth, taper and a wheel that wants dressing;
//! every land different, the shank is not seated.

use checks::reference::random::Splitmix;
use geometry::{Angle, Length};
use shop::Ctx;
use shop::check::{Action, Check, CheckRegrind, Checked, Fault, Outcome, Worth, check_regrind};
use shop::plan::RegrindPlan;
use shop::record::{
    Hand, Instrument, LandGroup, LandReading, LandStage, Readings, ReadingsDraft, WearSign,
};
use trade::Tables;

use super::bench::{Taken, readings};
use super::grind::{Job, Planted};
use super::shop_floor;

fn plan(teeth: u32) -> RegrindPlan {
    let mut draw = Splitmix::new(5);
    shop_floor::plan(shop_floor::cutter(&mut draw, teeth, true, Hand::Right)).unwrap()
}

/// Lands by place and tooth, as differences in mm from the land that the plan foretells.
fn checked(plan: RegrindPlan, off_mm: &[&[f64]], signs: &[WearSign]) -> Check {
    let grinds = plan.peripheral.as_ref().unwrap();
    let land_mm = grinds.secondary.land_before.unwrap().mm();
    let flute_mm = plan.request.cutter.flute_length().mm();
    let last = (off_mm.len().max(2) - 1) as f64;
    let place = |at: usize| Length::from_mm(flute_mm * (0.1 + 0.8 * at as f64 / last));
    let read = |at: usize, tooth: usize, off: f64| LandReading {
        tooth: tooth as u32 + 1,
        from_end: place(at),
        width: Length::from_mm(land_mm + off),
    };
    let rows = off_mm.iter().enumerate();
    let readings = rows.flat_map(|(at, row)| {
        row.iter().enumerate().map(move |(tooth, off)| read(at, tooth, *off))
    });
    let resolution = Length::from_mm(0.01);
    let instrument = Instrument { resolution, repeatability: None };
    let group =
        LandGroup { stage: LandStage::AfterPrimary, instrument, readings: readings.collect() };
    let draft =
        ReadingsDraft { lands: vec![group], signs: signs.to_vec(), ..ReadingsDraft::default() };
    let readings = draft.build(&plan.request.cutter).unwrap();
    weighed(plan, readings)
}

fn weighed(plan: RegrindPlan, readings: Readings) -> Check {
    let tables = Tables::bundled().unwrap();
    match check_regrind(&Ctx { tables }, CheckRegrind { plan, readings }).unwrap() {
        Checked::Weighed(check) => *check,
        Checked::Asked(asked) => panic!("{asked:?}"),
    }
}

fn actions(check: &Check) -> Vec<Action> {
    let made = check.corrections.iter().filter(|one| one.worth == Worth::Make);
    made.map(|one| one.action).collect()
}

#[test]
fn equal_lands_are_sound() {
    let check = checked(plan(4), &[&[0.0; 4], &[0.0; 4]], &[]);
    assert_eq!(check.outcome, Outcome::Sound);
    assert!(check.corrections.is_empty());
}

#[test]
fn lands_heavy_toward_the_shank_are_taper_and_ask_for_dressing() {
    let check = checked(plan(4), &[&[0.0; 4], &[0.25; 4]], &[]);
    assert_eq!(check.outcome, Outcome::Named);
    let taper = check.findings.iter().find(|one| one.fault == Fault::Taper).unwrap();
    // A wide land was ground deep: the shank's end of the edges stands in.
    assert!(taper.size.value < 0.0);
    assert_eq!(actions(&check), [Action::Swivel]);
    assert!(check.corrections[0].how.contains("Dress the wheel"));
    assert!(check.corrections[0].how.contains("away from the wheel"));
}

#[test]
fn lands_that_all_differ_are_a_shank_that_is_not_seated() {
    // A vector of runout: each tooth its own land, the opposite one the other way.
    let helix = |teeth: u32, turned: f64| -> Vec<f64> {
        let angle = |tooth: u32| f64::from(tooth) * std::f64::consts::TAU / f64::from(teeth);
        (0..teeth).map(|tooth| 0.15 * (angle(tooth) + turned).cos()).collect()
    };
    for teeth in [4, 5, 6] {
        let plan = plan(teeth);
        let cutter = &plan.request.cutter;
        let flute_mm = cutter.flute_length().mm();
        let per_mm = 2.0 * cutter.helix().degrees().to_radians().tan() / cutter.diameter().mm();
        let at = |share: f64| helix(teeth, 0.5 + share * flute_mm * per_mm);
        let check = checked(plan, &[&at(0.1), &at(0.9)], &[]);
        let faults: Vec<Fault> = check.findings.iter().map(|one| one.fault).collect();
        assert_eq!(faults, [Fault::Runout], "{teeth} teeth: {:?}", check.explanations);
        assert_eq!(actions(&check), [Action::Reseat]);
    }
}

#[test]
fn one_land_off_at_every_place_is_a_slipped_tooth() {
    let row = [0.0, 0.0, -0.2, 0.0, 0.0];
    let check = checked(plan(5), &[&row, &row], &[]);
    let faults: Vec<Fault> = check.findings.iter().map(|one| one.fault).collect();
    assert_eq!(faults, [Fault::Slip(3)], "{:?}", check.explanations);
    // A narrow land was not ground to depth: the tooth is ground again with no feed.
    assert_eq!(actions(&check), [Action::RegrindTooth]);
}

#[test]
fn two_teeth_cannot_be_told_apart_and_it_says_so() {
    let mut draw = Splitmix::new(9);
    let straight = shop_floor::plan(shop_floor::cutter(&mut draw, 2, false, Hand::Right)).unwrap();
    let check = checked(straight, &[&[0.2, 0.0], &[0.2, 0.0]], &[]);
    assert_eq!(check.outcome, Outcome::Unclear, "{:?} {:?}", check.explanations, check.seen);
    assert!(check.explanations.len() > 1, "{:?}", check.explanations);
    assert!(check.further.is_some() || check.trial.is_some());
    assert!(check.corrections.is_empty());
}

/// A hole comes out oversize by about twice the difference of height of a drill's two lips (*read,
/// weakly, in drilling advice*): what turns cuts at its longest radius. A cutter with one tooth
/// standing out is the same case.
#[test]
fn a_high_tooth_cuts_wider_by_twice_its_height() {
    for height_mm in [0.01, 0.025] {
        let plan = plan(2);
        let job = Job::of(&plan);
        let planted = Planted { slip: Some((2, height_mm)), ..Planted::default() };
        let taken = Taken {
            stage: LandStage::AfterPrimary,
            places: 2,
            diameters: true,
            indicator: true,
            drops: false,
            shank: true,
            missing_in: None,
            misread_mm: None,
            run_noted: true,
        };
        let readings = readings(&mut Splitmix::new(3), &job, &planted, taken).unwrap();
        let planned_mm = 2.0 * job.radius_mm;
        let check = weighed(plan.clone(), readings);
        let oversize_mm = check.cuts_at.unwrap().value - planned_mm;
        // "About": within a fifth, and the instruments' own few micrometres.
        assert!((oversize_mm / height_mm - 2.0).abs() < 0.2 + 0.004 / height_mm, "{oversize_mm}");
    }
}

#[test]
fn wear_in_use_asks_for_clearance_as_it_is_taught() {
    let least = Angle::from_degrees(10.0);
    let ample = |seed: &u64| {
        let cutter = shop_floor::cutter(&mut Splitmix::new(*seed), 4, true, Hand::Right);
        cutter.as_ground().is_some_and(|ground| ground.primary > least)
    };
    let seed = (0..200).find(ample).unwrap();
    let next = |sign: WearSign| {
        let mut draw = Splitmix::new(seed);
        let plan = shop_floor::plan(shop_floor::cutter(&mut draw, 4, true, Hand::Right)).unwrap();
        let now = plan.wanted.primary.value;
        let next = checked(plan, &[&[0.0; 4], &[0.0; 4]], &[sign]).next_clearance;
        next.map(|next| (next.next.value - now).degrees())
    };
    assert!(next(WearSign::MetalBuiltUpOnLand).unwrap() > 0.0);
    assert!(next(WearSign::HeelRubbed).unwrap() > 0.0);
    assert!(next(WearSign::EdgeBrokenDown).unwrap() < 0.0);
    assert!(next(WearSign::Chipped).unwrap() < 0.0);
}

/// A secondary that was fed too deep, the dial misread by a hundredth or two, leaves every land
/// narrow. Nothing but the lands can show it, and what they look like is a relief or a size that is
/// off: whoever reads that is told of the secondary, by how much, and what would tell the two
/// apart. A drop says that the relief is right, and then it is not blamed.
#[test]
fn a_secondary_too_deep_is_spoken_of_before_the_relief_is_blamed() {
    let taken = |drops: bool, diameters: bool| Taken {
        stage: LandStage::AfterSecondary,
        places: 2,
        diameters,
        indicator: false,
        drops,
        shank: false,
        missing_in: None,
        misread_mm: None,
        run_noted: true,
    };
    for deeper_mm in [0.02, 0.03] {
        let plan = plan(4);
        let job = Job::of(&plan);
        let planted = Planted { fresh_deeper: deeper_mm, ..Planted::default() };
        for diameters in [true, false] {
            let readings =
                readings(&mut Splitmix::new(7), &job, &planted, taken(false, diameters)).unwrap();
            let check = weighed(plan.clone(), readings);
            let said = check.remarks.iter().find(|remark| remark.contains("a secondary about"));
            let said =
                said.unwrap_or_else(|| panic!("{:?} {:?}", check.explanations, check.remarks));
            assert!(said.contains("deeper than planned leaves the same"), "{said}");
            let figure: Vec<&str> =
                said.split("a secondary about ").nth(1).unwrap().split(' ').collect();
            let length: Length = figure[..2].join(" ").parse().unwrap();
            // The kiss, the steps of glass and dial, and the depth taken along the radius.
            assert!((length.mm() - deeper_mm).abs() < 0.006, "{said}");
            let of_relief = said.contains("this relief");
            assert!(of_relief || !diameters, "{said}");
            assert_eq!(said.contains("read a drop behind the edge"), of_relief, "{said}");
            assert_eq!(said.contains("measure the diameter"), !of_relief, "{said}");
        }
        let all = readings(&mut Splitmix::new(7), &job, &planted, taken(true, true)).unwrap();
        let check = weighed(plan, all);
        let blamed = check.findings.iter().any(|finding| finding.fault == Fault::Clearance);
        assert!(!blamed, "{:?}", check.findings);
    }
}
