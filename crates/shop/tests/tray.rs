//! The order of a tray, through the public edge. Grade D: brute force and bounds of our own.

mod common;

use std::collections::BTreeSet;
use std::ops::ControlFlow;

use common::Random;
use geometry::Angle;
use shop::Ctx;
use shop::record::Hand;
use shop::tray::{
    ChangeTimes, OrderTray, Progress, Stage, TrayJob, TrayOrder, TraySetup, order_tray,
};
use trade::{Minutes, SetupChange, Tables};

fn times() -> ChangeTimes {
    let tables = Tables::bundled().expect("the tables are sound");
    ChangeTimes::of_tables(&Ctx { tables }).expect("every change has its minutes")
}

fn setup(wheel: u32, holding: u32, relief: f64) -> TraySetup {
    TraySetup {
        wheel: format!("W-{wheel}"),
        holding: format!("collet {holding}"),
        head_angle: Angle::from_degrees(89.0),
        rest_finger: "plain".to_owned(),
        hand: Hand::Right,
        relief_setting: Angle::from_degrees(relief),
    }
}

fn job(at: usize, setup: TraySetup) -> TrayJob {
    let number = format!("K-{at}");
    TrayJob { number, setup, size_after: None, will_not_clean_up: None, by_plan: false }
}

fn tray(setups: Vec<TraySetup>) -> OrderTray {
    let jobs = setups.into_iter().enumerate().map(|(at, setup)| job(at, setup)).collect();
    OrderTray { jobs, now: None, times: times(), angle_step: Angle::from_degrees(0.01) }
}

fn random_tray(count: usize, seed: u64, reliefs: u32) -> OrderTray {
    let mut random = Random::new(seed);
    let one = |random: &mut Random| TraySetup {
        head_angle: Angle::from_degrees(88.0 + 0.25 * f64::from(random.below(6))),
        rest_finger: format!("finger {}", random.below(3)),
        hand: if random.below(8) == 0 { Hand::Left } else { Hand::Right },
        ..setup(
            random.below(8),
            random.below(12),
            5.0 + 10.0 * f64::from(random.below(reliefs)) / f64::from(reliefs),
        )
    };
    tray((0..count).map(|_| one(&mut random)).collect())
}

fn ordered(request: &OrderTray) -> TrayOrder {
    order_tray(request, &mut |_| ControlFlow::Continue(())).expect("the tray can be ordered")
}

/// That every cutter stands in it once, and that its minutes are those of its changes.
fn check(request: &OrderTray, found: &TrayOrder) {
    let mut all: Vec<usize> = found.stops.iter().flat_map(|stop| stop.jobs.clone()).collect();
    all.extend(&found.flagged);
    all.sort_unstable();
    assert!(all.iter().copied().eq(0..request.jobs.len()));
    let sum: f64 = found.stops.iter().map(|stop| stop.minutes.minutes()).sum();
    assert!((sum - found.minutes.minutes()).abs() < 1e-6);
    assert!(found.at_least.minutes() <= found.minutes.minutes() + 1e-9);
    assert!(found.minutes.minutes() <= found.as_it_lies.minutes() + 1e-9);
}

#[test]
fn cutters_of_one_set_up_go_together_and_those_in_trouble_first() {
    let mut request = tray(vec![
        setup(1, 1, 10.0),
        setup(2, 1, 10.0),
        setup(1, 1, 10.001),
        setup(2, 1, 10.0),
        setup(3, 9, 7.0),
    ]);
    request.jobs[4].will_not_clean_up = Some("the chip is deeper than the room".to_owned());
    let found = ordered(&request);
    check(&request, &found);
    assert_eq!(found.flagged, [4]);
    let jobs: Vec<_> = found.stops.iter().map(|stop| stop.jobs.clone()).collect();
    assert_eq!(jobs, [vec![0, 2], vec![1, 3]]);
    assert_eq!(found.stops[1].changes, [SetupChange::Wheel]);
    assert!(found.is_best() && found.over_best_at_most() == 0.0);
    // The bundled figure for a wheel, once instead of three times.
    assert!((found.minutes.minutes() - 10.0).abs() < 1e-9);
    assert!((found.as_it_lies.minutes() - 30.0).abs() < 1e-9);
}

#[test]
fn the_order_begins_where_the_machine_stands() {
    let mut request = tray(vec![setup(1, 1, 10.0), setup(2, 1, 10.0), setup(3, 1, 10.0)]);
    request.now = Some(setup(3, 1, 10.0));
    let found = ordered(&request);
    assert_eq!(found.stops[0].jobs, [2]);
    assert!(found.stops[0].changes.is_empty());
    assert!((found.minutes.minutes() - 20.0).abs() < 1e-9);
    request.now = Some(setup(4, 2, 10.0));
    let found = ordered(&request);
    assert_eq!(found.stops[0].changes, [SetupChange::Wheel, SetupChange::Holding]);
}

#[test]
fn dear_changes_are_made_once() {
    let mut setups = Vec::new();
    for relief in 0..10 {
        for wheel in 0..4 {
            setups.push(setup(wheel, 1, 5.0 + f64::from(relief)));
        }
    }
    let request = tray(setups);
    let found = ordered(&request);
    check(&request, &found);
    let wheels =
        found.stops.iter().filter(|stop| stop.changes.contains(&SetupChange::Wheel)).count();
    assert_eq!(wheels, 3);
    // Three wheels at 10 min; 36 other steps at 1.5 min, as wheels can change at a relief kept.
    assert!((found.minutes.minutes() - (30.0 + 54.0)).abs() < 1e-9, "{:?}", found.minutes);
    assert!(found.is_best(), "{:?} {:?}", found.minutes, found.at_least);
}

#[test]
fn trays_of_every_size_come_out_whole_and_near_the_bound() {
    for (count, reliefs, most) in [(1, 3, 0.0), (12, 5, 0.0), (60, 10, 0.1), (400, 40, 0.25)] {
        let request = random_tray(count, 11, reliefs);
        let found = ordered(&request);
        check(&request, &found);
        let over = found.over_best_at_most();
        assert!(over <= most, "{count} cutters: {over}");
    }
    let none = ordered(&tray(Vec::new()));
    assert!(none.stops.is_empty() && none.is_best());
}

#[test]
fn the_same_tray_gives_the_same_order_and_so_does_a_shuffled_one() {
    let request = random_tray(300, 5, 30);
    let found = ordered(&request);
    assert_eq!(ordered(&request), found);
    let mut turned = request.clone();
    turned.jobs.reverse();
    let again = ordered(&turned);
    assert_eq!(again.minutes, found.minutes);
    let numbers = |request: &OrderTray, order: &TrayOrder| -> Vec<BTreeSet<String>> {
        let number = |at: &usize| request.jobs[*at].number.clone();
        order.stops.iter().map(|stop| stop.jobs.iter().map(number).collect()).collect()
    };
    assert_eq!(numbers(&turned, &again), numbers(&request, &found));
}

#[test]
fn a_search_can_be_watched_and_stopped_at_any_time() {
    let request = random_tray(800, 3, 200);
    let mut told: Vec<Progress> = Vec::new();
    let found = order_tray(&request, &mut |progress| {
        told.push(progress);
        ControlFlow::Continue(())
    });
    assert!(!found.unwrap().is_stopped);
    assert!(told.iter().all(|progress| progress.done <= progress.of));
    assert!(told.windows(2).all(|pair| pair[0].stage <= pair[1].stage));
    for stage in [Stage::FirstOrder, Stage::Improving, Stage::LowerBound] {
        assert!(told.iter().any(|progress| progress.stage == stage), "{stage:?}");
    }
    for stop_at in [0, 1, 2, 5, 20, told.len() - 1] {
        let mut count = 0;
        let found = order_tray(&request, &mut |_| {
            count += 1;
            if count > stop_at { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
        let found = found.unwrap();
        assert!(found.is_stopped, "{stop_at}");
        assert_eq!(count, stop_at + 1, "nobody is asked again once it is stopped");
        check(&request, &found);
    }
}

#[test]
fn trays_out_of_reason_are_refused() {
    let mut request = tray(vec![setup(1, 1, f64::NAN)]);
    assert!(order_tray(&request, &mut |_| ControlFlow::Continue(())).is_err());
    request = OrderTray { angle_step: Angle::ZERO, ..tray(vec![setup(1, 1, 5.0)]) };
    assert!(order_tray(&request, &mut |_| ControlFlow::Continue(())).is_err());
    assert!(ChangeTimes::new(|_| Minutes::from_minutes(-1.0)).is_err());
}

/// Ten thousand cutters with next to no two set-ups alike: the hardest tray there is. The bench
/// measures; this only shows that it is done and whole.
#[test]
fn ten_thousand_cutters_come_out_whole() {
    let request = random_tray(10_000, 17, 400);
    let found = ordered(&request);
    check(&request, &found);
    assert!(found.stops.len() > 9_000);
    assert!(found.over_best_at_most() < 0.08, "{}", found.over_best_at_most());
}
