//! The figures of the plan from above: corner, rest, face and lean.

use std::f64::consts::PI;

use geometry::Length;
use kurbo::{Point, Vec2};

use super::super::figure;
use super::super::frame::{NOTE, key, point_out};
use super::EndView;
use super::inset::Inset;
use crate::scene::{AngleDimension, Callout, LengthDimension, Scene, Weight, Words};

/// From the face into the wheel to the dimension line of its width.
const FACE_UP_MM: f64 = 8.0;

/// Radius of the arc of the lean, from the leading corner.
const LEAN_MM: f64 = 23.0;

impl EndView<'_> {
    pub(super) fn draw_inset_figures(&self, scene: &mut Scene, inset: &Inset) {
        self.draw_ends(scene, inset);
        if self.has_rest() {
            self.draw_rest_inset(scene, inset);
        }
        self.draw_face(scene, inset);
        self.draw_lean(scene, inset);
        self.name_corner(scene, inset);
    }

    fn draw_ends(&self, scene: &mut Scene, inset: &Inset) {
        scene.part("ends of the cutter");
        let zone = Self::lower_zone();
        let (left, right) = if inset.tip < 0.0 { ("tip", "shank") } else { ("shank", "tip") };
        let y = zone.y1 - 1.5;
        scene.text(Words::starting((zone.x0 + 0.5, y), NOTE, left));
        scene.text(Words::ending((zone.x1 - 0.5, y), NOTE, right));
    }

    fn draw_rest_inset(&self, scene: &mut Scene, inset: &Inset) {
        scene.part("rest inset");
        let away = Vec2::new(0.0, Self::inset_line_y() - inset.leading.y);
        let value = self.stance().rest_inset;
        let lines = key(self.length(value), "rest inset");
        let zones = [Self::lower_zone()];
        let targets = if value.abs().mm() < 1e-6 {
            let foot = inset.leading + away;
            scene.line(inset.leading, foot, Weight::Thin);
            [foot]
        } else {
            let dimension = LengthDimension { from: inset.leading, to: inset.rest, away };
            [scene.dimension(dimension)]
        };
        point_out(
            scene,
            &Callout { lines: &lines, targets: &targets, arrow: false, zones: &zones },
        );
    }

    fn draw_face(&self, scene: &mut Scene, inset: &Inset) {
        scene.part("width of the face");
        let away = inset.into * FACE_UP_MM;
        let (from, to) = (inset.leading, inset.trailing);
        let middle = scene.dimension(LengthDimension { from, to, away });
        let width_mm = self.peripheral.stanced.setup.wheel().face_width_mm();
        // Two lines that clear the dimension's higher end.
        let rise = 0.5 * (inset.leading.y - inset.trailing.y).abs();
        let x = middle.x + inset.into.x * 6.0;
        let y = middle.y - rise - 2.0;
        scene.text(Words::about((x, y), NOTE, self.length(Length::from_mm(width_mm))));
        scene.text(Words::about((x, y - 1.25 * NOTE), NOTE, "face"));
    }

    fn draw_lean(&self, scene: &mut Scene, inset: &Inset) {
        scene.part("lean");
        let run = (inset.trailing.x - inset.leading.x).signum();
        let lean = self.stance().lean;
        let zones = [Self::upper_zone()];
        let lines = key(figure::angle(lean), "lean");
        if !self.is_leaning() {
            let lines = [("no lean".to_owned(), NOTE)];
            let callout = Callout { lines: &lines, targets: &[], arrow: false, zones: &zones };
            return point_out(scene, &callout);
        }
        let along = inset.leading + Vec2::new(run * (LEAN_MM + 2.0), 0.0);
        scene.line(inset.leading, along, Weight::Thin);
        let slope = (inset.trailing - inset.leading).normalize();
        scene.line(inset.trailing, inset.leading + slope * (LEAN_MM + 2.0), Weight::Thin);
        let drawn = self.drawn_lean_rad();
        let (from_rad, to_rad) = if run > 0.0 { (0.0, -drawn) } else { (PI, PI + drawn) };
        let dimension =
            AngleDimension { centre: inset.leading, radius_mm: LEAN_MM, from_rad, to_rad };
        let target: Point = scene.angle_dimension(dimension);
        let callout = Callout { lines: &lines, targets: &[target], arrow: false, zones: &zones };
        point_out(scene, &callout);
    }

    fn name_corner(&self, scene: &mut Scene, inset: &Inset) {
        scene.part("leading corner");
        let lines = ["leading", "corner"].map(|words| (words.to_owned(), NOTE));
        let targets = [inset.leading];
        let zones = [Self::upper_zone()];
        point_out(scene, &Callout { lines: &lines, targets: &targets, arrow: true, zones: &zones });
    }
}
