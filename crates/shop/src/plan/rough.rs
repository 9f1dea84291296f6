//! The set-up of a cutter as practice gives it, without the section: good enough to put cutters
//! with like set-ups side by side.

use geometry::wheel::{FaceToward, WheelKind};
use geometry::{Angle, Length};

use super::head::check_head;
use super::held::check_held;
use super::refusal::{check_dust, check_holding, check_nut};
use super::regrind::{Judged, RegrindPlan, judge_cutter};
use super::rest::finger_for;
use super::rotation::direction;
use super::stance::{inset_by_practice, leading_cuts, lean_by_practice};
use super::truing::face_width;
use super::wheel::ranked;
use crate::bridge;
use crate::context::Ctx;
use crate::error::ShopError;
use crate::learn::CutterHistory;
use crate::record::{Cutter, Machine, Wheel};

/// A set-up by practice.
#[derive(Clone)]
pub(crate) struct RoughSetup {
    /// The wheel's number.
    pub(crate) wheel: String,
    /// The head's angle, on the side on which it must lean.
    pub(crate) head_angle: Angle,
    /// The finger's name; none where no finger is on record for it.
    pub(crate) finger: Option<String>,
    /// The relief that is wanted, which the real setting follows.
    pub(crate) relief: Angle,
    /// The diameter to which the cutter is expected to be ground.
    pub(crate) size_after: Option<Length>,
}

/// The set-up of a cutter by practice, or the verdict in words where it is another route than to
/// grind the periphery; `planned` is the number of the wheel of its kept plan.
///
/// # Errors
/// `Refused` where a rule forbids the work on this machine and with these wheels; `Invalid` where
/// the records do not fit.
pub(crate) fn rough_setup(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    machine: &Machine,
    wheels: &[Wheel],
    planned: Option<&str>,
) -> Result<Result<RoughSetup, String>, ShopError> {
    let Judged { wanted, verdict, .. } = judge_cutter(ctx, cutter, &CutterHistory::default())?;
    if !verdict.route.grinds_periphery() {
        return Ok(Err(verdict.in_words()));
    }
    check_holding(cutter, machine)?;
    check_held(cutter, machine)?;
    check_dust(cutter, machine)?;
    let face_toward = leading_cuts(cutter);
    let lean = |wheel: &Wheel| lean_by_practice(ctx, bridge::kind(wheel), cutter, machine);
    let fits = |wheel: &Wheel| {
        let kind = bridge::kind(wheel);
        check_nut(direction(cutter, machine, kind, face_toward))?;
        check_head(cutter, machine, kind, face_toward, lean(wheel))
    };
    let wheel = ranked(ctx, cutter, machine, wheels, None).suited(planned, fits)?;
    let face = face_width(ctx, &wheel, None).value;
    let inset = inset_by_practice(ctx, machine, face);
    let finger = finger_for(cutter, machine, face_toward, inset);
    Ok(Ok(RoughSetup {
        wheel: wheel.number().to_owned(),
        head_angle: head_angle(bridge::kind(&wheel), face_toward, lean(&wheel)),
        finger: finger.map(|finger| finger.name.clone()),
        relief: wanted.primary.value,
        size_after: verdict.chosen().and_then(|view| view.diameter_after),
    }))
}

/// The set-up of a plan, as far as another cutter may share it.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedSetup {
    /// The head's angle with the travel, on the side on which it leans.
    pub head_angle: Angle,
    /// The angle by which the tooth at the rest is turned below centre for the primary.
    pub relief_setting: Angle,
    /// The finger of the rest; none where none on record fits.
    pub finger: Option<String>,
}

impl PlannedSetup {
    /// The set-up of a plan; none where it grinds no periphery.
    pub fn of(plan: &RegrindPlan) -> Option<Self> {
        let stanced = &plan.peripheral.as_ref()?.stanced;
        let stance = stanced.stance();
        let (cutter, machine) = (&plan.request.cutter, &plan.request.machine);
        let finger = finger_for(cutter, machine, stance.face_toward, stance.rest_inset);
        let kind = stanced.setup.wheel().kind();
        Some(Self {
            head_angle: head_angle(kind, stance.face_toward, stance.lean),
            relief_setting: stance.relief_setting,
            finger: finger.map(|finger| finger.name.clone()),
        })
    }
}

/// The head's angle with the travel, beyond square or parallel where the other corner leads.
fn head_angle(kind: WheelKind, face_toward: FaceToward, lean: Angle) -> Angle {
    let lean = if face_toward == FaceToward::Tip { lean } else { -lean };
    match kind {
        WheelKind::Cup => Angle::from_degrees(90.0) - lean,
        WheelKind::Disc => lean,
    }
}
