//! Where a body is and how it is turned.

use nalgebra::{Isometry3, Matrix3, Point3, Rotation3, Translation3, UnitQuaternion};

use super::direction::Direction;
use crate::quantity::Length;

/// A rigid placement: of a body in the machine's frame, or of one body in another's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    pub(super) motion: Isometry3<f64>,
}

impl Placement {
    /// A frame with its origin at a point and its x and z in these directions; x is made square to
    /// z. None where they are parallel.
    pub fn of_axes(x: Direction, z: Direction, origin: [Length; 3]) -> Option<Self> {
        let y = z.square_to(&x)?;
        let x = y.square_to(&z)?;
        let matrix = Matrix3::from_columns(&[x.vector(), y.vector(), z.vector()]);
        let turn = UnitQuaternion::from_rotation_matrix(&Rotation3::from_matrix_unchecked(matrix));
        let [right, toward, up] = origin.map(Length::mm);
        let place = Translation3::new(right, toward, up);
        Some(Self { motion: Isometry3::from_parts(place, turn) })
    }

    pub(super) const fn of(motion: Isometry3<f64>) -> Self {
        Self { motion }
    }

    /// A direction of the body, in the outer frame.
    pub fn direction(&self, own: &Direction) -> Direction {
        Direction::turned_from(self.motion.rotation * own.vector())
    }

    /// A point of the body, in the outer frame.
    pub fn point(&self, own: [Length; 3]) -> [Length; 3] {
        let [x, y, z] = own.map(Length::mm);
        let point = self.motion * Point3::new(x, y, z);
        [point.x, point.y, point.z].map(Length::from_mm)
    }

    /// The outer frame as it stands in the body's.
    pub fn inverse(&self) -> Self {
        Self { motion: self.motion.inverse() }
    }

    /// A placement in the body's frame, told in the outer one.
    pub fn of_inner(&self, inner: &Self) -> Self {
        Self { motion: self.motion * inner.motion }
    }
}
