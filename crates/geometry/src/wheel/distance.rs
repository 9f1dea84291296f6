//! Distance from a wheel's body, in its half section.

use super::profile::{ElementShape, Profile, ProfilePoint};

impl Profile {
    /// Signed distance from the outline to a point, in millimetres: below zero inside the body.
    ///
    /// **Source** \[own-derivation\] the nearest of the outline's lines and arcs; a solid of
    /// revolution is as far from a point as its half section is. **Departs** in knowing the body
    /// only as far back as its walls are drawn. **Error** rounding. **Domain** points on the side
    /// of the face.
    pub(crate) fn distance_mm(&self, point: ProfilePoint) -> f64 {
        let nearest = self.elements().iter().map(|element| element.shape.distance_mm(point));
        let nearest = nearest.fold(f64::INFINITY, f64::min);
        if self.holds(point) { -nearest } else { nearest }
    }
}

impl ElementShape {
    pub(crate) fn distance_mm(&self, point: ProfilePoint) -> f64 {
        match *self {
            Self::Line { from, direction, length_mm } => {
                let (r, a) = (point.radius_mm - from.radius_mm, point.axial_mm - from.axial_mm);
                let along = (r * direction.0 + a * direction.1).clamp(0.0, length_mm);
                (r - along * direction.0).hypot(a - along * direction.1)
            }
            Self::Arc { centre, radius_mm, from_rad, to_rad } => {
                let (r, a) = (point.radius_mm - centre.radius_mm, point.axial_mm - centre.axial_mm);
                let beside = (a.atan2(r) - from_rad).rem_euclid(std::f64::consts::TAU);
                if beside <= to_rad - from_rad {
                    return (r.hypot(a) - radius_mm).abs();
                }
                let end = |at_rad: f64| {
                    (r - radius_mm * at_rad.cos()).hypot(a - radius_mm * at_rad.sin())
                };
                end(from_rad).min(end(to_rad))
            }
        }
    }
}
