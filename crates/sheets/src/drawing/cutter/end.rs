//! The end view, seen from the tip: every tooth, with its number where numbers find room.

use std::f64::consts::{FRAC_PI_2, TAU};

use kurbo::{BezPath, Point, Vec2};

use crate::scene::{Scene, Weight, Words, arc};

use super::super::leaf::SMALL;
use super::{CutterView, END};

/// Core of a cutter on whose record none stands, as a share of its diameter.
const CORE_SHARE: f64 = 0.57;

/// Depth to which the face of a tooth is straight, as a share of the flute's depth.
const STRAIGHT_SHARE: f64 = 0.5;

/// Where the root of a flute lies between the heel before it and the face's foot.
const ROOT_SHARE: f64 = 0.5;

/// How far a heel stands inside the cutting circle, as a share of the radius.
const HEEL_DOWN_SHARE: f64 = 0.05;

/// The hole in the middle of an end that does not cut to its centre, as a share of the radius.
const HOLE_SHARE: f64 = 0.22;

/// Teeth closer than this are drawn with thin lines.
const PITCH_MM_MIN: f64 = 4.0;

/// From the cutting circle to the middle of the teeth's numbers, and room along that circle.
const NUMBER_OUT_MM: f64 = 4.0;
const NUMBER_ROOM_MM: f64 = 7.0;

/// The ring about the number of the marked tooth.
const RING_MM: f64 = 2.6;

/// Steps in which numbers are left out where they would stand too close.
const NUMBER_STEPS: [u32; 4] = [1, 2, 5, 10];

impl CutterView<'_> {
    pub(super) fn draw_end(&self, scene: &mut Scene) {
        scene.part("end centre lines");
        let circle_mm = self.circle_mm();
        for reach in [Vec2::new(circle_mm + 2.0, 0.0), Vec2::new(0.0, circle_mm + 1.5)] {
            scene.line(END - reach, END + reach, Weight::Centre);
        }
        scene.part("end circle");
        scene.stroke(arc(END, circle_mm, 0.0, TAU), Weight::Thin);
        scene.part("end");
        scene.stroke(self.end_outline(), self.end_weight());
        self.draw_end_teeth(scene);
        self.number_teeth(scene);
        scene.part("end scale");
        let words = [format!("end {}", self.end_scale.name()), "seen from the tip".to_owned()];
        for (row, words) in words.into_iter().enumerate() {
            let y = END.y + 27.5 + 4.8 * row as f64;
            scene.text(Words::about((END.x, y), SMALL, words));
        }
    }

    /// Teeth that stand close on paper would only blacken it with heavy lines.
    fn end_weight(&self) -> Weight {
        let pitch_mm = self.circle_mm() * TAU / f64::from(self.cutter.teeth());
        if pitch_mm < PITCH_MM_MIN { Weight::Thin } else { Weight::Outline }
    }

    fn circle_mm(&self) -> f64 {
        self.radius_mm() * self.end_scale.factor()
    }

    /// A place of the end view: clockwise from the top, out from the axis.
    pub(super) fn end_at(&self, clockwise_rad: f64, radius_mm: f64) -> Point {
        let out = Vec2::from_angle(clockwise_rad - FRAC_PI_2);
        END + out * (radius_mm * self.end_scale.factor())
    }

    fn core_mm(&self) -> f64 {
        let taken = self.cutter.diameter() * CORE_SHARE;
        let core_mm = 0.5 * self.cutter.core_diameter().unwrap_or(taken).mm();
        core_mm.min(0.9 * self.radius_mm())
    }

    /// All teeth and flutes as one line.
    fn end_outline(&self) -> BezPath {
        let mut path = BezPath::new();
        for tooth in 1..=self.cutter.teeth() {
            self.add_tooth(&mut path, tooth);
        }
        path.close_path();
        path
    }

    /// From the edge of a tooth over its back and through the flute behind it.
    fn add_tooth(&self, path: &mut BezPath, tooth: u32) {
        let (radius_mm, sign) = (self.radius_mm(), self.heel_sign());
        let edge_rad = self.edge_rad(tooth, 0.0);
        let pitch_rad = TAU / f64::from(self.cutter.teeth());
        let back_rad = self.back_rad().abs().min(0.7 * pitch_rad);
        let heelward = |by_rad: f64| edge_rad + sign * by_rad;
        let edge = self.end_at(edge_rad, radius_mm);
        if path.is_empty() {
            path.move_to(edge)
        } else {
            path.line_to(edge)
        }
        for share in [0.25, 0.5, 0.75, 1.0] {
            let down = 1.0 - HEEL_DOWN_SHARE * share;
            path.line_to(self.end_at(heelward(share * back_rad), radius_mm * down));
        }
        self.add_flute(path, &heelward, back_rad, pitch_rad);
    }

    fn add_flute(
        &self,
        path: &mut BezPath,
        heelward: &dyn Fn(f64) -> f64,
        back_rad: f64,
        pitch_rad: f64,
    ) {
        let (radius_mm, core_mm) = (self.radius_mm(), self.core_mm());
        let heel = self.end_at(heelward(back_rad), radius_mm * (1.0 - HEEL_DOWN_SHARE));
        // The face of the next tooth runs inward and, by its rake, heelward.
        let down_mm = STRAIGHT_SHARE * (radius_mm - core_mm);
        let rake = self.cutter.rake();
        let (under, out) = (down_mm * rake.sin(), radius_mm - down_mm * rake.cos());
        let foot_rad = pitch_rad + under.atan2(out);
        let foot = self.end_at(heelward(foot_rad), under.hypot(out));
        let root_rad = back_rad + ROOT_SHARE * (foot_rad - back_rad);
        let root = self.end_at(heelward(root_rad), core_mm);
        let next = self.end_at(heelward(pitch_rad), radius_mm);
        let inward = (END - heel).normalize();
        let along = (self.end_at(heelward(root_rad + 0.01), core_mm) - root).normalize();
        let (back, fore) = (heel.distance(root), root.distance(foot));
        path.curve_to(heel + inward * (0.5 * back), root - along * (0.4 * back), root);
        let down = (foot - next).normalize();
        path.curve_to(root + along * (0.4 * fore), foot + down * (0.4 * fore), foot);
    }

    /// The edges on the end, to the middle where they cut there.
    fn draw_end_teeth(&self, scene: &mut Scene) {
        scene.part("end teeth");
        let hole_mm = HOLE_SHARE * self.radius_mm();
        let is_centre = self.cutter.centre_cutting();
        if !is_centre {
            scene.stroke(arc(END, hole_mm * self.end_scale.factor(), 0.0, TAU), Weight::Thin);
        }
        let teeth = self.cutter.teeth();
        for tooth in 1..=teeth {
            // Two of the edges meet in the middle, the others stop short of it.
            let meets = tooth == 1 || tooth - 1 == teeth / 2;
            let from_mm = if is_centre && meets { 0.0 } else { hole_mm };
            let rad = self.edge_rad(tooth, 0.0);
            let (from, to) = (self.end_at(rad, from_mm), self.end_at(rad, self.radius_mm()));
            scene.line(from, to, Weight::Thin);
        }
    }

    fn number_teeth(&self, scene: &mut Scene) {
        scene.part("teeth");
        let out_mm = self.circle_mm() + NUMBER_OUT_MM;
        let teeth = self.cutter.teeth();
        let room = TAU * out_mm / f64::from(teeth);
        let wide = |step: &u32| room * f64::from(*step) >= NUMBER_ROOM_MM;
        let step = NUMBER_STEPS.into_iter().find(wide).unwrap_or(NUMBER_STEPS[3]);
        for tooth in (1..=teeth).filter(|tooth| is_numbered(*tooth, step, teeth)) {
            let out = Vec2::from_angle(self.edge_rad(tooth, 0.0) - FRAC_PI_2) * out_mm;
            let at = END + out + Vec2::new(0.0, 0.36 * SMALL);
            scene.text(Words::about(at, SMALL, tooth.to_string()));
            if tooth == 1 {
                scene.stroke(arc(END + out, RING_MM, 0.0, TAU), Weight::Thin);
            }
        }
    }
}

/// Whether a tooth bears its number: the first always, then every so many, unless that would
/// stand against the first from behind.
const fn is_numbered(tooth: u32, step: u32, teeth: u32) -> bool {
    let is_round = tooth == 1 || step == 1 || tooth.is_multiple_of(step);
    let is_close = tooth != 1 && step > 1 && (tooth < step || teeth + 1 - tooth < step);
    is_round && !is_close
}
