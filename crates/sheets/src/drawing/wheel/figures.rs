//! The sizes of a wheel beside its picture.

use geometry::{Angle, Length};
use kurbo::{Point, Rect, Vec2};

use crate::scene::{ARROW_MM, Callout, LengthDimension, Scene, Words};

use super::super::figure;
use super::super::frame::LEFT;
use super::super::leaf::{SMALL, size};
use super::{AXIS_Y, FRONT_X, PAPER_MM, SCALE_Y, WORDS_X, WheelView};

/// From the wheel to the dimension lines beside it.
const AWAY_MM: f64 = 8.0;

/// The zones in which names of faces and walls may stand: left of the wheel and right of it.
const TOP_Y: f64 = 17.0;

impl WheelView<'_> {
    pub(super) fn rim(&self) -> Option<Length> {
        let wheel = self.wheel;
        wheel.rim_width().filter(|rim| (*rim - wheel.face_width()).abs() > Length::from_um(1.0))
    }

    pub(super) fn corner(&self) -> Option<Length> {
        Some(self.wheel.corner_radius()).filter(|radius| *radius > Length::ZERO)
    }

    fn shown(&self, value: Length) -> String {
        size(value, self.system)
    }

    pub(super) fn draw_sizes(&self, scene: &mut Scene) {
        self.draw_scale(scene);
        self.draw_diameter(scene);
        self.draw_depth(scene);
        self.draw_bore(scene);
        self.name_face(scene);
        self.name_corner(scene);
        self.name_wall(scene);
    }

    fn draw_scale(&self, scene: &mut Scene) {
        scene.part("scale bar");
        scene.scale_bar(Point::new(LEFT + 24.0, SCALE_Y), self.scale, self.system, 20.0);
        scene.part("scale");
        let words = format!("scale {}", self.scale.name());
        scene.text(Words::starting((LEFT, SCALE_Y), SMALL, words));
    }

    fn draw_diameter(&self, scene: &mut Scene) {
        scene.part("diameter");
        let (from, to) = (self.at(0.0, -self.body.radius_mm), self.at(0.0, self.body.radius_mm));
        let away = Vec2::new(-AWAY_MM, 0.0);
        let middle = scene.dimension(LengthDimension { from, to, away });
        let words = format!("⌀ {}", self.shown(self.wheel.diameter()));
        let at = Point::new(middle.x - 1.5, middle.y - 1.5);
        scene.text(Words::ending(at, SMALL, words));
    }

    fn draw_depth(&self, scene: &mut Scene) {
        scene.part("depth");
        let (front, back) = (self.at(0.0, -self.body.radius_mm), self.at(self.body.depth_mm, 0.0));
        let to = Point::new(back.x, front.y);
        let away = Vec2::new(0.0, AWAY_MM);
        let middle = scene.dimension(LengthDimension { from: front, to, away });
        let name = if self.body.is_cup { "depth" } else { "thickness" };
        let words = format!("{name} {}", self.shown(self.wheel.depth()));
        // The arrows of a short dimension stand outside, where the words would be.
        let beside_mm = if to.x - front.x < 3.2 * ARROW_MM { 6.5 } else { 2.0 };
        scene.text(Words::starting((to.x + beside_mm, middle.y + 1.2), SMALL, words));
    }

    fn draw_bore(&self, scene: &mut Scene) {
        scene.part("bore");
        let (back, bore) = (self.body.depth_mm, self.body.bore_mm);
        let (from, to) = (self.at(back, -bore), self.at(back, bore));
        let away = Vec2::new(AWAY_MM, 0.0);
        let middle = scene.dimension(LengthDimension { from, to, away });
        let beside = Point::new(middle.x + 1.5, middle.y - 1.5);
        scene.text(Words::starting(beside, SMALL, "bore"));
        let words = format!("⌀ {}", self.shown(self.wheel.bore()));
        scene.text(Words::starting((beside.x, beside.y + 6.0), SMALL, words));
    }

    /// Words that point at a place of the section.
    fn point(&self, scene: &mut Scene, at: Point, lines: &[String]) {
        let lines: Vec<(String, f64)> = lines.iter().map(|line| (line.clone(), SMALL)).collect();
        let right = self.at(self.body.depth_mm, 0.0).x + 2.0;
        let zones = [
            Rect::new(LEFT, TOP_Y, FRONT_X - AWAY_MM - 2.0, AXIS_Y - 6.0),
            Rect::new(right, TOP_Y, WORDS_X - 3.0, AXIS_Y - 6.0),
            Rect::new(FRONT_X - AWAY_MM, TOP_Y, WORDS_X - 3.0, AXIS_Y - 0.5 * PAPER_MM.0 - 1.0),
        ];
        let callout = Callout { lines: &lines, targets: &[at], arrow: true, zones: &zones };
        scene.callout(&callout);
    }

    fn name_face(&self, scene: &mut Scene) {
        scene.part("face");
        let (radius, face) = (self.body.radius_mm, self.body.face_mm);
        let at = match self.body.is_cup {
            true => self.at(0.0, radius - 0.5 * face),
            false => self.at(0.5 * face, radius),
        };
        let mut lines = vec![format!("face {}", self.shown(self.wheel.face_width()))];
        lines.extend(self.rim().map(|rim| format!("rim {}", self.shown(rim))));
        self.point(scene, at, &lines);
    }

    fn name_corner(&self, scene: &mut Scene) {
        let Some(radius) = self.corner() else { return };
        scene.part("corner");
        let words = ["worn corner".to_owned(), format!("R {}", self.shown(radius))];
        self.point(scene, self.at(0.0, self.body.radius_mm), &words);
    }

    fn name_wall(&self, scene: &mut Scene) {
        let Some(angle) = self.wheel.wall_angle() else { return };
        scene.part("wall");
        let words = match angle > Angle::ZERO {
            true => [format!("wall {}", figure::angle(angle)), "from the axis".to_owned()],
            false => ["wall along".to_owned(), "the axis".to_owned()],
        };
        let back = 0.45 * self.body.depth_mm;
        self.point(scene, self.at(back, self.body.wall_mm(back)), &words);
    }
}
