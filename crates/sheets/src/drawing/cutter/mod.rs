//! One cutter as it lies on the bench: from its side and from its tip, with what is known of it.

mod body;
mod end;
mod figures;
mod side;
mod wear;
mod words;

use geometry::{Length, System};
use kurbo::Point;
use shop::record::{Cutter, Hand};

use super::frame::LEFT;
use super::leaf::{all_broken, leaf, lines_mm, set_lines};
use crate::scene::{Scale, Scene};

use body::Body;

/// Height of the cutter's axis on the leaf.
const AXIS_Y: f64 = 52.0;

/// Where the cutter's tip stands in the side view, and the paper for its length and its breadth.
const TIP_X: f64 = 56.0;
const SIDE_MM: (f64, f64) = (97.0, 42.0);

/// Middle of the end view, and the paper for its diameter.
const END: Point = Point::new(26.0, AXIS_Y);
const END_MM: f64 = 30.0;

/// Where the words below the views begin.
const WORDS_Y: f64 = 102.0;

/// What is drawn of a cutter.
struct CutterView<'a> {
    cutter: &'a Cutter,
    system: System,
    body: Body,
    scale: Scale,
    end_scale: Scale,
}

/// A cutter from its side and from its tip, to the scales that it states, with its sizes beside
/// it, its teeth counted and its wear marked where it was seen.
///
/// Its tip lies on the left; tooth 1 stands uppermost at the tip, and the others follow toward
/// the heels. A shank that is long for its cutter is broken off.
pub fn cutter_view(cutter: &Cutter, system: System) -> Scene {
    let body = Body::of(cutter);
    let (scale, body) = body.scaled(SIDE_MM);
    let end_scale = Scale::fitting(body.diameter_mm, END_MM);
    let view = CutterView { cutter, system, body, scale, end_scale };
    let lines = all_broken(&view.words());
    let height_mm = WORDS_Y + lines_mm(&lines) + 2.0;
    let heading = format!("Cutter {}", cutter.number());
    let mut scene = leaf(&heading, &view.headline(), view.description(), height_mm);
    view.draw_side(&mut scene);
    view.draw_end(&mut scene);
    view.draw_wear(&mut scene);
    view.draw_sizes(&mut scene);
    view.name_wear(&mut scene);
    scene.part("words");
    set_lines(&mut scene, Point::new(LEFT, WORDS_Y), &lines);
    scene
}

impl CutterView<'_> {
    fn radius_mm(&self) -> f64 {
        0.5 * self.body.diameter_mm
    }

    /// Which way on paper lies heelward in the end view: +1 clockwise to the eye.
    fn heel_sign(&self) -> f64 {
        // A right-hand cutter turns counterclockwise seen from its tip, and its heels trail.
        match self.cutter.hand() {
            Hand::Right => 1.0,
            Hand::Left => -1.0,
        }
    }

    /// Angle of a tooth's edge, clockwise from the top as seen from the tip, at a distance from
    /// the end.
    ///
    /// **Source** \[own-derivation\] 2π (i − 1)/N toward the heels, and 2π z/lead, clockwise for a
    /// right-hand helix. **Departs** in taking the teeth as equally spaced. **Error** rounding.
    /// **Domain** every cutter.
    fn edge_rad(&self, tooth: u32, from_end_mm: f64) -> f64 {
        let turn = std::f64::consts::TAU;
        let steps = f64::from(tooth) - 1.0;
        let index = self.heel_sign() * turn * steps / f64::from(self.cutter.teeth());
        index + self.twist_rad_per_mm() * from_end_mm
    }

    /// How far the helix turns an edge clockwise, as seen from the tip, for a millimetre.
    fn twist_rad_per_mm(&self) -> f64 {
        let sign = match self.cutter.helix_hand() {
            Some(Hand::Left) => -1.0,
            _ => 1.0,
        };
        let lead = self.cutter.lead();
        lead.map_or(0.0, |lead| sign * std::f64::consts::TAU / lead.mm())
    }

    /// Diameter over the sharp edges, as far as it is known.
    fn ground(&self) -> Option<Length> {
        self.cutter.as_ground().map(|ground| ground.diameter)
    }
}
