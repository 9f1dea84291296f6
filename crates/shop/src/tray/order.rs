//! The order of a tray.

use std::ops::ControlFlow;

use geometry::Angle;
use trade::{Minutes, SetupChange};

use super::bound::at_least;
use super::exact::{FEW, best_order};
use super::groups::{Groups, Stops};
use super::progress::{Progress, Stage, Teller};
use super::setup::{ChangeTimes, TrayJob, TraySetup};
use super::tour::good_order;
use crate::cost::above_zero;
use crate::error::ShopError;

/// What is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderTray {
    /// The cutters of the tray.
    pub jobs: Vec<TrayJob>,
    /// How the machine stands now, where that is known; else the first set-up counts nothing.
    pub now: Option<TraySetup>,
    /// How long each change takes.
    pub times: ChangeTimes,
    /// Angles that round to the same multiple of this are one setting.
    pub angle_step: Angle,
}

/// Cutters that are ground one after another in one set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// Their places in the tray, in its order.
    pub jobs: Vec<usize>,
    /// What is changed before the first of them.
    pub changes: Vec<SetupChange>,
    /// How long that takes.
    pub minutes: Minutes,
}

/// The order of a tray.
#[derive(Clone, Debug, PartialEq)]
pub struct TrayOrder {
    /// Places of the cutters that will not clean up; to be decided on before anything is set up.
    pub flagged: Vec<usize>,
    /// The others, set-up by set-up.
    pub stops: Vec<Stop>,
    /// How long all changes take.
    pub minutes: Minutes,
    /// How long they take at the very least, in any order.
    pub at_least: Minutes,
    /// How long they would take in the order of the tray.
    pub as_it_lies: Minutes,
    /// Whether somebody stopped the search: the order is whole, but less was tried.
    pub is_stopped: bool,
}

impl TrayOrder {
    /// Whether no order has less to change.
    pub fn is_best(&self) -> bool {
        self.minutes.minutes() <= self.at_least.minutes() + 1e-9
    }

    /// By how much the changes may take longer than in the best order, at most, as a share of it.
    pub fn over_best_at_most(&self) -> f64 {
        let least = self.at_least.minutes();
        if self.is_best() { 0.0 } else { self.minutes.minutes() / least - 1.0 }
    }
}

/// Orders a tray. `tell` is told how far it has come, and stops it by answering with a break; the
/// order is whole at any time.
///
/// Ten thousand cutters that each want a set-up of their own take about a second.
///
/// # Errors
/// `Invalid` where an angle of a cutter's set-up is none, or the step of angles is not above zero.
pub fn order_tray(
    request: &OrderTray,
    tell: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Result<TrayOrder, ShopError> {
    above_zero("angle_step", request.angle_step.degrees())?;
    request.jobs.iter().try_for_each(|job| job.setup.check(&job.number))?;
    request.now.iter().try_for_each(|now| now.check("now"))?;
    let flagged = |job: &TrayJob| job.will_not_clean_up.is_some();
    let all = || request.jobs.iter().enumerate();
    let jobs = all().filter(|(_, job)| !flagged(job)).map(|(at, job)| (at, &job.setup));
    let groups = Groups::of(jobs, request.now.as_ref(), request.angle_step, &request.times);
    let mut teller = Teller::new(tell);
    let found = searched(&groups.stops, &mut teller);
    Ok(TrayOrder {
        flagged: all().filter(|(_, job)| flagged(job)).map(|(at, _)| at).collect(),
        minutes: minutes(groups.stops.whole(&found.order)),
        at_least: minutes(found.at_least),
        as_it_lies: minutes(as_it_lies(&groups)),
        is_stopped: teller.is_stopped(),
        stops: told(groups, &found.order),
    })
}

struct Found {
    order: Vec<usize>,
    at_least: u64,
}

/// An order that may be walked either way is walked from its lesser end.
fn from_lesser_end(stops: &Stops, mut order: Vec<usize>) -> Vec<usize> {
    if !stops.begins_fixed && order.first() > order.last() {
        order.reverse();
    }
    order
}

fn searched(stops: &Stops, teller: &mut Teller<'_>) -> Found {
    let of = stops.count();
    if of <= FEW {
        let order = from_lesser_end(stops, best_order(stops));
        let at_least = stops.whole(&order);
        return Found { order, at_least };
    }
    teller.goes_on(Stage::FirstOrder, 0, of);
    let order = from_lesser_end(stops, good_order(stops, teller));
    let at_least = at_least(stops, stops.whole(&order), teller);
    Found { order, at_least }
}

fn minutes(seconds: u64) -> Minutes {
    Minutes::from_minutes(seconds as f64 / 60.0)
}

/// Seconds of the changes if the cutters were ground as they lie.
fn as_it_lies(groups: &Groups) -> u64 {
    let fixed = groups.stops.begins_fixed;
    let of_job = groups.jobs.iter().enumerate();
    let mut lying: Vec<(usize, usize)> =
        of_job.flat_map(|(stop, jobs)| jobs.iter().map(move |job| (*job, stop))).collect();
    lying.sort_unstable();
    let order: Vec<usize> =
        fixed.then_some(0).into_iter().chain(lying.into_iter().map(|(_, stop)| stop)).collect();
    groups.stops.whole(&order)
}

fn told(groups: Groups, order: &[usize]) -> Vec<Stop> {
    let Groups { stops, mut jobs } = groups;
    let before = |at: usize| at.checked_sub(1).map(|before| order[before]);
    let mut told = Vec::with_capacity(order.len());
    for (at, stop) in order.iter().enumerate() {
        let here = std::mem::take(&mut jobs[*stop]);
        if here.is_empty() {
            continue;
        }
        let seconds = before(at).map_or(0, |before| u64::from(stops.seconds(before, *stop)));
        let changes = before(at).map_or_else(Vec::new, |before| stops.changes(before, *stop));
        told.push(Stop { jobs: here, changes, minutes: minutes(seconds) });
    }
    told
}
