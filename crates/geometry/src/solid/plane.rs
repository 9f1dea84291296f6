//! Curves in a plane, taken apart into chords.

use nalgebra::Vector2;

pub(super) type Point = Vector2<f64>;

/// A point of the plane from its distance and its angle.
pub(super) fn polar(radius_mm: f64, at_rad: f64) -> Point {
    Point::new(radius_mm * at_rad.cos(), radius_mm * at_rad.sin())
}

/// The ways in which a curve is taken apart.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chords {
    /// How far a chord may stand off its curve.
    pub(super) off_mm: f64,
    /// How long a chord may be.
    pub(super) length_mm: f64,
}

impl Chords {
    /// Adds what follows the first point of a polyline of many short chords: fewer of them that
    /// stay within the error, none too long.
    pub(super) fn thin(&self, line: &[Point], into: &mut Vec<Point>) {
        let mut kept = vec![false; line.len()];
        self.keep(line, 0, line.len().saturating_sub(1), &mut kept);
        let mut from = line[0];
        for (point, _) in line.iter().zip(&kept).skip(1).filter(|(_, kept)| **kept) {
            self.straight(from, *point, into);
            from = *point;
        }
    }

    /// Marks the points between two others that must be kept, the farthest off first.
    fn keep(&self, line: &[Point], first: usize, last: usize, kept: &mut [bool]) {
        let mut open = vec![(first, last)];
        while let Some((from, to)) = open.pop() {
            kept[to] = true;
            let off = |at: usize| (off_line(line[from], line[to], line[at]), at);
            let farthest = (from + 1..to).map(off).max_by(|a, b| a.0.total_cmp(&b.0));
            if let Some((_, at)) = farthest.filter(|(off_mm, _)| *off_mm > self.off_mm) {
                open.extend([(from, at), (at, to)]);
            }
        }
    }

    /// Adds what follows the first point of a straight line.
    pub(super) fn straight(&self, from: Point, to: Point, into: &mut Vec<Point>) {
        let parts = ((to - from).norm() / self.length_mm).ceil().max(1.0);
        into.extend((1..=parts as u32).map(|part| from.lerp(&to, f64::from(part) / parts)));
    }

    /// Adds what follows the first point of a cubic with these poles.
    ///
    /// **Source** \[own-derivation\] a chord over a step h stands off by at most h² max|B″| / 8,
    /// and |B″| is largest at an end. **Departs** nowhere. **Error** none: it is a bound.
    /// **Domain** every cubic.
    pub(super) fn cubic(&self, poles: &[Point; 4], into: &mut Vec<Point>) {
        let [a, b, c, d] = poles;
        let bend = 6.0 * (a - 2.0 * b + c).norm().max((b - 2.0 * c + d).norm());
        let speed = 3.0 * (b - a).norm().max((c - b).norm()).max((d - c).norm());
        let parts = (bend / (8.0 * self.off_mm)).sqrt().max(speed / self.length_mm).ceil().max(1.0);
        let at = |part: u32| {
            let u = f64::from(part) / parts;
            let v = 1.0 - u;
            a * (v * v * v) + b * (3.0 * v * v * u) + c * (3.0 * v * u * u) + d * (u * u * u)
        };
        into.extend((1..=parts as u32).map(at));
    }
}

/// Distance of a point from the stretch between two others.
fn off_line(from: Point, to: Point, at: Point) -> f64 {
    let along = to - from;
    let length2 = along.norm_squared();
    let share =
        if length2 > 0.0 { ((at - from).dot(&along) / length2).clamp(0.0, 1.0) } else { 0.0 };
    (at - from - along * share).norm()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arc_of_many_points_keeps_as_many_as_it_needs() {
        let arc: Vec<Point> = (0..=1000).map(|at| polar(10.0, 1e-3 * f64::from(at))).collect();
        let mut thinned = vec![arc[0]];
        Chords { off_mm: 0.01, length_mm: 5.0 }.thin(&arc, &mut thinned);
        assert!((8..=20).contains(&thinned.len()), "{}", thinned.len());
        for pair in thinned.windows(2) {
            let middle = pair[0].lerp(&pair[1], 0.5);
            assert!((10.0 - middle.norm()).abs() <= 0.0101);
        }
        assert_eq!(thinned.last(), arc.last());
    }
}
