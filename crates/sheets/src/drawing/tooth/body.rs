//! The tooth itself: its outlines, and the metal that comes off.

use kurbo::{Point, Vec2};

use super::super::profile::{Polar, Profile};
use super::{PRIMARY, SECONDARY, Tooth};
use crate::scene::{Hatching, Scene, Weight};

/// How much of the flute's depth the face is drawn straight.
const STRAIGHT_SHARE: f64 = 0.75;

/// Depth of the flutes where no core is on record, as a share of the radius.
const FLUTE_SHARE: f64 = 0.45;

/// How far the back is drawn behind its heel.
const BEHIND_HEEL_MM: f64 = 9.0;

impl Tooth<'_> {
    pub(super) fn draw_body(&self, scene: &mut Scene) {
        let profile = self.view.profile();
        let before = self.view.points(&profile.before_from_face());
        let primary = self.view.points(&profile.points(Profile::primary));
        let after = profile.points(Profile::after);
        let after_points = self.view.points(&after);
        scene.part("stock of the primary");
        take_off(scene, &before, &primary, PRIMARY);
        scene.part("stock of the secondary");
        take_off(scene, &primary, &after_points, SECONDARY);
        scene.part("tooth as it came");
        scene.polyline(&before, Weight::Thin);
        scene.line(before.first().copied().unwrap_or_default(), self.view.edge(), Weight::Thin);
        scene.part("tooth as it will be");
        let foot = self.draw_face(scene);
        scene.polyline(&after_points, Weight::Outline);
        let heel = self.draw_heel(scene, &after);
        scene.break_line(heel, foot);
        self.close_stock(scene, &before, &after_points);
    }

    /// The end of the metal that comes off: the old heel, or a break.
    fn close_stock(&self, scene: &mut Scene, before: &[Point], after: &[Point]) {
        let (Some(upper), Some(lower)) = (before.last(), after.last()) else { return };
        scene.part("tooth as it came");
        if self.view.is_broken() && upper.distance(*lower) > 4.0 {
            scene.break_line(*upper, *lower);
        } else {
            scene.line(*upper, *lower, Weight::Thin);
        }
    }

    /// Draws the face; gives its lower end.
    fn draw_face(&self, scene: &mut Scene) -> Point {
        let (edge, down) = (self.view.edge(), self.view.down_face());
        let cutter = &self.plan.request.cutter;
        let radius = self.peripheral.section.circle_radius();
        let depth = match cutter.core_diameter() {
            Some(core) => radius - core / 2.0,
            None => radius * FLUTE_SHARE,
        };
        let flute_mm = self.view.paper_mm(depth) * STRAIGHT_SHARE;
        let foot = edge + down * flute_mm.min((self.view.bottom_mm() - edge.y) / down.y).max(1.0);
        let undercut = self.view.profile().after(0.0) < radius.mm() - 1e-4;
        // Where the secondary reaches the edge, the face starts where it left off.
        let top = match self.view.profile().points(Profile::after).first() {
            Some(first) if undercut => self.view.at(*first),
            _ => edge,
        };
        scene.line(top, foot, Weight::Outline);
        foot
    }

    /// Draws the back below the heel, or breaks it off; gives its lower end.
    fn draw_heel(&self, scene: &mut Scene, after: &[Polar]) -> Point {
        let Some(last) = after.last() else { return self.view.edge() };
        let heel = self.view.at(*last);
        let (_, outward) = self.view.on_circle(last.heelward_rad);
        let room = (self.view.bottom_mm() - heel.y).max(1.0);
        if self.view.is_broken() {
            let foot = heel + Vec2::new(2.0, room.min(2.0 * BEHIND_HEEL_MM));
            scene.break_line(heel, foot);
            return foot;
        }
        let way = (outward * -2.0 + Vec2::new(0.0, 1.0)).normalize();
        let foot = heel + way * BEHIND_HEEL_MM.min(room / way.y.max(0.3));
        scene.line(heel, foot, Weight::Outline);
        foot
    }
}

/// Hatches what lies between two surfaces.
fn take_off(scene: &mut Scene, upper: &[Point], lower: &[Point], hatching: Hatching) {
    let mut area = upper.to_vec();
    area.extend(lower.iter().rev());
    scene.hatched(&[area], hatching);
}
