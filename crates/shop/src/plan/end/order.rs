//! What is done at the end in which order, and why.

use super::wanted::CornerWanted;
use crate::plan::{RegrindPlan, Route};

/// One thing to do, and why at this place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EndStep {
    /// What.
    pub what: String,
    /// Why now.
    pub why: String,
}

fn step(what: &str, why: &str) -> EndStep {
    EndStep { what: what.to_owned(), why: why.to_owned() }
}

/// The operations of a ball in order.
pub(super) fn ball_order(plan: &RegrindPlan) -> Vec<EndStep> {
    let mut steps = Vec::new();
    if plan.peripheral.is_some() {
        let why = "its size is the ball's: the pivot is set by it";
        steps.push(step("periphery", why));
    }
    steps.push(step("ball, primary", "all teeth at one setting of the feed, or they run out"));
    steps.push(step("ball, secondary", "it only narrows the land, and leaves the edge alone"));
    steps
}

/// The operations in order.
pub(super) fn order(plan: &RegrindPlan, gashes: bool, corner: &CornerWanted) -> Vec<EndStep> {
    let mut steps = Vec::new();
    let cut = plan.verdict.route == Route::CutBack;
    if cut {
        steps.push(step("cut off and square the end", "all lengths count from a square end"));
    }
    if gashes {
        let why = "the end's edges are where its faces meet the relief: faces first";
        steps.push(step("gash", why));
    }
    if plan.peripheral.is_some() {
        let why = "its size settles where the corner is; a burr it leaves at the corner goes after";
        steps.push(step("periphery", why));
    }
    steps.push(step("end, primary", "all teeth at one setting of the feed, or heights differ"));
    steps.push(step("end, secondary", "it only narrows the land, and leaves the edge alone"));
    match corner {
        CornerWanted::Sharp => {}
        CornerWanted::Chamfer { .. } => {
            steps.push(step("corner chamfer", "its width counts from both finished edges"));
        }
        CornerWanted::Round { .. } => {
            steps.push(step("corner radius", "it runs into both finished edges at their height"));
            steps.push(step("corner, secondary", "it stops where the land reads its width"));
        }
    }
    steps
}
