//! The end of a cutter beside the plan of its periphery.

use shop::Ctx;
use shop::plan::{EndPlan, RegrindPlan, asks_for_end, plan_end};

use super::failure::Failure;
use super::inputs::off_length;
use crate::wire::Inputs;

/// What became of the end.
pub(super) enum PlannedEnd {
    /// Nobody asked for it.
    NotAsked,
    /// It is planned.
    Planned(Box<EndPlan>),
    /// The verdict asks for it, and it cannot be planned.
    Refused(String),
}

impl PlannedEnd {
    /// The end, where the hand or the verdict asks for it.
    ///
    /// # Errors
    /// Where the hand asks for it and it cannot be planned.
    pub(super) fn of(ctx: &Ctx<'_>, plan: &RegrindPlan, inputs: &Inputs) -> Result<Self, Failure> {
        if !inputs.after.is_empty() {
            // A corrective grind goes over the periphery again; the end has its own plan.
            return Ok(Self::NotAsked);
        }
        let off = off_length(inputs)?;
        let is_asked = inputs.end || off.is_some();
        if !is_asked && !asks_for_end(plan) {
            return Ok(Self::NotAsked);
        }
        match plan_end(ctx, plan, off) {
            Ok(end) => Ok(Self::Planned(Box::new(end))),
            Err(error) if is_asked => Err(error.into()),
            Err(error) => Ok(Self::Refused(error.to_string())),
        }
    }

    /// The plan, where there is one.
    pub(super) fn planned(&self) -> Option<&EndPlan> {
        match self {
            Self::Planned(end) => Some(end),
            Self::NotAsked | Self::Refused(_) => None,
        }
    }

    /// Why there is none, where one was to be expected.
    pub(super) fn refused(&self) -> Option<&str> {
        match self {
            Self::Refused(why) => Some(why),
            Self::NotAsked | Self::Planned(_) => None,
        }
    }
}
