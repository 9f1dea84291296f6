//! A dial as a hand sees it, with the mark to set under its index.

mod face;
mod words;

use kurbo::{Point, Vec2};
use shop::plan::DialMark;
use shop::record::Motion;

use super::frame::{HEADING, LEFT};
use super::leaf::{LINE_MM, SMALL, broken, fitted, set_lines};
use crate::scene::{Paint, Scene, Weight, Words, arc, width_mm};

use face::{Course, Face};

/// Width of the sheet.
const WIDTH: f64 = 120.0;

/// Where the index points, and the size of its pointer.
const INDEX: Point = Point::new(60.0, 23.0);
const POINTER_MM: (f64, f64) = (2.6, 6.0);

/// Lengths of the marks, the plain ones, those half way between figures and those with a figure;
/// and from the marks' outer ends to the middles of the figures.
const PLAIN_MM: f64 = 3.0;
const HALF_MM: f64 = 4.4;
const FIGURED_MM: f64 = 6.0;
const FIGURE_IN_MM: f64 = 10.2;

/// Sizes of the figures on the dial, of the wanted mark's name and of the reading.
const FIGURE: f64 = 4.0;
const UNDER: f64 = 5.4;
const READING: f64 = 7.0;
const READING_MIN: f64 = 4.0;

/// From the index down to the reading, within a ring and below the part of another course.
const IN_RING_MM: f64 = 42.0;
const BELOW_MM: f64 = 29.0;

/// From the reading down to the first line about turns, and from that to the next.
const TURNS_MM: (f64, f64) = (8.0, 5.4);

/// Room for the words in the middle of a ring.
const MIDDLE_MM: f64 = 58.0;

/// The dial of one axis with the wanted mark under its index: a ring of all graduations where one
/// turn of the dial is on record, else the part of the circle or rule about the mark. Whole turns
/// are told in words.
///
/// Figures are those of the dial itself, whatever system the sheet is in, and grow clockwise or to
/// the right.
pub fn dial_view(mark: &DialMark, motion: &Motion) -> Scene {
    let face = Face::of(mark, motion);
    let notes: Vec<String> =
        face.notes(mark).iter().flat_map(|note| broken(note, WIDTH - 2.0 * LEFT)).collect();
    let notes_y = face.foot() + 8.0;
    let height_mm = notes_y + LINE_MM * notes.len() as f64;
    let heading = format!("Set {}", mark.axis);
    let mut scene = Scene::new(heading.clone(), face.description(mark), WIDTH, height_mm);
    scene.part("heading");
    let words = Words::starting((LEFT, 7.5), HEADING, heading);
    scene.text(fitted(words, WIDTH - 2.0 * LEFT, SMALL));
    face.draw(&mut scene);
    face.draw_index(&mut scene);
    face.draw_reading(&mut scene);
    scene.part("notes");
    set_lines(&mut scene, Point::new(LEFT, notes_y), &notes);
    scene
}

impl Face {
    /// Lowest place that the dial and the words within it take.
    fn foot(&self) -> f64 {
        match self.course {
            Course::Ring { radius_mm, .. } => INDEX.y + 2.0 * radius_mm,
            _ => {
                let lines = self.turns_words().len() as f64;
                self.reading_y()
                    + if lines > 0.0 { TURNS_MM.0 + TURNS_MM.1 * (lines - 1.0) } else { 1.0 }
            }
        }
    }

    fn reading_y(&self) -> f64 {
        let is_ring = matches!(self.course, Course::Ring { .. });
        INDEX.y + if is_ring { IN_RING_MM } else { BELOW_MM }
    }

    fn draw(&self, scene: &mut Scene) {
        scene.part("ring");
        match self.course {
            Course::Ring { radius_mm, .. } => {
                let centre = INDEX + Vec2::new(0.0, radius_mm);
                scene.stroke(arc(centre, radius_mm, 0.0, std::f64::consts::TAU), Weight::Thin);
            }
            _ => {
                let ends: Vec<Point> = self.border().map(|at| self.place(at).0).collect();
                scene.polyline(&ends, Weight::Thin);
            }
        }
        scene.part("graduations");
        for count in self.counts() {
            let long_mm = self.mark_mm(count);
            let (outer, inward) = self.place(count as f64);
            scene.line(outer, outer + inward * long_mm, Weight::Thin);
        }
        scene.part("figures");
        for count in self.counts().filter(|count| self.is_figured(*count)) {
            let (outer, inward) = self.place(count as f64);
            let at = outer + inward * FIGURE_IN_MM + Vec2::new(0.0, 0.36 * FIGURE);
            scene.text(Words::about(at, FIGURE, self.figure(count)));
        }
    }

    fn mark_mm(&self, count: i64) -> f64 {
        if self.is_figured(count) {
            FIGURED_MM
        } else if self.is_half(count) {
            HALF_MM
        } else {
            PLAIN_MM
        }
    }

    /// The fixed index above the dial, the wanted mark heavy under it and named beside it.
    fn draw_index(&self, scene: &mut Scene) {
        scene.part("index");
        let (half, high) = POINTER_MM;
        let tip = INDEX - Vec2::new(0.0, 0.6);
        let corners = [tip + Vec2::new(-half, -high), tip + Vec2::new(half, -high)];
        scene.fill(&[tip, corners[0], corners[1]], Paint::Black);
        scene.part("wanted mark");
        if let Some(count) = self.whole_mark() {
            let (outer, inward) = self.place(count as f64);
            scene.line(outer, outer + inward * self.mark_mm(count), Weight::Outline);
        }
        let words = Words::starting((INDEX.x + half + 1.8, INDEX.y - 2.6), UNDER, self.under());
        let room = WIDTH - LEFT - words.at.x;
        scene.text(fitted(words, room, SMALL));
    }

    fn draw_reading(&self, scene: &mut Scene) {
        scene.part("reading");
        let y = self.reading_y();
        let words = Words::about((INDEX.x, y), READING, self.reading.as_str());
        scene.text(fitted(words, MIDDLE_MM, READING_MIN));
        scene.part("turns");
        for (row, line) in self.turns_words().iter().enumerate() {
            let at = (INDEX.x, y + TURNS_MM.0 + TURNS_MM.1 * row as f64);
            let words = Words::about(at, FIGURE, line.as_str());
            scene.text(fitted(words, MIDDLE_MM, SMALL));
        }
    }

    /// Whether two neighbouring figures keep apart when every so many marks bear one.
    fn keeps_apart(wide_mm: f64, apart_mm: f64) -> bool {
        apart_mm > wide_mm.max(FIGURE) + 1.6
    }
}

/// Width of a figure on the dial.
fn figure_mm(text: &str) -> f64 {
    width_mm(text, FIGURE)
}
