//! The finger of the tooth rest under the tooth.

use nalgebra::Vector3;

use super::body::WheelSolid;
use super::passage::{GAP_ERROR_MM, Nearest};
use crate::quantity::{Angle, Length};
use crate::search::dent;

/// A finger that bears on the tooth's face behind its edge, its front standing straight down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finger {
    /// Width of its bearing edge along the cutter, half of it to either side of the contact.
    pub width: Length,
    /// How far below its bearing edge it stands straight.
    pub height: Length,
    /// How far behind the edge, along the tooth's face, its bearing edge ends.
    pub behind_edge: Length,
    /// Radial rake of the face that it bears on.
    pub rake: Angle,
}

impl Finger {
    /// Where its bearing edge ends toward the wheel, seen along the cutter: (toward the wheel, up).
    fn top_mm(&self, edge_radius_mm: f64, setting_rad: f64) -> (f64, f64) {
        let behind_mm = self.behind_edge.mm();
        let (inward_mm, heelward_mm) = (behind_mm * self.rake.cos(), behind_mm * self.rake.sin());
        let (sin, cos) = setting_rad.sin_cos();
        let out_mm = edge_radius_mm - inward_mm;
        (out_mm * cos + heelward_mm * sin, heelward_mm * cos - out_mm * sin)
    }

    /// The place of the front that comes nearest to the wheel.
    ///
    /// **Source** \[own-derivation\] the distance from a convex body is convex, so that along the
    /// finger and down it there is one dent each. **Departs** in taking the
    /// bearing edge as level along the cutter. **Error** 0.01 mm. **Domain** fronts beside the near
    /// rim, where a wheel is convex; edges below the axis by −30 to 60 degrees.
    pub(super) fn nearest(
        &self,
        wheel: &WheelSolid<'_>,
        edge_radius_mm: f64,
        setting_rad: f64,
    ) -> Nearest {
        let (front_mm, top_mm) = self.top_mm(edge_radius_mm, setting_rad);
        let down = (0.0, self.height.mm().max(0.0));
        let half_mm = 0.5 * self.width.mm();
        let point =
            |along_mm: f64, down_mm: f64| Vector3::new(along_mm, front_mm, top_mm - down_mm);
        let gap_mm = |along_mm: f64, down_mm: f64| wheel.distance_mm(&point(along_mm, down_mm));
        let deepest =
            |along_mm: f64| dent(|down_mm| gap_mm(along_mm, down_mm), down, 0.5 * GAP_ERROR_MM);
        let across = (-half_mm, half_mm);
        let (along_mm, _) = dent(|along_mm| deepest(along_mm).1, across, 0.5 * GAP_ERROR_MM);
        let (down_mm, gap) = deepest(along_mm);
        Nearest::new(gap, &point(along_mm, down_mm))
    }
}
