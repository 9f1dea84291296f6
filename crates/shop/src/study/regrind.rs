//! The whole study of one plan.

use std::ops::ControlFlow;

use geometry::sampling::POINTS_MAX;

use super::causes::{Causes, Mixtures};
use super::design::{Design, Mixed};
use super::habit::Habits;
use super::loosest::{Allowance, Closer, Loosest, loosest};
use super::model::Model;
use super::outcome::Wanted;
use super::spread::{Endangered, Spread};
use crate::context::Ctx;
use crate::error::ShopError;
use crate::plan::RegrindPlan;

/// The fewest and the most teeth that a study works out.
pub const SAMPLES_MIN: u32 = 64;
/// See [`SAMPLES_MIN`].
pub const SAMPLES_MAX: u32 = POINTS_MAX;

/// At most so many points bear the shares, which need every setting at each.
const BASE_MAX: u32 = 1024;

/// At most so many points bear the allowances, which need every setting at each many times over.
const SEARCHED_MAX: u32 = 512;

/// What is asked for.
#[derive(Clone, Debug)]
pub struct StudyRegrind {
    /// The plan.
    pub plan: RegrindPlan,
    /// How many teeth are worked out.
    pub samples: u32,
    /// What settles the points.
    pub seed: u32,
}

/// How far a study has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StudyProgress {
    /// What is being done.
    pub doing: &'static str,
    /// How much of it is done.
    pub done: u64,
    /// How much of it there is.
    pub of: u64,
}

impl StudyProgress {
    pub(super) const SAMPLES: &'static str = "teeth";
    pub(super) const CAUSES: &'static str = "causes";
    pub(super) const LOOSEST: &'static str = "loosest settings";
}

/// What a study found.
#[derive(Clone, Debug)]
pub struct Study {
    /// What was asked for.
    pub request: StudyRegrind,
    /// How far off each setting was taken to be.
    pub habits: Habits,
    /// What is wanted.
    pub wanted: Wanted,
    /// How each result spreads.
    pub spreads: Vec<Spread>,
    /// What must not happen, and how often it does.
    pub dangers: Vec<Endangered>,
    /// What each spread is caused by.
    pub causes: Vec<Causes>,
    /// How loosely each setting may be set.
    pub allowances: Vec<Allowance>,
    /// What must be set more closely than usual, where too few teeth hold otherwise; the allowances
    /// are those beside it. None where enough hold, and where no closeness makes enough hold.
    pub closer: Option<Closer>,
    /// Share of the teeth whose relief and land are both as wanted.
    pub held: f64,
    /// Teeth to which the wheel could not be brought at all.
    pub lost: u32,
    /// How many points bore the shares.
    pub base: u32,
    /// How many points bore the allowances.
    pub searched: u32,
    /// What a reader should know.
    pub remarks: Vec<String>,
}

/// A gain below this is not worth a word.
const GAIN: f64 = 0.002;

impl Study {
    /// The one setting that is worth setting twice as closely, where there is one.
    pub fn set_better(&self) -> Option<&Allowance> {
        let best = self.allowances.iter().max_by(|a, b| a.gain.total_cmp(&b.gain));
        best.filter(|one| one.gain > GAIN)
    }
}

/// Studies one plan; `tell` hears how far it has come and answers whether to go on. The same plan,
/// number and seed give the same answer on any number of threads.
///
/// # Errors
/// `Invalid` where the plan grinds no periphery or the number of samples is out of range,
/// `Refused` where it was stopped, or where the plan's own set-up leaves no surface.
pub fn study_regrind(
    ctx: &Ctx<'_>,
    request: StudyRegrind,
    tell: &mut dyn FnMut(StudyProgress) -> ControlFlow<()>,
) -> Result<Study, ShopError> {
    let StudyRegrind { plan, samples, seed } = &request;
    if !(SAMPLES_MIN..=SAMPLES_MAX).contains(samples) {
        let reason = format!(
            "{samples} teeth is outside {SAMPLES_MIN} to {SAMPLES_MAX}: write such a number"
        );
        return Err(ShopError::invalid("samples", reason));
    }
    plan.check_alike()?;
    let work = plan.peripheral.as_ref().ok_or_else(|| {
        let reason = "it grinds no periphery, so nothing is set that could be off";
        ShopError::invalid("plan", reason)
    })?;
    let habits = Habits::of(ctx, plan, work);
    let wanted = Wanted::of(ctx, plan, work);
    let model = Model::of(plan, work, &habits)?;
    let design = Design::new(&habits, *seed, &model)?;
    let mut done = 0;
    let mut flow = ControlFlow::Continue(());
    let worked = design.worked(*samples, Mixed::A, &mut |block| {
        done += block.len() as u64;
        let of = u64::from(*samples);
        flow = tell(StudyProgress { doing: StudyProgress::SAMPLES, done, of });
        flow
    });
    if flow.is_break() {
        return Err(stopped());
    }
    let base = base(*samples);
    let first = &worked.outcomes[..base as usize];
    let mixtures = Mixtures::of(&design, first, tell).ok_or_else(stopped)?;
    let bearing = (&habits, &wanted);
    let searched = base.min(SEARCHED_MAX);
    let Loosest { allowances, closer } =
        loosest(&design, bearing, searched, tell).ok_or_else(stopped)?;
    let is_held = worked.outcomes.iter().filter(|outcome| wanted.is_held(outcome)).count();
    let lost = worked.lost;
    let planned_holds = u32::from(wanted.is_held(&design.planned));
    let held = is_held as f64 - f64::from(lost * planned_holds);
    Ok(Study {
        spreads: Spread::of_all(&worked.outcomes, &design.planned, &wanted),
        dangers: Endangered::of_all(&worked.outcomes),
        causes: Causes::of_all(&design, &habits, &mixtures),
        held: held / f64::from(*samples),
        remarks: remarks(lost, *samples),
        allowances,
        closer,
        lost,
        base,
        searched,
        wanted,
        habits,
        request,
    })
}

/// The points that bear shares and allowances: a power of two, for which the points are evenest.
const fn base(samples: u32) -> u32 {
    let most = if samples < BASE_MAX { samples } else { BASE_MAX };
    1 << most.ilog2()
}

fn stopped() -> ShopError {
    ShopError::refused("a study that is stopped says nothing", "start it again to have its answer")
}

fn remarks(lost: u32, samples: u32) -> Vec<String> {
    let mut remarks = Vec::new();
    if lost > 0 {
        remarks.push(format!(
            "on {lost} of {samples} teeth the wheel could not be brought to the edge at all; the \
             plan stands in for them, and they do not count as held"
        ));
    }
    remarks
}
