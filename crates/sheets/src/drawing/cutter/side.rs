//! The side view: outline, edges and heels along the true lead, break of the shank.

use kurbo::{Point, Vec2};

use crate::scene::{Scene, Weight, thinned};

use super::{AXIS_Y, CutterView};

/// Steps of an edge along the flutes.
const STEPS: u32 = 160;

/// The heels of teeth that stand closer on paper would only blacken the picture.
const PITCH_MM_MIN: f64 = 4.5;

/// Back of a tooth where no thickness stands on its record, as a share of the pitch (own choice,
/// no source: it changes nothing but the look).
const BACK_SHARE: f64 = 0.4;

/// How far the centre line runs past the body.
const PAST_MM: f64 = 4.0;

impl CutterView<'_> {
    pub(super) fn draw_side(&self, scene: &mut Scene) {
        scene.part("centre line");
        let right = self.body.x(self.body.overall_mm) + PAST_MM;
        let (from, to) = (Point::new(super::TIP_X - PAST_MM, AXIS_Y), Point::new(right, AXIS_Y));
        scene.line(from, to, Weight::Centre);
        self.draw_outline(scene);
        self.draw_teeth(scene);
    }

    /// Where a place of the side view stands on paper, up from the axis.
    fn side(&self, from_end_mm: f64, up_mm: f64) -> Point {
        Point::new(self.body.x(from_end_mm), AXIS_Y - up_mm * self.scale.factor())
    }

    fn draw_outline(&self, scene: &mut Scene) {
        scene.part("outline");
        let outline = self.body.outline_mm();
        let pieces = match self.body.left_out_mm {
            None => vec![outline],
            Some((from, to)) => self.broken(&outline, from, to),
        };
        for piece in pieces {
            let half = |up: f64| {
                let points: Vec<Point> =
                    piece.iter().map(|(at, radius)| self.side(*at, up * radius)).collect();
                points
            };
            scene.polyline(&thinned(&half(1.0), 0.01), Weight::Outline);
            scene.polyline(&thinned(&half(-1.0), 0.01), Weight::Outline);
        }
        if let Some(gap) = self.body.left_out_mm {
            scene.part("break");
            let radius = 0.5 * self.body.shank_mm;
            for at in [gap.0, gap.1 + 1e-9] {
                scene.break_line(self.side(at, radius), self.side(at, -radius));
            }
        }
        self.draw_shoulder(scene);
    }

    fn broken(&self, outline: &[(f64, f64)], from: f64, to: f64) -> Vec<Vec<(f64, f64)>> {
        let radius = 0.5 * self.body.shank_mm;
        let mut front: Vec<_> = outline.iter().copied().filter(|(at, _)| *at < from).collect();
        front.push((from, radius));
        vec![
            front,
            vec![(to + 1e-9, radius), (self.body.overall_mm, radius), (self.body.overall_mm, 0.0)],
        ]
    }

    /// The line across where the flutes' part ends.
    fn draw_shoulder(&self, scene: &mut Scene) {
        if self.body.flute_mm < self.body.overall_mm {
            scene.part("end of the flutes");
            let radius = self.radius_mm();
            let at = self.body.flute_mm;
            scene.line(self.side(at, radius), self.side(at, -radius), Weight::Thin);
        }
    }

    fn draw_teeth(&self, scene: &mut Scene) {
        scene.part("edges");
        for tooth in 1..=self.cutter.teeth() {
            self.draw_helix(scene, tooth, 0.0, Weight::Outline);
        }
        let pitch_mm = self.cutter.pitch().mm() * self.scale.factor();
        if pitch_mm < PITCH_MM_MIN {
            return;
        }
        scene.part("heels");
        for tooth in 1..=self.cutter.teeth() {
            self.draw_helix(scene, tooth, self.back_rad(), Weight::Thin);
        }
    }

    /// From a tooth's edge to its heel, clockwise as seen from the tip.
    pub(super) fn back_rad(&self) -> f64 {
        let back = self.cutter.tooth_thickness().unwrap_or(self.cutter.pitch() * BACK_SHARE);
        self.heel_sign() * back.mm() / self.radius_mm()
    }

    /// The pieces of a helix that lie on the near side.
    fn draw_helix(&self, scene: &mut Scene, tooth: u32, ahead_rad: f64, weight: Weight) {
        let mut piece: Vec<Point> = Vec::new();
        let stations = self.body.stations_mm(STEPS);
        for (index, at) in stations.iter().enumerate() {
            let (sin, cos) = (self.edge_rad(tooth, *at) + ahead_rad).sin_cos();
            let is_near = sin > 0.0;
            if is_near {
                piece.push(self.side(*at, self.body.radius_mm(*at) * cos));
            }
            if !is_near || index + 1 == stations.len() {
                scene.polyline(&thinned(&piece, 0.02), weight);
                piece.clear();
            }
        }
    }

    /// Where a tooth's edge stands in the side view, which way its heel lies there, and whether
    /// that is on the near side.
    pub(super) fn edge_in_side(&self, tooth: u32, from_end_mm: f64) -> (Point, Vec2, bool) {
        let (sin, cos) = self.edge_rad(tooth, from_end_mm).sin_cos();
        let at = self.side(from_end_mm, self.body.radius_mm(from_end_mm) * cos);
        // Clockwise as seen from the tip is down on the near side.
        (at, Vec2::new(0.0, self.heel_sign() * sin), sin >= -1e-9)
    }
}
