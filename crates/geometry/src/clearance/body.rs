//! The whole body of a wheel in its place: rim, back and what it is fastened by.

use nalgebra::Vector3;

use crate::quantity::Length;
use crate::wheel::{ElementShape, Pose, ProfilePoint, WheelBody, WheelKind};

/// What is known of a wheel behind its face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelBack {
    /// Depth of a cup from its face to its back, thickness of a disc.
    pub depth: Length,
    /// The greatest diameter of flange, nut and spindle beside the wheel, where that is known.
    pub spindle_diameter: Option<Length>,
}

/// How far a spindle is taken to reach from its wheel, in millimetres: beyond every cutter.
const SPINDLE_MM: f64 = 1000.0;

/// A wheel as a closed half section in its place. The hollow of a cup is open to its back, which is
/// taken as a plate without thickness.
#[derive(Clone, Debug)]
pub(super) struct WheelSolid<'a> {
    body: &'a WheelBody,
    pub(super) pose: Pose,
    pub(super) elements: Vec<ElementShape>,
    /// How many of the elements, from the first, are the rim's own skin.
    pub(super) rim: usize,
    /// The body ends here, on the wheel's axis.
    depth_mm: f64,
}

/// A straight stretch between two points; None where they are one.
fn line(from: ProfilePoint, to: ProfilePoint) -> Option<ElementShape> {
    let (radial, axial) = (to.radius_mm - from.radius_mm, to.axial_mm - from.axial_mm);
    let length_mm = radial.hypot(axial);
    let direction = (radial / length_mm, axial / length_mm);
    (length_mm > 1e-12).then_some(ElementShape::Line { from, direction, length_mm })
}

/// The point at which a wall, followed from the face, reaches the back or the wheel's axis.
fn wall_end(face_end: ProfilePoint, (radial, axial): (f64, f64), depth_mm: f64) -> ProfilePoint {
    let to_back_mm = ((depth_mm - face_end.axial_mm) / axial.max(1e-12)).max(0.0);
    let to_axis_mm = if radial < 0.0 { face_end.radius_mm / -radial } else { f64::INFINITY };
    face_end.toward((radial, axial), to_back_mm.min(to_axis_mm))
}

impl<'a> WheelSolid<'a> {
    pub(super) fn new(body: &'a WheelBody, pose: Pose, back: &WheelBack) -> Self {
        let mut elements: Vec<ElementShape> =
            body.profile().elements().iter().map(|element| element.shape).collect();
        let depth_mm = match body.kind() {
            WheelKind::Cup => close_cup(&mut elements, back.depth.mm()),
            WheelKind::Disc => body.face_width_mm(),
        };
        let rim = elements.len() - usize::from(body.kind() == WheelKind::Cup);
        if let Some(diameter) = back.spindle_diameter {
            let radius_mm = 0.5 * diameter.mm();
            // A cup's spindle stands behind it; beside a disc there is a nut on the one side and
            // the spindle on the other, and which is which hangs on the machine.
            let from_mm = if body.kind() == WheelKind::Cup { depth_mm } else { -SPINDLE_MM };
            let ends = [from_mm, depth_mm + SPINDLE_MM];
            let [near, far] = ends.map(|axial_mm| ProfilePoint::new(radius_mm, axial_mm));
            elements.extend(line(near, far));
        }
        Self { body, pose, elements, rim, depth_mm }
    }

    /// Signed distance from the body to a point, in millimetres: below zero inside the rim.
    ///
    /// **Source** \[own-derivation\] a solid of revolution is as far from a point as its half
    /// section is. **Departs** in taking a cup's back as a plate, its spindle's skin as a sleeve,
    /// neither of which has an inside. **Error** rounding. **Domain** every point.
    pub(super) fn distance_mm(&self, point: &Vector3<f64>) -> f64 {
        let from = point - self.pose.origin;
        let axial_mm = from.dot(&self.pose.axis);
        let at = ProfilePoint::new((from - self.pose.axis * axial_mm).norm(), axial_mm);
        let nearest = self.elements.iter().map(|shape| shape.distance_mm(at));
        let nearest_mm = nearest.fold(f64::INFINITY, f64::min);
        let is_inside = axial_mm <= self.depth_mm && self.body.profile().holds(at);
        if is_inside { -nearest_mm } else { nearest_mm }
    }

    /// A point of the body's surface: a place of the half section, turned from the near side.
    pub(super) fn point(&self, at: ProfilePoint, turn_rad: f64) -> Vector3<f64> {
        let pose = &self.pose;
        let (sin, cos) = turn_rad.sin_cos();
        pose.origin + pose.axis * at.axial_mm + (pose.near * cos + pose.side * sin) * at.radius_mm
    }

    /// The greatest radius of the body and of what it is fastened by.
    pub(super) fn radius_mm(&self) -> f64 {
        let ends = self.elements.iter().map(|shape| match *shape {
            ElementShape::Line { from, direction, length_mm } => {
                from.radius_mm.max(from.toward(direction, length_mm).radius_mm)
            }
            ElementShape::Arc { centre, radius_mm, .. } => centre.radius_mm + radius_mm,
        });
        ends.fold(self.body.radius_mm(), f64::max)
    }

    pub(super) const fn kind(&self) -> WheelKind {
        self.body.kind()
    }
}

/// Carries the walls of a cup to its back and closes it there; gives the depth of that back.
fn close_cup(elements: &mut Vec<ElementShape>, depth_mm: f64) -> f64 {
    let (Some(&inner), Some(&outer)) = (elements.first(), elements.last()) else {
        return depth_mm;
    };
    let (
        ElementShape::Line { from, direction, length_mm },
        ElementShape::Line { from: start, direction: outward, .. },
    ) = (inner, outer)
    else {
        return depth_mm;
    };
    let rim = from.toward(direction, length_mm);
    // A wheel worn down to its corners still has these.
    let depth_mm = depth_mm.max(rim.axial_mm).max(start.axial_mm) + 1e-6;
    let inside = wall_end(rim, (-direction.0, -direction.1), depth_mm);
    let outside = wall_end(start, outward, depth_mm);
    let centre = ProfilePoint::new(0.0, depth_mm);
    elements.remove(0);
    elements.pop();
    elements.extend(
        [(inside, rim), (start, outside), (outside, centre)]
            .iter()
            .filter_map(|(from, to)| line(*from, *to)),
    );
    depth_mm
}
