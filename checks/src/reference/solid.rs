//! The wheel as a solid in space, for the dense scan: is a point inside, and where does a
//! half-line enter?

use super::setup::{Setup, Wheel};

/// A point or a direction as `(t, y, z)` in millimetres.
pub type Vector = [f64; 3];

/// A stretch of a half-line, as its first and last distance from the start.
type Span = (f64, f64);

/// A wheel standing in the machine frame.
///
/// Its own coordinates are `axial` (into the body, from the plane of the leading corner along the
/// wheel's axis), `across` (level, from the axis away from the leading side) and the height above
/// the axis. The body is what lies at `0 <= axial <= depth` and within the outer radius of the
/// axis, less the rounded-off corner; a cup lacks its bore too, and counts on the leading side
/// (`across <= 0`) only.
#[derive(Clone, Copy, Debug)]
pub struct Solid {
    centre: Vector,
    axial: Vector,
    across: Vector,
    outer_mm: f64,
    bore_mm: Option<f64>,
    depth_mm: f64,
    corner_mm: f64,
}

/// A half-line in the wheel's own coordinates: the start and the change per unit of distance.
struct LocalLine {
    axial: (f64, f64),
    across: (f64, f64),
    height: (f64, f64),
}

impl Solid {
    /// The wheel of `setup` with its virtual leading corner at the distance `corner_y_mm` from
    /// the cutter's axis, taken along `y` at the height of the wheel's axis.
    ///
    /// The contract sets no depth for a cup's rim; it is taken as long as the wheel's diameter,
    /// more than any half-line within reach can tell.
    pub fn new(setup: &Setup, corner_y_mm: f64) -> Self {
        let (sin, cos) = setup.lean_rad.sin_cos();
        let along = [setup.facing() * cos, sin, 0.0];
        let back = [-setup.facing() * sin, cos, 0.0];
        let (axial, across, depth_mm) = match setup.wheel {
            Wheel::Cup => (back, along, setup.diameter_mm),
            Wheel::Disc => (along, back, setup.face_width_mm),
        };
        let corner = [setup.corner_t_mm(), corner_y_mm, setup.centre_above_mm];
        let outer_mm = setup.wheel_radius_mm();
        Self {
            centre: plus(corner, across, outer_mm),
            axial,
            across,
            outer_mm,
            bore_mm: setup.bore_radius_mm(),
            depth_mm,
            corner_mm: setup.corner_radius_mm,
        }
    }

    /// True where the point belongs to the wheel's body, its surface included.
    pub fn contains(&self, point: Vector) -> bool {
        let line = self.local(point, [0.0; 3]);
        let radius = line.across.0.hypot(line.height.0);
        let in_rim = self.bore_mm.is_none_or(|bore| radius >= bore && line.across.0 <= 0.0);
        let in_width = (0.0..=self.depth_mm).contains(&line.axial.0);
        in_width
            && radius <= self.outer_mm
            && self.corner_excess(line.axial.0, radius) <= 0.0
            && in_rim
    }

    /// Distance from `start` at which the half-line along the unit vector `direction` first
    /// stands in the body; zero where it starts inside, `None` where it misses.
    pub fn first_hit(&self, start: Vector, direction: Vector) -> Option<f64> {
        let line = self.local(start, direction);
        let mut span = common((0.0, f64::INFINITY), slab(line.axial, 0.0, self.depth_mm)?)?;
        span = common(span, line.within(self.outer_mm)?)?;
        if self.bore_mm.is_some() {
            span = common(span, slab(line.across, f64::NEG_INFINITY, 0.0)?)?;
        }
        let entry = self.past_the_corner(&line, span)?;
        let Some((bore_in, bore_out)) = self.bore_mm.and_then(|bore| line.within(bore)) else {
            return Some(entry);
        };
        if entry <= bore_in || entry >= bore_out {
            return Some(entry);
        }
        (bore_out <= span.1).then_some(bore_out)
    }

    fn local(&self, start: Vector, direction: Vector) -> LocalLine {
        let from_centre = plus(start, self.centre, -1.0);
        LocalLine {
            axial: (dot(from_centre, self.axial), dot(direction, self.axial)),
            across: (dot(from_centre, self.across), dot(direction, self.across)),
            height: (from_centre[2], direction[2]),
        }
    }

    /// How far a point stands outside the rounded body, where only the face, the outer wall and
    /// the arc between them count: its distance from the body shrunk by the arc's radius, less
    /// that radius. The shrunk body is convex, so this is convex along any line.
    fn corner_excess(&self, axial: f64, radius: f64) -> f64 {
        let ahead = (self.corner_mm - axial).max(0.0);
        let outside = (radius - (self.outer_mm - self.corner_mm)).max(0.0);
        ahead.hypot(outside) - self.corner_mm
    }

    /// First distance within `span` at which the line is inside the rounded body, given that it
    /// is inside the sharp-cornered one all along `span`.
    fn past_the_corner(&self, line: &LocalLine, span: Span) -> Option<f64> {
        let excess = |s: f64| self.corner_excess(at(line.axial, s), line.radius(s));
        if self.corner_mm <= 0.0 || excess(span.0) <= 0.0 {
            return Some(span.0);
        }
        let mut inside = point_below_zero(&excess, span)?;
        let mut outside = span.0;
        while inside - outside > 1e-14 * inside.abs().max(1.0) {
            let middle = 0.5 * (inside + outside);
            if middle <= outside || middle >= inside {
                break;
            }
            if excess(middle) <= 0.0 {
                inside = middle;
            } else {
                outside = middle;
            }
        }
        Some(inside)
    }
}

impl LocalLine {
    fn radius(&self, s: f64) -> f64 {
        at(self.across, s).hypot(at(self.height, s))
    }

    /// The stretch that lies within `radius_mm` of the wheel's axis, the quadratic solved in the
    /// form that loses no digits for a line nearly parallel to the axis.
    fn within(&self, radius_mm: f64) -> Option<Span> {
        let ((x, dx), (z, dz)) = (self.across, self.height);
        let a = dx * dx + dz * dz;
        let b = x * dx + z * dz;
        let c = (x.hypot(z) - radius_mm) * (x.hypot(z) + radius_mm);
        if a < 1e-24 {
            return (c <= 0.0).then_some((f64::NEG_INFINITY, f64::INFINITY));
        }
        // The miss distance of the line from the axis gives a discriminant without cancellation.
        let miss = (x * dz - z * dx).abs() / a.sqrt();
        if miss > radius_mm {
            return None;
        }
        let root = (a * (radius_mm - miss) * (radius_mm + miss)).sqrt();
        let q = -(b + root.copysign(b));
        if q == 0.0 {
            return Some((-root / a, root / a));
        }
        let (one, other) = (q / a, c / q);
        Some((one.min(other), one.max(other)))
    }
}

/// A place where the convex function is not above zero, or `None` where it stays above zero.
fn point_below_zero(convex: &impl Fn(f64) -> f64, span: Span) -> Option<f64> {
    let ratio = 0.618_033_988_749_894_9;
    let (mut low, mut high) = span;
    let (mut left, mut right) = (high - ratio * (high - low), low + ratio * (high - low));
    let (mut at_left, mut at_right) = (convex(left), convex(right));
    for _ in 0..90 {
        if at_left <= 0.0 {
            return Some(left);
        }
        if at_right <= 0.0 {
            return Some(right);
        }
        if at_left < at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - ratio * (high - low);
            at_left = convex(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + ratio * (high - low);
            at_right = convex(right);
        }
    }
    None
}

/// The stretch where a coordinate lies between `low` and `high`.
fn slab((start, change): (f64, f64), low: f64, high: f64) -> Option<Span> {
    if change == 0.0 {
        let inside = start >= low && start <= high;
        return inside.then_some((f64::NEG_INFINITY, f64::INFINITY));
    }
    let (one, other) = ((low - start) / change, (high - start) / change);
    Some((one.min(other), one.max(other)))
}

fn common(first: Span, second: Span) -> Option<Span> {
    let both = (first.0.max(second.0), first.1.min(second.1));
    (both.0 <= both.1).then_some(both)
}

fn at((start, change): (f64, f64), s: f64) -> f64 {
    start + change * s
}

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn plus(a: Vector, b: Vector, times: f64) -> Vector {
    [a[0] + b[0] * times, a[1] + b[1] * times, a[2] + b[2] * times]
}
