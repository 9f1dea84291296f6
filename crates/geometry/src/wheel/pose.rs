//! Where a wheel stands in the machine.
//!
//! Machine coordinates here are (t, y, z): t along the cutter toward its tip from the tooth
//! rest's contact, y from the cutter's axis toward the wheel, z up.

use nalgebra::Vector3;

use super::shape::{WheelBody, WheelKind};

/// Toward which end of the cutter the wheel's face runs from its leading corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FaceToward {
    /// Toward the cutter's tip.
    Tip,
    /// Toward the cutter's shank.
    Shank,
}

impl FaceToward {
    /// Both ways.
    pub const ALL: [Self; 2] = [Self::Tip, Self::Shank];

    /// +1 toward the tip, −1 toward the shank.
    pub const fn sign(self) -> f64 {
        match self {
            Self::Tip => 1.0,
            Self::Shank => -1.0,
        }
    }

    /// The other way.
    pub const fn opposite(self) -> Self {
        match self {
            Self::Tip => Self::Shank,
            Self::Shank => Self::Tip,
        }
    }

    /// The word used in files and on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tip => "tip",
            Self::Shank => "shank",
        }
    }
}

/// A wheel's place: the origin of its profile on its axis, and three unit directions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Origin of the profile (axial 0) on the wheel's axis, in millimetres.
    pub origin: Vector3<f64>,
    /// Unit direction of the wheel's axis, in the sense of the profile's axial coordinate.
    pub axis: Vector3<f64>,
    /// Unit direction, square to the axis, from the axis to the part that meets the cutter.
    pub near: Vector3<f64>,
    /// Unit direction that completes the three.
    pub side: Vector3<f64>,
}

impl Pose {
    /// A pose from an origin, an axis and the direction from it to the part that meets the cutter;
    /// `near` is made square to `axis`. None where the two directions do not span a plane.
    pub fn new(origin: Vector3<f64>, axis: Vector3<f64>, near: Vector3<f64>) -> Option<Self> {
        let axis = axis.try_normalize(1e-12)?;
        let near = (near - axis * axis.dot(&near)).try_normalize(1e-9)?;
        Some(Self { origin, axis, near, side: axis.cross(&near) })
    }

    /// A wheel whose axis lies level, leaning by `lean_rad`, with the nearest point of its leading
    /// corner at `corner`: the wheel is then fed in and out along y.
    ///
    /// A cup's axis lies along y when it does not lean, a disc's along t. The lean always brings
    /// the leading corner nearest the cutter.
    pub fn leaning(
        body: &WheelBody,
        lean_rad: f64,
        toward: FaceToward,
        corner: Vector3<f64>,
    ) -> Self {
        let (sin, cos) = lean_rad.sin_cos();
        let along = toward.sign();
        let face = Vector3::new(along * cos, sin, 0.0);
        let back = Vector3::new(-along * sin, cos, 0.0);
        let (axis, near) = match body.kind() {
            WheelKind::Cup => (back, -face),
            WheelKind::Disc => (face, -back),
        };
        let origin = corner - near * body.radius_mm();
        Self { origin, axis, near, side: axis.cross(&near) }
    }

    /// The same wheel, tipped about a line along t through a point: its upper side comes nearer the
    /// cutter for a positive angle.
    pub fn tipped(self, by_rad: f64, about: &Vector3<f64>) -> Self {
        let (sin, cos) = by_rad.sin_cos();
        let turn =
            |v: Vector3<f64>| Vector3::new(v.x, v.y * cos - v.z * sin, v.y * sin + v.z * cos);
        Self {
            origin: about + turn(self.origin - about),
            axis: turn(self.axis),
            near: turn(self.near),
            side: turn(self.side),
        }
    }

    /// The same wheel, `by_mm` farther from the cutter.
    pub fn backed_off(mut self, by_mm: f64) -> Self {
        self.origin.y += by_mm;
        self
    }
}
