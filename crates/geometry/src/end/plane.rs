//! A surface of an end tooth as a plane: its edge's dish and the relief behind it.

use nalgebra::Vector3;

use super::error::{EndError, check_within};
use crate::quantity::Angle;

/// The plane behind an edge of the end.
///
/// The dish is counted in the plane of the axis: the edge sinks toward the centre by its tangent.
/// The relief is counted along the axis, as the trade does: behind the edge, at one distance from
/// the axis, the plane falls toward the shank by its tangent. A dish below zero is a chamfer, whose
/// edge climbs toward the shank on its way out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndPlane {
    dish: Angle,
    relief: Angle,
}

/// Steepest dish and chamfer that are taken, in degrees.
const DISH_DEG: (f64, f64) = (-80.0, 30.0);
/// Reliefs that are taken, in degrees.
const RELIEF_DEG: (f64, f64) = (-30.0, 60.0);

impl EndPlane {
    /// A plane of that dish and axial relief.
    ///
    /// # Errors
    /// Where the dish is outside −80 to 30 degrees or the relief outside −30 to 60.
    pub fn new(dish: Angle, relief: Angle) -> Result<Self, EndError> {
        check_within("dish", dish.degrees(), DISH_DEG, "deg")?;
        check_within("relief", relief.degrees(), RELIEF_DEG, "deg")?;
        Ok(Self { dish, relief })
    }

    /// The plane of that dish whose relief, in the section square to its edge, is `square`.
    ///
    /// # Errors
    /// As for [`EndPlane::new`].
    pub fn of_square_relief(dish: Angle, square: Angle) -> Result<Self, EndError> {
        Self::new(dish, Angle::from_radians((square.tan() / dish.cos()).atan()))
    }

    /// How much the edge sinks toward the centre; below zero a chamfer.
    pub const fn dish(&self) -> Angle {
        self.dish
    }

    /// The relief along the axis.
    pub const fn relief(&self) -> Angle {
        self.relief
    }

    /// The relief in the section square to the edge, which is what a wheel that runs along the edge
    /// is set to.
    ///
    /// **Source** \[own-derivation\] tan(square) = tan(relief) · cos(dish). **Departs** nowhere: a
    /// dish of 2 degrees changes 7 degrees of relief by 0.004. **Error** rounding. **Domain** every
    /// plane.
    pub fn square_relief(&self) -> Angle {
        Angle::from_radians((self.relief.tan() * self.dish.cos()).atan())
    }

    /// Unit direction of the edge, outward from the centre, in the tooth's frame.
    pub fn edge(&self) -> Vector3<f64> {
        Vector3::new(self.dish.cos(), 0.0, -self.dish.sin())
    }

    /// Unit direction square to the edge and to the way heelward, into the metal.
    pub fn inward(&self) -> Vector3<f64> {
        Vector3::new(self.dish.sin(), 0.0, self.dish.cos())
    }

    /// Unit direction out of the metal, square to the plane.
    pub fn outward(&self) -> Vector3<f64> {
        let square = self.square_relief();
        Vector3::y() * square.sin() - self.inward() * square.cos()
    }

    /// The same plane seen from a tooth that stands turned heelward by `by` about the cutter's
    /// axis: what a tooth gets that was not level when its plane was ground.
    ///
    /// **Source** \[own-derivation\] the slope (−tan dish, tan relief) of the plane, turned as a
    /// vector about the axis. **Departs** nowhere: dish and relief do not keep their values one by
    /// one. **Error** rounding. **Domain** as long as the result is a plane of an end tooth.
    ///
    /// # Errors
    /// As for [`EndPlane::new`].
    pub fn seen_turned(&self, by: Angle) -> Result<Self, EndError> {
        let (along, behind) = (-self.dish.tan(), self.relief.tan());
        let (sin, cos) = (by.sin(), by.cos());
        let dish = Angle::from_radians((-(along * cos + behind * sin)).atan());
        Self::new(dish, Angle::from_radians((behind * cos - along * sin).atan()))
    }
}
