//! The rest and the figures of the end view.

use std::f64::consts::PI;

use geometry::Length;
use kurbo::{Point, Rect, Vec2};
use shop::plan::ReliefBy;

use super::super::figure;
use super::super::frame::{NOTE, key, point_out};
use super::{CENTRE, EndView, FIELD};
use crate::scene::{ARROW_MM, AngleDimension, Callout, LengthDimension, Scene, Weight, Words};

/// From the edge down the face to the rest, width of its finger, and how far it is drawn.
const REST_DOWN_MM: f64 = 1.6;
const FINGER_MM: f64 = 3.0;
const FINGER_END_MM: f64 = 11.0;

/// From the edge to the dimension line of its height.
const REST_BESIDE_MM: f64 = 11.0;

/// How far outside the cutting circle the arc of the setting lies.
const SETTING_MM: f64 = 7.0;

/// The cross of the machine's directions.
const CROSS: Point = Point::new(9.0, 103.0);
const CROSS_MM: f64 = 9.0;

impl EndView<'_> {
    pub(super) fn draw_rest(&self, scene: &mut Scene) {
        scene.part("tooth rest");
        let down = self.down_face();
        let contact = self.edge() + down * REST_DOWN_MM;
        // The face rises away from the edge or falls: the finger bears with the corner that it
        // meets.
        let (left, right) = if down.y <= 0.0 {
            (contact.x - FINGER_MM, contact.x)
        } else {
            (contact.x, contact.x + FINGER_MM)
        };
        let end = CENTRE.y + self.circle_mm() + FINGER_END_MM;
        let points = [(right, end), (right, contact.y), (left, contact.y), (left, end)];
        scene.polyline(&points.map(Point::from), Weight::Outline);
        scene.break_line(Point::new(left, end), Point::new(right, end));
    }

    pub(super) fn draw_figures(&self, scene: &mut Scene) {
        self.draw_cross(scene);
        let axis = self.draw_axis_line(scene);
        self.draw_way(scene);
        self.draw_rest_height(scene);
        self.name_axis_height(scene, &axis);
        self.name_wheel(scene);
        self.draw_setting(scene);
        self.draw_names(scene);
    }

    fn draw_cross(&self, scene: &mut Scene) {
        scene.part("directions of the machine");
        let (right, up) = (Vec2::new(CROSS_MM, 0.0), Vec2::new(0.0, -CROSS_MM));
        scene.arrow(CROSS, CROSS + right);
        scene.arrow(CROSS, CROSS + up);
        scene.text(Words::starting(CROSS + right + Vec2::new(1.2, 1.2), NOTE, "Y"));
        scene.text(Words::about(CROSS + up + Vec2::new(0.0, -1.2), NOTE, "Z"));
    }

    fn draw_rest_height(&self, scene: &mut Scene) {
        scene.part("height of the rest");
        let edge = self.edge();
        let zone = self.wheel_zone();
        let zones = [Rect::new(zone.x0, CENTRE.y + 1.0, zone.x1, zone.y1)];
        if self.is_on_centre() {
            let zones = [Rect::new(zone.x0, CENTRE.y + 5.0, zone.x1, zone.y1)];
            let lines = key(format!("{} on", self.bearer()), "the centre line");
            let callout = Callout { lines: &lines, targets: &[edge], arrow: true, zones: &zones };
            return point_out(scene, &callout);
        }
        let centre = Point::new(edge.x, CENTRE.y);
        let away = Vec2::new(REST_BESIDE_MM, 0.0);
        let dimension = LengthDimension { from: centre, to: edge, away };
        let (start, end) = dimension.ends();
        scene.dimension(dimension);
        let lower = if start.y > end.y { start } else { end };
        let note = match self.peripheral.stanced.relief_by {
            ReliefBy::HeadWithRest => "rest, wheel axis",
            _ => self.bearer(),
        };
        let mut lines = key(self.length(self.below().abs()), note);
        let below = self.below() > Length::ZERO;
        lines.push((if below { "below centre" } else { "above centre" }.to_owned(), NOTE));
        let targets = [lower + Vec2::new(0.0, 2.0 * ARROW_MM)];
        point_out(
            scene,
            &Callout { lines: &lines, targets: &targets, arrow: false, zones: &zones },
        );
    }

    /// Whether the wheel's axis stands at a height of its own, neither on centre nor with the rest.
    fn is_axis_apart(&self) -> bool {
        let with_rest = self.peripheral.stanced.relief_by == ReliefBy::HeadWithRest;
        self.stance().axis_above.abs().mm() > 1e-3 && !with_rest
    }

    /// Draws the height of the wheel's axis, where it stands apart and within the field; gives
    /// the places from which a leader can run to its figure.
    fn draw_axis_line(&self, scene: &mut Scene) -> Vec<Point> {
        let zone = self.wheel_zone();
        let y = CENTRE.y - self.stance().axis_above.mm() * self.scale.factor();
        if !self.is_axis_apart() || !(zone.y0..zone.y1).contains(&y) {
            return Vec::new();
        }
        scene.part("axis of the wheel");
        let x = zone.x1 - 3.0;
        scene.line(Point::new(x - 9.0, y), Point::new(zone.x1, y), Weight::Centre);
        scene.gap(Point::new(x, CENTRE.y), Point::new(x, y)).to_vec()
    }

    fn name_axis_height(&self, scene: &mut Scene, targets: &[Point]) {
        if !self.is_axis_apart() {
            return;
        }
        scene.part("height of the wheel");
        let above = self.stance().axis_above;
        let zones = [self.wheel_zone()];
        let higher = if above > Length::ZERO { "above centre" } else { "below centre" };
        let mut lines = key(self.length(above.abs()), "wheel axis");
        lines.push((higher.to_owned(), NOTE));
        point_out(scene, &Callout { lines: &lines, targets, arrow: false, zones: &zones });
    }

    /// The relief setting, shown on the far side of the cutter, where there is room for its arc.
    fn draw_setting(&self, scene: &mut Scene) {
        scene.part("relief setting");
        let setting = self.stance().relief_setting;
        let top = CENTRE.y - self.circle_mm();
        let zones = [Rect::new(FIELD.x0, top, CENTRE.x - 14.0, CENTRE.y - 2.0)];
        let lines = key(figure::angle(setting), "relief setting");
        if self.is_on_centre() {
            let callout = Callout { lines: &lines, targets: &[], arrow: false, zones: &zones };
            return point_out(scene, &callout);
        }
        let radius_mm = self.circle_mm() + SETTING_MM;
        let (from_rad, to_rad) = (PI, PI + setting.radians());
        let far = CENTRE + Vec2::from_angle(to_rad) * (radius_mm + 3.0);
        scene.line(far, self.edge(), Weight::Thin);
        let dimension = AngleDimension { centre: CENTRE, radius_mm, from_rad, to_rad };
        let target = scene.angle_dimension(dimension);
        let callout = Callout { lines: &lines, targets: &[target], arrow: true, zones: &zones };
        point_out(scene, &callout);
    }

    fn draw_names(&self, scene: &mut Scene) {
        scene.part("names");
        let heel = self.heel();
        let upper = Rect::new(CENTRE.x - 20.0, FIELD.y0, self.edge().x - 1.0, CENTRE.y);
        self.name(scene, "heel", heel, upper);
        if self.has_rest() {
            self.name_rest(scene);
        }
        if self.is_axis_apart() {
            return;
        }
        let centre = [("centre".to_owned(), NOTE)];
        let zone = self.wheel_zone();
        let zones = [Rect::new(zone.x0, CENTRE.y - 6.5, zone.x1, CENTRE.y + 6.5)];
        point_out(scene, &Callout { lines: &centre, targets: &[], arrow: false, zones: &zones });
    }

    fn name_rest(&self, scene: &mut Scene) {
        let finger = self.edge() + self.down_face() * REST_DOWN_MM;
        let y = CENTRE.y + self.circle_mm() + 0.6 * FINGER_END_MM;
        let target = Point::new(finger.x - FINGER_MM, y);
        let lower = Rect::new(CENTRE.x - 10.0, y - 6.0, target.x - 3.0, FIELD.y1);
        self.name(scene, "tooth rest", target, lower);
    }

    /// The heel of the tooth on the rest.
    fn heel(&self) -> Point {
        let heel = self.peripheral.outline_after.heel();
        let at_rad = heel.heelward.radians() - self.stance().relief_setting.radians();
        let (sin, cos) = at_rad.sin_cos();
        self.at(heel.radius.mm() * cos, heel.radius.mm() * sin)
    }

    fn name(&self, scene: &mut Scene, name: &str, target: Point, zone: Rect) {
        let lines = [(name.to_owned(), NOTE)];
        let callout = Callout { lines: &lines, targets: &[target], arrow: true, zones: &[zone] };
        point_out(scene, &callout);
    }
}
