//! The study of a plan against the plan itself: spreads of small errors against differences taken
//! anew on sections that are solved for a size, which the study never does (grade D).

#![expect(clippy::unwrap_used, reason = "a check that has no plan must stop")]
#![allow(dead_code, reason = "the simulated shop has more than this needs")]

use std::ops::ControlFlow;

use checks::reference::random::Splitmix;
use geometry::section::Stance;
use geometry::{Angle, Length};
use shop::Ctx;
use shop::plan::RegrindPlan;
use shop::record::Hand;
use shop::study::{Measure, Study, StudyRegrind, Widest, study_regrind};
use trade::{StudiedSetting, Tables};

#[path = "diagnosis/shop_floor.rs"]
mod shop_floor;

/// A plan of the simulated shop.
fn plan(seed: u64, helical: bool) -> RegrindPlan {
    let mut draw = Splitmix::new(seed);
    let mut drawn = || shop_floor::plan(shop_floor::cutter(&mut draw, 4, helical, Hand::Right));
    (0..20).find_map(|_| drawn()).unwrap()
}

fn study(plan: &RegrindPlan, tables: &Tables, samples: u32) -> Study {
    let request = StudyRegrind { plan: plan.clone(), samples, seed: 1 };
    study_regrind(&Ctx { tables }, request, &mut |_| ControlFlow::Continue(())).unwrap()
}

/// Tables of a shop whose hands are off with one setting only.
fn only(setting: StudiedSetting, row: &str) -> Tables {
    let rows = StudiedSetting::ALL.iter().map(|one| {
        let row = if *one == setting { row } else { "" };
        format!("[[habits]]\nkey = \"{}\"\n{row}\n", one.name())
    });
    Tables::bundled().unwrap().with_shop(&rows.collect::<String>()).unwrap()
}

/// Relief gained by a changed stance, over the distance at which it is meant.
fn gained_deg(plan: &RegrindPlan, change: impl Fn(&mut Stance, f64), step: f64) -> f64 {
    let work = plan.peripheral.as_ref().unwrap();
    let relief = |step: f64| {
        let mut stance = *work.stanced.stance();
        change(&mut stance, step);
        let setup = work.stanced.setup.with_stance(stance).unwrap();
        let section = setup.section(work.section.circle_radius() * 2.0).unwrap();
        work.stanced.target.of(&section).unwrap().degrees()
    };
    (relief(step) - relief(-step)) / 2.0
}

#[test]
fn small_errors_spread_as_differences_say() {
    for (seed, helical) in [(5, true), (6, false), (11, true)] {
        let plan = plan(seed, helical);
        let head = |stance: &mut Stance, deg: f64| {
            stance.lean = stance.lean + Angle::from_degrees(deg);
        };
        let rest = |stance: &mut Stance, mm: f64| stance.rest_inset += Length::from_mm(mm);
        let radius_mm = plan.peripheral.as_ref().unwrap().section.circle_radius().mm();
        let lower = |stance: &mut Stance, mm: f64| {
            let sine = stance.relief_setting.radians().sin() + mm / radius_mm;
            stance.relief_setting = Angle::from_radians(sine.asin());
        };
        type Change<'a> = &'a dyn Fn(&mut Stance, f64);
        let cases: [(StudiedSetting, &str, Change<'_>, f64); 3] = [
            (StudiedSetting::HeadAngle, "angle = \"0.02 deg\"", &head, 0.02),
            (StudiedSetting::RestAlong, "amount = \"0.003 mm\"", &rest, 0.003),
            (StudiedSetting::RestOnCentre, "amount = \"0.003 mm\"", &lower, 0.003),
        ];
        for (setting, row, change, step) in cases {
            let wanted = gained_deg(&plan, change, step).abs();
            if wanted < 1e-4 {
                // A straight tooth hardly asks where the rest stands along it.
                continue;
            }
            let study = study(&plan, &only(setting, row), 1024);
            let causes = study.causes.iter().find(|one| one.measure == Measure::Relief).unwrap();
            let miss = causes.deviation / wanted - 1.0;
            assert!(miss.abs() < 0.02, "{seed}, {setting}: {} not {wanted}", causes.deviation);
            let cause = causes.causes[0];
            assert_eq!(cause.setting, setting);
            assert!((cause.share.total - 1.0).abs() < 0.03 && cause.is_linear(), "{cause:?}");
        }
    }
}

/// A feed that falls short leaves the edge out by as much, and the diameter by twice that; the
/// quantiles are the normal's.
#[test]
fn a_short_feed_is_twice_on_the_diameter() {
    let plan = plan(5, true);
    let work = plan.peripheral.as_ref().unwrap();
    let study = study(&plan, &only(StudiedSetting::FirstTouch, "amount = \"0.004 mm\""), 4096);
    let spread = study.spreads.iter().find(|one| one.measure == Measure::Diameter).unwrap();
    assert!((spread.planned - work.expected.diameter.mm()).abs() < 2e-4, "{}", spread.planned);
    let deviation = 2.0 * 0.004 * work.grinding.feed.radius_per_feed;
    for (got, normal) in spread.quantiles.iter().zip([-1.6449, 0.0, 1.6449]) {
        let wanted = spread.planned + deviation * normal;
        assert!((got - wanted).abs() < 0.03 * deviation + 4e-4, "{got}, not {wanted}");
    }
}

/// The limit of a setting is where the share that holds falls below 95 of 100: a little within it
/// does, a little beyond it does not.
#[test]
fn a_limit_is_where_teeth_begin_to_fail() {
    let plan = plan(5, true);
    let wide = only(StudiedSetting::RestAlong, "amount = \"0.05 mm\"");
    let found = study(&plan, &wide, 1024);
    let Widest::Within(shop::plan::Quantity::Length(limit)) = found.allowances[0].widest else {
        unreachable!("{:?}", found.allowances)
    };
    let held = |share: f64| {
        let row = format!("amount = \"{:.6} mm\"", 0.5 * share * limit.mm());
        study(&plan, &only(StudiedSetting::RestAlong, &row), 1024).held
    };
    assert!(held(0.9) >= 0.95 && held(1.2) < 0.95, "{} {}", held(0.9), held(1.2));
}
