//! A cone on an axis aslant to the travel, its edge on a fixed rest, and a wheel's face as points.
//!
//! The machine stands still in x (along the travel, toward the tip), y (toward the wheel) and z
//! (up); the table carries the cutter along x. The rest is at x = 0, so far below the axis. The
//! axis leans in the x-y plane, its shank's end away from the wheel.

/// Circles of points on the cup's face.
const CIRCLES: u32 = 5;
/// Points on each within the reach of the tooth.
const POINTS: u32 = 1000;

pub(crate) struct Aslant {
    pub(crate) is_disc: bool,
    pub(crate) swivel_rad: f64,
    /// How far the rest stands below the axis.
    pub(crate) height_mm: f64,
    pub(crate) inset_mm: f64,
    pub(crate) lean_rad: f64,
    pub(crate) axis_above_mm: f64,
    pub(crate) wheel_mm: f64,
    pub(crate) face_mm: f64,
    pub(crate) twist_per_mm: f64,
    pub(crate) length_mm: f64,
    /// Radii of the edge at tip, middle and shank's end.
    pub(crate) radii_mm: [f64; 3],
}

impl Aslant {
    /// Radius of the edge, drawn through its three places.
    fn edge_mm(&self, from_tip_mm: f64) -> f64 {
        let [tip, middle, end] = self.radii_mm;
        let share = from_tip_mm / self.length_mm;
        tip + share * (4.0 * middle - 3.0 * tip - end)
            + share * share * (2.0 * (tip + end) - 4.0 * middle)
    }

    /// Where on the cutter the rest bears when the tip stands at `tip_mm` on the travel.
    fn rest_from_tip_mm(&self, tip_mm: f64) -> f64 {
        let (sin, cos) = self.swivel_rad.sin_cos();
        let mut from_tip = tip_mm / cos;
        for _ in 0..12 {
            let radius = self.edge_mm(from_tip);
            let across = (radius * radius - self.height_mm * self.height_mm).sqrt();
            // The rest's y from across = tip sin + y cos, and its place along the axis from y.
            let y = (across - tip_mm * sin) / cos;
            from_tip = tip_mm * cos - y * sin;
        }
        from_tip
    }

    /// A point of the face, so far into it from its leading corner and turned so far round the
    /// wheel's axis. The lean brings the leading corner nearest to the cutter.
    fn point(&self, corner_mm: f64, into_mm: f64, turn_rad: f64) -> [f64; 3] {
        let (sin, cos) = self.lean_rad.sin_cos();
        let from_axis = if self.is_disc { self.wheel_mm } else { self.wheel_mm - into_mm };
        let (around, up) = (from_axis * turn_rad.cos(), from_axis * turn_rad.sin());
        let above = self.axis_above_mm + up;
        let behind = self.wheel_mm - around;
        if self.is_disc {
            // The axis lies along the face, the periphery curves back from the cutter.
            let x = into_mm * cos - behind * sin;
            return [x - self.inset_mm, corner_mm + into_mm * sin + behind * cos, above];
        }
        [behind * cos - self.inset_mm, corner_mm + behind * sin, above]
    }

    /// Heelward angle and radius that a point has in the section at a place.
    fn carried(&self, point: [f64; 3], at_mm: f64) -> (f64, f64) {
        let (sin, cos) = self.swivel_rad.sin_cos();
        let [x, y, z] = point;
        // The table stands so that the point is at the place: -((x - tip) cos + y sin) = at.
        let tip = x + (at_mm + y * sin) / cos;
        let across = (tip - x) * sin + y * cos;
        let rest = self.rest_from_tip_mm(tip);
        let setting = (self.height_mm / self.edge_mm(rest)).asin();
        let theta = z.atan2(across) + setting - self.twist_per_mm * (at_mm - rest);
        (theta, across.hypot(z))
    }

    /// The least radius of the face at a heelward angle and a place.
    pub(crate) fn radius_at(&self, corner_mm: f64, at_mm: f64, theta: f64) -> f64 {
        let circles = (0..CIRCLES).map(|circle| {
            let share = f64::from(circle) / f64::from(CIRCLES - 1);
            self.on_circle((corner_mm, share * self.face_mm), at_mm, theta)
        });
        circles.fold(f64::INFINITY, f64::min)
    }

    fn on_circle(&self, (corner_mm, into_mm): (f64, f64), at_mm: f64, theta: f64) -> f64 {
        let reach = 2.0 * self.radii_mm[2] / self.wheel_mm;
        let turn = |point: u32| reach * (2.0 * f64::from(point) / f64::from(POINTS) - 1.0);
        let carried = |point| self.carried(self.point(corner_mm, into_mm, turn(point)), at_mm);
        let mut before = carried(0);
        let mut least = f64::INFINITY;
        for point in 1..=POINTS {
            let after = carried(point);
            let (low, high) = (before.0.min(after.0), before.0.max(after.0));
            if (low..=high).contains(&theta) && high > low {
                let share = (theta - before.0) / (after.0 - before.0);
                least = least.min(before.1 + share * (after.1 - before.1));
            }
            before = after;
        }
        least
    }

    /// Where the wheel's leading corner stands when the section at a place passes a heelward angle
    /// at a radius.
    pub(crate) fn corner_for(&self, (at_mm, theta): (f64, f64), wanted_mm: f64) -> f64 {
        let mut corner_mm = wanted_mm;
        for _ in 0..12 {
            corner_mm += wanted_mm - self.radius_at(corner_mm, at_mm, theta);
        }
        corner_mm
    }
}
