//! The gash: the notch in front of an end tooth, between its face and a root that falls outward.

use nalgebra::Vector3;

use super::error::{EndError, check_within};
use super::plane::EndPlane;
use crate::quantity::{Angle, Length};

/// A gash before it is checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GashShape {
    /// The end's primary plane, whose edge is the upper end of the face.
    pub primary: EndPlane,
    /// Diameter over the corners.
    pub diameter: Length,
    /// How steeply the root falls toward the shank on its way out, against the plane of the end.
    pub floor: Angle,
    /// Axial rake of the face: it leans back under the edge.
    pub rake: Angle,
    /// Radius in the root.
    pub root: Length,
    /// Where the root comes out on the end, from the axis; below zero past the centre.
    pub from_centre: Length,
    /// How far the face stands ahead of the centre.
    pub ahead: Length,
}

/// A gash.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gash {
    shape: GashShape,
}

impl Gash {
    /// Checks a shape.
    ///
    /// # Errors
    /// Where the root falls by less than 5 or more than 75 degrees, the rake is outside −20 to 30,
    /// or a length lies outside the cutter.
    pub fn new(shape: GashShape) -> Result<Self, EndError> {
        let radius_mm = 0.5 * shape.diameter.mm();
        check_within("gash_angle", shape.floor.degrees(), (5.0, 75.0), "deg")?;
        check_within("gash_rake", shape.rake.degrees(), (-20.0, 30.0), "deg")?;
        check_within("gash_root", shape.root.mm(), (0.0, 0.5 * radius_mm), "mm")?;
        let ends = (-0.5 * radius_mm, 0.9 * radius_mm);
        check_within("gash_from_centre", shape.from_centre.mm(), ends, "mm")?;
        Ok(Self { shape })
    }

    /// What it is made of.
    pub const fn shape(&self) -> &GashShape {
        &self.shape
    }

    /// Unit direction of the root, outward, in the tooth's frame: it lies in the face.
    ///
    /// **Source** \[own-derivation\] the direction of the plane through the edge and (0, sin rake,
    /// cos rake) whose slope in the plane of the axis is the floor's. **Departs** nowhere.
    /// **Error** rounding. **Domain** every gash.
    pub fn root(&self) -> Vector3<f64> {
        let (dish, rake) = (self.shape.primary.dish(), self.shape.rake);
        let down = (self.shape.floor.tan() * dish.cos() + dish.sin()) / rake.cos();
        let face_down = Vector3::new(0.0, rake.sin(), rake.cos());
        (self.shape.primary.edge() + face_down * down).normalize()
    }

    /// Unit direction out of the face, ahead of the tooth.
    pub fn face_outward(&self) -> Vector3<f64> {
        let rake = self.shape.rake;
        self.shape.primary.edge().cross(&Vector3::new(0.0, rake.sin(), rake.cos())).normalize()
    }

    /// How deep the root lies below the corner's height at a distance from the axis.
    pub fn depth_at(&self, from_axis: Length) -> Length {
        let half = self.shape.diameter / 2.0;
        let at_mouth = (half - self.shape.from_centre) * self.shape.primary.dish().tan();
        at_mouth + (from_axis - self.shape.from_centre) * self.shape.floor.tan()
    }

    /// How far a wheel's rim that touches the corner is fed square to the root until it runs along
    /// the root, and how far its lowest point then goes along it from the corner to the mouth.
    ///
    /// **Source** \[own-derivation\] the way from corner to mouth, square to the root in the face
    /// and along the root. **Departs** nowhere. **Error** rounding. **Domain** every gash.
    pub fn fed_from_corner(&self) -> (Length, Length) {
        let (from, half) = (self.shape.from_centre, self.shape.diameter / 2.0);
        let way = Vector3::new((from - half).mm(), 0.0, self.depth_at(from).mm());
        let root = self.root();
        let along_mm = -way.dot(&root);
        let across_mm = way.dot(&self.face_outward().cross(&root)).abs();
        (Length::from_mm(across_mm), Length::from_mm(along_mm))
    }

    /// How high the face is at a distance from the axis, from its edge down to the root: what frees
    /// the chip there. The root's own radius takes away from it.
    pub fn height_at(&self, from_axis: Length) -> Length {
        let half = self.shape.diameter / 2.0;
        let edge = (half - from_axis) * self.shape.primary.dish().tan();
        self.depth_at(from_axis) - edge
    }

    /// How far from the axis the face is as high as the root's radius, and so begins to be straight
    /// below its edge; the edge inside that is not freed.
    pub fn free_from(&self) -> Length {
        let rise = self.shape.floor.tan() + self.shape.primary.dish().tan();
        self.shape.from_centre + self.shape.root / rise
    }

    /// What is left of it when a length comes off the end: its mouth moves outward.
    ///
    /// # Errors
    /// Where the mouth would lie outside the cutter: the gash is gone.
    pub fn after_end_ground(&self, taken: Length) -> Result<Self, EndError> {
        let from_centre = self.shape.from_centre + taken / self.shape.floor.tan();
        Self::new(GashShape { from_centre, ..self.shape })
    }

    /// Direction of the cutter's axis toward its shank, in the machine, for a wheel whose side is
    /// the face and whose lowest point runs along the root, led along the travel from outside in:
    /// along the travel, toward the wheel, up; right hand.
    pub fn axis_for(&self) -> [f64; 3] {
        // The root lies along the travel, the face looks at the wheel, the wheel stands above.
        let (along, toward) = (self.root(), self.face_outward());
        let up = along.cross(&toward);
        [along.z, toward.z, up.z]
    }
}
