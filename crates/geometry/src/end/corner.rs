//! The corner between end and periphery: chamfered, or rounded by a swivel below it.

use super::error::{EndError, check_within};
use super::plane::EndPlane;
use crate::quantity::{Angle, Length};

/// A chamfer over the corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chamfer {
    /// Its width along its own edge, from the end's edge to the periphery's.
    pub width: Length,
    /// The angle of its edge against the end's.
    pub angle: Angle,
    /// Its relief along the axis.
    pub relief: Angle,
}

impl Chamfer {
    /// The plane behind its edge: a dish below zero by its angle.
    ///
    /// # Errors
    /// Where its angle is outside 10 to 80 degrees or its relief is none of a plane.
    pub fn plane(&self) -> Result<EndPlane, EndError> {
        check_within("corner_angle", self.angle.degrees(), (10.0, 80.0), "deg")?;
        EndPlane::new(-self.angle, self.relief)
    }

    /// What it takes of the end's edge, and of the periphery's along the cutter.
    pub fn takes(&self) -> (Length, Length) {
        (self.width * self.angle.cos(), self.width * self.angle.sin())
    }

    /// How far its plane must be fed past the sharp corner, square to its edge.
    ///
    /// **Source** \[own-derivation\] height of a right triangle over its longest side: width ·
    /// sin(angle) · cos(angle). **Departs** in taking end and periphery as square to each other.
    /// **Error** width · dish. **Domain** angles between 0 and 90 degrees.
    pub fn depth(&self) -> Length {
        self.width * (self.angle.sin() * self.angle.cos())
    }
}

/// A corner rounded by swinging the cutter about an upright pivot below the middle of the round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundCorner {
    /// Radius of the corner; half the diameter on a ball.
    pub radius: Length,
    /// Radius of the cutter.
    pub cutter: Length,
}

impl RoundCorner {
    /// A corner of that radius on a cutter of that diameter.
    ///
    /// # Errors
    /// Where the radius is not over 0 and at most half the diameter.
    pub fn new(radius: Length, diameter: Length) -> Result<Self, EndError> {
        let cutter = diameter / 2.0;
        check_within("corner_radius", radius.mm(), (1e-3, cutter.mm() * (1.0 + 1e-9)), "mm")?;
        Ok(Self { radius, cutter })
    }

    /// How far the cutter's axis stands to the side of the pivot.
    pub fn axis_beside_pivot(&self) -> Length {
        self.cutter - self.radius
    }

    /// How far the end stands past the pivot, toward the wheel.
    pub fn end_past_pivot(&self) -> Length {
        self.radius
    }

    /// Whether it is a whole half sphere.
    pub fn is_ball(&self) -> bool {
        self.axis_beside_pivot().mm() < 1e-9 * self.cutter.mm()
    }

    /// The relief that a tilt of the cutter under the swivel leaves at a swing from the end: all of
    /// it at the end, none at the periphery. A wheel that leans by itself leaves its relief all
    /// round.
    ///
    /// **Source** \[own-derivation\] the tilted axis swings with the cutter, and only its part
    /// square to the travel is relief: tan(relief) = tan(tilt) · cos(swing). **Departs** nowhere.
    /// **Error** rounding. **Domain** swings from 0 to 90 degrees.
    pub fn relief_by_tilt(&self, tilt: Angle, swing: Angle) -> Angle {
        Angle::from_tangent(tilt.tan() * swing.cos())
    }
}
