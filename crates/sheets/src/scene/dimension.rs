//! Dimension lines, for lengths and for angles.

use kurbo::{Point, Vec2};

use super::arrow::{ARROW_MM, unit};
use super::{Scene, Weight, arc};

/// Gap between a point and the extension line that leads away from it.
const GAP_MM: f64 = 0.7;

/// How far an extension line runs on past the dimension line.
const PAST_MM: f64 = 1.2;

/// A dimension shorter than this has its arrows outside, pointing in.
const INSIDE_MM: f64 = 3.2 * ARROW_MM;

/// Length of the tails of outside arrows.
const TAIL_MM: f64 = 2.0 * ARROW_MM;

/// A dimension line between two points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LengthDimension {
    /// One end of what is measured.
    pub from: Point,
    /// The other end.
    pub to: Point,
    /// From the first end to the dimension line, square to what is measured or level or upright.
    pub away: Vec2,
}

/// A dimension arc between two directions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AngleDimension {
    /// Where the directions meet.
    pub centre: Point,
    /// Radius of the arc.
    pub radius_mm: f64,
    /// One direction, from +x toward +y of the paper.
    pub from_rad: f64,
    /// The other direction.
    pub to_rad: f64,
}

impl LengthDimension {
    /// The ends of the dimension line: square to `away`, whatever the points' own direction is.
    pub fn ends(&self) -> (Point, Point) {
        let start = self.from + self.away;
        let along = unit(Vec2::new(-self.away.y, self.away.x));
        (start, start + along * along.dot(self.to - self.from))
    }
}

impl Scene {
    /// Draws a dimension line with its extension lines and arrows; gives its middle.
    pub fn dimension(&mut self, dimension: LengthDimension) -> Point {
        let (start, end) = dimension.ends();
        self.extension(dimension.from, start);
        self.extension(dimension.to, end);
        let along = unit(end - start);
        if start.distance(end) >= INSIDE_MM {
            self.line(start, end, Weight::Thin);
            self.arrowhead(start, -along);
            self.arrowhead(end, along);
        } else {
            self.line(start - along * TAIL_MM, end + along * TAIL_MM, Weight::Thin);
            self.arrowhead(start, along);
            self.arrowhead(end, -along);
        }
        start.midpoint(end)
    }

    /// Draws a dimension right in the gap that it measures, between two points; gives the places
    /// from which a leader can run to its figure.
    pub fn gap(&mut self, from: Point, to: Point) -> [Point; 2] {
        let along = unit(to - from);
        if from.distance(to) >= INSIDE_MM {
            self.line(from, to, Weight::Thin);
            self.arrowhead(from, -along);
            self.arrowhead(to, along);
            return [from.midpoint(to); 2];
        }
        let ends = [from - along * TAIL_MM, to + along * TAIL_MM];
        self.line(ends[0], ends[1], Weight::Thin);
        self.arrowhead(from, along);
        self.arrowhead(to, -along);
        ends
    }

    fn extension(&mut self, from: Point, to: Point) {
        let along = unit(to - from);
        if from.distance(to) > GAP_MM {
            self.line(from + along * GAP_MM, to + along * PAST_MM, Weight::Thin);
        }
    }

    /// Draws a dimension arc with its arrows; gives its middle.
    pub fn angle_dimension(&mut self, dimension: AngleDimension) -> Point {
        let AngleDimension { centre, radius_mm, from_rad, to_rad } = dimension;
        let turn = (to_rad - from_rad).signum();
        let at = |rad: f64| centre + Vec2::from_angle(rad) * radius_mm;
        let clockwise = |rad: f64| Vec2::from_angle(rad + std::f64::consts::FRAC_PI_2) * turn;
        if (to_rad - from_rad).abs() * radius_mm >= INSIDE_MM {
            self.stroke(arc(centre, radius_mm, from_rad, to_rad), Weight::Thin);
            self.arrowhead(at(from_rad), -clockwise(from_rad));
            self.arrowhead(at(to_rad), clockwise(to_rad));
        } else {
            let tail_rad = turn * TAIL_MM / radius_mm.max(TAIL_MM);
            let run = arc(centre, radius_mm, from_rad - tail_rad, to_rad + tail_rad);
            self.stroke(run, Weight::Thin);
            self.arrowhead(at(from_rad), clockwise(from_rad));
            self.arrowhead(at(to_rad), -clockwise(to_rad));
        }
        at(0.5 * (from_rad + to_rad))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::Mark;

    fn lowest_and_highest(scene: &Scene) -> (f64, f64) {
        let bounds = scene.marks().map(Mark::bounds);
        bounds.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), mark| {
            (low.min(mark.x0), high.max(mark.x1))
        })
    }

    #[test]
    fn a_level_dimension_of_a_slanting_line_measures_its_level_run() {
        let (from, to) = (Point::new(10.0, 10.0), Point::new(40.0, 22.0));
        let dimension = LengthDimension { from, to, away: Vec2::new(0.0, -6.0) };
        assert_eq!(dimension.ends(), (Point::new(10.0, 4.0), Point::new(40.0, 4.0)));
        let mut scene = Scene::new(String::new(), String::new(), 60.0, 40.0);
        assert_eq!(scene.dimension(dimension), Point::new(25.0, 4.0));
        assert_eq!(lowest_and_highest(&scene), (10.0, 40.0));
    }

    #[test]
    fn arrows_of_a_short_dimension_stand_outside() {
        let (from, to) = (Point::new(30.0, 20.0), Point::new(32.0, 20.0));
        let mut scene = Scene::new(String::new(), String::new(), 60.0, 40.0);
        scene.dimension(LengthDimension { from, to, away: Vec2::new(0.0, 5.0) });
        assert_eq!(lowest_and_highest(&scene), (30.0 - TAIL_MM, 32.0 + TAIL_MM));
    }

    #[test]
    fn an_arc_lies_between_its_directions() {
        let mut scene = Scene::new(String::new(), String::new(), 60.0, 60.0);
        let centre = Point::new(20.0, 20.0);
        let wide = AngleDimension { centre, radius_mm: 20.0, from_rad: 0.0, to_rad: 1.0 };
        let middle = scene.angle_dimension(wide);
        assert!((middle - centre).hypot() - 20.0 < 1e-9);
        assert!(((middle - centre).atan2() - 0.5).abs() < 1e-9);
    }
}
