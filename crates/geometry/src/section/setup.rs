//! One set-up of cutter, wheel and rest, validated.

use nalgebra::Vector3;
use thiserror::Error;

use super::ground::GroundSection;
use super::place::{placed, placed_within, standing, standing_within};
use crate::quantity::{Angle, Length};
use crate::screw::{Flutes, Screw};
use crate::wheel::{FaceToward, Pose, WheelBody, WheelKind};

/// How the wheel, the rest and the tooth stand to one another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stance {
    /// How far the head stands from square (cup) or from parallel (disc) to the table travel.
    pub lean: Angle,
    /// Toward which end of the cutter the face runs from its leading corner.
    pub face_toward: FaceToward,
    /// From the leading corner along the cutter, into the face, to the rest's contact.
    pub rest_inset: Length,
    /// How far the edge at the rest stands below centre.
    pub relief_setting: Angle,
    /// How far the wheel's axis stands above the cutter's, at the leading corner.
    pub axis_above: Length,
    /// How far the wheel is tipped about a line along the cutter through the leading corner's
    /// nearest point; positive where the upper side of the face comes nearer the cutter, which
    /// adds relief. With the lean it gives the wheel's axis any direction.
    pub tilt: Angle,
}

/// A cutter, a wheel and a stance: all that decides the section but the size.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    flutes: Flutes,
    wheel: WheelBody,
    stance: Stance,
}

/// Why a set-up has no section.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum SectionError {
    /// A value is outside what a set-up can have.
    #[error("{field}: {reason}")]
    Invalid {
        /// The value in question, named as in setting files.
        field: &'static str,
        /// What is wrong with it and what would be right.
        reason: String,
    },
    /// The wheel cannot be brought to the edge.
    #[error("the wheel cannot reach the edge: {reason}")]
    OutOfReach {
        /// Why not.
        reason: String,
    },
}

impl SectionError {
    pub(super) fn invalid(field: &'static str, reason: String) -> Self {
        Self::Invalid { field, reason }
    }
}

impl Setup {
    /// Validates a set-up.
    ///
    /// # Errors
    /// Where a value is outside the kernel's domain: 1 to 200 mm diameter, 1 to 60 teeth, helix 0
    /// to 60 degrees, lean 0 to 45 degrees, tilt −45 to 45, setting −30 to 60, and the rest on the
    /// face.
    pub fn new(flutes: Flutes, wheel: WheelBody, stance: Stance) -> Result<Self, SectionError> {
        check_flutes(&flutes)?;
        check_stance(&wheel, &stance)?;
        Ok(Self { flutes, wheel, stance })
    }

    /// The cutter's flutes.
    pub const fn flutes(&self) -> &Flutes {
        &self.flutes
    }

    /// The wheel.
    pub const fn wheel(&self) -> &WheelBody {
        &self.wheel
    }

    /// How they stand.
    pub const fn stance(&self) -> &Stance {
        &self.stance
    }

    /// The same cutter and wheel in another stance.
    ///
    /// # Errors
    /// As for [`Setup::new`].
    pub fn with_stance(&self, stance: Stance) -> Result<Self, SectionError> {
        Self::new(self.flutes, self.wheel.clone(), stance)
    }

    /// The section left when the wheel is brought in until the edge stands on a circle of
    /// `diameter`.
    ///
    /// # Errors
    /// Where the diameter is outside 0.5 to 300 mm, or the wheel never meets the edge.
    pub fn section(&self, diameter: Length) -> Result<GroundSection, SectionError> {
        self.check_diameter(diameter)?;
        placed(self, 0.0, 0.5 * diameter.mm())
    }

    /// The same section, followed from the edge to a distance behind it and no farther: all that a
    /// relief is read from, at less than half of the work.
    ///
    /// # Errors
    /// As for [`Setup::section`].
    pub(crate) fn section_to(
        &self,
        diameter: Length,
        distance: Length,
    ) -> Result<GroundSection, SectionError> {
        self.check_diameter(diameter)?;
        let radius_mm = 0.5 * diameter.mm();
        let range_rad = (-RAY_RAD, distance.mm() / radius_mm + RAY_RAD);
        placed_within(self, range_rad, 0.0, radius_mm)
    }

    fn check_diameter(&self, diameter: Length) -> Result<(), SectionError> {
        if !(0.5..=300.0).contains(&diameter.mm()) {
            let reason = format!("{} mm is outside 0.5 to 300 mm", diameter.mm());
            return Err(SectionError::invalid("new_diameter", reason));
        }
        let largest_mm = 1.05 * self.flutes.nominal_diameter.mm();
        if diameter.mm() > largest_mm {
            let reason = format!(
                "{} mm is more than the cutter has: a grind cannot add metal; up to \
                 {largest_mm:.3} mm is taken for a cutter that was made large",
                diameter.mm()
            );
            return Err(SectionError::invalid("new_diameter", reason));
        }
        Ok(())
    }

    /// The section left when the wheel just touches the point that stands `heelward` of the new
    /// edge, `radius` from the axis: how the wheel stands at the kiss on a known outline.
    ///
    /// # Errors
    /// Where the wheel cannot touch that point.
    pub fn section_touching(
        &self,
        heelward: Angle,
        radius: Length,
    ) -> Result<GroundSection, SectionError> {
        placed(self, heelward.radians(), radius.mm())
    }

    /// The section left when the leading corner's nearest point stands `from_axis` away from the
    /// cutter's axis, as a dial brings it there; its cutting circle is where the edge then stands.
    /// `near` is a radius close to that circle's, and sets the accuracy. Whether the wheel would
    /// take the whole cutter is not asked: stand it near a place that was found by its size.
    ///
    /// # Errors
    /// Where the wheel does not reach the edge from there.
    pub fn section_standing(
        &self,
        from_axis: Length,
        near: Length,
    ) -> Result<GroundSection, SectionError> {
        standing(self, from_axis.mm(), near.mm())
    }

    /// The same section, followed from an angle to another, between which the edge must lie, and up
    /// to a radius; what lies at other angles is asked for by [`GroundSection::comes_within`].
    ///
    /// # Errors
    /// As for [`Setup::section_standing`]; also where the edge would stand farther out than that
    /// radius.
    pub fn section_standing_within(
        &self,
        ((from, to), radius_max): ((Angle, Angle), Length),
        from_axis: Length,
        near: Length,
    ) -> Result<GroundSection, SectionError> {
        let from_rad = from.radians().min(0.0) - RAY_RAD;
        let range_rad = (from_rad, to.radians().max(0.0) + RAY_RAD);
        standing_within(self, (range_rad, radius_max.mm()), from_axis.mm(), near.mm())
    }

    pub(crate) fn screw(&self) -> Screw {
        Screw {
            twist_rad_per_mm: self.flutes.twist_rad_per_mm(),
            setting_rad: self.stance.relief_setting.radians(),
        }
    }

    /// The wheel's pose with its leading corner's nearest point at y = 0.
    pub(super) fn pose(&self) -> Pose {
        let Stance { lean, face_toward, rest_inset, axis_above, tilt, .. } = self.stance;
        let corner_t_mm = -face_toward.sign() * rest_inset.mm();
        let corner = Vector3::new(corner_t_mm, 0.0, axis_above.mm());
        Pose::leaning(&self.wheel, lean.radians(), face_toward, corner)
            .tipped(tilt.radians(), &corner)
    }
}

/// What lies this little beside a ray is followed with it.
pub(super) const RAY_RAD: f64 = 1e-9;

fn check_flutes(flutes: &Flutes) -> Result<(), SectionError> {
    let diameter_mm = flutes.nominal_diameter.mm();
    if !(1.0..=200.0).contains(&diameter_mm) {
        let reason = format!("{diameter_mm} mm is outside 1 to 200 mm");
        return Err(SectionError::invalid("diameter", reason));
    }
    if !(1..=60).contains(&flutes.teeth) {
        let reason = format!("{} teeth: from 1 to 60 can be computed", flutes.teeth);
        return Err(SectionError::invalid("teeth", reason));
    }
    let helix_deg = flutes.helix.degrees();
    if !(0.0..=60.0 + 1e-9).contains(&helix_deg) {
        let reason = format!(
            "{helix_deg} deg is outside 0 to 60 deg; give the hand of a helix in helix_hand"
        );
        return Err(SectionError::invalid("helix", reason));
    }
    Ok(())
}

fn check_stance(wheel: &WheelBody, stance: &Stance) -> Result<(), SectionError> {
    let lean_deg = stance.lean.degrees();
    if !(0.0..=45.0).contains(&lean_deg) {
        let right = match wheel.kind() {
            WheelKind::Cup => "a cup's head angle is 90 deg less the lean, from 45 to 90 deg",
            WheelKind::Disc => "a disc's head angle is the lean itself, from 0 to 45 deg",
        };
        let reason = format!(
            "the lean is {lean_deg:.4} deg: {right}; to lean the other way turn face_toward round"
        );
        return Err(SectionError::invalid("head_angle", reason));
    }
    let setting_deg = stance.relief_setting.degrees();
    if !(-30.0..=60.0).contains(&setting_deg) {
        let reason = format!("{setting_deg} deg is outside -30 to 60 deg");
        return Err(SectionError::invalid("relief_setting", reason));
    }
    let tilt_deg = stance.tilt.degrees();
    if !(-45.0..=45.0).contains(&tilt_deg) {
        let reason = format!("{tilt_deg} deg is outside -45 to 45 deg");
        return Err(SectionError::invalid("head_tilt", reason));
    }
    check_inset(wheel, stance)?;
    let above_mm = stance.axis_above.mm();
    let above_max_mm = 0.9 * wheel.radius_mm();
    if !(-above_max_mm..=above_max_mm).contains(&above_mm) {
        let reason = format!(
            "the wheel's axis {above_mm} mm above the cutter's is more than 0.9 of the wheel's \
             radius of {} mm: bring the wheel nearer to centre height",
            wheel.radius_mm()
        );
        return Err(SectionError::invalid("centre_above", reason));
    }
    Ok(())
}

fn check_inset(wheel: &WheelBody, stance: &Stance) -> Result<(), SectionError> {
    let inset_mm = stance.rest_inset.mm();
    let reach_mm = wheel.face_width_mm() * stance.lean.cos();
    if (0.0..=reach_mm + 1e-9).contains(&inset_mm) {
        return Ok(());
    }
    let reason = format!(
        "the rest is off the wheel's face: {inset_mm} mm from the leading corner, but the face \
         runs from 0 to {reach_mm:.4} mm there; set the rest inside the face"
    );
    Err(SectionError::invalid("rest_inset", reason))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screw::Hand;
    use crate::wheel::{Corner, CupShape};

    fn setup(helix_deg: f64, lean_deg: f64, setting_deg: f64) -> Setup {
        let flutes = Flutes {
            nominal_diameter: Length::from_mm(12.7),
            teeth: 4,
            hand: Hand::Right,
            helix: Angle::from_degrees(helix_deg),
            helix_hand: Hand::Right,
        };
        let cup = CupShape {
            diameter_mm: 100.0,
            face_width_mm: 3.0,
            outer_wall_rad: 0.3,
            inner_wall_rad: 0.1,
            leading: Corner::Round { radius_mm: 0.2 },
            trailing: Corner::Sharp,
        };
        let stance = Stance {
            lean: Angle::from_degrees(lean_deg),
            face_toward: FaceToward::Tip,
            rest_inset: Length::from_mm(0.3),
            relief_setting: Angle::from_degrees(setting_deg),
            axis_above: Length::ZERO,
            tilt: Angle::ZERO,
        };
        Setup::new(flutes, WheelBody::cup(&cup).unwrap(), stance).unwrap()
    }

    /// What is followed no farther is the same to the last bit as far as it goes.
    #[test]
    fn a_section_followed_no_farther_has_the_same_relief() {
        let (diameter, distance) = (Length::from_mm(12.6), Length::from_mm(0.5));
        for helix_deg in [0.0, 20.0, 30.0, 45.0] {
            for (lean_deg, setting_deg) in [(0.5, 8.0), (1.0, 11.0), (3.0, 6.0)] {
                let setup = setup(helix_deg, lean_deg, setting_deg);
                let whole = setup.section(diameter).unwrap();
                let part = setup.section_to(diameter, distance).unwrap();
                assert!(whole.edge_relief().is_some());
                assert_eq!(whole.edge_relief(), part.edge_relief());
                assert_eq!(whole.mean_relief(distance), part.mean_relief(distance));
                assert_eq!(whole.wheel_from_axis(), part.wheel_from_axis());
            }
        }
    }
}
