//! Chips and corners that are gone, marked on their tooth and at their height.

use kurbo::{Point, Rect, Vec2};
use shop::record::ToothWear;

use crate::scene::{Callout, Paint, Scene, Weight, arc};

use super::super::leaf::{RIGHT, SMALL};
use super::{AXIS_Y, CutterView, TIP_X};

/// Marks are at least so large on paper, or nobody would see them.
const CHIP_MM_MIN: f64 = 1.3;
const CORNER_MM_MIN: f64 = 1.8;

/// More marks of one kind than this are not named in the picture, as the names would hide it; the
/// words below name them all.
const NAMED_MAX: usize = 3;

/// What is missing of a tooth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Loss {
    Chip,
    Corner,
}

/// One place at which a tooth has lost metal.
#[derive(Clone, Copy, Debug)]
struct Spot {
    tooth: u32,
    loss: Loss,
    /// Distance from the end: up to which a corner is gone, or at which a chip ends.
    from_end_mm: f64,
    /// How deep a chip is.
    deep_mm: f64,
}

fn spots_of(tooth: &ToothWear) -> impl Iterator<Item = Spot> + use<> {
    let spot = |loss, from_end_mm, deep_mm| Spot { tooth: tooth.tooth, loss, from_end_mm, deep_mm };
    let corner_mm = tooth.corner_wear.mm();
    let corner = (corner_mm > 0.0).then(|| spot(Loss::Corner, corner_mm, corner_mm));
    let deep_mm = tooth.chip_depth.mm();
    let chip = (deep_mm > 0.0).then(|| spot(Loss::Chip, tooth.chip_from_end.mm(), deep_mm));
    corner.into_iter().chain(chip)
}

impl CutterView<'_> {
    fn spots(&self) -> Vec<Spot> {
        let worn = self.cutter.wear().map_or(&[][..], |wear| wear.teeth());
        worn.iter().flat_map(spots_of).collect()
    }

    pub(super) fn draw_wear(&self, scene: &mut Scene) {
        for spot in self.spots() {
            scene.part("wear from the side");
            match spot.loss {
                Loss::Chip => self.draw_chip(scene, spot),
                Loss::Corner => self.draw_corner(scene, spot),
            }
            scene.part("wear from the tip");
            self.draw_in_end(scene, spot);
        }
    }

    /// A chip: a dark notch at the edge, a ring where the tooth lies behind.
    fn draw_chip(&self, scene: &mut Scene, spot: Spot) {
        let (at, _, is_near) = self.edge_in_side(spot.tooth, spot.from_end_mm);
        let half_mm = (0.5 * spot.deep_mm * self.scale.factor()).max(CHIP_MM_MIN);
        if !is_near {
            let ring = arc(at, half_mm, 0.0, std::f64::consts::TAU);
            return scene.stroke(ring, Weight::Thin);
        }
        // Five corners at unequal distances look like a break and not like a drilled hole.
        let corners = [(0.0, 1.0), (1.1, 0.8), (2.4, 1.1), (3.7, 0.75), (5.0, 1.0)];
        let corner = |(rad, share): (f64, f64)| at + Vec2::from_angle(rad) * (half_mm * share);
        scene.fill(&corners.map(corner), Paint::Black);
    }

    /// A corner that is gone: a dark wedge from the end as far up as it is gone.
    fn draw_corner(&self, scene: &mut Scene, spot: Spot) {
        let least_mm = CORNER_MM_MIN / self.scale.factor();
        let up_mm = spot.from_end_mm.max(least_mm).min(self.body.flute_mm);
        let (tip, heel, is_near) = self.edge_in_side(spot.tooth, 0.0);
        let (top, _, _) = self.edge_in_side(spot.tooth, up_mm);
        // On the outline the heel lies behind the edge; the wedge then points to the axis.
        let inward = if tip.y < AXIS_Y { 1.0 } else { -1.0 };
        let side = if heel.y.abs() > 0.5 { heel.y.signum() } else { inward };
        let corner = tip + Vec2::new(0.0, side * (top.x - tip.x).min(3.0 * CORNER_MM_MIN));
        if is_near {
            scene.fill(&[tip, top, corner], Paint::Black);
        } else {
            scene.polyline(&[tip, top, corner, tip], Weight::Thin);
        }
    }

    fn draw_in_end(&self, scene: &mut Scene, spot: Spot) {
        let radius_mm = self.radius_mm();
        let least_mm = CORNER_MM_MIN / self.end_scale.factor();
        let deep_mm = spot.deep_mm.clamp(least_mm, (0.45 * radius_mm).max(least_mm));
        let rad = self.edge_rad(spot.tooth, 0.0);
        let behind_rad = rad + self.heel_sign() * deep_mm / radius_mm;
        let points = [(rad, radius_mm), (behind_rad, radius_mm), (rad, radius_mm - deep_mm)];
        scene.fill(&points.map(|(rad, mm)| self.end_at(rad, mm)), Paint::Black);
    }

    /// Names the marks of the side view, unless there are too many of their kind.
    pub(super) fn name_wear(&self, scene: &mut Scene) {
        let spots = self.spots();
        let many = |loss| spots.iter().filter(|spot| spot.loss == loss).count() > NAMED_MAX;
        scene.part("names of the wear");
        for spot in spots.iter().filter(|spot| !many(spot.loss)) {
            let up_mm = if spot.loss == Loss::Corner { 0.0 } else { spot.from_end_mm };
            let (at, _, is_near) = self.edge_in_side(spot.tooth, up_mm);
            let what = if spot.loss == Loss::Corner { "corner" } else { "chip" };
            let behind = if is_near { "" } else { ", behind" };
            self.point(scene, at, &[format!("tooth {}: {what}{behind}", spot.tooth)]);
        }
    }

    /// Words that point at a place of the side view, above it or below.
    pub(super) fn point(&self, scene: &mut Scene, at: Point, lines: &[String]) {
        let half_mm = self.half_high_mm();
        let above = Rect::new(TIP_X - 6.0, 16.0, RIGHT, AXIS_Y - half_mm - 1.5);
        let below = Rect::new(TIP_X - 6.0, AXIS_Y + half_mm + 1.0, RIGHT, 96.0);
        let lines: Vec<(String, f64)> = lines.iter().map(|line| (line.clone(), SMALL)).collect();
        let zones = [above, below];
        let callout = Callout { lines: &lines, targets: &[at], arrow: true, zones: &zones };
        scene.callout(&callout);
    }
}
