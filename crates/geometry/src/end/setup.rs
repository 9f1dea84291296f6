//! A wheel led along the travel past a tooth of the end: how both stand.

use super::error::{EndError, check_within};
use super::plane::EndPlane;
use super::section::EndSection;
use crate::quantity::{Angle, Length};
use crate::screw::{Flutes, Hand};
use crate::section::{Setup, Stance};
use crate::wheel::{FaceToward, WheelBody};

/// How the wheel stands to the edge, which lies along the travel, its heel up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndStance {
    /// How far the head stands from square (cup) or from parallel (disc) to the travel. It brings
    /// the corner nearest that comes to the centre first.
    pub lean: Angle,
    /// How far the wheel's axis stands above the edge.
    pub axis_above_edge: Length,
    /// How far the wheel is tipped, its upper side toward the cutter: more relief.
    pub wheel_tilt: Angle,
    /// How far the tooth is tilted, its tip down: more relief.
    pub tilt: Angle,
}

/// A wheel, a stance, and the dish of the edge that lies along the travel.
#[derive(Clone, Debug, PartialEq)]
pub struct EndSetup {
    wheel: WheelBody,
    dish: Angle,
    stance: EndStance,
}

/// Radius of the straight tooth that stands for the end tooth's section, in millimetres. Any will
/// do: the section is the same curve whatever its pole.
pub(super) const POLE_MM: f64 = 25.0;

/// Tries to find a tilt; each is a section.
const TRIES: usize = 24;

/// A tilt that misses its relief by no more, in radians, is found.
const FOUND_RAD: f64 = 1e-9;

impl EndSetup {
    /// Validates a set-up.
    ///
    /// # Errors
    /// Where the dish is outside −80 to 30 degrees, or the kernel does not take the stance.
    pub fn new(wheel: WheelBody, dish: Angle, stance: EndStance) -> Result<Self, EndError> {
        EndPlane::new(dish, Angle::ZERO)?;
        check_within("tilt", stance.tilt.degrees(), (-30.0, 60.0), "deg")?;
        let made = Self { wheel, dish, stance };
        made.kernel()?;
        Ok(made)
    }

    /// The wheel.
    pub const fn wheel(&self) -> &WheelBody {
        &self.wheel
    }

    /// The dish of the edge along the travel.
    pub const fn dish(&self) -> Angle {
        self.dish
    }

    /// How they stand.
    pub const fn stance(&self) -> &EndStance {
        &self.stance
    }

    /// The same with another stance.
    ///
    /// # Errors
    /// As for [`EndSetup::new`].
    pub fn with_stance(&self, stance: EndStance) -> Result<Self, EndError> {
        Self::new(self.wheel.clone(), self.dish, stance)
    }

    /// The set-up of the straight tooth whose section is that of this edge: its radius points out
    /// of the end, and its axis lies so far inside that only the section's pole is moved.
    fn kernel(&self) -> Result<Setup, EndError> {
        let flutes = Flutes {
            nominal_diameter: Length::from_mm(2.0 * POLE_MM),
            teeth: 1,
            hand: Hand::Right,
            helix: Angle::ZERO,
            helix_hand: Hand::Right,
        };
        let stance = Stance {
            lean: self.stance.lean,
            face_toward: FaceToward::Tip,
            rest_inset: Length::ZERO,
            relief_setting: self.stance.tilt,
            axis_above: self.stance.axis_above_edge
                - Length::from_mm(POLE_MM * self.stance.tilt.sin()),
            tilt: self.stance.wheel_tilt,
        };
        Ok(Setup::new(flutes, self.wheel.clone(), stance)?)
    }

    /// What the wheel leaves when it is fed until its surface passes through the edge.
    ///
    /// # Errors
    /// Where the wheel cannot be brought there.
    pub fn section(&self) -> Result<EndSection, EndError> {
        let section = self.kernel()?.section(Length::from_mm(2.0 * POLE_MM))?;
        Ok(EndSection::new(self.clone(), section))
    }

    /// What the wheel leaves when it is fed until its surface passes through a point behind and
    /// below the edge, both in the section square to it: where the secondary begins.
    ///
    /// # Errors
    /// Where the wheel cannot be brought there.
    pub fn section_through(
        &self,
        heelward: Length,
        inward: Length,
    ) -> Result<EndSection, EndError> {
        let (y_mm, out_mm) = (heelward.mm(), POLE_MM - inward.mm());
        let angle = Angle::from_radians(y_mm.atan2(out_mm));
        let radius = Length::from_mm(y_mm.hypot(out_mm));
        let section = self.kernel()?.section_touching(angle, radius)?;
        Ok(EndSection::new(self.clone(), section))
    }

    /// The same set-up with the tilt that gives an axial relief over a distance behind the edge,
    /// or at the edge itself.
    ///
    /// **Source** \[numerical-recipes\] secant search on the real section. **Departs** nowhere.
    /// **Error** below 1e-6 degrees of relief. **Domain** reliefs that the wheel can leave.
    ///
    /// # Errors
    /// Where no tilt gives it.
    pub fn tilted_for(&self, relief: Angle, over: Option<Length>) -> Result<Self, EndError> {
        let square = EndPlane::new(self.dish, relief)?.square_relief().radians();
        let miss = |setup: &Self| Ok::<f64, EndError>(setup.square_relief(over)? - square);
        let mut setup = self.clone();
        let mut off = miss(&setup)?;
        let mut slope = 1.0;
        for _ in 0..TRIES {
            if off.abs() < FOUND_RAD {
                return Ok(setup);
            }
            let before = setup.stance.tilt.radians();
            let tilt = Angle::from_radians(before - off / slope);
            setup = setup.with_stance(EndStance { tilt, ..setup.stance })?;
            let next = miss(&setup)?;
            let steepness = (next - off) / (tilt.radians() - before);
            slope = if steepness.is_finite() && steepness > 0.1 { steepness } else { slope };
            off = next;
        }
        let had_deg = relief.degrees() + off.to_degrees();
        Err(EndError::OutOfRange { wanted_deg: relief.degrees(), had_deg })
    }

    fn square_relief(&self, over: Option<Length>) -> Result<f64, EndError> {
        let section = self.section()?;
        let found = section.square_relief(over).ok_or_else(|| {
            let reason = "the wheel leaves no surface that far behind the edge".to_owned();
            EndError::invalid("land", reason)
        })?;
        Ok(found.radians())
    }
}
