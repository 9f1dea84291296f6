//! A model of the cutter with its ground lands, the wheel and the rest, to be turned about.
//!
//! It is made of the surfaces that the plan has computed: the back of every tooth is the section
//! that the wheels leave, swept along the helix, and the wheel stands where the primary's passes
//! end. Gullets, run-out, the wheel's back and the finger are a picture and no measurement; ends
//! are drawn flat and teeth evenly spaced, whatever the cutter's own are.
//!
//! Coordinates are the machine's as seen on paper: x from the cutter's axis toward the wheel, y up,
//! z along the cutter; toward the shank of a right-hand cutter, and toward the tip of a left-hand
//! one, which is the mirror image of the other.

mod cutter;
mod part;
mod surroundings;
mod view;

use geometry::Length;
use shop::plan::RegrindPlan;
use shop::record::Cutter;

use cutter::Body;
use part::parts_of;
pub use part::{ModelPart, PartName};
use surroundings::Surroundings;
pub use view::{Focus, View, ViewName};

/// A model in parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// What it is a model of, in words.
    pub title: String,
    /// How far facets may stand off the true surfaces.
    pub chord_error: Length,
    /// The parts, the cutter's first.
    pub parts: Vec<ModelPart>,
    /// What to look at.
    pub focus: Focus,
    /// From where to look; the first is the one to begin with.
    pub views: Vec<View>,
}

/// Chord error as a share of the cutter's diameter, and its least and largest: facets are then
/// finer than a screen shows (own choice, no source).
const CHORD_SHARE: f64 = 1.0 / 600.0;
const CHORD_MM: (f64, f64) = (0.002, 0.05);

fn chord_error(cutter: &Cutter) -> Length {
    Length::from_mm((CHORD_SHARE * cutter.diameter().mm()).clamp(CHORD_MM.0, CHORD_MM.1))
}

/// The cutter as it will be when the plan has been carried out, with the wheel as it last touched
/// the primary of the tooth on the rest. None where the plan grinds no periphery.
pub fn regrind_model(plan: &RegrindPlan) -> Option<Model> {
    let peripheral = plan.peripheral.as_ref()?;
    let cutter = &plan.request.cutter;
    let chord_error = chord_error(cutter);
    let body = Body::planned(plan, peripheral);
    let surroundings = Surroundings::new(&body, peripheral);
    let mut parts = parts_of(body.mesh(chord_error)?, PartName::of_cutter, body.is_mirrored);
    parts.extend(surroundings.parts(cutter, chord_error, body.is_mirrored));
    Some(Model {
        title: format!("Cutter {}, the wheel and the rest", cutter.number()),
        chord_error,
        parts,
        focus: body.focus(),
        views: body.views(true),
    })
}

/// A cutter before its grind or after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum GrindState {
    /// Dull, as it came in.
    Before,
    /// As the plan leaves it.
    After,
}

/// The cutter of a plan by itself, without wheel and rest, to a chord error or, where none is
/// asked for, to one finer than a screen shows. None where the plan grinds no periphery or the
/// chord error asks for too many triangles.
pub fn ground_model(plan: &RegrindPlan, state: GrindState, asked: Option<Length>) -> Option<Model> {
    let peripheral = plan.peripheral.as_ref()?;
    let cutter = &plan.request.cutter;
    let chord_error = asked.unwrap_or_else(|| chord_error(cutter));
    let (body, when) = match state {
        GrindState::Before => (Body::dull(plan, peripheral), "before the grind"),
        GrindState::After => (Body::planned(plan, peripheral), "after the grind"),
    };
    Some(Model {
        title: format!("Cutter {}, {when}", cutter.number()),
        chord_error,
        parts: parts_of(body.mesh(chord_error)?, PartName::of_cutter, body.is_mirrored),
        focus: body.focus(),
        views: body.views(false),
    })
}

/// The cutter as its record says it was last ground; where that is not known, with a land and
/// reliefs that only stand for them. None where the record gives no tooth that can be drawn.
pub fn cutter_model(cutter: &Cutter) -> Option<Model> {
    let chord_error = chord_error(cutter);
    let body = Body::recorded(cutter);
    Some(Model {
        title: format!("Cutter {}", cutter.number()),
        chord_error,
        parts: parts_of(body.mesh(chord_error)?, PartName::of_cutter, body.is_mirrored),
        focus: body.focus(),
        views: body.views(false),
    })
}
