//! Shapes in a plane, in millimetres, and the simplest that keeps within a stated error.

/// A point: across and up, in millimetres.
pub type Point = [f64; 2];

/// A shape of a drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A straight line.
    Line {
        /// From here.
        from: Point,
        /// To there.
        to: Point,
    },
    /// An arc, counter-clockwise.
    Arc {
        /// Its centre.
        centre: Point,
        /// Its radius, in millimetres.
        radius_mm: f64,
        /// Where it begins, in degrees from across.
        from_deg: f64,
        /// Where it ends.
        to_deg: f64,
    },
    /// Straight lines from point to point.
    Polyline {
        /// The points.
        points: Vec<Point>,
    },
}

/// Arcs beyond this radius are straight for every purpose of a drawing, in millimetres.
const RADIUS_MM_MAX: f64 = 1e5;

impl Shape {
    /// The simplest shape from which no point stands off by more than the error: a line, an arc,
    /// or else the points themselves.
    ///
    /// **Source** \[own-derivation\] the circle through the first, the middle and the last point.
    /// **Departs** from a least-squares circle, so that the ends stay where they are. **Error** the
    /// error given, at the points; between them that of the points. **Domain** two points or more
    /// that turn by less than half a circle.
    pub fn through(points: &[Point], error_mm: f64) -> Option<Self> {
        let [from, .., to] = points else { return None };
        let (from, to) = (*from, *to);
        if points.iter().all(|point| off_line_mm(*point, from, to) <= error_mm) {
            return Some(Self::Line { from, to });
        }
        let middle = points[points.len() / 2];
        let arc = circle(from, middle, to).filter(|(centre, radius_mm)| {
            let off_mm = |point: &Point| (distance_mm(*point, *centre) - radius_mm).abs();
            points.iter().all(|point| off_mm(point) <= error_mm)
        });
        Some(match arc {
            Some((centre, radius_mm)) => Self::arc(centre, radius_mm, [from, middle, to]),
            None => Self::Polyline { points: points.to_vec() },
        })
    }

    fn arc(centre: Point, radius_mm: f64, [from, middle, to]: [Point; 3]) -> Self {
        let (ahead, behind) = (sub(middle, from), sub(to, from));
        let (from, to) = if cross(ahead, behind) > 0.0 { (from, to) } else { (to, from) };
        let turn_deg = |point: Point| {
            let [x, y] = sub(point, centre);
            y.atan2(x).to_degrees().rem_euclid(360.0)
        };
        Self::Arc { centre, radius_mm, from_deg: turn_deg(from), to_deg: turn_deg(to) }
    }

    /// The same in another unit, of which so many make a millimetre.
    pub(super) fn scaled(self, per_mm: f64) -> Self {
        let point = |point: Point| point.map(|value| value * per_mm);
        match self {
            Self::Line { from, to } => Self::Line { from: point(from), to: point(to) },
            Self::Arc { centre, radius_mm, from_deg, to_deg } => {
                Self::Arc { centre: point(centre), radius_mm: radius_mm * per_mm, from_deg, to_deg }
            }
            Self::Polyline { points } => {
                Self::Polyline { points: points.into_iter().map(point).collect() }
            }
        }
    }
}

fn sub(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1]]
}

fn cross(a: Point, b: Point) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

fn distance_mm(a: Point, b: Point) -> f64 {
    let [x, y] = sub(a, b);
    x.hypot(y)
}

fn off_line_mm(point: Point, from: Point, to: Point) -> f64 {
    let way = sub(to, from);
    let length_mm = way[0].hypot(way[1]);
    if length_mm <= 0.0 {
        return distance_mm(point, from);
    }
    (cross(way, sub(point, from)) / length_mm).abs()
}

/// The circle through three points; none where they lie straight or nearly so.
fn circle(a: Point, b: Point, c: Point) -> Option<(Point, f64)> {
    let (b, c) = (sub(b, a), sub(c, a));
    let twice = 2.0 * cross(b, c);
    let (bb, cc) = (b[0] * b[0] + b[1] * b[1], c[0] * c[0] + c[1] * c[1]);
    let x = (c[1] * bb - b[1] * cc) / twice;
    let y = (b[0] * cc - c[0] * bb) / twice;
    let radius_mm = x.hypot(y);
    (radius_mm.is_finite() && radius_mm < RADIUS_MM_MAX)
        .then_some(([a[0] + x, a[1] + y], radius_mm))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on_circle(deg: f64) -> Point {
        let (sin, cos) = deg.to_radians().sin_cos();
        [3.0 + 2.0 * cos, 1.0 + 2.0 * sin]
    }

    #[test]
    fn the_simplest_shape_that_fits_is_taken() {
        let straight: Vec<Point> = (0..5).map(|at| [f64::from(at), 2.0 * f64::from(at)]).collect();
        let line = Shape::Line { from: [0.0, 0.0], to: [4.0, 8.0] };
        assert_eq!(Shape::through(&straight, 1e-9), Some(line));
        let round: Vec<Point> = (0..9).map(|at| on_circle(100.0 - 10.0 * f64::from(at))).collect();
        let Some(Shape::Arc { centre, radius_mm, from_deg, to_deg }) = Shape::through(&round, 1e-9)
        else {
            panic!("no arc")
        };
        assert!(distance_mm(centre, [3.0, 1.0]) < 1e-9 && (radius_mm - 2.0).abs() < 1e-9);
        assert!((from_deg - 20.0).abs() < 1e-7 && (to_deg - 100.0).abs() < 1e-7);
        let wavy: Vec<Point> = (0..9).map(|at| [f64::from(at), f64::from(at).sin()]).collect();
        let polyline = Shape::Polyline { points: wavy.clone() };
        assert_eq!(Shape::through(&wavy, 1e-3), Some(polyline));
        assert_eq!(Shape::through(&[[0.0, 0.0]], 1.0), None);
    }
}
