//! What a plan has beside the periphery: the end and the face, each where it is asked for. The
//! command line and the bench go by the same.

use sheets::text::{
    Units, ball_not_planned, ball_sheet, corrective_sheet, end_not_planned, end_sheet,
    face_not_planned, face_sheet, plan_sheet,
};
use shop::plan::{
    BallPlan, CorrectivePlan, EndPlan, FacePlan, RegrindPlan, asks_for_end, asks_for_face,
    plan_ball, plan_end, plan_face,
};
use shop::record::EndForm;
use shop::{Ctx, ShopError};

use super::failure::Failure;
use super::inputs::off_length;
use crate::wire::Inputs;

/// What became of a part of the work beside the periphery.
pub(crate) enum Part<T> {
    /// Nobody asked for it.
    NotAsked,
    /// It is planned.
    Planned(Box<T>),
    /// It is asked for and cannot be planned.
    Refused(ShopError),
}

impl<T> Part<T> {
    fn of(is_asked: bool, plan: impl FnOnce() -> Result<T, ShopError>) -> Self {
        match is_asked.then(plan) {
            None => Self::NotAsked,
            Some(Ok(planned)) => Self::Planned(Box::new(planned)),
            Some(Err(error)) => Self::Refused(error),
        }
    }

    /// The plan, where there is one.
    pub(crate) fn planned(&self) -> Option<&T> {
        match self {
            Self::Planned(planned) => Some(planned),
            Self::NotAsked | Self::Refused(_) => None,
        }
    }

    /// Why there is none, where one was to be expected.
    pub(crate) fn refused(&self) -> Option<String> {
        match self {
            Self::Refused(why) => Some(why.to_string()),
            Self::NotAsked | Self::Planned(_) => None,
        }
    }
}

/// The parts beside the periphery.
pub(crate) struct Beside {
    pub(crate) end: Part<EndPlan>,
    pub(crate) ball: Part<BallPlan>,
    pub(crate) face: Part<FacePlan>,
}

impl Beside {
    /// End and face, where the hand or the verdict asks for them.
    ///
    /// # Errors
    /// Where what is to come off the length is no length.
    pub(crate) fn of(ctx: &Ctx<'_>, plan: &RegrindPlan, inputs: &Inputs) -> Result<Self, Failure> {
        let off = off_length(inputs)?;
        let asks = inputs.end || off.is_some() || asks_for_end(plan);
        let is_ball = plan.request.cutter.end() == EndForm::Ball;
        Ok(Self {
            ball: Part::of(asks && is_ball, || plan_ball(ctx, plan, off)),
            end: Part::of(asks && !is_ball, || plan_end(ctx, plan, off)),
            face: Part::of(asks_for_face(plan), || plan_face(ctx, plan)),
        })
    }

    /// The same where the end that a hand asks for must be planned. A corrective grind goes over
    /// the periphery alone: only the bench knows what of the end is still open behind it.
    ///
    /// # Errors
    /// Where the hand asks for the end and it cannot be planned.
    pub(super) fn asked_for(
        ctx: &Ctx<'_>,
        plan: &RegrindPlan,
        inputs: &Inputs,
    ) -> Result<Self, Failure> {
        if !inputs.after.is_empty() {
            let (end, ball) = (Part::NotAsked, Part::NotAsked);
            return Ok(Self { end, ball, face: Part::NotAsked });
        }
        match Self::of(ctx, plan, inputs)? {
            Self { end: Part::Refused(error), .. } | Self { ball: Part::Refused(error), .. }
                if inputs.end || inputs.off_length.is_some() =>
            {
                Err(error.into())
            }
            planned => Ok(planned),
        }
    }

    /// The pages of text of a plan: the set-up sheet or that of the corrective grind, then those of
    /// the end and of the face.
    pub(crate) fn sheets(
        &self,
        plan: &RegrindPlan,
        corrective: Option<&CorrectivePlan>,
        units: Units,
    ) -> Vec<String> {
        let first = match corrective {
            Some(corrective) => corrective_sheet(corrective, units),
            None => plan_sheet(plan, units),
        };
        let end = self.end.planned().map(|end| end_sheet(plan, end, units));
        let no_end = self.end.refused().map(|why| end_not_planned(&why));
        let ball = self.ball.planned().map(|ball| ball_sheet(plan, ball, units));
        let no_ball = self.ball.refused().map(|why| ball_not_planned(&why));
        let face = self.face.planned().map(|face| face_sheet(plan, face, units));
        let no_face = self.face.refused().map(|why| face_not_planned(&why));
        let ends = end.into_iter().chain(no_end).chain(ball).chain(no_ball);
        std::iter::once(first).chain(ends).chain(face).chain(no_face).collect()
    }
}
