//! The plan from above, beside the end view: which way the wheel leans and where the rest stands.

use std::f64::consts::TAU;

use geometry::screw::Hand;
use kurbo::{Point, Rect, Vec2};

use super::super::frame::{KEY, NOTE};
use super::EndView;
use crate::scene::{Paint, Scene, Weight, Words};

/// Its frame.
const FRAME: Rect = Rect::new(121.0, 16.0, 175.0, 106.0);

/// Where the edge of the tooth, the cutter's axis and its far side lie.
const EDGE_Y: f64 = 64.0;
const AXIS_Y: f64 = 75.0;
const FAR_Y: f64 = 86.0;

/// The drawn length of the wheel's face, and how far its middle stands from the frame's, so that
/// its leading corner can be named beside it.
const FACE_MM: f64 = 20.0;
const ASIDE_MM: f64 = 3.0;

/// A lean is drawn at least so large, and no larger than so.
const LEAN_DEG: (f64, f64) = (9.0, 20.0);

/// Where the wheel is broken off.
const WHEEL_TOP: f64 = 37.0;

/// The ends of the drawn part of the cutter.
const CUTTER_X: (f64, f64) = (124.0, 172.0);

/// Half the width of the rest's finger, and its length under the tooth.
const FINGER_MM: (f64, f64) = (2.6, 7.0);

/// Points of a tooth's line.
const POINTS: u32 = 60;

/// The plan's points on paper.
pub(super) struct Inset {
    /// The corner nearest the cutter.
    pub(super) leading: Point,
    /// The other corner of the face.
    pub(super) trailing: Point,
    /// Where the rest bears.
    pub(super) rest: Point,
    /// From the face into the wheel, of unit length.
    pub(super) into: Vec2,
    /// −1 where the tip lies to the left, +1 where it lies to the right.
    pub(super) tip: f64,
}

impl EndView<'_> {
    pub(super) fn draw_inset(&self, scene: &mut Scene) {
        scene.part("plan from above");
        let corners = [(FRAME.x0, FRAME.y0), (FRAME.x1, FRAME.y0), (FRAME.x1, FRAME.y1)];
        let frame = corners.into_iter().chain([(FRAME.x0, FRAME.y1), (FRAME.x0, FRAME.y0)]);
        scene.polyline(&frame.map(Point::from).collect::<Vec<_>>(), Weight::Thin);
        let left = FRAME.x0 + 2.0;
        scene.text(Words::starting((left, FRAME.y0 + 5.4), KEY, "From above"));
        let toward = format!("face toward the {}", self.stance().face_toward.name());
        scene.text(Words::starting((left, FRAME.y0 + 10.2), NOTE, toward));
        let note = if self.is_leaning() { "not to scale, lean enlarged" } else { "not to scale" };
        scene.text(Words::starting((left, FRAME.y0 + 14.6), NOTE, note));
        let inset = self.inset();
        self.draw_plan_of_cutter(scene, &inset);
        self.draw_plan_of_wheel(scene, &inset);
        if self.has_rest() {
            self.draw_plan_of_rest(scene, &inset);
        }
        self.draw_inset_figures(scene, &inset);
    }

    pub(super) fn is_leaning(&self) -> bool {
        self.stance().lean.degrees() > 1e-6
    }

    /// The lean as it is drawn.
    pub(super) fn drawn_lean_rad(&self) -> f64 {
        let (least, greatest) = LEAN_DEG;
        let drawn = (2.0 * self.stance().lean.degrees()).clamp(least, greatest);
        if self.is_leaning() { drawn.to_radians() } else { 0.0 }
    }

    fn inset(&self) -> Inset {
        let setup = &self.peripheral.stanced.setup;
        // The shank of a right-hand cutter lies toward +X, which is to the right.
        let tip = match setup.flutes().hand {
            Hand::Right => -1.0,
            Hand::Left => 1.0,
        };
        let stance = self.stance();
        let run = tip * stance.face_toward.sign();
        let lean_rad = self.drawn_lean_rad();
        let leading = Point::new(FRAME.center().x + run * (ASIDE_MM - 0.5 * FACE_MM), EDGE_Y);
        let along = Vec2::new(run * lean_rad.cos(), -lean_rad.sin());
        let share = stance.rest_inset.mm() / setup.wheel().face_width_mm();
        let rest = leading + Vec2::new(run * FACE_MM * share.clamp(0.0, 1.0), 0.0);
        let into = Vec2::new(-run * lean_rad.sin(), -lean_rad.cos());
        Inset { leading, trailing: leading + along * FACE_MM, rest, into, tip }
    }

    fn draw_plan_of_wheel(&self, scene: &mut Scene, inset: &Inset) {
        scene.part("plan of the wheel");
        let up = |from: Point| from + inset.into * ((from.y - WHEEL_TOP) / -inset.into.y);
        let (outer, inner) = (up(inset.leading), up(inset.trailing));
        let points = [outer, inset.leading, inset.trailing, inner];
        scene.polyline(&points, Weight::Outline);
        scene.break_line(outer, inner);
    }

    fn draw_plan_of_cutter(&self, scene: &mut Scene, inset: &Inset) {
        scene.part("plan of the cutter");
        let (left, right) = CUTTER_X;
        let (tip, shank) = if inset.tip < 0.0 { (left, right) } else { (right, left) };
        for y in [EDGE_Y, FAR_Y] {
            scene.line(Point::new(left, y), Point::new(right, y), Weight::Outline);
        }
        scene.line(Point::new(tip, EDGE_Y), Point::new(tip, FAR_Y), Weight::Outline);
        scene.break_line(Point::new(shank, EDGE_Y), Point::new(shank, FAR_Y));
        let axis = |x: f64| Point::new(x, AXIS_Y);
        scene.line(axis(left - 2.0), axis(right + 2.0), Weight::Centre);
        self.draw_tooth_lines(scene, inset);
    }

    /// The edges of the teeth on the upper side, each a helix seen from its side.
    fn draw_tooth_lines(&self, scene: &mut Scene, inset: &Inset) {
        let flutes = self.peripheral.stanced.setup.flutes();
        let radius_mm = AXIS_Y - EDGE_Y;
        let (left, right) = CUTTER_X;
        let (pitch_rad, tangent) = (flutes.pitch_rad(), flutes.helix.tan());
        let hand = if flutes.helix_hand == Hand::Right { 1.0 } else { -1.0 };
        let turns = (f64::from(flutes.teeth) * 2.5).ceil() as i32;
        for tooth in -turns..=turns {
            // A right-hand helix comes down over the upper side as it goes to the right.
            let start_rad = f64::from(tooth) * pitch_rad;
            let at = |step: u32| {
                let x = left + (right - left) * f64::from(step) / f64::from(POINTS);
                let turn_rad = start_rad + hand * tangent * (x - inset.rest.x) / radius_mm;
                let is_above = (0.0..=std::f64::consts::PI).contains(&turn_rad);
                is_above.then(|| Point::new(x, AXIS_Y - radius_mm * turn_rad.cos()))
            };
            let line: Vec<Point> = (0..=POINTS).filter_map(at).collect();
            scene.polyline(&crate::scene::thinned(&line, 0.03), Weight::Thin);
        }
    }

    fn draw_plan_of_rest(&self, scene: &mut Scene, inset: &Inset) {
        scene.part("plan of the rest");
        let (half, long) = FINGER_MM;
        let corner = |x: f64, y: f64| inset.rest + Vec2::new(x, y);
        let finger = [corner(-half, 0.0), corner(-half, long), corner(half, long)];
        let finger: Vec<Point> = finger.into_iter().chain([corner(half, 0.0)]).collect();
        scene.fill(&finger, Paint::White);
        scene.polyline(&finger, Weight::Hidden);
        let dot = |step: u32| inset.rest + Vec2::from_angle(f64::from(step) * TAU / 12.0) * 0.9;
        scene.fill(&(0..12).map(dot).collect::<Vec<_>>(), Paint::Black);
    }

    /// The paper of the plan above the cutter.
    pub(super) fn upper_zone() -> Rect {
        Rect::new(FRAME.x0 + 1.5, FRAME.y0 + 16.5, FRAME.x1 - 1.5, EDGE_Y - 1.5)
    }

    /// The paper of the plan below the cutter.
    pub(super) fn lower_zone() -> Rect {
        Rect::new(FRAME.x0 + 1.5, FAR_Y + 1.5, FRAME.x1 - 1.5, FRAME.y1 - 1.0)
    }

    /// Where the dimension line of the inset lies.
    pub(super) const fn inset_line_y() -> f64 {
        FAR_Y + 4.0
    }
}
