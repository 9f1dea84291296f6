//! A form relief: the back of a tooth that falls evenly as it is turned.

use super::setup::FaceSetup;
use crate::quantity::{Angle, Length};

/// The back of a form-relieved tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FormRelief {
    /// Radius of the edge.
    pub radius: Length,
    /// Relief at the edge.
    pub relief: Angle,
}

impl FormRelief {
    /// Radius of the back at an angle behind the edge.
    ///
    /// **Source** \[common-practice\] a relieving cam drops evenly: r = R − R tan(relief) · θ.
    /// **Departs** nowhere. **Error** what the cutter's own relief departs from such a spiral.
    /// **Domain** up to one tooth pitch.
    pub fn radius_at(&self, behind: Angle) -> Length {
        self.radius - self.radius * (self.relief.tan() * behind.radians())
    }

    /// How much the wheel takes off the face, square to it at the new edge, when that stands at an
    /// angle behind the old one.
    ///
    /// **Source** \[own-derivation\] distance from the old face's line, r sin(θ + g) − R sin g with
    /// g the rake. **Departs** in taking the face as straight. **Error** rounding on straight
    /// teeth. **Domain** θ + g below 90 degrees.
    pub fn thickness(&self, behind: Angle, rake: Angle) -> Length {
        let radius = self.radius_at(behind);
        radius * (behind + rake).sin() - self.radius * rake.sin()
    }

    /// How far the tooth is turned into a wheel that stands still, from the first touch along the
    /// old face until the new edge stands at an angle behind the old one; None where the wheel does
    /// not come to both.
    ///
    /// **Source** \[own-derivation\] the back at that angle must come to where the wheel's face
    /// stands at its radius, from where the old edge met it: the angle less what the face leans
    /// between the two radii. **Departs** in that an old face of another shape touches sooner.
    /// **Error** that of [`FaceSetup::face_at`]. **Domain** up to one tooth pitch.
    pub fn turn(&self, behind: Angle, wheel: &FaceSetup) -> Option<Angle> {
        let leans = wheel.face_at(self.radius_at(behind))? - wheel.face_at(self.radius)?;
        Some(behind - leans)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_diameter_falls_evenly_with_the_turn() {
        let relief =
            FormRelief { radius: Length::from_mm(40.0), relief: Angle::from_degrees(10.0) };
        let per_degree = 40.0 - relief.radius_at(Angle::from_degrees(1.0)).mm();
        // 40 mm times tan 10 deg times a degree in radians, by hand: 0.12310 mm.
        assert!((per_degree - 0.123_10).abs() < 5e-6, "{per_degree}");
        assert!(
            (40.0 - relief.radius_at(Angle::from_degrees(3.0)).mm() - 3.0 * per_degree).abs()
                < 1e-9
        );
    }

    #[test]
    fn a_radial_face_loses_the_arc_less_its_fall() {
        let relief =
            FormRelief { radius: Length::from_mm(40.0), relief: Angle::from_degrees(10.0) };
        let behind = Angle::from_degrees(1.0);
        let thickness = relief.thickness(behind, Angle::ZERO).mm();
        assert!((thickness - (40.0 - 0.123_1) * 1_f64.to_radians().sin()).abs() < 1e-6);
    }
}
