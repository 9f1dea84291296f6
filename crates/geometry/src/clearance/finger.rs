//! The finger of the tooth rest under the tooth.

use nalgebra::Vector3;

use super::body::WheelSolid;
use super::passage::{GAP_ERROR_MM, Nearest};
use crate::quantity::{Angle, Length};
use crate::search::place_below;

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
    /// **Source** \[own-derivation\] the wheel's distance changes no faster than the place, down
    /// the front and along it. **Departs** in taking the bearing edge as level along the cutter.
    /// **Error** 0.01 mm. **Domain** edges below the axis by a setting of −30 to 60 degrees.
    pub(super) fn nearest(
        &self,
        wheel: &WheelSolid<'_>,
        edge_radius_mm: f64,
        setting_rad: f64,
    ) -> Option<Nearest> {
        let (front_mm, top_mm) = self.top_mm(edge_radius_mm, setting_rad);
        let down = (0.0, self.height.mm().max(0.0));
        let point =
            |along_mm: f64, down_mm: f64| Vector3::new(along_mm, front_mm, top_mm - down_mm);
        let deepest = |along_mm: f64| {
            let gap_mm = |down_mm: f64| wheel.distance_mm(&point(along_mm, down_mm));
            place_below(gap_mm, down, GAP_ERROR_MM, f64::INFINITY)
        };
        let half_mm = 0.5 * self.width.mm();
        let gap_mm = |along_mm: f64| deepest(along_mm).map_or(f64::INFINITY, |(_, gap_mm)| gap_mm);
        let (along_mm, gap_mm) =
            place_below(gap_mm, (-half_mm, half_mm), 2.0 * GAP_ERROR_MM, f64::INFINITY)?;
        let (down_mm, _) = deepest(along_mm)?;
        Some(Nearest::new(gap_mm, &point(along_mm, down_mm)))
    }
}
