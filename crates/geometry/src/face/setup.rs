//! One wheel in one flute, and the face that it leaves.

use thiserror::Error;

use super::behind::behind_rad;
use super::standing::Standing;
use crate::quantity::{Angle, Length};
use crate::screw::Flutes;
use crate::wheel::WheelBody;

/// How the wheel stands in the flute.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceStance {
    /// How far the wheel is turned from along the cutter, the way the helix runs.
    pub swivel: Angle,
    /// How far its flat side stands past the cutter's axis toward the heel; less than nothing
    /// before it.
    pub offset: Length,
    /// How far the whole wheel stays from the cutter's axis: its height is set by that. On a turned
    /// wheel the nearest point is not the lowest of the rim.
    pub root: Length,
}

/// Why a wheel leaves no such face.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum FaceError {
    /// The rim does not stand in the flute.
    #[error(
        "the rim must come into the flute: its lowest is {root_mm:.3} mm from the axis, the \
             edge {radius_mm:.3} mm"
    )]
    Root {
        /// Distance of the rim's lowest point from the axis.
        root_mm: f64,
        /// Radius of the edge.
        radius_mm: f64,
    },
    /// The flat side stands where it cannot grind a face from the root to the edge.
    #[error(
        "the flat side stands {offset_mm:.3} mm from the axis and leaves no face from {root_mm:.3} \
             to {radius_mm:.3} mm: bring it nearer to the axis"
    )]
    Offset {
        /// Distance of the flat side from the axis, less than nothing before it.
        offset_mm: f64,
        /// Distance of the wheel from the axis.
        root_mm: f64,
        /// Radius of the edge.
        radius_mm: f64,
    },
    /// The wheel is so small that its own axis would stand in the tooth.
    #[error(
        "the wheel must be larger: its axis would stand {axis_mm:.3} mm above the cutter's, and \
             the edge stands {radius_mm:.3} mm from it"
    )]
    Small {
        /// Height of the wheel's axis above the cutter's.
        axis_mm: f64,
        /// Radius of the edge.
        radius_mm: f64,
    },
    /// No offset of the wheel gives the rake.
    #[error("no offset of the wheel leaves a rake of {0:.2} deg here")]
    NoOffset(f64),
}

/// A wheel in a flute.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceSetup {
    flutes: Flutes,
    wheel: WheelBody,
    edge_mm: f64,
    stance: FaceStance,
    standing: Standing,
}

/// An offset is looked for within so many degrees of rake on either side, in such steps.
const RAKE_REACH_DEG: f64 = 20.0;
const RAKE_STEP_DEG: f64 = 2.5;
/// Steps toward the offset, and how closely the rake is met.
const STEPS_MAX: u32 = 60;
const RAKE_ERROR_DEG: f64 = 1e-8;

impl FaceSetup {
    /// A wheel in the flute of a cutter whose edge stands at `radius`.
    ///
    /// # Errors
    /// Where the rim does not come into the flute at all, where the flat side stands beside the
    /// face, and where the wheel's own axis would stand within the cutting circle.
    pub fn new(
        flutes: &Flutes,
        wheel: &WheelBody,
        radius: Length,
        stance: FaceStance,
    ) -> Result<Self, FaceError> {
        let (root_mm, radius_mm) = (stance.root.mm(), radius.mm());
        if !(root_mm > 0.0 && root_mm < radius_mm) {
            return Err(FaceError::Root { root_mm, radius_mm });
        }
        let offset_mm = stance.offset.mm();
        let beside = || FaceError::Offset { offset_mm, root_mm, radius_mm };
        let swivel = (stance.swivel.sin(), stance.swivel.cos());
        let twist = flutes.twist_rad_per_mm();
        if offset_mm.is_nan() || offset_mm.abs() >= radius_mm {
            return Err(beside());
        }
        let standing = Standing::new(wheel, twist, swivel, (offset_mm, root_mm));
        let standing = standing.ok_or_else(beside)?;
        if standing.axis_mm <= radius_mm {
            return Err(FaceError::Small { axis_mm: standing.axis_mm, radius_mm });
        }
        if standing.half_chord_mm(radius_mm) == 0.0 {
            return Err(beside());
        }
        Ok(Self { flutes: *flutes, wheel: wheel.clone(), edge_mm: radius_mm, stance, standing })
    }

    /// The same with another offset.
    fn at_offset(&self, offset: Length) -> Result<Self, FaceError> {
        let stance = FaceStance { offset, ..self.stance };
        Self::new(&self.flutes, &self.wheel, Length::from_mm(self.edge_mm), stance)
    }

    /// The same with the offset at which the face has a rake, as the chord over a depth below the
    /// edge.
    ///
    /// # Errors
    /// As for [`FaceSetup::new`], and where no offset gives that rake.
    pub fn with_rake(self, rake: Angle, over: Length) -> Result<Self, FaceError> {
        let none = || FaceError::NoOffset(rake.degrees());
        let at = |degrees: f64| {
            let lean = rake + Angle::from_degrees(degrees);
            let made = self.at_offset(Length::from_mm(self.edge_mm * lean.sin())).ok()?;
            let miss_deg = (made.rake(over)? - rake).degrees();
            Some((degrees, miss_deg, made))
        };
        let first = at(0.0).ok_or_else(none)?;
        let step_deg = if first.1 > 0.0 { -RAKE_STEP_DEG } else { RAKE_STEP_DEG };
        let (mut one, mut other) = (first.clone(), first);
        while one.1 * other.1 > 0.0 {
            one = other;
            other = at(one.0 + step_deg).ok_or_else(none)?;
            if other.0.abs() > RAKE_REACH_DEG {
                return Err(none());
            }
        }
        for _ in 0..STEPS_MAX {
            if other.1.abs() < RAKE_ERROR_DEG {
                return Ok(other.2);
            }
            let straight = other.0 - other.1 * (other.0 - one.0) / (other.1 - one.1);
            let next = at(straight).ok_or_else(none)?;
            // The end that stays counts half, lest it stay for ever.
            if next.1 * other.1 > 0.0 {
                one.1 *= 0.5
            } else {
                one = other
            }
            other = next;
        }
        Err(none())
    }

    /// How the wheel stands.
    pub const fn stance(&self) -> &FaceStance {
        &self.stance
    }

    /// How far heelward the wheel comes at a distance from the axis, in the tooth's own section,
    /// from where the flat side stands straight up; None where it does not come there. The face
    /// that is left stands there.
    ///
    /// **Source** \[own-derivation\] a point at t along the cutter and y heelward stands in the
    /// section at atan2(y, z) + twist · t; the face is the farthest of them at each radius.
    /// **Departs** nowhere. **Error** 0.2 µm at the circle: 48 circles on each stretch of the
    /// profile, then the dent beside the best. **Domain** radii from the root to the edge.
    pub fn face_at(&self, radius: Length) -> Option<Angle> {
        self.standing.farthest_rad(radius.mm()).map(Angle::from_radians)
    }

    /// How far the other way, toward the tooth before, the wheel comes anywhere within a radius of
    /// the cutter's axis, counted as [`FaceSetup::face_at`] and so mostly below zero; None where no
    /// part of it comes within that.
    ///
    /// **Source** \[own-derivation\] the least of atan2(y, z) + twist · t over the wheel's whole
    /// surface, bounded patch by patch by how fast it can change. **Departs** nowhere. **Error** 2
    /// µm along the circle, told too far toward the tooth before and never too little. **Domain**
    /// radii up to the edge.
    pub fn back_within(&self, radius: Length) -> Option<Angle> {
        if radius < self.stance.root {
            return None;
        }
        let root_mm = self.stance.root.mm();
        behind_rad(&self.standing, radius.mm(), root_mm).map(Angle::from_radians)
    }

    /// Rake of the face as the chord from the edge to a depth below it, positive for a hooked
    /// tooth; None where the wheel does not come there.
    ///
    /// **Source** \[own-derivation\] the angle, against the radius through the edge, of the chord
    /// between the two points of the face. **Departs** nowhere. **Error** that of
    /// [`FaceSetup::face_at`], 0.2 µm, over the depth. **Domain** depths down to the root.
    pub fn rake(&self, over: Length) -> Option<Angle> {
        let edge = Length::from_mm(self.edge_mm);
        let (at_edge, below) = (self.face_at(edge)?, self.face_at(edge - over)?);
        let turned = below - at_edge;
        let below_mm = self.edge_mm - over.mm();
        let (back, down) = (below_mm * turned.sin(), self.edge_mm - below_mm * turned.cos());
        Some(Angle::from_radians(back.atan2(down)))
    }

    /// How far the table must carry the wheel's middle past each end, so that nothing of the flat
    /// side that stands in the cutting circle is left before it.
    ///
    /// **Source** \[own-derivation\] how far along the cutter the rim's outer circle stands in the
    /// cutting circle, either way; with the flat side along the travel it is √(h (2 Rw − h)) with h
    /// = √(R² − o²) − √(root² − o²), o its offset. **Departs** in that a rim whose flat side is
    /// wide may have ground the face sooner. **Error** 1e-9 mm. **Domain** as the set-up.
    pub fn overrun(&self) -> Length {
        Length::from_mm(self.standing.half_chord_mm(self.edge_mm))
    }

    /// Height of the wheel's axis above the cutter's.
    ///
    /// **Source** \[own-derivation\] the height at which the nearest point of the whole wheel is as
    /// far from the axis as the root. **Departs** nowhere. **Error** 1e-9 mm. **Domain** as the
    /// set-up.
    pub const fn axis_above(&self) -> Length {
        Length::from_mm(self.standing.axis_mm)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screw::Hand;
    use crate::wheel::{Corner, CupShape};

    fn dish() -> WheelBody {
        WheelBody::cup(&CupShape {
            diameter_mm: 100.0,
            face_width_mm: 2.0,
            outer_wall_rad: 45_f64.to_radians(),
            inner_wall_rad: 70_f64.to_radians(),
            leading: Corner::Sharp,
            trailing: Corner::Sharp,
        })
        .unwrap()
    }

    fn made(helix_deg: f64, offset_mm: f64, root_mm: f64) -> Result<FaceSetup, FaceError> {
        let helix = Angle::from_degrees(helix_deg);
        let flutes = Flutes {
            nominal_diameter: Length::from_mm(20.0),
            teeth: 4,
            hand: Hand::Right,
            helix,
            helix_hand: Hand::Right,
        };
        let (offset, root) = (Length::from_mm(offset_mm), Length::from_mm(root_mm));
        let stance = FaceStance { swivel: helix, offset, root };
        FaceSetup::new(&flutes, &dish(), Length::from_mm(10.0), stance)
    }

    fn setup(helix_deg: f64, offset_mm: f64) -> FaceSetup {
        made(helix_deg, offset_mm, 6.0).unwrap()
    }

    #[test]
    fn a_straight_face_is_the_wheels_own_plane() {
        let setup = setup(0.0, 10.0 * 12_f64.to_radians().sin());
        for over in [0.1, 1.0, 3.0] {
            let rake = setup.rake(Length::from_mm(over)).unwrap().degrees();
            assert!((rake - 12.0).abs() < 1e-6, "{rake} over {over}");
        }
    }

    #[test]
    fn the_offset_is_found_that_gives_a_rake_on_a_helix() {
        let over = Length::from_mm(0.5);
        let found = setup(6.0, 0.0).with_rake(Angle::from_degrees(8.0), over).unwrap();
        let rake = found.rake(over).unwrap().degrees();
        assert!((rake - 8.0).abs() < 1e-6, "{rake}");
        // The round rim takes more at the edge than a plane would, so the offset is another.
        let plane = 10.0 * 8_f64.to_radians().sin();
        assert!((found.stance().offset.mm() - plane).abs() > 0.01, "{:?}", found.stance());
    }

    #[test]
    fn a_rim_above_the_edge_is_refused() {
        let refused = made(0.0, 0.0, 11.0).unwrap_err();
        assert!(matches!(refused, FaceError::Root { .. }));
    }
}
