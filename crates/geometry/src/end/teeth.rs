//! The end teeth of a cutter: where their edges run.

use nalgebra::{Rotation3, Vector3};

use super::error::{EndError, check_within};
use super::plane::EndPlane;
use crate::quantity::{Angle, Length};

/// End teeth before they are checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndTeethShape {
    /// Diameter over the corners.
    pub diameter: Length,
    /// How many, evenly spaced.
    pub teeth: u32,
    /// The primary of each.
    pub primary: EndPlane,
    /// How far the edge runs ahead of the centre, on the side of the cut; below zero behind it.
    pub ahead: Length,
    /// How far from the axis the edges end; zero where they run to the centre.
    pub inner: Length,
}

/// The end teeth of a cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndTeeth {
    shape: EndTeethShape,
}

impl EndTeeth {
    /// Checks a shape.
    ///
    /// # Errors
    /// Where the diameter is outside 0.5 to 300 mm, there are not 1 to 60 teeth, an edge misses the
    /// centre by half the radius or more, or ends outside the corner.
    pub fn new(shape: EndTeethShape) -> Result<Self, EndError> {
        check_within("diameter", shape.diameter.mm(), (0.5, 300.0), "mm")?;
        check_within("teeth", f64::from(shape.teeth), (1.0, 60.0), "teeth")?;
        let radius_mm = 0.5 * shape.diameter.mm();
        let half = (-0.5 * radius_mm, 0.5 * radius_mm);
        check_within("ahead_of_centre", shape.ahead.mm(), half, "mm")?;
        check_within("inner", shape.inner.mm(), (0.0, 0.95 * radius_mm), "mm")?;
        Ok(Self { shape })
    }

    /// What they are made of.
    pub const fn shape(&self) -> &EndTeethShape {
        &self.shape
    }

    /// The same teeth with another primary.
    pub fn with_primary(&self, primary: EndPlane) -> Self {
        Self { shape: EndTeethShape { primary, ..self.shape } }
    }

    /// The same teeth with another dish and the same relief; None where that is no plane.
    pub(super) fn with_dish(&self, dish: Angle) -> Option<Self> {
        Some(self.with_primary(EndPlane::new(dish, self.shape.primary.relief()).ok()?))
    }

    /// Angle from one tooth to the next.
    pub fn pitch(&self) -> Angle {
        Angle::from_radians(std::f64::consts::TAU / f64::from(self.shape.teeth))
    }

    fn corner_x_mm(&self) -> f64 {
        let (radius_mm, ahead_mm) = (0.5 * self.shape.diameter.mm(), self.shape.ahead.mm());
        ((radius_mm - ahead_mm) * (radius_mm + ahead_mm)).sqrt()
    }

    /// Where an edge stands, in the frame of tooth 0, in millimetres: of a tooth so many pitches
    /// heelward from it, so far inward from its corner along the edge.
    pub(super) fn edge_mm(&self, tooth: u32, inward_mm: f64) -> Vector3<f64> {
        let corner = Vector3::new(self.corner_x_mm(), -self.shape.ahead.mm(), 0.0);
        let own = corner - self.shape.primary.edge() * inward_mm;
        let turn = self.pitch().radians() * f64::from(tooth);
        Rotation3::from_axis_angle(&Vector3::z_axis(), turn) * own
    }

    /// Where an edge stands in the frame of tooth 0: outward, heelward and toward the shank.
    pub fn edge_point(&self, tooth: u32, inward: Length) -> [Length; 3] {
        let point = self.edge_mm(tooth, inward.mm());
        [point.x, point.y, point.z].map(Length::from_mm)
    }

    /// Length of an edge along itself, from its corner to where it ends.
    pub fn edge_length(&self) -> Length {
        self.inward_to(self.shape.inner)
    }

    /// How far inward along the edge its foot stands at that distance from the axis; below zero
    /// past the centre where the distance is.
    pub fn inward_to(&self, from_axis: Length) -> Length {
        let (ahead_mm, at_mm) = (self.shape.ahead.mm(), from_axis.mm());
        let foot_mm = (at_mm * at_mm - ahead_mm * ahead_mm).max(0.0).sqrt().copysign(at_mm);
        Length::from_mm((self.corner_x_mm() - foot_mm) / self.shape.primary.dish().cos())
    }

    /// How far an edge lies below the corner at a distance from the axis: what a feeler reads under
    /// a straightedge over the corners.
    ///
    /// **Source** \[own-derivation\] (√(R² − e²) − √(r² − e²)) · tan(dish), e the way ahead of
    /// centre. **Departs** from R · tan(dish) by the way ahead only. **Error** rounding. **Domain**
    /// r from the edge's nearest point to the corner.
    pub fn hollow_at(&self, from_axis: Length) -> Length {
        let inward = self.inward_to(from_axis);
        inward * self.shape.primary.dish().sin()
    }
}
