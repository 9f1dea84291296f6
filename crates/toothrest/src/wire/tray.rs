//! The answer of `toothrest tray order`.

use serde::Serialize;
use shop::tray::{Stop, TrayJob, TraySetup};

use super::SCHEMA_VERSION;
use crate::cli::Ordered;

/// The order of a tray.
#[derive(Serialize)]
pub(crate) struct TrayAnswer<'a> {
    schema: u32,
    tray: Option<&'a str>,
    machine: &'a str,
    cutters: usize,
    decide_first: Vec<Flagged<'a>>,
    stops: Vec<StopAnswer<'a>>,
    minutes: f64,
    minutes_at_least: f64,
    minutes_as_it_lies: f64,
    best: bool,
    stopped: bool,
}

#[derive(Serialize)]
struct Flagged<'a> {
    number: &'a str,
    why: &'a str,
}

#[derive(Serialize)]
struct StopAnswer<'a> {
    changes: Vec<&'static str>,
    minutes: f64,
    setup: Option<SetupAnswer<'a>>,
    cutters: Vec<&'a str>,
    by_kept_plan: Vec<&'a str>,
}

#[derive(Serialize)]
struct SetupAnswer<'a> {
    wheel: &'a str,
    holding: &'a str,
    head_angle_deg: f64,
    rest_finger: &'a str,
    hand: &'static str,
    relief_deg: f64,
}

pub(crate) fn tray(ordered: &Ordered) -> TrayAnswer<'_> {
    let Ordered { jobs, order, .. } = ordered;
    let flagged = order.flagged.iter().filter_map(|place| {
        let job = jobs.get(*place)?;
        let why = job.will_not_clean_up.as_deref().unwrap_or_default();
        Some(Flagged { number: &job.number, why })
    });
    TrayAnswer {
        schema: SCHEMA_VERSION,
        tray: ordered.tray.as_deref(),
        machine: &ordered.machine,
        cutters: jobs.len(),
        decide_first: flagged.collect(),
        stops: order.stops.iter().map(|stop| one_stop(stop, jobs)).collect(),
        minutes: order.minutes.minutes(),
        minutes_at_least: order.at_least.minutes(),
        minutes_as_it_lies: order.as_it_lies.minutes(),
        best: order.is_best(),
        stopped: order.is_stopped,
    }
}

fn one_stop<'a>(stop: &Stop, jobs: &'a [TrayJob]) -> StopAnswer<'a> {
    let jobs: Vec<&TrayJob> = stop.jobs.iter().filter_map(|place| jobs.get(*place)).collect();
    let planned = jobs.iter().filter(|job| job.by_plan);
    StopAnswer {
        changes: stop.changes.iter().map(|change| change.name()).collect(),
        minutes: stop.minutes.minutes(),
        setup: jobs.first().map(|job| setup(&job.setup)),
        cutters: jobs.iter().map(|job| job.number.as_str()).collect(),
        by_kept_plan: planned.map(|job| job.number.as_str()).collect(),
    }
}

fn setup(setup: &TraySetup) -> SetupAnswer<'_> {
    SetupAnswer {
        wheel: &setup.wheel,
        holding: &setup.holding,
        head_angle_deg: setup.head_angle.degrees(),
        rest_finger: &setup.rest_finger,
        hand: setup.hand.name(),
        relief_deg: setup.relief_setting.degrees(),
    }
}
