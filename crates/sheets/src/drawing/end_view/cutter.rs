//! The cutter in the end view: all its teeth and flutes.

use std::f64::consts::{PI, TAU};

use geometry::Angle;
use kurbo::{BezPath, Point, Vec2};

use super::super::profile::{Polar, Profile, core_diameter};
use super::{CENTRE, EndView};
use crate::scene::{Scene, Weight, arc, thinned};

/// Depth to which the face of a tooth is straight, as a share of the flute's depth.
const STRAIGHT_SHARE: f64 = 0.5;

/// Where the root of a flute lies between the face's foot and the heel before it.
const ROOT_SHARE: f64 = 0.45;

/// How far the centre lines run past the cutter.
const PAST_MM: f64 = 4.0;

/// One flute of the cutter, behind the heel of one tooth: points of the section.
struct Flute {
    heel: Polar,
    root: Polar,
    foot: Polar,
    edge: Polar,
}

impl EndView<'_> {
    pub(super) fn draw_cutter(&self, scene: &mut Scene) {
        scene.part("centre lines");
        let reach = self.circle_mm() + PAST_MM;
        let up = Vec2::new(0.0, reach);
        scene.line(CENTRE - up, CENTRE + up, Weight::Centre);
        let right = Point::new(super::FIELD.x1, CENTRE.y);
        scene.line(CENTRE - Vec2::new(reach + 7.0, 0.0), right, Weight::Centre);
        scene.part("cutting circle");
        scene.stroke(arc(CENTRE, self.circle_mm(), 0.0, TAU), Weight::Thin);
        scene.part("cutter");
        scene.stroke(self.teeth(), Weight::Outline);
    }

    /// A point of the section, turned on by a whole number of teeth.
    fn turned(&self, point: Polar, tooth: u32) -> Point {
        let pitch_rad = self.peripheral.stanced.setup.flutes().pitch_rad();
        let setting_rad = self.stance().relief_setting.radians();
        let at_rad = point.heelward_rad - setting_rad + pitch_rad * f64::from(tooth);
        let (sin, cos) = at_rad.sin_cos();
        self.at(point.radius_mm * cos, point.radius_mm * sin)
    }

    /// The outline of all teeth, as they will be.
    fn teeth(&self) -> BezPath {
        let back = self.radius() * self.peripheral.outline_before.heel().heelward.radians();
        let profile = Profile::to(self.peripheral, back);
        let after = profile.points(Profile::after);
        let mut path = BezPath::new();
        for tooth in 0..self.peripheral.stanced.setup.flutes().teeth {
            let points: Vec<Point> = after.iter().map(|point| self.turned(*point, tooth)).collect();
            for point in thinned(&points, 0.02) {
                if path.is_empty() { path.move_to(point) } else { path.line_to(point) }
            }
            if let Some(heel) = after.last() {
                self.add_flute(&mut path, &self.flute(*heel), tooth);
            }
        }
        path.close_path();
        path
    }

    fn flute(&self, heel: Polar) -> Flute {
        let cutter = &self.plan.request.cutter;
        let radius_mm = self.radius().mm();
        let core_mm = 0.5 * core_diameter(cutter).mm();
        let core_mm = core_mm.min(0.9 * heel.radius_mm).min(0.9 * radius_mm);
        let pitch_rad = self.peripheral.stanced.setup.flutes().pitch_rad();
        let down_mm = STRAIGHT_SHARE * (radius_mm - core_mm);
        let (sin, cos) = (cutter.rake().sin(), cutter.rake().cos());
        let (under, out) = (down_mm * sin, radius_mm - down_mm * cos);
        let foot = Polar {
            heelward_rad: pitch_rad + Angle::from_radians(under.atan2(out)).radians(),
            radius_mm: under.hypot(out),
        };
        let between = foot.heelward_rad - heel.heelward_rad;
        let root =
            Polar { heelward_rad: foot.heelward_rad - ROOT_SHARE * between, radius_mm: core_mm };
        Flute { heel, root, foot, edge: Polar { heelward_rad: pitch_rad, radius_mm } }
    }

    /// From the heel of a tooth through the root of its flute to the edge of the next.
    fn add_flute(&self, path: &mut BezPath, flute: &Flute, tooth: u32) {
        let point = |polar: Polar| self.turned(polar, tooth);
        let (heel, root) = (point(flute.heel), point(flute.root));
        let (foot, edge) = (point(flute.foot), point(flute.edge));
        let inward = |from: Point| (CENTRE - from).normalize();
        // Heelward round the axis is counter-clockwise to the eye, as the heel is up on the right.
        let outward = -inward(root);
        let heelward = Vec2::new(outward.y, -outward.x);
        let (back, fore) = (heel.distance(root), root.distance(foot));
        path.curve_to(heel + inward(heel) * (0.5 * back), root - heelward * (0.45 * back), root);
        let down = (foot - edge).normalize();
        path.curve_to(root + heelward * (0.5 * fore), foot + down * (0.5 * fore), foot);
        path.line_to(edge);
    }

    /// The way down along the face of the tooth on the rest.
    pub(super) fn down_face(&self) -> Vec2 {
        let setting_rad = self.stance().relief_setting.radians();
        let rake_rad = self.plan.request.cutter.rake().radians();
        // Inward along the radius, then turned heelward by the rake.
        Vec2::from_angle(PI + setting_rad + rake_rad)
    }
}
