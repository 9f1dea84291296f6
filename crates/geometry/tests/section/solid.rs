//! A wheel as a solid whose distance from any point is known, built from its plain sizes and from
//! where the set-up's words put it; it shares nothing with the kernel's profile, pose and contact
//! curves.

use geometry::wheel::WheelKind;

use crate::cases::Case;

pub(crate) type Point = [f64; 3];

fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn minus(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn tipped([t, y, z]: Point, tilt: f64) -> Point {
    let (sin, cos) = tilt.to_radians().sin_cos();
    [t, y * cos - z * sin, z * cos + y * sin]
}

/// A half plane of the wheel's half section: outside where `normal · p > reach`.
#[derive(Clone, Copy, Debug)]
struct Side {
    normal: (f64, f64),
    reach: f64,
}

impl Side {
    /// Through a point, facing the way of an angle from the radial toward the axial direction.
    fn through(at: (f64, f64), facing: f64) -> Self {
        let normal = (facing.cos(), facing.sin());
        Self { normal, reach: normal.0 * at.0 + normal.1 * at.1 }
    }

    /// Through two points, facing to the right of the way from one to the other.
    fn between(from: (f64, f64), to: (f64, f64)) -> Self {
        Self::through(from, (from.0 - to.0).atan2(to.1 - from.1))
    }

    fn outside(&self, at: (f64, f64)) -> f64 {
        self.normal.0 * at.0 + self.normal.1 * at.1 - self.reach
    }

    fn corner(&self, other: &Self) -> (f64, f64) {
        let area = self.normal.0 * other.normal.1 - self.normal.1 * other.normal.0;
        (
            (self.reach * other.normal.1 - other.reach * self.normal.1) / area,
            (self.normal.0 * other.reach - other.normal.0 * self.reach) / area,
        )
    }

    fn drawn_in(&self, by: f64) -> Self {
        Self { reach: self.reach - by, ..*self }
    }
}

/// The half section: a face between two flanks, each corner rounded.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Solid {
    sides: [Side; 3],
    /// The flat of a worn leading corner.
    flat: Option<Side>,
    /// Radii of the corners between the first two sides and the last two.
    rounds: [f64; 2],
    radius: f64,
    origin: Point,
    axis: Point,
    near: Point,
}

impl Solid {
    /// The wheel of a case with its leading corner's nearest point `away` from the cutter's axis.
    pub(crate) fn of(case: &Case, away: f64) -> Self {
        let (sin, cos) = case.lean.to_radians().sin_cos();
        let (wheel, along) = (0.5 * case.wheel, case.along());
        let turn = std::f64::consts::FRAC_PI_2;
        // The face runs along the cutter from the leading corner and falls back by the lean; the
        // wheel's other direction is square to it, away from the cutter.
        let face = [along * cos, sin, 0.0];
        let back = [-along * sin, cos, 0.0];
        let (face_gone, flank_gone) = case.worn;
        let (sides, worn_ends, axis, near) = match case.kind {
            WheelKind::Cup => {
                let (outer, inner) = (case.walls.0.to_radians(), case.walls.1.to_radians());
                let sides = [
                    Side::through((wheel, 0.0), outer),
                    Side::through((wheel, 0.0), -turn),
                    Side::through((wheel - case.face, 0.0), 2.0 * turn + inner),
                ];
                let on_flank = (wheel - flank_gone * outer.sin(), flank_gone * outer.cos());
                let ends = [(wheel - face_gone, 0.0), on_flank];
                (sides, ends, back, face.map(|part| -part))
            }
            WheelKind::Disc => {
                let sides = [
                    Side::through((wheel, 0.0), -turn),
                    Side::through((wheel, 0.0), 0.0),
                    Side::through((wheel, case.face), turn),
                ];
                let ends = [(wheel - flank_gone, 0.0), (wheel, face_gone)];
                (sides, ends, face, back.map(|part| -part))
            }
        };
        let corner = [-along * case.inset, away, case.above];
        // Tipped about a line along the cutter through the corner: the upper side comes nearer.
        let (axis, near) = (tipped(axis, case.tilt), tipped(near, case.tilt));
        let origin = [0, 1, 2].map(|part| corner[part] - wheel * near[part]);
        let flat = (face_gone > 0.0).then(|| Side::between(worn_ends[0], worn_ends[1]));
        Self {
            sides,
            flat,
            rounds: [case.leading, case.trailing],
            radius: wheel,
            origin,
            axis,
            near,
        }
    }

    /// How far a point is from the wheel; negative inside. Nothing beyond `share` of the wheel's
    /// radius from its axis toward the cutter: at 0 that leaves the near half.
    pub(crate) fn distance(&self, point: Point, share: f64) -> Option<f64> {
        let from = minus(point, self.origin);
        if dot(from, self.near) < share * self.radius {
            return None;
        }
        let axial = dot(from, self.axis);
        // The back of a cup is farther behind its face than anything that matters here.
        if axial > self.radius {
            return None;
        }
        let radial = (dot(from, from) - axial * axial).max(0.0).sqrt();
        Some(self.section_distance((radial, axial)))
    }

    /// Whether the cutter's axis runs through the wheel's near half.
    pub(crate) fn holds_axis(&self) -> bool {
        let reach = 2.0 * self.radius + self.origin[0].abs();
        let mut t = -reach;
        while t < reach {
            let Some(distance) = self.distance([t, 0.0, 0.0], 0.0) else {
                t += 1e-3 * self.radius;
                continue;
            };
            if distance <= 0.0 {
                return true;
            }
            t += distance.max(1e-4 * self.radius);
        }
        false
    }

    /// A convex section: the farthest of its sides, or, off a rounded corner, the distance from
    /// the circle in it. Never more than the true distance, and that distance within the sides.
    fn section_distance(&self, at: (f64, f64)) -> f64 {
        let [first, middle, last] = &self.sides;
        let by_sides = self
            .sides
            .iter()
            .chain(&self.flat)
            .map(|side| side.outside(at))
            .fold(f64::MIN, f64::max);
        let leading = off_corner(first, middle, self.rounds[0], at);
        let trailing = off_corner(middle, last, self.rounds[1], at);
        by_sides.max(leading).max(trailing)
    }
}

/// Distance from the circle that rounds a corner, where the point lies off that corner.
fn off_corner(one: &Side, other: &Side, radius: f64, at: (f64, f64)) -> f64 {
    let (one_in, other_in) = (one.drawn_in(radius), other.drawn_in(radius));
    let centre = one_in.corner(&other_in);
    let from = (at.0 - centre.0, at.1 - centre.1);
    // Between the two sides' normals: a sum of both with no negative share.
    let across = one.normal.0 * other.normal.1 - one.normal.1 * other.normal.0;
    let of_one = (from.0 * other.normal.1 - from.1 * other.normal.0) / across;
    let of_other = (one.normal.0 * from.1 - one.normal.1 * from.0) / across;
    if of_one < 0.0 || of_other < 0.0 { f64::MIN } else { from.0.hypot(from.1) - radius }
}
