//! Contact curves: where on a wheel the envelope of its screw motion can lie.
//!
//! The lower envelope is reached either on a circle of the wheel (a corner) or where the wheel's
//! normal stands square to the screw motion. On a plane, a cone, a cylinder or a ring (a rounded
//! corner) the latter is a curve in closed form, because the normal of a solid of revolution
//! passes through its axis. Each curve is followed by one parameter.

use nalgebra::Vector3;

use crate::screw::Screw;
use crate::wheel::{Element, ElementShape, Part, Pose, ProfilePoint, Vertex};

/// A wheel in its place, turning past a tooth that rides on its rest.
#[derive(Clone, Copy, Debug)]
pub(super) struct Meeting {
    pub(super) pose: Pose,
    pub(super) screw: Screw,
}

/// A point of a contact curve, seen in the tooth's section.
#[derive(Clone, Copy, Debug)]
pub(super) struct Touch {
    /// The point of the wheel in machine coordinates.
    pub(super) point: Vector3<f64>,
    /// Heelward angle in the section.
    pub(super) heelward_rad: f64,
    /// Distance from the cutter's axis.
    pub(super) radius_mm: f64,
    /// Slope of the section, millimetres of radius per radian heelward.
    pub(super) slope_mm_per_rad: f64,
    /// Radius gained per millimetre by which the wheel is backed off.
    pub(super) per_backing_off: f64,
}

/// One contact curve with the range of its parameter.
#[derive(Clone, Copy, Debug)]
pub(super) struct Curve {
    pub(super) part: Part,
    pub(super) from: f64,
    pub(super) to: f64,
    track: Track,
}

#[derive(Clone, Copy, Debug)]
enum Track {
    /// A circle of the wheel; the parameter is the tangent of half the angle round the axis.
    Circle { at: ProfilePoint },
    /// The straight contact line on a plane square to the axis.
    Plane { axial_mm: f64, normal_axial: f64, foot: (f64, f64), along: (f64, f64) },
    /// A contact curve on a cylinder or cone; the parameter runs along the profile.
    Cone { cone: Cone, side: f64, run: Run },
    /// A contact curve on a ring; the parameter is the tangent of half the angle round the axis.
    Ring { centre: ProfilePoint, radius_mm: f64, sense: f64 },
}

/// A cylinder or cone and its contact condition `(a0 + s·a1) cos φ + (b0 + s·b1) sin φ = c`.
#[derive(Clone, Copy, Debug)]
struct Cone {
    start: ProfilePoint,
    direction: (f64, f64),
    a: (f64, f64),
    b: (f64, f64),
    c: f64,
}

/// How a parameter from 0 to 1 runs along a profile: straight, or quadratically out of a fold
/// where two branches of the contact curve meet and the straight run would be singular.
#[derive(Clone, Copy, Debug)]
struct Run {
    from_mm: f64,
    to_mm: f64,
    from_fold: bool,
}

impl Run {
    fn at(self, parameter: f64) -> f64 {
        let share = if self.from_fold { parameter * parameter } else { parameter };
        self.from_mm + (self.to_mm - self.from_mm) * share
    }
}

/// Crossing with the t axis' unit vector: v × e_t.
fn cross_t(v: &Vector3<f64>) -> Vector3<f64> {
    Vector3::new(0.0, v.z, -v.y)
}

/// Cosine and sine of the angle whose half has this tangent.
fn from_half_tangent(half_tangent: f64) -> (f64, f64) {
    let square = half_tangent * half_tangent;
    let scale = 1.0 / (1.0 + square);
    ((1.0 - square) * scale, 2.0 * half_tangent * scale)
}

impl Meeting {
    fn around(&self, (cos, sin): (f64, f64)) -> Vector3<f64> {
        self.pose.near * cos + self.pose.side * sin
    }

    fn point(&self, at: ProfilePoint, around: &Vector3<f64>) -> Vector3<f64> {
        self.pose.origin + self.pose.axis * at.axial_mm + around * at.radius_mm
    }

    fn touch(&self, point: Vector3<f64>, normal: &Vector3<f64>) -> Touch {
        let radius_mm = (point.y * point.y + point.z * point.z).sqrt();
        let outward = normal.y * point.y + normal.z * point.z;
        let heelward = normal.z * point.y - normal.y * point.z;
        Touch {
            point,
            heelward_rad: self.screw.heelward_rad(&point),
            radius_mm,
            slope_mm_per_rad: -radius_mm * heelward / outward,
            per_backing_off: normal.y * radius_mm / outward,
        }
    }

    /// The contact condition on a surface of revolution whose profile has the normal
    /// (`radial`, `axial`) at `at`: returns (A, B, C) of `A cos φ + B sin φ = C`.
    ///
    /// **Source** \[docarmo-curves-surfaces\] envelope of a one-parameter motion: the normal stands
    /// square to the velocity, n·(e + κ p × e) = 0, with p written as origin + axial·u +
    /// radius·e(φ). **Departs** nowhere. **Error** rounding only. **Domain** any pose, any helix
    /// below 90 degrees.
    fn condition(&self, at: ProfilePoint, (radial, axial): (f64, f64)) -> (f64, f64, f64) {
        let (pose, twist) = (&self.pose, self.screw.twist_rad_per_mm);
        let axis_point = pose.origin + pose.axis * at.axial_mm;
        let swept = Vector3::x() + cross_t(&axis_point) * twist;
        let g = swept * radial - cross_t(&pose.axis) * (twist * at.radius_mm * axial);
        let carried = pose.axis.x + twist * pose.axis.dot(&cross_t(&pose.origin));
        (g.dot(&pose.near), g.dot(&pose.side), -axial * carried)
    }

    /// Adds the circle of one vertex.
    pub(super) fn add_circle(&self, vertex: &Vertex, curves: &mut Vec<Curve>) {
        if vertex.at.radius_mm > 1e-9 {
            let track = Track::Circle { at: vertex.at };
            curves.push(Curve { part: vertex.part, from: -1.0, to: 1.0, track });
        }
    }

    /// Adds the contact curves on one element of the profile.
    pub(super) fn add_contacts(&self, element: &Element, curves: &mut Vec<Curve>) {
        match element.shape {
            ElementShape::Line { from, direction, length_mm } => {
                let normal = (direction.1, -direction.0);
                if normal.0.abs() < 1e-12 {
                    self.add_plane(element.part, from, direction, length_mm, curves);
                } else {
                    self.add_cone(element.part, from, direction, length_mm, curves);
                }
            }
            ElementShape::Arc { centre, radius_mm, from_rad, to_rad } => {
                self.add_ring(element.part, centre, radius_mm, (from_rad, to_rad), curves);
            }
        }
    }

    fn add_plane(
        &self,
        part: Part,
        from: ProfilePoint,
        direction: (f64, f64),
        length_mm: f64,
        curves: &mut Vec<Curve>,
    ) {
        let normal_axial = -direction.0;
        let unit = ProfilePoint::new(1.0, from.axial_mm);
        let (a, b, c) = self.condition(unit, (0.0, normal_axial));
        let square = a * a + b * b;
        if square < 1e-24 {
            return;
        }
        let foot = (a * c / square, b * c / square);
        let foot_mm = foot.0.hypot(foot.1);
        let along = (b / square.sqrt(), -a / square.sqrt());
        let end_mm = from.radius_mm + direction.0 * length_mm;
        let (inner, outer) = (from.radius_mm.min(end_mm), from.radius_mm.max(end_mm));
        if foot_mm >= outer {
            return;
        }
        let reach = ((outer - foot_mm) * (outer + foot_mm)).sqrt();
        let hollow = ((inner - foot_mm) * (inner + foot_mm)).max(0.0).sqrt();
        let track = Track::Plane { axial_mm: from.axial_mm, normal_axial, foot, along };
        let ranges = if hollow > 0.0 {
            vec![(-reach, -hollow), (hollow, reach)]
        } else {
            vec![(-reach, reach)]
        };
        for (low, high) in ranges {
            if let Some((from, to)) = near_half(foot.0, along.0, low, high) {
                curves.push(Curve { part, from, to, track });
            }
        }
    }

    fn add_cone(
        &self,
        part: Part,
        start: ProfilePoint,
        direction: (f64, f64),
        length_mm: f64,
        curves: &mut Vec<Curve>,
    ) {
        let normal = (direction.1, -direction.0);
        let (a0, b0, c) = self.condition(start, normal);
        let sweep = self.screw.twist_rad_per_mm * (normal.0 * direction.1 - normal.1 * direction.0);
        let change = cross_t(&self.pose.axis) * sweep;
        let a = (a0, change.dot(&self.pose.near));
        let b = (b0, change.dot(&self.pose.side));
        if a0 * a0 + b0 * b0 + (a.1 * a.1 + b.1 * b.1) * length_mm * length_mm < 1e-24 {
            return;
        }
        let cone = Cone { start, direction, a, b, c };
        for side in [-1.0, 1.0] {
            for run in cone.runs(length_mm, side) {
                let track = Track::Cone { cone, side, run };
                curves.push(Curve { part, from: 0.0, to: 1.0, track });
            }
        }
    }

    fn add_ring(
        &self,
        part: Part,
        centre: ProfilePoint,
        radius_mm: f64,
        (from_rad, to_rad): (f64, f64),
        curves: &mut Vec<Curve>,
    ) {
        let mut ends = vec![-1.0, 1.0];
        for normal_rad in [from_rad, to_rad] {
            let (a, b, c) = self.condition(centre, (normal_rad.cos(), normal_rad.sin()));
            ends.extend(half_tangents(a, b, c));
        }
        ends.sort_by(f64::total_cmp);
        for pair in ends.windows(2) {
            if pair[1] - pair[0] < 1e-12 {
                continue;
            }
            let middle = 0.5 * (pair[0] + pair[1]);
            let normal = self.ring_normal(centre, from_half_tangent(middle));
            for sense in [-1.0, 1.0] {
                let angle = (sense * normal.1).atan2(sense * normal.0);
                if is_between(angle, from_rad, to_rad) {
                    let track = Track::Ring { centre, radius_mm, sense };
                    curves.push(Curve { part, from: pair[0], to: pair[1], track });
                }
            }
        }
    }

    /// Profile normal (radial, axial), up to its sense, at which a ring can touch at one angle
    /// round its axis.
    fn ring_normal(&self, centre: ProfilePoint, around: (f64, f64)) -> (f64, f64) {
        let around = self.around(around);
        let swept = self.screw.direction(&self.point(centre, &around));
        let (radial, axial) = (around.dot(&swept), self.pose.axis.dot(&swept));
        let size = radial.hypot(axial).max(f64::MIN_POSITIVE);
        (axial / size, -radial / size)
    }

    /// The point of a curve at one value of its parameter.
    pub(super) fn at(&self, curve: &Curve, parameter: f64) -> Touch {
        match curve.track {
            Track::Circle { at } => {
                let (cos, sin) = from_half_tangent(parameter);
                let around = self.around((cos, sin));
                let point = self.point(at, &around);
                let tangent = self.pose.side * cos - self.pose.near * sin;
                self.touch(point, &tangent.cross(&self.screw.direction(&point)))
            }
            Track::Plane { axial_mm, normal_axial, foot, along } => {
                let (x, y) = (foot.0 + parameter * along.0, foot.1 + parameter * along.1);
                let pose = &self.pose;
                let point = pose.origin + pose.axis * axial_mm + pose.near * x + pose.side * y;
                self.touch(point, &(pose.axis * normal_axial))
            }
            Track::Cone { ref cone, side, run } => {
                let along_mm = run.at(parameter);
                let (at, around) = cone.at(along_mm, side);
                let around = self.around(around);
                let normal = around * cone.direction.1 - self.pose.axis * cone.direction.0;
                self.touch(self.point(at, &around), &normal)
            }
            Track::Ring { centre, radius_mm, sense } => {
                let direction = from_half_tangent(parameter);
                let (radial, axial) = self.ring_normal(centre, direction);
                let around = self.around(direction);
                let normal = (around * radial + self.pose.axis * axial) * sense;
                self.touch(self.point(centre, &around) + normal * radius_mm, &normal)
            }
        }
    }
}

impl Cone {
    fn at(&self, along_mm: f64, side: f64) -> (ProfilePoint, (f64, f64)) {
        let a = self.a.0 + self.a.1 * along_mm;
        let b = self.b.0 + self.b.1 * along_mm;
        let square = (a * a + b * b).max(f64::MIN_POSITIVE);
        let root = (square - self.c * self.c).max(0.0).sqrt() * side;
        let around = ((a * self.c - b * root) / square, (b * self.c + a * root) / square);
        let at = ProfilePoint::new(
            self.start.radius_mm + self.direction.0 * along_mm,
            self.start.axial_mm + self.direction.1 * along_mm,
        );
        (at, around)
    }

    /// The runs along the profile on which one branch exists on the near half of the wheel.
    fn runs(&self, length_mm: f64, side: f64) -> Vec<Run> {
        let folds = self.folds();
        let mut ends = vec![0.0, length_mm];
        ends.extend(folds);
        if self.b.1.abs() > 1e-300 {
            ends.extend([(self.c - self.b.0) / self.b.1, (-self.c - self.b.0) / self.b.1]);
        }
        ends.retain(|end| (0.0..=length_mm).contains(end));
        ends.sort_by(f64::total_cmp);
        let is_fold = |end: f64| folds.contains(&end);
        let mut runs = Vec::new();
        for pair in ends.windows(2) {
            let (low, high) = (pair[0], pair[1]);
            if high - low < 1e-12 || !self.exists(0.5 * (low + high), side) {
                continue;
            }
            match (is_fold(low), is_fold(high)) {
                (true, true) => {
                    let middle = 0.5 * (low + high);
                    runs.push(Run { from_mm: low, to_mm: middle, from_fold: true });
                    runs.push(Run { from_mm: high, to_mm: middle, from_fold: true });
                }
                (false, true) => runs.push(Run { from_mm: high, to_mm: low, from_fold: true }),
                (fold, false) => runs.push(Run { from_mm: low, to_mm: high, from_fold: fold }),
            }
        }
        runs
    }

    /// Where the two branches meet: the roots of `a² + b² = c²`; not a number where there is none.
    fn folds(&self) -> [f64; 2] {
        let square = self.a.1 * self.a.1 + self.b.1 * self.b.1;
        let half = self.a.0 * self.a.1 + self.b.0 * self.b.1;
        let rest = self.a.0 * self.a.0 + self.b.0 * self.b.0 - self.c * self.c;
        let root = (half * half - square * rest).sqrt();
        [(-half - root) / square, (-half + root) / square]
    }

    fn exists(&self, along_mm: f64, side: f64) -> bool {
        let a = self.a.0 + self.a.1 * along_mm;
        let b = self.b.0 + self.b.1 * along_mm;
        a * a + b * b >= self.c * self.c && self.at(along_mm, side).1.0 >= 0.0
    }
}

/// The part of a line's range where its first plane coordinate is not negative.
fn near_half(foot: f64, along: f64, low: f64, high: f64) -> Option<(f64, f64)> {
    if along.abs() < 1e-15 {
        return (foot >= 0.0).then_some((low, high));
    }
    let zero = -foot / along;
    let (low, high) = if along > 0.0 { (low.max(zero), high) } else { (low, high.min(zero)) };
    (low < high).then_some((low, high))
}

/// Half-angle tangents of the solutions of `a cos φ + b sin φ = c` on the near half.
fn half_tangents(a: f64, b: f64, c: f64) -> Vec<f64> {
    let size = a.hypot(b);
    if size <= c.abs() || size < 1e-300 {
        return Vec::new();
    }
    let (middle, spread) = (b.atan2(a), (c / size).acos());
    let near =
        |angle: f64| (angle.cos() >= 0.0).then(|| (0.5 * angle.sin().atan2(angle.cos())).tan());
    [middle - spread, middle + spread].into_iter().filter_map(near).collect()
}

/// Whether an angle, taken round the circle, lies between two others.
fn is_between(angle: f64, from: f64, to: f64) -> bool {
    (angle - from).rem_euclid(std::f64::consts::TAU) <= to - from
}
