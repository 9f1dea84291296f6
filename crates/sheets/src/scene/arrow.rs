//! Arrows, leaders and break lines.

use kurbo::{BezPath, ParamCurve, Point, Vec2};

use super::{Paint, Scene, Weight};

/// Length of an arrowhead.
pub const ARROW_MM: f64 = 2.4;

/// Half the width of an arrowhead, as a share of its length.
const HALF_WIDTH: f64 = 0.2;

/// Length of the head of an arrow of motion.
const MOTION_MM: f64 = 4.0;

/// Half the width of the head of an arrow of motion, as a share of its length.
const MOTION_HALF_WIDTH: f64 = 0.3;

/// Length and height of one wave of a break line.
const WAVE_MM: (f64, f64) = (13.0, 1.0);

impl Scene {
    fn head(&mut self, tip: Point, toward: Vec2, length_mm: f64, half_width: f64) {
        let along = unit(toward) * length_mm;
        let across = Vec2::new(-along.y, along.x) * half_width;
        let foot = tip - along;
        self.fill(&[tip, foot + across, foot - across], Paint::Black);
    }

    /// An arrowhead that points along `toward`.
    pub fn arrowhead(&mut self, tip: Point, toward: Vec2) {
        self.head(tip, toward, ARROW_MM, HALF_WIDTH);
    }

    /// A thin line with an arrowhead at its end.
    pub fn arrow(&mut self, from: Point, to: Point) {
        self.line(from, to, Weight::Thin);
        self.arrowhead(to, to - from);
    }

    /// A heavy arrow that shows which way something moves, along a path of one curve.
    pub fn motion(&mut self, path: BezPath) {
        let Some(last) = path.segments().last() else { return };
        let (tip, before) = (last.eval(1.0), last.eval(0.97));
        self.stroke(path, Weight::Outline);
        self.head(tip, tip - before, MOTION_MM, MOTION_HALF_WIDTH);
    }

    /// A straight heavy arrow.
    pub fn straight_motion(&mut self, from: Point, to: Point) {
        // The line ends inside the head, so that its blunt end does not show at the tip.
        let end = to - unit(to - from) * (0.5 * MOTION_MM);
        self.line(from, end, Weight::Outline);
        self.head(to, to - from, MOTION_MM, MOTION_HALF_WIDTH);
    }

    /// A wavy line where a body is broken off.
    pub fn break_line(&mut self, from: Point, to: Point) {
        let way = to - from;
        let waves = (way.hypot() / WAVE_MM.0).round().max(1.0);
        let step = way / (2.0 * waves);
        let across = Vec2::new(-way.y, way.x) / way.hypot().max(f64::MIN_POSITIVE);
        let mut path = BezPath::new();
        path.move_to(from);
        for half in 0..(2.0 * waves) as u32 {
            let start = from + step * f64::from(half);
            let bulge = across * if half.is_multiple_of(2) { WAVE_MM.1 } else { -WAVE_MM.1 };
            path.quad_to(start + step * 0.5 + bulge * 2.0, start + step);
        }
        self.stroke(path, Weight::Thin);
    }
}

/// The direction of a vector; no direction for none.
pub(crate) fn unit(vector: Vec2) -> Vec2 {
    let length = vector.hypot();
    if length > 1e-12 { vector / length } else { Vec2::ZERO }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::Mark;

    #[test]
    fn a_head_ends_at_its_tip() {
        let mut scene = Scene::new(String::new(), String::new(), 20.0, 20.0);
        scene.arrow(Point::new(2.0, 10.0), Point::new(12.0, 10.0));
        let bounds = scene.marks().last().map(Mark::bounds);
        assert!(bounds.is_some_and(|head| {
            (head.x1 - 12.0).abs() < 1e-9 && (head.x0 - (12.0 - ARROW_MM)).abs() < 1e-9
        }));
    }

    #[test]
    fn a_break_line_joins_its_ends() {
        let mut scene = Scene::new(String::new(), String::new(), 60.0, 20.0);
        let (from, to) = (Point::new(2.0, 10.0), Point::new(52.0, 14.0));
        scene.break_line(from, to);
        let Some(Mark::Stroke { path, .. }) = scene.marks().next() else { panic!("no line") };
        assert!(path.segments().next().is_some_and(|first| first.start().distance(from) < 1e-9));
        assert!(path.segments().last().is_some_and(|last| last.end().distance(to) < 1e-9));
    }
}
