//! Hatching: parallel lines, cut to the inside of polygons by us, so that no reader needs clips.

use kurbo::{Point, Vec2};

/// The run of a hatching.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hatching {
    /// Angle of its lines from +x toward +y of the paper.
    pub turn_rad: f64,
    /// Distance from line to line.
    pub spacing_mm: f64,
}

impl Hatching {
    /// Lines that rise to the right.
    pub const RISING: Self = Self { turn_rad: -std::f64::consts::FRAC_PI_4, spacing_mm: 1.1 };
    /// Lines that fall to the right.
    pub const FALLING: Self = Self { turn_rad: std::f64::consts::FRAC_PI_4, spacing_mm: 1.1 };
}

/// Shorter pieces of a line are left out: they would be specks.
const SPECK_MM: f64 = 0.05;

/// The lines of a hatching inside closed polygons, by the even-odd rule: what lies inside two of
/// them is outside. Neighbouring areas with one hatching run on into each other.
///
/// Points that are no numbers are passed over.
pub fn hatch(polygons: &[Vec<Point>], hatching: Hatching) -> Vec<(Point, Point)> {
    let along = Vec2::from_angle(hatching.turn_rad);
    let across = Vec2::new(-along.y, along.x);
    let turned = |point: &Point| {
        let from_origin = point.to_vec2();
        Point::new(along.dot(from_origin), across.dot(from_origin))
    };
    let edges: Vec<(Point, Point)> = polygons.iter().flat_map(|p| edges(p, turned)).collect();
    let heights = || edges.iter().map(|(from, _)| from.y);
    let (low, high) = (heights().fold(f64::INFINITY, f64::min), heights().fold(-1e300, f64::max));
    let spacing = hatching.spacing_mm;
    if !(spacing > 0.0 && low < high) {
        return Vec::new();
    }
    let back = |x: f64, y: f64| (along * x + across * y).to_point();
    let (first, last) =
        ((low / spacing - 0.5).ceil() as i64, (high / spacing - 0.5).floor() as i64);
    let mut lines = Vec::new();
    for count in first..=last {
        let height = (count as f64 + 0.5) * spacing;
        let crossings = crossings(&edges, height);
        let inside = crossings.chunks_exact(2).filter(|pair| pair[1] - pair[0] > SPECK_MM);
        lines.extend(inside.map(|pair| (back(pair[0], height), back(pair[1], height))));
    }
    lines
}

fn edges(polygon: &[Point], turned: impl Fn(&Point) -> Point) -> Vec<(Point, Point)> {
    let points: Vec<Point> = polygon.iter().filter(|p| p.is_finite()).map(turned).collect();
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(from, to)| (*from, *to)).collect()
}

/// Where a line at a height crosses the edges, in order.
fn crossings(edges: &[(Point, Point)], height: f64) -> Vec<f64> {
    let crossed = edges.iter().filter(|(from, to)| (from.y <= height) != (to.y <= height));
    let mut places: Vec<f64> = crossed
        .map(|(from, to)| from.x + (to.x - from.x) * (height - from.y) / (to.y - from.y))
        .collect();
    places.sort_by(f64::total_cmp);
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(low: f64, high: f64) -> Vec<Point> {
        [(low, low), (high, low), (high, high), (low, high)].map(Point::from).to_vec()
    }

    fn covered(polygons: &[Vec<Point>], hatching: Hatching) -> f64 {
        let lines = hatch(polygons, hatching);
        lines.iter().map(|(from, to)| from.distance(*to)).sum::<f64>() * hatching.spacing_mm
    }

    /// The sum of the lines' lengths times their spacing is a Riemann sum of the area.
    #[test]
    fn lines_cover_the_area_of_a_square_with_a_hole() {
        let fine = Hatching { turn_rad: 0.7, spacing_mm: 0.01 };
        assert!((covered(&[square(0.0, 10.0)], fine) - 100.0).abs() < 0.1);
        let hollow = [square(0.0, 10.0), square(3.0, 7.0)];
        assert!((covered(&hollow, fine) - 84.0).abs() < 0.1);
    }

    #[test]
    fn lines_lie_inside_and_run_at_their_angle() {
        for (from, to) in hatch(&[square(2.0, 12.0)], Hatching::RISING) {
            assert!(from.x > 2.0 - 1e-9 && to.x < 12.0 + 1e-9, "{from} {to}");
            assert!(((to.y - from.y) + (to.x - from.x)).abs() < 1e-9, "{from} {to}");
        }
    }

    #[test]
    fn nothing_is_hatched_without_an_area() {
        assert!(hatch(&[], Hatching::RISING).is_empty());
        assert!(hatch(&[vec![Point::new(1.0, 1.0); 3]], Hatching::RISING).is_empty());
        let no_number = vec![Point::new(f64::NAN, 1.0), Point::new(2.0, 3.0)];
        assert!(hatch(&[no_number], Hatching::FALLING).is_empty());
    }
}
