//! A flat end: a polygon taken apart into triangles.

use super::plane::Point;

/// The triangles of a simple polygon that runs counter-clockwise, by the places of its corners.
///
/// Corners are cut off one by one where nothing lies in the way; of a polygon that crosses itself
/// the rest is fanned, so that as many triangles come out and every edge keeps its two.
pub(super) fn triangles(polygon: &[Point]) -> Vec<[usize; 3]> {
    let mut left: Vec<usize> = (0..polygon.len()).collect();
    let mut found = Vec::with_capacity(polygon.len().saturating_sub(2));
    let mut at = 0;
    while left.len() > 3 {
        let ear = (0..left.len()).map(|step| (at + step) % left.len());
        let ear = ear.into_iter().find(|place| is_ear(polygon, &left, *place)).unwrap_or(0);
        found.push(around(&left, ear));
        left.remove(ear);
        // The next corner but one, so that triangles do not all meet in one point.
        at = (ear + 1) % left.len();
    }
    if left.len() == 3 {
        found.push([left[0], left[1], left[2]]);
    }
    found
}

/// A corner between its two neighbours.
fn around(left: &[usize], place: usize) -> [usize; 3] {
    let count = left.len();
    [left[(place + count - 1) % count], left[place], left[(place + 1) % count]]
}

/// Whether a corner can be cut off: it stands out, and no other lies in the triangle.
fn is_ear(polygon: &[Point], left: &[usize], place: usize) -> bool {
    let ear = around(left, place);
    let [a, b, c] = ear.map(|corner| polygon[corner]);
    if turn(a, b, c) <= 0.0 {
        return false;
    }
    let holds = |at: Point| turn(a, b, at) >= 0.0 && turn(b, c, at) >= 0.0 && turn(c, a, at) >= 0.0;
    left.iter().all(|other| ear.contains(other) || !holds(polygon[*other]))
}

/// Twice the area of a triangle, positive where it runs counter-clockwise.
fn turn(a: Point, b: Point, c: Point) -> f64 {
    (b - a).perp(&(c - a))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(polygon: &[Point]) -> f64 {
        let next = polygon.iter().cycle().skip(1);
        polygon.iter().zip(next).map(|(a, b)| 0.5 * a.perp(b)).sum()
    }

    #[test]
    fn a_star_is_covered_once() {
        let star: Vec<Point> = (0..14)
            .map(|at| super::super::plane::polar([3.0, 1.0][at % 2], 0.4487989505 * at as f64))
            .collect();
        let found = triangles(&star);
        assert_eq!(found.len(), 12);
        let areas = found.iter().map(|ear| area(&ear.map(|at| star[at])));
        assert!(areas.clone().all(|area| area > 0.0));
        assert!((areas.sum::<f64>() - area(&star)).abs() < 1e-12);
    }

    #[test]
    fn a_polygon_that_crosses_itself_ends() {
        let bow = [(0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)].map(|(x, y)| Point::new(x, y));
        assert_eq!(triangles(&bow).len(), 2);
    }
}
