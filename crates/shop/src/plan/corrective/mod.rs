//! The corrective grind: a plan of its own for what a check told the hand to do, from the teeth as
//! the check found them.
//!
//! What comes out holds a whole [`RegrindPlan`] of the teeth as they will then stand, so that the
//! next readings are held against that, and another corrective grind may follow.

mod depth;
mod found;
mod land;
mod made;
mod steps;

use geometry::Length;

use super::regrind::{Peripheral, RegrindPlan};
use super::setting::SetupLine;
use crate::check::{Check, Correction, Fault};
use crate::context::Ctx;
use crate::error::ShopError;

pub use made::{Carried, WhyLeft};
pub use steps::corrective_steps;

/// Where the feed of a corrective grind begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FeedFrom {
    /// The wheel is brought in until it just sparks on this tooth, and the dial is set to zero.
    Kiss(u32),
    /// The wheel stands where the last pass left it; the dial is set to zero there.
    LastPass,
}

/// A correction of the check, and what became of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Chosen {
    /// The correction.
    pub correction: Correction,
    /// Whether it is carried out.
    pub carried: Carried,
}

/// How far the edge of a tooth stood out before the corrective grind, against the plan before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothFound {
    /// The tooth.
    pub tooth: u32,
    /// At the tip.
    pub tip: Length,
    /// At the shank's end of the ground flute.
    pub shank: Length,
}

/// What becomes of the secondary.
#[derive(Clone, Debug, PartialEq)]
pub enum SecondaryNext {
    /// It was not ground yet; it follows, from the new land.
    Follows,
    /// It was ground, and is gone over again.
    Again(String),
    /// It stays as it is.
    Stays(String),
}

/// The plan of a corrective grind.
#[derive(Clone, Debug)]
pub struct CorrectivePlan {
    /// The work as it will stand when this is done: what the next readings are held against.
    pub plan: RegrindPlan,
    /// Every correction of the check.
    pub chosen: Vec<Chosen>,
    /// The diameter that the edges stood at, by the check: the mean along the flute.
    pub found_diameter: Length,
    /// The diameter at which the highest edge cuts, where the readings tell it.
    pub cuts_at: Option<Length>,
    /// The edges as found; none where no reading tells tooth from tooth.
    pub teeth: Vec<ToothFound>,
    /// Where the feed begins.
    pub from: FeedFrom,
    /// The teeth that are gone over, in order.
    pub rounds: [Vec<u32>; 2],
    /// The lines of the set-up that are set anew; the others stay.
    pub set_anew: Vec<SetupLine>,
    /// What becomes of the secondary.
    pub secondary: SecondaryNext,
    /// What a reader should know.
    pub remarks: Vec<String>,
}

impl CorrectivePlan {
    /// The work on the periphery.
    pub fn peripheral(&self) -> Option<&Peripheral> {
        self.plan.peripheral.as_ref()
    }
}

/// What a hand chose, or did, otherwise than the check has it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CorrectiveWish {
    /// Faults that are left as they are.
    pub left: Vec<Fault>,
    /// What the cross feed's dial really stood at after the last pass, from zero where the feed
    /// began; none where it was fed as planned, or is still to be fed.
    pub fed: Option<Length>,
}

/// Plans the corrective grind that a check asks for.
///
/// # Errors
/// `Refused` where the check asks for no grinding, or where the wheel cannot do it.
pub fn plan_corrective(
    ctx: &Ctx<'_>,
    check: &Check,
    wish: &CorrectiveWish,
) -> Result<CorrectivePlan, ShopError> {
    let before = check.request.plan.peripheral.as_ref().ok_or_else(|| {
        ShopError::invalid("plan", "it grinds no periphery, so nothing can be corrected")
    })?;
    let chosen = made::chosen(check, &wish.left)?;
    let found = found::Found::of(check, before, &chosen)?;
    let depth = depth::Depth::of(ctx, &found, wish.fed)?;
    land::finished(ctx, &found, depth, chosen)
}
