//! A rounded corner swung about an upright pivot in front of the wheel: how cutter and wheel stand.

use nalgebra::Vector3;

use super::corner::RoundCorner;
use super::error::{EndError, check_within};
use super::round_cut::RoundCut;
use crate::quantity::{Angle, Length};
use crate::wheel::{FaceToward, Pose, WheelBody};

/// What keeps the edge level while the cutter swings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RoundHold {
    /// The spindle is locked where the edge lies level in the middle of the round.
    Locked,
    /// The tooth slides over a rest that stands still under the wheel's corner, and turns as its
    /// flute asks: what the wheel meets is always level with the rest.
    Follows,
}

/// The edge over a rounded corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundEdge {
    /// The round.
    pub round: RoundCorner,
    /// How many teeth, evenly spaced.
    pub teeth: u32,
    /// How much the face turns heelward for each length toward the shank: one over the lead, as an
    /// angle for a millimetre. Below zero where it turns the other way.
    pub turn_per_mm: Angle,
    /// How far the face leans back heelward on the way in from the periphery.
    pub rake: Angle,
    /// How far from the axis the edges of the end begin.
    pub inner: Length,
    /// Length of the periphery behind the round.
    pub flute: Length,
}

impl RoundEdge {
    /// How far the face stands turned heelward, at a distance from the axis and from the end.
    pub(super) fn face_rad(&self, from_axis_mm: f64, from_end_mm: f64) -> f64 {
        let inward_mm = (self.round.cutter.mm() - from_axis_mm).max(0.0);
        let raked_rad = if self.rake == Angle::ZERO {
            0.0
        } else {
            (inward_mm * self.rake.tan()).atan2(from_axis_mm.max(1e-9))
        };
        self.turn_per_mm.radians() * from_end_mm + raked_rad
    }
}

/// How the wheel stands to the pivot and to the level edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundStance {
    /// How far the head stands from square (cup) or from parallel (disc) to the travel. It brings
    /// the corner in front of the pivot nearest; the face runs toward where the shank swings.
    pub lean: Angle,
    /// How far the wheel's axis stands above the edge.
    pub axis_above_edge: Length,
    /// How far the wheel is tipped, its upper side toward the cutter.
    pub wheel_tilt: Angle,
}

/// Where the cutter stands over the pivot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundPivot {
    /// How far its axis stands to the side of the pivot.
    pub beside: Length,
    /// How far its end stands past the pivot, toward the wheel.
    pub past: Length,
}

/// An edge, a wheel and how both stand.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundSetup {
    edge: RoundEdge,
    hold: RoundHold,
    wheel: WheelBody,
    stance: RoundStance,
}

/// Rounds of bringing the cutter over the pivot until the round blends.
const ROUNDS: usize = 10;

/// A round that misses by no more blends.
const BLENDED_MM: f64 = 1e-7;

/// Tries to find a relief; each is a few rays.
const TRIES: usize = 24;

/// A relief that misses by no more, in radians, is found.
const FOUND_RAD: f64 = 1e-7;

impl RoundSetup {
    /// Validates a set-up.
    ///
    /// # Errors
    /// Where a value is outside what such a set-up can have.
    pub fn new(
        edge: RoundEdge,
        hold: RoundHold,
        wheel: WheelBody,
        stance: RoundStance,
    ) -> Result<Self, EndError> {
        let radius_mm = edge.round.cutter.mm();
        check_within("teeth", f64::from(edge.teeth), (1.0, 60.0), "teeth")?;
        check_within("rake", edge.rake.degrees(), (-30.0, 45.0), "deg")?;
        check_within("inner", edge.inner.mm(), (0.0, 0.95 * radius_mm), "mm")?;
        check_within("flute", edge.flute.mm(), (0.0, 500.0), "mm")?;
        let helix = (edge.turn_per_mm.radians() * radius_mm).atan().to_degrees();
        check_within("helix", helix, (-70.0, 70.0), "deg")?;
        check_within("lean", stance.lean.degrees(), (0.0, 45.0), "deg")?;
        check_within("tilt of the wheel", stance.wheel_tilt.degrees(), (-45.0, 45.0), "deg")?;
        let most_mm = 0.9 * wheel.radius_mm();
        let above_mm = stance.axis_above_edge.mm();
        check_within("wheel axis above the edge", above_mm, (-most_mm, most_mm), "mm")?;
        Ok(Self { edge, hold, wheel, stance })
    }

    /// The edge.
    pub const fn edge(&self) -> &RoundEdge {
        &self.edge
    }

    /// What keeps it level.
    pub const fn hold(&self) -> RoundHold {
        self.hold
    }

    /// The wheel.
    pub const fn wheel(&self) -> &WheelBody {
        &self.wheel
    }

    /// How they stand.
    pub const fn stance(&self) -> &RoundStance {
        &self.stance
    }

    /// The same with another stance.
    ///
    /// # Errors
    /// As for [`RoundSetup::new`].
    pub fn with_stance(&self, stance: RoundStance) -> Result<Self, EndError> {
        Self::new(self.edge, self.hold, self.wheel.clone(), stance)
    }

    /// The wheel's pose where its leading corner stands in front of the pivot at the edge's height,
    /// and would stand so far from it, were it neither tipped nor higher than the edge: along the
    /// travel toward where the shank swings, toward the wheel, up; from the pivot, level with the
    /// edge.
    pub(super) fn pose(&self, front_mm: f64) -> Pose {
        let RoundStance { lean, axis_above_edge, wheel_tilt } = self.stance;
        let corner = Vector3::new(0.0, front_mm, axis_above_edge.mm());
        let mut pose = Pose::leaning(&self.wheel, lean.radians(), FaceToward::Tip, corner);
        // The corner's circle stands in front of the pivot where it passes the edge's height.
        let (radius_mm, above_mm) = (self.wheel.radius_mm(), axis_above_edge.mm());
        let sagged_mm = radius_mm - (radius_mm * radius_mm - above_mm * above_mm).max(0.0).sqrt();
        pose.origin.x += pose.near.x * sagged_mm;
        pose.tipped(wheel_tilt.radians(), &Vector3::new(0.0, front_mm, 0.0))
    }

    /// The cut that blends into end and periphery: the cutter over the pivot so that the round
    /// meets both edges at their height, the wheel in front of the pivot by what leaves the wanted
    /// circle halfway.
    ///
    /// **Source** \[own-derivation\] a secant on the form halfway, both ends blended at each step.
    /// **Departs** from axis beside pivot = D/2 − r and end past pivot = r where the edge is not
    /// level all round: a locked helix then wants its end r · tan(helix) · tan(relief) farther past
    /// it. **Error** 1e-6 mm. **Domain** wheels that meet the edge all round.
    ///
    /// # Errors
    /// Where the wheel misses the edge.
    pub fn blended(&self) -> Result<RoundCut<'_>, EndError> {
        let round = self.edge.round;
        let mut pivot =
            RoundPivot { beside: round.axis_beside_pivot(), past: round.end_past_pivot() };
        let half = Angle::from_degrees(45.0);
        let first = RoundCut::new(self, pivot, round.radius);
        // A disc whose axis stands above the edge, or a round corner, cuts farther off.
        let mut front = round.radius * 2.0 - first.radius_at(half).ok_or_else(missed)?;
        let mut slope = 1.0 - 2.0_f64.sqrt();
        let mut before: Option<(Length, Length)> = None;
        for _ in 0..ROUNDS {
            let cut = self.blended_at(front, pivot)?;
            pivot = cut.pivot();
            let miss = cut.form_at(half).ok_or_else(missed)?;
            if miss.abs().mm() < BLENDED_MM {
                return Ok(cut);
            }
            if let Some((was, missed_by)) = before.filter(|(was, _)| *was != front) {
                let steepness = (miss - missed_by) / (front - was);
                slope = if steepness < -0.1 { steepness } else { slope };
            }
            before = Some((front, miss));
            front -= miss / slope;
        }
        self.blended_at(front, pivot)
    }

    /// The cutter over the pivot so that both ends blend, with the wheel so far in front.
    fn blended_at(&self, front: Length, from: RoundPivot) -> Result<RoundCut<'_>, EndError> {
        let round = self.edge.round;
        let (end, side) = (Angle::ZERO, Angle::from_degrees(90.0));
        let mut cut = RoundCut::new(self, from, front);
        for _ in 0..ROUNDS {
            let at = |swing| cut.radius_at(swing).ok_or_else(missed);
            let pivot = RoundPivot { beside: round.cutter - at(side)?, past: at(end)? };
            let moved =
                (pivot.beside - cut.pivot().beside).abs() + (pivot.past - cut.pivot().past).abs();
            cut = cut.over(pivot);
            if moved.mm() < BLENDED_MM {
                break;
            }
        }
        Ok(cut)
    }

    /// The same set-up with the relief that is wanted over a distance behind the edge in the middle
    /// of the round: by the wheel's tilt, or by its height on a disc that lies level.
    ///
    /// **Source** \[numerical-recipes\] secant search on the real wheel. **Departs** nowhere.
    /// **Error** below 1e-5 degrees of relief. **Domain** reliefs that the wheel can leave.
    ///
    /// # Errors
    /// Where none gives it.
    pub fn relieved(&self, relief: Angle, over: Length, by: RoundBy) -> Result<Self, EndError> {
        let half = Angle::from_degrees(45.0);
        let miss = |setup: &Self| {
            let made = setup.blended()?.relief_at(half, over).ok_or_else(missed)?;
            Ok::<f64, EndError>(made.radians() - relief.radians())
        };
        let mut at = relief.radians();
        let mut setup = self.with_relief(at, by)?;
        let mut off = miss(&setup)?;
        let mut slope = 1.0;
        for _ in 0..TRIES {
            if off.abs() < FOUND_RAD {
                return Ok(setup);
            }
            let next = at - off / slope;
            setup = self.with_relief(next, by)?;
            let after = miss(&setup)?;
            let steepness = (after - off) / (next - at);
            slope = if steepness.is_finite() && steepness > 0.1 { steepness } else { slope };
            (at, off) = (next, after);
        }
        let had_deg = relief.degrees() + off.to_degrees();
        Err(EndError::OutOfRange { wanted_deg: relief.degrees(), had_deg })
    }

    fn with_relief(&self, rad: f64, by: RoundBy) -> Result<Self, EndError> {
        let stance = match by {
            RoundBy::Tilt => RoundStance { wheel_tilt: Angle::from_radians(rad), ..self.stance },
            RoundBy::Height => {
                let axis_above_edge = Length::from_mm(self.wheel.radius_mm() * rad.sin());
                RoundStance { axis_above_edge, ..self.stance }
            }
        };
        self.with_stance(stance)
    }
}

/// What the relief of a round comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RoundBy {
    /// The wheel is tipped.
    Tilt,
    /// The axis of a disc stands above the edge.
    Height,
}

pub(super) fn missed() -> EndError {
    let reason = "the wheel does not meet the whole round: bring its axis nearer to the edge's \
                  height, or take a larger wheel";
    EndError::invalid("wheel", reason.to_owned())
}
