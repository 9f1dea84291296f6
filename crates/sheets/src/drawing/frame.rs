//! What all drawings have in common: the sheet, its heading, its words.

use geometry::System;
use kurbo::{Point, Rect};

use crate::scene::{Callout, Hatching, Scale, Scene, Weight, Words};

/// Width and height of a sheet, in millimetres.
pub(super) const SHEET: (f64, f64) = (180.0, 120.0);

/// Sizes of type, in millimetres.
pub(super) const HEADING: f64 = 4.6;
pub(super) const KEY: f64 = 4.6;
pub(super) const NOTE: f64 = 3.4;

/// Left edge of what is set on a sheet.
pub(super) const LEFT: f64 = 5.0;

/// Right edge of what is set on a sheet.
pub(super) const RIGHT: f64 = SHEET.0 - 5.0;

/// Size of a sample of a line or a hatching in a legend.
const SAMPLE_MM: (f64, f64) = (8.0, 3.4);

/// A sheet with its heading.
pub(super) fn sheet(heading: &str, note: &str, description: String) -> Scene {
    let mut scene = Scene::new(heading.to_owned(), description, SHEET.0, SHEET.1);
    scene.part("heading");
    scene.text(Words::starting((LEFT, 7.5), HEADING, heading));
    scene.text(Words::starting((LEFT, 12.5), NOTE, note));
    scene
}

/// The scale and its bar, in the right lower corner.
pub(super) fn scale_corner(scene: &mut Scene, scale: Scale, system: System) {
    scene.part("scale bar");
    scene.scale_bar(Point::new(RIGHT - 36.0, 116.6), scale, system, 20.0);
    scene.part("scale");
    scene.text(Words::starting((RIGHT - 36.0, 112.2), NOTE, format!("scale {}", scale.name())));
}

/// Words that point at something, in one of the zones or, where none has room, anywhere.
pub(super) fn point_out(scene: &mut Scene, callout: &Callout<'_>) {
    if !scene.callout(callout) {
        let zones = [Rect::new(LEFT, 16.0, RIGHT, 106.0)];
        scene.callout(&Callout { zones: &zones, ..callout.clone() });
    }
}

/// A key figure with a note below it.
pub(super) fn key(figure: String, note: impl Into<String>) -> Vec<(String, f64)> {
    let note = note.into();
    let mut lines = vec![(figure, KEY)];
    if !note.is_empty() {
        lines.push((note, NOTE));
    }
    lines
}

/// What a legend shows beside its words.
#[derive(Clone, Copy, Debug)]
pub(super) enum Sample {
    /// A line.
    Line(Weight),
    /// A hatched area.
    Hatch(Hatching),
}

/// One entry of a legend, its left end at a place on the words' baseline.
pub(super) fn legend(scene: &mut Scene, at: Point, sample: Sample, words: &str) {
    let (width, height) = SAMPLE_MM;
    match sample {
        Sample::Line(weight) => {
            let y = at.y - 0.3 * NOTE;
            scene.line(Point::new(at.x, y), Point::new(at.x + width, y), weight);
        }
        Sample::Hatch(hatching) => {
            let area = Rect::new(at.x, at.y + 0.4 - height, at.x + width, at.y + 0.4);
            let corners = [(area.x0, area.y0), (area.x1, area.y0), (area.x1, area.y1)];
            let corners = corners.into_iter().chain([(area.x0, area.y1)]).map(Point::from);
            let mut corners: Vec<Point> = corners.collect();
            scene.hatched(&[corners.clone()], hatching);
            corners.push(corners[0]);
            scene.polyline(&corners, Weight::Thin);
        }
    }
    scene.text(Words::starting((at.x + width + 1.8, at.y), NOTE, words));
}
