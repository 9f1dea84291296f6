//! A direction in space, of length one.

use std::ops::Neg;

use nalgebra::{Rotation3, Unit, Vector3};

use crate::quantity::Angle;

/// A unit direction in the frame that its place names.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Direction {
    vector: Vector3<f64>,
}

/// Parts shorter than this give no direction.
const SHORTEST: f64 = 1e-12;

impl Direction {
    /// X: along the table's travel, to the right of somebody who looks from the cutter at the
    /// wheel.
    pub const ALONG: Self = Self { vector: Vector3::new(1.0, 0.0, 0.0) };
    /// Y: from the cutter toward the wheel.
    pub const TOWARD_WHEEL: Self = Self { vector: Vector3::new(0.0, 1.0, 0.0) };
    /// Z: up.
    pub const UP: Self = Self { vector: Vector3::new(0.0, 0.0, 1.0) };
    /// A body's own z: out of the wheel's face, or toward the cutter's shank.
    pub const OWN_AXIS: Self = Self::UP;

    /// The direction of these parts, whatever their common length; None where they are all as good
    /// as nothing, or not finite.
    pub fn new(x: f64, y: f64, z: f64) -> Option<Self> {
        let vector = Vector3::new(x, y, z);
        let length = vector.norm();
        let has_one = length.is_finite() && length > SHORTEST;
        has_one.then(|| Self { vector: vector / length })
    }

    /// The direction of a vector, as for [`Direction::new`].
    pub fn of(vector: &Vector3<f64>) -> Option<Self> {
        Self::new(vector.x, vector.y, vector.z)
    }

    /// A unit vector that came out of unit vectors by turning.
    pub(super) fn turned_from(vector: Vector3<f64>) -> Self {
        Self { vector: vector.try_normalize(SHORTEST).unwrap_or(Self::UP.vector) }
    }

    /// Its parts, as one vector of length one.
    pub const fn vector(&self) -> Vector3<f64> {
        self.vector
    }

    /// Its parts along x, y and z.
    pub fn parts(&self) -> [f64; 3] {
        self.vector.into()
    }

    /// The angle between two directions, from 0 to 180 degrees; as exact for small ones as for
    /// large.
    pub fn angle_to(&self, other: &Self) -> Angle {
        let across = self.vector.cross(&other.vector).norm();
        Angle::from_radians(across.atan2(self.vector.dot(&other.vector)))
    }

    /// The direction square to both, by the right-hand rule from this one to the other; None where
    /// they are parallel.
    pub fn square_to(&self, other: &Self) -> Option<Self> {
        Self::of(&self.vector.cross(&other.vector))
    }

    /// This direction turned about an axis, by the right-hand rule.
    pub fn turned(&self, about: &Self, by: Angle) -> Self {
        let axis = Unit::new_unchecked(about.vector);
        Self::turned_from(Rotation3::from_axis_angle(&axis, by.radians()) * self.vector)
    }
}

impl Neg for Direction {
    type Output = Self;
    fn neg(self) -> Self {
        Self { vector: -self.vector }
    }
}
