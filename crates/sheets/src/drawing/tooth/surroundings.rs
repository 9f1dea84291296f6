//! What stands about the tooth: the cutting circle, the paths of the wheel, the rest.

use geometry::section::GroundSection;
use kurbo::{Point, Vec2};

use super::super::frame::{NOTE, RIGHT, point_out};
use super::super::profile::{Polar, ground};
use super::{FIELD, Tooth};
use crate::scene::{Callout, Scene, Weight, Words, arc};

/// How far before the edge and behind the heel the wheel's path is drawn.
const BESIDE_MM: f64 = 9.0;

/// From the edge down the face to the rest.
const REST_DOWN_MM: f64 = 6.5;

/// Thickness of the finger, and how far its end is set back.
const FINGER_MM: f64 = 8.0;
const BEVEL_MM: f64 = 2.2;

/// Points of a wheel's path.
const POINTS: u32 = 300;

impl Tooth<'_> {
    pub(super) fn draw_surroundings(&self, scene: &mut Scene) {
        self.draw_circle(scene);
        self.draw_paths(scene);
        self.draw_rest(scene);
        super::draw_cut(scene);
    }

    fn draw_circle(&self, scene: &mut Scene) {
        scene.part("cutting circle");
        let up = -std::f64::consts::FRAC_PI_2;
        let before_rad = BESIDE_MM / self.view.circle_mm();
        let end_rad = self.view.profile().end_rad() + before_rad;
        let is_inside = |at: &f64| FIELD.contains(self.view.on_circle(*at).0);
        let steps = (0..=POINTS).map(|step| end_rad * f64::from(step) / f64::from(POINTS));
        let last = steps.take_while(is_inside).last().unwrap_or(0.0);
        let run = arc(self.view.axis(), self.view.circle_mm(), up + before_rad, up - last);
        scene.stroke(run, Weight::Centre);
    }

    fn draw_paths(&self, scene: &mut Scene) {
        let beside_rad = BESIDE_MM / self.view.circle_mm();
        let end_rad = self.view.profile().end_rad() + beside_rad;
        scene.part("path of the wheel at the primary");
        let path = self.path(&self.peripheral.section, (-beside_rad, end_rad));
        scene.polyline(&path, Weight::Thin);
        let land_end = self.view.profile().land_end().map_or(0.0, |end| end.heelward_rad);
        if self.peripheral.secondary.grinding.is_some() {
            scene.part("path of the wheel at the secondary");
            let from = land_end - beside_rad;
            let path = self.path(&self.peripheral.secondary.section, (from, end_rad));
            scene.polyline(&path, Weight::Hidden);
        }
    }

    /// The surface that a wheel leaves, as far as it stays on the field.
    fn path(&self, section: &GroundSection, (from_rad, to_rad): (f64, f64)) -> Vec<Point> {
        let step_rad = (to_rad - from_rad) / f64::from(POINTS);
        let at = |step: u32| from_rad + step_rad * f64::from(step);
        let point =
            |heelward_rad: f64| Polar { heelward_rad, radius_mm: ground(section, heelward_rad) };
        let all = (0..=POINTS).map(at).map(point).filter(|point| point.radius_mm.is_finite());
        all.map(|point| self.view.at(point)).filter(|point| FIELD.contains(*point)).collect()
    }

    /// The finger of the rest, not to scale, with its end on the face.
    fn draw_rest(&self, scene: &mut Scene) {
        scene.part("tooth rest");
        let contact = self.view.edge() + self.view.down_face() * REST_DOWN_MM;
        let back = self.view.down_face() * FINGER_MM + Vec2::new(BEVEL_MM, 0.0);
        let lower = contact + back;
        let right = |y: f64| Point::new(RIGHT, y);
        let points = [right(contact.y), contact, lower, right(lower.y)];
        scene.polyline(&points, Weight::Outline);
        scene.break_line(right(contact.y), right(lower.y));
        let middle = 0.5 * (contact.x.max(lower.x) + RIGHT);
        let baseline = 0.5 * (contact.y + lower.y) + 0.3 * NOTE;
        scene.text(Words::about((middle, baseline), NOTE, "tooth rest"));
    }

    /// Names the path of the wheel; it comes last, when the figures have found their places.
    pub(super) fn name_wheel(&self, scene: &mut Scene) {
        scene.part("names");
        let end_rad = self.view.profile().end_rad();
        let path = self.path(&self.peripheral.section, (0.4 * end_rad, end_rad));
        let targets: Vec<Point> = path.iter().copied().step_by(30).collect();
        let lines = [("wheel, primary".to_owned(), NOTE)];
        let zones = [self.above()];
        let callout = Callout { lines: &lines, targets: &targets, arrow: true, zones: &zones };
        point_out(scene, &callout);
    }
}
