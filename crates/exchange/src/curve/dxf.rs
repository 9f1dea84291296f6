//! Drawings as DXF, in the form of release 12 in ASCII, which every program reads.
//!
//! That form has no word for its units, so they are said by the words of later releases, in remarks
//! at its head, and in a line of text beside the drawing.

use geometry::quantity::System;

use super::shape::{Point, Shape};

/// A drawing of shapes on named layers.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// What it shows, in words.
    pub title: String,
    /// What to know of it, line by line.
    pub notes: Vec<String>,
    /// Layers with their shapes, in millimetres.
    pub layers: Vec<Layer>,
}

/// A layer.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// Its name: capitals, digits and underscores.
    pub name: &'static str,
    /// Its colour, by the number that such drawings have for it.
    pub colour: u8,
    /// Its shapes.
    pub shapes: Vec<Shape>,
}

/// The layer of the words.
const NOTES: &str = "NOTES";

/// Height of the words, as a share of the drawing's width.
const WORDS_SHARE: f64 = 0.02;

/// A drawing being written.
struct Writer {
    text: String,
}

impl Writer {
    fn pair(&mut self, code: u16, value: &str) {
        self.text.push_str(&format!("{code:>3}\r\n{value}\r\n"));
    }

    fn number(&mut self, code: u16, value: f64) {
        self.pair(code, &format!("{value:.6}"));
    }

    fn point(&mut self, code: u16, point: Point) {
        self.number(code, point[0]);
        self.number(code + 10, point[1]);
        self.number(code + 20, 0.0);
    }

    fn begin(&mut self, kind: &str, layer: &str) {
        self.pair(0, kind);
        self.pair(8, layer);
    }

    fn section(&mut self, name: &str, write: impl FnOnce(&mut Self)) {
        self.pair(0, "SECTION");
        self.pair(2, name);
        write(self);
        self.pair(0, "ENDSEC");
    }

    fn shape(&mut self, layer: &str, shape: &Shape) {
        match shape {
            Shape::Line { from, to } => {
                self.begin("LINE", layer);
                self.point(10, *from);
                self.point(11, *to);
            }
            Shape::Arc { centre, radius_mm, from_deg, to_deg } => {
                self.begin("ARC", layer);
                self.point(10, *centre);
                self.number(40, *radius_mm);
                self.number(50, *from_deg);
                self.number(51, *to_deg);
            }
            Shape::Polyline { points } => self.polyline(layer, points),
        }
    }

    fn polyline(&mut self, layer: &str, points: &[Point]) {
        self.begin("POLYLINE", layer);
        // Vertices follow.
        self.pair(66, "1");
        self.point(10, [0.0, 0.0]);
        self.pair(70, "0");
        for point in points {
            self.begin("VERTEX", layer);
            self.point(10, *point);
        }
        self.begin("SEQEND", layer);
    }

    fn words(&mut self, at: Point, height: f64, words: &str) {
        self.begin("TEXT", NOTES);
        self.point(10, at);
        self.number(40, height);
        self.pair(1, &plain(words));
    }
}

/// The drawing as DXF in this system of units.
pub fn drawing_dxf(drawing: &Drawing, system: System) -> String {
    let per_mm = match system {
        System::Millimetre => 1.0,
        System::Inch => 1.0 / geometry::quantity::MM_PER_INCH,
    };
    let unit = match system {
        System::Millimetre => "Lengths in millimetres",
        System::Inch => "Lengths in inches",
    };
    let notes: Vec<&str> = [drawing.title.as_str(), unit]
        .into_iter()
        .chain(drawing.notes.iter().map(String::as_str))
        .collect();
    let (least, most) = extents(drawing);
    let [least, most] = [least, most].map(|point| point.map(|value| value * per_mm));
    let mut writer = Writer { text: String::new() };
    notes.iter().for_each(|note| writer.pair(999, &plain(note)));
    writer.section("HEADER", |writer| header(writer, system, least, most));
    writer.section("TABLES", |writer| tables(writer, drawing));
    writer.section("ENTITIES", |writer| {
        for layer in &drawing.layers {
            let scaled = layer.shapes.iter().cloned().map(|shape| shape.scaled(per_mm));
            scaled.for_each(|shape| writer.shape(layer.name, &shape));
        }
        let height = WORDS_SHARE * (most[0] - least[0]);
        for (line, note) in (1_u32..).zip(&notes) {
            let down = 1.6 * height * f64::from(line);
            writer.words([least[0], least[1] - down], height, note);
        }
    });
    writer.pair(0, "EOF");
    writer.text
}

fn header(writer: &mut Writer, system: System, least: Point, most: Point) {
    writer.pair(9, "$ACADVER");
    writer.pair(1, "AC1009");
    let (units, is_metric) = match system {
        System::Inch => ("1", "0"),
        System::Millimetre => ("4", "1"),
    };
    // Words of later releases; a reader of this one passes over what it does not know.
    writer.pair(9, "$INSUNITS");
    writer.pair(70, units);
    writer.pair(9, "$MEASUREMENT");
    writer.pair(70, is_metric);
    writer.pair(9, "$EXTMIN");
    writer.point(10, least);
    writer.pair(9, "$EXTMAX");
    writer.point(10, most);
}

fn tables(writer: &mut Writer, drawing: &Drawing) {
    let layers = drawing.layers.iter().map(|layer| (layer.name, layer.colour));
    let layers: Vec<(&str, u8)> = layers.chain([(NOTES, 7)]).collect();
    writer.pair(0, "TABLE");
    writer.pair(2, "LAYER");
    writer.pair(70, &layers.len().to_string());
    for (name, colour) in layers {
        writer.pair(0, "LAYER");
        writer.pair(2, name);
        writer.pair(70, "0");
        writer.pair(62, &colour.to_string());
        writer.pair(6, "CONTINUOUS");
    }
    writer.pair(0, "ENDTAB");
}

/// The corners between which every shape lies.
fn extents(drawing: &Drawing) -> (Point, Point) {
    let shapes = drawing.layers.iter().flat_map(|layer| &layer.shapes);
    let points: Vec<Point> = shapes.flat_map(corners).collect();
    let fold = |pick: fn(f64, f64) -> f64, start: f64| {
        [0, 1].map(|axis| points.iter().map(|point| point[axis]).fold(start, pick))
    };
    if points.is_empty() {
        return ([0.0; 2], [1.0; 2]);
    }
    (fold(f64::min, f64::INFINITY), fold(f64::max, f64::NEG_INFINITY))
}

/// Points between which a shape lies: of an arc its ends and the quarters of its circle that it
/// passes.
fn corners(shape: &Shape) -> Vec<Point> {
    match shape {
        Shape::Line { from, to } => vec![*from, *to],
        Shape::Polyline { points } => points.clone(),
        Shape::Arc { centre, radius_mm, from_deg, to_deg } => {
            let sweep_deg = (to_deg - from_deg).rem_euclid(360.0);
            let quarters = (0..4).map(|quarter| 90.0 * f64::from(quarter));
            let passed = quarters.filter(|at| (at - from_deg).rem_euclid(360.0) <= sweep_deg);
            let on_circle = |at: f64| {
                let (sin, cos) = at.to_radians().sin_cos();
                [centre[0] + radius_mm * cos, centre[1] + radius_mm * sin]
            };
            passed.chain([*from_deg, *to_deg]).map(on_circle).collect()
        }
    }
}

/// Words on one line, in the letters that the form has.
fn plain(words: &str) -> String {
    let letter = |letter: char| match letter {
        '\u{2300}' | '\u{2205}' => "dia. ".to_owned(),
        '\u{b0}' => " deg".to_owned(),
        letter if letter.is_ascii() && !letter.is_ascii_control() => letter.to_string(),
        _ => "?".to_owned(),
    };
    words.chars().map(letter).collect()
}
