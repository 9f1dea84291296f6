//! A grinding wheel as its record has it: the upper half cut open, the lower from outside.

mod body;
mod figures;

use geometry::System;
use kurbo::Point;
use shop::record::Wheel;

use super::figure;
use super::frame::LEFT;
use super::leaf::{LARGE, LINE_MM, RIGHT, SMALL, broken, leaf, lines_mm, set, set_lines, size};
use crate::scene::{Hatching, Scale, Scene, Weight, Words};

use body::Body;

/// Height of the wheel's axis, where its front stands, and the paper for its diameter and depth.
const AXIS_Y: f64 = 66.0;
const FRONT_X: f64 = 42.0;
const PAPER_MM: (f64, f64) = (78.0, 38.0);

/// Left edge of the words beside the wheel.
const WORDS_X: f64 = 119.0;

/// Where the words beside the wheel begin.
const WORDS_Y: f64 = 26.0;

/// The lower line with the scale.
const SCALE_Y: f64 = 121.0;

/// How far the centre line runs past the wheel.
const PAST_MM: f64 = 5.0;

/// What is drawn of a wheel.
struct WheelView<'a> {
    wheel: &'a Wheel,
    system: System,
    body: Body,
    scale: Scale,
}

/// A wheel from its side, its upper half in section, with its sizes and what is marked on it, to
/// the scale that it states.
///
/// The face of a cup or dish looks to the left. The picture says what the record says and nothing
/// about the wheel on the bench.
pub fn wheel_view(wheel: &Wheel, system: System) -> Scene {
    let body = Body::of(wheel);
    let scale = Scale::fitting(2.0 * body.radius_mm, PAPER_MM.0)
        .min(Scale::fitting(body.depth_mm, PAPER_MM.1));
    let view = WheelView { wheel, system, body, scale };
    let notes = broken(view.note(), RIGHT - LEFT);
    let heading = format!("Wheel {}", wheel.number());
    let height_mm = SCALE_Y + 7.0 + lines_mm(&notes) - 2.0;
    let mut scene = leaf(&heading, &view.headline(), view.description(), height_mm);
    view.draw_body(&mut scene);
    view.draw_words(&mut scene);
    view.draw_sizes(&mut scene);
    scene.part("notes");
    set_lines(&mut scene, Point::new(LEFT, SCALE_Y + 7.0), &notes);
    scene
}

impl WheelView<'_> {
    /// A place of the wheel: back from its front and up from its axis.
    fn at(&self, back_mm: f64, up_mm: f64) -> Point {
        let factor = self.scale.factor();
        Point::new(FRONT_X + back_mm * factor, AXIS_Y - up_mm * factor)
    }

    fn draw_body(&self, scene: &mut Scene) {
        scene.part("centre line");
        let (from, to) = (self.at(0.0, 0.0), self.at(self.body.depth_mm, 0.0));
        let past = kurbo::Vec2::new(PAST_MM, 0.0);
        scene.line(from - past, to + past, Weight::Centre);
        scene.part("section");
        let section: Vec<Point> =
            self.body.section_mm().into_iter().map(|(back, up)| self.at(back, up)).collect();
        scene.hatched(std::slice::from_ref(&section), Hatching::RISING);
        let mut outline = section;
        outline.extend(outline.first().copied());
        scene.polyline(&outline, Weight::Outline);
        scene.part("hole");
        for back in [self.body.hole_from_mm(), self.body.depth_mm] {
            scene.line(self.at(back, 0.0), self.at(back, self.body.bore_mm), Weight::Thin);
        }
        scene.part("outside");
        let outside = self.body.outside_mm().into_iter().map(|(back, up)| self.at(back, -up));
        scene.polyline(&outside.collect::<Vec<_>>(), Weight::Outline);
    }

    fn headline(&self) -> String {
        let shape = self.wheel.shape();
        format!("{}, {}", shape.form().name(), shape.name())
    }

    /// Grain, grit, grade and bond.
    fn marking(&self) -> Vec<String> {
        let wheel = self.wheel;
        let grade = wheel.grade().map_or(String::new(), |grade| format!(", grade {grade}"));
        let mut words = vec![wheel.abrasive().name().to_owned()];
        words.push(format!("grit {}{grade}", wheel.grit()));
        words.extend(wheel.concentration().map(|count| format!("concentration {count}")));
        words.push(format!("{} bond", wheel.bond().name()));
        words.extend(wheel.coolant().map(|coolant| format!("for {} work", coolant.name())));
        words
    }

    /// The speeds that are marked on it.
    fn speeds(&self) -> Vec<String> {
        let turns = format!("{} rpm", self.wheel.marked_rpm());
        let surface = self.wheel.marked_speed_m_per_s().map(|speed| match self.system {
            System::Inch => format!("{:.0} ft/min", speed * FEET_PER_MINUTE),
            System::Millimetre => format!("{speed} m/s"),
        });
        [Some(turns), surface].into_iter().flatten().collect()
    }

    /// The surface speed as wheels are marked with it, where it was told in other units.
    fn as_marked(&self) -> Option<String> {
        let speed = self.wheel.marked_speed_m_per_s().filter(|_| self.system == System::Inch);
        speed.map(|speed| format!("(marked {speed} m/s)"))
    }

    fn draw_words(&self, scene: &mut Scene) {
        let room = RIGHT - WORDS_X;
        scene.part("marking");
        let mut y = WORDS_Y;
        for line in self.marking().iter().flat_map(|words| broken(words, room)) {
            set(scene, Words::starting((WORDS_X, y), SMALL, line), room);
            y += LINE_MM;
        }
        scene.part("marked speed");
        y += LINE_MM;
        set(scene, Words::starting((WORDS_X, y), SMALL, "marked on it:"), room);
        y += 1.5 * LINE_MM;
        for line in self.speeds() {
            set(scene, Words::starting((WORDS_X, y), LARGE, line), room);
            y += 1.4 * LINE_MM;
        }
        if let Some(line) = self.as_marked() {
            set(scene, Words::starting((WORDS_X, y), SMALL, line), room);
            y += LINE_MM;
        }
        for line in broken("Never turn it faster than its mark.", room) {
            set(scene, Words::starting((WORDS_X, y), SMALL, line), room);
            y += LINE_MM;
        }
    }

    /// What the picture takes by custom.
    fn note(&self) -> &'static str {
        match (self.body.is_cup, self.body.has_taken_wall) {
            (false, _) => "The record does not say how thick the abrasive layer is; none is drawn.",
            (true, false) => {
                "How thick the back is, and the layer, is not on record; the back is drawn by \
                 custom."
            }
            (true, true) => {
                "How thick the back is and how far the wall leans is not on record; both are \
                 drawn by custom."
            }
        }
    }

    fn description(&self) -> String {
        let sizes: Vec<String> =
            self.sizes().into_iter().map(|(name, value)| format!("{name} {value}")).collect();
        format!(
            "A {} at {}, its upper half in section. {}. {}. Marked on it: {}. {}",
            self.headline(),
            self.scale.name(),
            sizes.join(", "),
            self.marking().join(", "),
            self.speeds().into_iter().chain(self.as_marked()).collect::<Vec<_>>().join(", "),
            self.note()
        )
    }

    /// Every size with its name.
    fn sizes(&self) -> Vec<(&'static str, String)> {
        let wheel = self.wheel;
        let shown = |length| size(length, self.system);
        let thick = if self.body.is_cup { "depth" } else { "thickness" };
        let mut sizes = vec![
            ("⌀", shown(wheel.diameter())),
            (thick, shown(wheel.depth())),
            ("bore ⌀", shown(wheel.bore())),
            ("face", shown(wheel.face_width())),
        ];
        sizes.extend(self.rim().map(|rim| ("rim", shown(rim))));
        sizes.extend(self.corner().map(|corner| ("worn corner R", shown(corner))));
        sizes.extend(wheel.wall_angle().map(|angle| ("wall", figure::angle(angle))));
        sizes
    }
}

/// Feet a minute in a metre a second.
const FEET_PER_MINUTE: f64 = 60.0 / 0.3048;
