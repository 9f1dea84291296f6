//! One end tooth in section, square to its edge: primary, land, secondary, and the gash before it.

use std::f64::consts::PI;

use geometry::{Angle, Length, System};
use kurbo::{Point, Rect, Vec2};
use shop::plan::{EndPlan, RegrindPlan};

use super::super::figure;
use super::super::frame::{LEFT, RIGHT, key, point_out, scale_corner, sheet};
use crate::scene::{AngleDimension, Callout, LengthDimension, Scale, Scene, Weight};

/// Where the edge stands on the sheet, and the room of the tooth's back.
const EDGE: Point = Point::new(136.0, 42.0);
const ROOM_MM: f64 = 112.0;

/// The sheet between heading and scale.
const FIELD: Rect = Rect::new(5.0, 16.0, 175.0, 107.0);

/// How much of the back is drawn, in widths of the land.
const LANDS_SHOWN: f64 = 4.0;

/// How far down the face is drawn.
const FACE_MM: f64 = 46.0;

/// What is drawn of a tooth.
struct Tooth<'a> {
    end: &'a EndPlan,
    scale: Scale,
    system: System,
}

/// An end tooth in section square to its edge, to scale. The wheel comes from above, the edge
/// stands at the right and the heel at the left, as in the section of the periphery.
pub fn end_section(plan: &RegrindPlan, end: &EndPlan, system: System) -> Scene {
    let shown = end.expected.land.mm() * LANDS_SHOWN;
    let tooth = Tooth { end, scale: Scale::fitting(shown, ROOM_MM), system };
    let note = format!(
        "cutter {}, square to the edge: the wheel comes from above",
        plan.request.cutter.number()
    );
    let mut scene = sheet("Section of an end tooth", &note, tooth.description());
    scale_corner(&mut scene, tooth.scale, system);
    tooth.draw_surfaces(&mut scene);
    tooth.draw_face(&mut scene);
    tooth.draw_land(&mut scene);
    tooth.draw_reliefs(&mut scene);
    tooth.tell_dish(&mut scene);
    scene
}

impl Tooth<'_> {
    fn description(&self) -> String {
        let work = &self.end.work;
        format!(
            "Section of an end tooth, {}. Primary relief {}, secondary {}, land {}, dish {}.",
            self.scale.name(),
            figure::angle(work.primary.made.relief()),
            figure::angle(work.secondary.grind.made.relief()),
            figure::length(self.end.expected.land, self.system),
            figure::angle(work.primary.made.dish()),
        )
    }

    /// A place so far behind the edge and so far inside it.
    fn at(&self, heelward_mm: f64, inside_mm: f64) -> Point {
        EDGE + Vec2::new(-heelward_mm, inside_mm) * self.scale.factor()
    }

    /// How far inside the edge the finished surface lies, and whether the primary makes it.
    fn surface(&self, heelward_mm: f64) -> Option<(f64, bool)> {
        let at = Length::from_mm(heelward_mm);
        let work = &self.end.work;
        let primary = work.primary.section.depth_at(at)?.mm();
        let secondary = work.secondary.grind.section.depth_at(at).map(Length::mm);
        match secondary {
            Some(deeper) if deeper > primary => Some((deeper, false)),
            _ => Some((primary, true)),
        }
    }

    fn draw_surfaces(&self, scene: &mut Scene) {
        let end_mm = self.end.expected.land.mm() * LANDS_SHOWN;
        let place = |step: i32| end_mm * f64::from(step) / 240.0;
        let whole: Vec<(f64, f64, bool)> = (0..=240)
            .filter_map(|step| {
                let (inside, is_primary) = self.surface(place(step))?;
                Some((place(step), inside, is_primary))
            })
            .collect();
        scene.part("finished tooth");
        let points: Vec<Point> = whole.iter().map(|(y, depth, _)| self.at(*y, *depth)).collect();
        scene.polyline(&points, Weight::Outline);
        scene.part("primary behind the land");
        let primary = |y: &f64| {
            let depth = self.end.work.primary.section.depth_at(Length::from_mm(*y))?;
            Some(self.at(*y, depth.mm()))
        };
        let behind: Vec<Point> =
            whole.iter().filter(|(_, _, own)| !own).filter_map(|(y, ..)| primary(y)).collect();
        scene.polyline(&behind, Weight::Thin);
        if let Some(last) = points.last() {
            scene.break_line(*last, Point::new(last.x + 3.0, FIELD.y1 - 6.0));
        }
    }

    /// The face before the edge: back under it by the gash's rake.
    fn draw_face(&self, scene: &mut Scene) {
        scene.part("face");
        let rake = self.end.wanted.gash.rake.value;
        let down = Vec2::new(-rake.sin(), rake.cos());
        let foot = EDGE + down * FACE_MM;
        scene.line(EDGE, foot, Weight::Outline);
        scene.line(EDGE, EDGE + Vec2::new(0.0, FACE_MM), Weight::Centre);
        let lines = key(format!("face {}", figure::angle(rake)), "back under the edge");
        let zones = [Rect::new(EDGE.x + 4.0, EDGE.y + 10.0, RIGHT, FIELD.y1)];
        let targets = [EDGE + down * (0.7 * FACE_MM)];
        let callout = Callout { lines: &lines, targets: &targets, arrow: true, zones: &zones };
        point_out(scene, &callout);
    }

    fn draw_land(&self, scene: &mut Scene) {
        scene.part("land");
        let land = self.end.expected.land;
        let Some((heelward, inside)) = self.end.work.primary.section.back_of_land(land) else {
            return;
        };
        let to = self.at(heelward.mm(), inside.mm());
        let chord = EDGE - to;
        let away = Vec2::new(chord.y, -chord.x) / chord.hypot() * 10.0;
        let middle = scene.dimension(LengthDimension { from: EDGE, to, away });
        let lines = key(format!("land {}", figure::length(land, self.system)), "");
        let zones = [Rect::new(LEFT, FIELD.y0, RIGHT, EDGE.y - 11.0)];
        let targets = [middle];
        let callout = Callout { lines: &lines, targets: &targets, arrow: false, zones: &zones };
        point_out(scene, &callout);
    }

    fn draw_reliefs(&self, scene: &mut Scene) {
        let work = &self.end.work;
        let land = self.end.expected.land;
        let land_mm = land.mm() * self.scale.factor();
        let primary = work.primary.made;
        let (square, axial) = (primary.square_relief(), primary.relief());
        self.draw_relief(scene, EDGE, land_mm + 12.0, square, ("primary", axial));
        if let Some((heelward, inside)) = work.primary.section.back_of_land(land) {
            let at = self.at(heelward.mm(), inside.mm());
            let made = work.secondary.grind.made;
            let told = ("secondary", made.relief());
            self.draw_relief(scene, at, 46.0, made.square_relief(), told);
        }
    }

    fn draw_relief(
        &self,
        scene: &mut Scene,
        at: Point,
        radius_mm: f64,
        square: Angle,
        (name, axial): (&'static str, Angle),
    ) {
        scene.part(name);
        let below = |share: f64| Vec2::from_angle(PI - share * square.radians());
        scene.line(at, at - Vec2::new(radius_mm + 3.0, 0.0), Weight::Thin);
        scene.line(at, at + below(1.0) * (radius_mm + 3.0), Weight::Thin);
        let (from_rad, to_rad) = (PI, PI - square.radians());
        scene.angle_dimension(AngleDimension { centre: at, radius_mm, from_rad, to_rad });
        let targets = [0.5, 0.3, 0.7].map(|share| at + below(share) * radius_mm);
        let lines = key(format!("{name} {}", figure::angle(axial)), "");
        let zones = [
            Rect::new(LEFT, EDGE.y + 10.0, EDGE.x - 6.0, FIELD.y1),
            Rect::new(LEFT, FIELD.y0, EDGE.x - 12.0, EDGE.y + 30.0),
        ];
        let callout = Callout { lines: &lines, targets: &targets, arrow: true, zones: &zones };
        point_out(scene, &callout);
    }

    /// The dish, which lies square to this section.
    fn tell_dish(&self, scene: &mut Scene) {
        scene.part("dish");
        let made = self.end.work.primary.made;
        let deepest = self.end.expected.dish.last();
        let depth = deepest.map_or_else(String::new, |reading| {
            format!("{} lower at its inner end", figure::length(reading.gap, self.system))
        });
        let lines = key(format!("dish {}", figure::angle(made.dish())), depth);
        let zones = [
            Rect::new(LEFT, FIELD.y1 - 14.0, EDGE.x - 10.0, FIELD.y1),
            Rect::new(LEFT, FIELD.y0, RIGHT, FIELD.y1),
        ];
        let callout = Callout { lines: &lines, targets: &[], arrow: false, zones: &zones };
        point_out(scene, &callout);
    }
}
