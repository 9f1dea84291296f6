//! The end as the wheel sees it: edges, lands, and the wheel where its stroke stops.

use std::f64::consts::TAU;

use geometry::System;
use kurbo::{Point, Rect, Vec2};
use shop::plan::{EndPlan, RegrindPlan};
use shop::record::Hand;

use super::super::figure;
use super::super::frame::{LEFT, NOTE, RIGHT, Sample, key, legend, point_out, scale_corner, sheet};
use crate::scene::{Callout, Hatching, LengthDimension, Scale, Scene, Weight, Words, arc};

/// The middle of the end on the sheet, and the room it has.
const MIDDLE: Point = Point::new(90.0, 62.0);
const ROOM_MM: f64 = 78.0;

/// The sheet between heading and legend.
const FIELD: Rect = Rect::new(5.0, 16.0, 175.0, 107.0);

/// What is drawn of an end.
struct Face<'a> {
    end: &'a EndPlan,
    hand: Hand,
    scale: Scale,
    system: System,
}

/// The end seen from the wheel, to scale: every tooth with its land, and the wheel where the stroke
/// over the tooth being ground stops.
pub fn end_face(plan: &RegrindPlan, end: &EndPlan, system: System) -> Scene {
    let diameter = end.work.teeth.shape().diameter;
    let hand = plan.request.cutter.hand();
    let face = Face { end, hand, scale: Scale::fitting(diameter.mm(), ROOM_MM), system };
    let note = format!(
        "cutter {}, as the wheel sees it: heel up, the tooth being ground on the {}",
        plan.request.cutter.number(),
        if hand == Hand::Right { "left" } else { "right" }
    );
    let mut scene = sheet("The end of the cutter", &note, face.description());
    scale_corner(&mut scene, face.scale, system);
    face.draw_legend(&mut scene);
    face.draw_circle(&mut scene);
    face.draw_teeth(&mut scene);
    face.draw_wheel(&mut scene);
    face.draw_figures(&mut scene);
    scene
}

impl Face<'_> {
    fn description(&self) -> String {
        let shape = self.end.work.teeth.shape();
        format!(
            "{} end teeth of a {} cutter, {}. Land {}, the stroke ends {} past the centre.",
            shape.teeth,
            figure::length(shape.diameter, self.system),
            self.scale.name(),
            figure::length(self.end.expected.land, self.system),
            figure::length(self.end.work.primary.stops.past_centre, self.system),
        )
    }

    /// A place of the end in the frame of the tooth being ground, on paper.
    fn at(&self, outward_mm: f64, heelward_mm: f64) -> Point {
        let sign = if self.hand == Hand::Right { -1.0 } else { 1.0 };
        MIDDLE + Vec2::new(sign * outward_mm, -heelward_mm) * self.scale.factor()
    }

    /// The same of another tooth, so many pitches heelward.
    fn of_tooth(&self, tooth: u32, outward_mm: f64, heelward_mm: f64) -> Point {
        let turn = self.end.work.teeth.pitch().radians() * f64::from(tooth);
        let (sin, cos) = turn.sin_cos();
        self.at(outward_mm * cos - heelward_mm * sin, outward_mm * sin + heelward_mm * cos)
    }

    fn radius_mm(&self) -> f64 {
        0.5 * self.end.work.teeth.shape().diameter.mm()
    }

    fn draw_legend(&self, scene: &mut Scene) {
        scene.part("legend");
        let entries = [
            (Sample::Line(Weight::Outline), "edge"),
            (Sample::Hatch(Hatching::RISING), "primary land"),
            (Sample::Line(Weight::Hidden), "wheel at the stop"),
        ];
        for (index, (sample, words)) in entries.into_iter().enumerate() {
            legend(scene, Point::new([5.0, 34.0, 78.0][index], 114.5), sample, words);
        }
    }

    fn draw_circle(&self, scene: &mut Scene) {
        scene.part("centre lines");
        let reach_mm = self.radius_mm() * self.scale.factor() + 3.0;
        for reach in [Vec2::new(reach_mm, 0.0), Vec2::new(0.0, reach_mm)] {
            scene.line(MIDDLE - reach, MIDDLE + reach, Weight::Centre);
        }
        scene.part("cutting circle");
        let radius = self.radius_mm() * self.scale.factor();
        scene.stroke(arc(MIDDLE, radius, 0.0, TAU), Weight::Thin);
        let hole_mm = self.end.wanted.inner.value.mm() * self.scale.factor();
        if hole_mm > 0.5 {
            scene.part("hole");
            scene.stroke(arc(MIDDLE, hole_mm, 0.0, TAU), Weight::Thin);
        }
    }

    /// How far outward an edge of a tooth begins.
    fn begins_mm(&self, tooth: u32) -> f64 {
        let (teeth, wanted) = (self.end.work.teeth.shape().teeth, &self.end.wanted);
        let is_long = tooth == 0 || (teeth.is_multiple_of(2) && tooth == teeth / 2);
        let from_axis = if is_long { wanted.inner.value } else { wanted.short.value };
        let ahead_mm = wanted.ahead.mm();
        (from_axis.mm().powi(2) - ahead_mm.powi(2)).max(0.0).sqrt()
    }

    fn draw_teeth(&self, scene: &mut Scene) {
        let ahead_mm = self.end.wanted.ahead.mm();
        let land_mm = self.end.expected.land.mm();
        let edge_mm = |heelward: f64| (self.radius_mm().powi(2) - heelward.powi(2)).max(0.0).sqrt();
        for tooth in 0..self.end.work.teeth.shape().teeth {
            let (from, back) = (self.begins_mm(tooth), land_mm - ahead_mm);
            let (inner, corner) = (
                self.of_tooth(tooth, from, -ahead_mm),
                self.of_tooth(tooth, edge_mm(ahead_mm), -ahead_mm),
            );
            let behind =
                [self.of_tooth(tooth, edge_mm(back), back), self.of_tooth(tooth, from, back)];
            scene.part("lands");
            scene.hatched(&[vec![inner, corner, behind[0], behind[1]]], Hatching::RISING);
            scene.polyline(&[corner, behind[0], behind[1], inner], Weight::Thin);
            scene.part("edges");
            scene.line(inner, corner, Weight::Outline);
        }
    }

    fn draw_wheel(&self, scene: &mut Scene) {
        scene.part("wheel at the stop");
        let primary = &self.end.work.primary;
        let setup = primary.section.setup();
        let wheel_mm = setup.wheel().radius_mm();
        let corner_mm = self.radius_mm();
        let inner_mm = corner_mm - primary.stops.long.mm() * setup.dish().cos();
        let above_mm = setup.stance().axis_above_edge.mm() - self.end.wanted.ahead.mm();
        let points: Vec<Point> = (-900..=900)
            .map(|step| {
                let turn = (0.1 * f64::from(step)).to_radians();
                let outward = inner_mm + wheel_mm * (1.0 - turn.cos());
                self.at(outward, above_mm + wheel_mm * turn.sin())
            })
            .filter(|point| FIELD.contains(*point))
            .collect();
        scene.polyline(&points, Weight::Hidden);
        if let Some(last) = points.last() {
            let lines = [("wheel at the stop".to_owned(), NOTE)];
            let zones = [Rect::new(LEFT, FIELD.y0, RIGHT, FIELD.y1)];
            let targets = [*last, points[points.len() / 2]];
            let callout = Callout { lines: &lines, targets: &targets, arrow: true, zones: &zones };
            point_out(scene, &callout);
        }
    }

    fn draw_figures(&self, scene: &mut Scene) {
        self.draw_diameter(scene);
        self.draw_land(scene);
        self.name_tooth(scene);
    }

    fn draw_diameter(&self, scene: &mut Scene) {
        scene.part("diameter");
        let radius = self.radius_mm() * self.scale.factor();
        let (from, to) = (MIDDLE - Vec2::new(radius, 0.0), MIDDLE + Vec2::new(radius, 0.0));
        let away = Vec2::new(0.0, -(radius + 2.5));
        let middle = scene.dimension(LengthDimension { from, to, away });
        let diameter = self.end.work.teeth.shape().diameter;
        let words = figure::length(diameter, self.system);
        scene.text(Words::about((middle.x, middle.y - 1.2), NOTE, words));
    }

    fn draw_land(&self, scene: &mut Scene) {
        scene.part("land figure");
        let (land_mm, ahead_mm) = (self.end.expected.land.mm(), self.end.wanted.ahead.mm());
        let at_mm = 0.75 * self.radius_mm();
        let places = [0.5, 0.3, 0.7].map(|share| self.at(at_mm, share * land_mm - ahead_mm));
        let lines = key(
            format!("land {}", figure::length(self.end.expected.land, self.system)),
            format!(
                "relief {}, then {}",
                figure::angle(self.end.work.primary.made.relief()),
                figure::angle(self.end.work.secondary.grind.made.relief())
            ),
        );
        let beside = if self.hand == Hand::Right {
            Rect::new(LEFT, FIELD.y0, MIDDLE.x - 42.0, FIELD.y1)
        } else {
            Rect::new(MIDDLE.x + 42.0, FIELD.y0, RIGHT, FIELD.y1)
        };
        let zones = [beside];
        let callout = Callout { lines: &lines, targets: &places, arrow: true, zones: &zones };
        point_out(scene, &callout);
    }

    /// Where the stroke ends, beside the centre.
    fn name_tooth(&self, scene: &mut Scene) {
        scene.part("stroke");
        let past = self.end.work.primary.stops.past_centre;
        let (amount, way) = (past.abs(), if past.mm() >= 0.0 { "past" } else { "short of" });
        let lines = key(
            format!("{} {way}", figure::length(amount, self.system)),
            "the centre, and no farther".to_owned(),
        );
        let beside = if self.hand == Hand::Right {
            Rect::new(MIDDLE.x + 42.0, FIELD.y0, RIGHT, FIELD.y1)
        } else {
            Rect::new(LEFT, FIELD.y0, MIDDLE.x - 42.0, FIELD.y1)
        };
        let (targets, zones) = ([MIDDLE], [beside]);
        let callout = Callout { lines: &lines, targets: &targets, arrow: true, zones: &zones };
        point_out(scene, &callout);
    }
}
