//! The face of a cutter where the verdict asks for it.

use shop::Ctx;
use shop::plan::{FacePlan, RegrindPlan, asks_for_face, plan_face};

/// What became of the face.
pub(super) enum PlannedFace {
    /// The verdict does not ask for it.
    NotAsked,
    /// It is planned.
    Planned(Box<FacePlan>),
    /// The verdict asks for it, and it cannot be planned.
    Refused(String),
}

impl PlannedFace {
    pub(super) fn of(ctx: &Ctx<'_>, plan: &RegrindPlan) -> Self {
        if !asks_for_face(plan) {
            return Self::NotAsked;
        }
        match plan_face(ctx, plan) {
            Ok(face) => Self::Planned(Box::new(face)),
            Err(error) => Self::Refused(error.to_string()),
        }
    }

    /// The plan, where there is one.
    pub(super) fn planned(&self) -> Option<&FacePlan> {
        match self {
            Self::Planned(face) => Some(face),
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
