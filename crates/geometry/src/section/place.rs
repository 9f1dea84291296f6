//! Bringing the wheel in until its envelope passes through a point of the tooth's section.

use nalgebra::Vector3;

use super::contact::{Curve, Meeting, Touch};
use super::envelope::{Owned, envelope};
use super::ground::GroundSection;
use super::setup::{RAY_RAD, SectionError, Setup};
use super::trace::{Run, Window, trace};
use crate::quantity::{Angle, Length};
use crate::search::{least, place_below};
use crate::wheel::{ElementShape, Pose, ProfilePoint, WheelKind};

/// The wheel counts as leaving no surface beyond this many cutting-circle radii.
const RADII_FOLLOWED: f64 = 6.0;

/// Full accuracy is kept this far ahead of the edge, where a dull edge can stand.
pub(super) const EXACT_AHEAD_RAD: f64 = 0.1;

/// How closely the envelope is brought to the wanted point.
const PLACE_ERROR_MM: f64 = 1e-8;

/// Where the wheel leaves nothing at the wanted angle, it is fed in by this share of the radius.
const SEARCH_SHARE: f64 = 0.05;

/// Steps for which one curve is followed before the bracketed search takes over.
const FOLLOW_STEPS_MAX: u32 = 8;

/// How closely the surface must begin at the edge.
const EDGE_MM: f64 = 1e-6;

/// How closely a followed curve must be the envelope itself.
const GUESS_MM: f64 = 1e-7;

/// Steps of the search; it converges in three to five where it converges at all.
const STEPS_MAX: u32 = 60;

/// All that is known of an envelope at one place of the wheel.
#[derive(Clone)]
pub(super) struct Traced {
    pub(super) meeting: Meeting,
    pub(super) curves: Vec<Curve>,
    pub(super) runs: Vec<Run>,
    pub(super) owned: Vec<Owned>,
    /// The radius up to which every curve was followed; farther out nothing can be said.
    pub(super) followed_mm: f64,
}

/// The wheel in its place and its contact curves.
fn met(setup: &Setup, backed_off_mm: f64) -> (Meeting, Vec<Curve>) {
    let pose = setup.pose().backed_off(backed_off_mm);
    let meeting = Meeting { pose, screw: setup.screw() };
    let mut curves = Vec::with_capacity(16);
    let profile = setup.wheel().profile();
    profile.vertices().iter().for_each(|vertex| meeting.add_circle(vertex, &mut curves));
    profile.elements().iter().for_each(|element| meeting.add_contacts(element, &mut curves));
    (meeting, curves)
}

/// How many whole turns of the helix the wheel may reach along: where the face is long against the
/// lead, the same tooth comes before it again a turn farther on.
fn turns(setup: &Setup) -> i32 {
    let reach_mm = 2.0 * setup.wheel().face_width_mm() + setup.flutes().nominal_diameter.mm();
    let twist_rad = setup.screw().twist_rad_per_mm.abs() * reach_mm;
    if twist_rad < std::f64::consts::PI {
        return 0;
    }
    (twist_rad / std::f64::consts::TAU).ceil() as i32
}

/// Whether the cutter's axis passes through the wheel's near half: then nothing of the cutter would
/// be left. The distance from the wheel changes no faster than the place, so that no wall is too
/// thin to be found.
fn swallows(setup: &Setup, meeting: &Meeting) -> bool {
    let (pose, wheel) = (&meeting.pose, setup.wheel());
    let is_cup = wheel.kind() == WheelKind::Cup;
    let outside_mm = |along_mm: f64| {
        let on_axis = Vector3::new(along_mm, 0.0, 0.0) - pose.origin;
        let axial_mm = on_axis.dot(&pose.axis);
        let radial = on_axis - pose.axis * axial_mm;
        let point = ProfilePoint::new(radial.norm(), axial_mm);
        let from_wheel_mm = wheel.profile().distance_mm(point);
        if is_cup { from_wheel_mm.max(-radial.dot(&pose.near)) } else { from_wheel_mm }
    };
    let reach_mm = 2.0 * wheel.radius_mm();
    let ends = (pose.origin.x - reach_mm, pose.origin.x + reach_mm);
    place_below(outside_mm, ends, 0.0, 0.0).is_some()
}

impl Traced {
    fn new(setup: &Setup, backed_off_mm: f64, window: &Window) -> Self {
        let (meeting, curves) = met(setup, backed_off_mm);
        let mut runs = Vec::with_capacity(16);
        let turns = turns(setup);
        for curve in curves.iter().enumerate() {
            for turn in -turns..=turns {
                let turn_rad = std::f64::consts::TAU * f64::from(turn);
                trace(&meeting, window, curve, turn_rad, &mut runs);
            }
        }
        runs.retain(|run| run.end_rad() > window.from_rad && run.start_rad() < window.to_rad);
        let owned = envelope(&runs);
        Self { meeting, curves, runs, owned, followed_mm: window.radius_max_mm }
    }

    /// The point at one angle, from the contact curve itself and not from its interpolation, with
    /// the curve and parameter at which it lies.
    fn reach(&self, at_rad: f64) -> Option<Reached> {
        let owner =
            self.owned.iter().find(|piece| (piece.from_rad..=piece.to_rad).contains(&at_rad))?;
        let (touch, parameter) = self.touch(owner.run, at_rad);
        let run = &self.runs[owner.run];
        Some(Reached { touch, curve: run.curve, parameter, turn_rad: run.turn_rad })
    }
}

/// A point of the envelope and where on the contact curves it lies.
struct Reached {
    touch: Touch,
    curve: usize,
    parameter: f64,
    turn_rad: f64,
}

/// The whole section with the wheel where its envelope passes through the wanted point.
pub(super) fn placed(
    setup: &Setup,
    heelward_rad: f64,
    radius_mm: f64,
) -> Result<GroundSection, SectionError> {
    placed_within(setup, whole_range(setup), heelward_rad, radius_mm)
}

/// The same with the section followed within a range of angles only.
pub(super) fn placed_within(
    setup: &Setup,
    range_rad: (f64, f64),
    heelward_rad: f64,
    radius_mm: f64,
) -> Result<GroundSection, SectionError> {
    let window = window(range_rad, heelward_rad, radius_mm);
    let section = at_placed(setup, &window, heelward_rad, radius_mm)?;
    if swallows(setup, &section.traced.meeting) {
        let reason = "the wheel would take the whole cutter: its axis lies inside the wheel; set \
                      the rest farther into the face, or sharpen the wheel's corner";
        return Err(SectionError::OutOfReach { reason: reason.to_owned() });
    }
    if cuts_across(setup, &section.traced.meeting.pose, radius_mm) {
        let reason = "the rim stands in the cutting circle on the wheel's own centre line, and its \
                      far half would cut too; make the face narrower, take a larger wheel, or \
                      lean the head further";
        return Err(SectionError::OutOfReach { reason: reason.to_owned() });
    }
    if heelward_rad == 0.0 && !stands_at_edge(&section, radius_mm) {
        let reason = "the surface that it leaves ends at the edge; set the rest nearer to the \
                      leading corner";
        return Err(SectionError::OutOfReach { reason: reason.to_owned() });
    }
    Ok(section)
}

/// Whether the surface goes on from the edge: it can end there where the wheel's near half does.
fn stands_at_edge(section: &GroundSection, radius_mm: f64) -> bool {
    let edge = section.contact_at(Angle::ZERO);
    edge.is_some_and(|edge| (edge.radius.mm() - radius_mm).abs() <= EDGE_MM)
}

/// Whether any part of a cup's rim, its walls and corners among it, stands inside the cutting
/// circle on the line that parts its near half from its far half. The section counts the near half
/// alone, which is right as long as the hollow parts the two there; a rim wider than that goes on
/// cutting beyond.
fn cuts_across(setup: &Setup, pose: &Pose, radius_mm: f64) -> bool {
    if setup.wheel().kind() == WheelKind::Disc {
        return false;
    }
    let from_axis_mm = |at: ProfilePoint, side: f64| {
        let point = pose.origin + pose.axis * at.axial_mm + pose.side * (side * at.radius_mm);
        point.y.hypot(point.z)
    };
    setup.wheel().profile().elements().iter().any(|element| {
        let shape = &element.shape;
        [-1.0, 1.0].iter().any(|side| {
            let distance_mm = |along_mm: f64| from_axis_mm(shape.at(along_mm), *side);
            // Only a line has one least distance by itself; along an arc it is searched for, and
            // what the search may be off counts as inside.
            let nearest_mm = match shape {
                ElementShape::Line { length_mm, .. } => nearest_on_line(&distance_mm, *length_mm),
                ElementShape::Arc { .. } => {
                    least(distance_mm, 0.0, shape.length_mm(), ACROSS_ERROR_MM) - ACROSS_ERROR_MM
                }
            };
            nearest_mm < radius_mm
        })
    })
}

/// How closely a rounded corner is looked at beside the wheel's own centre line.
const ACROSS_ERROR_MM: f64 = 1e-4;

/// The least distance of a line's points from the cutter's axis: its square is a parabola along the
/// line, which three of its points tell.
fn nearest_on_line(distance_mm: &impl Fn(f64) -> f64, length_mm: f64) -> f64 {
    let [start, middle, end] = [0.0, 0.5, 1.0].map(|share| distance_mm(share * length_mm).powi(2));
    let bend = 2.0 * (start + end) - 4.0 * middle;
    let slope = 4.0 * middle - 3.0 * start - end;
    let share = if bend > 0.0 { (-0.5 * slope / bend).clamp(0.0, 1.0) } else { 0.0 };
    let lowest = [0.0, share, 1.0].map(|share| distance_mm(share * length_mm));
    lowest.into_iter().fold(f64::INFINITY, f64::min)
}

/// The section with the wheel where its leading corner stands so far from the axis; the circle is
/// that on which the section then has its edge, near the radius given.
pub(super) fn standing(
    setup: &Setup,
    backed_off_mm: f64,
    near_mm: f64,
) -> Result<GroundSection, SectionError> {
    standing_in(setup, &window(whole_range(setup), 0.0, near_mm), backed_off_mm)
}

/// The same within a range of angles, and up to a radius.
pub(super) fn standing_within(
    setup: &Setup,
    (range_rad, radius_max_mm): ((f64, f64), f64),
    backed_off_mm: f64,
    near_mm: f64,
) -> Result<GroundSection, SectionError> {
    let window = Window { radius_max_mm, ..window(range_rad, 0.0, near_mm) };
    standing_in(setup, &window, backed_off_mm)
}

fn standing_in(
    setup: &Setup,
    window: &Window,
    backed_off_mm: f64,
) -> Result<GroundSection, SectionError> {
    let traced = Traced::new(setup, backed_off_mm, window);
    let edge = traced.reach(0.0).ok_or_else(|| out_of_reach(setup))?;
    let circle_mm = edge.touch.radius_mm;
    Ok(GroundSection::new(setup.clone(), traced, backed_off_mm, circle_mm))
}

/// One tooth pitch on either side of the edge.
pub(super) fn whole_range(setup: &Setup) -> (f64, f64) {
    let pitch_rad = setup.flutes().pitch_rad().min(std::f64::consts::PI);
    (-pitch_rad - 1e-6, pitch_rad + 1e-6)
}

impl GroundSection {
    /// Whether the wheel comes within a radius at an angle that the section need not have been
    /// followed to: traced anew for this one ray, and no farther out than that radius.
    pub fn comes_within(&self, heelward: Angle, radius: Length) -> bool {
        let radius_max_mm = radius.mm();
        let window = Window { radius_max_mm, ..ray_window(heelward.radians(), self.circle_mm) };
        let place_mm = self.leading_corner_from_axis().mm();
        let reached = Traced::new(&self.setup, place_mm, &window).reach(heelward.radians());
        reached.is_some_and(|reached| reached.touch.radius_mm <= radius_max_mm)
    }
}

/// A range of angles, followed exactly from just ahead of the edge and of an angle.
fn window((from_rad, to_rad): (f64, f64), heelward_rad: f64, radius_mm: f64) -> Window {
    Window {
        from_rad,
        to_rad,
        exact_from_rad: heelward_rad.min(0.0) - EXACT_AHEAD_RAD,
        circle_mm: radius_mm,
        radius_max_mm: RADII_FOLLOWED * radius_mm,
    }
}

/// The section, before it is asked whether anything of the cutter is left.
fn at_placed(
    setup: &Setup,
    window: &Window,
    heelward_rad: f64,
    radius_mm: f64,
) -> Result<GroundSection, SectionError> {
    let start_mm = start(setup, radius_mm);
    if let Some(backed_off_mm) = follow(setup, start_mm, heelward_rad, radius_mm) {
        let traced = Traced::new(setup, backed_off_mm, window);
        // Following one curve is a guess; it holds if no other curve stands in front of it.
        let reached = traced.reach(heelward_rad);
        let holds = |reached: &Reached| (reached.touch.radius_mm - radius_mm).abs() <= GUESS_MM;
        if reached.as_ref().is_some_and(holds) {
            return Ok(GroundSection::new(setup.clone(), traced, backed_off_mm, radius_mm));
        }
    }
    let backed_off_mm = back_off(setup, heelward_rad, radius_mm)?;
    let traced = Traced::new(setup, backed_off_mm, window);
    Ok(GroundSection::new(setup.clone(), traced, backed_off_mm, radius_mm))
}

/// Where the search begins: the face before the edge, allowing for a disc whose axis stands far
/// from the edge's height.
fn start(setup: &Setup, radius_mm: f64) -> f64 {
    let stance = setup.stance();
    let at_mm = radius_mm * stance.relief_setting.cos();
    if setup.wheel().kind() == WheelKind::Cup {
        return at_mm;
    }
    let edge_mm = -radius_mm * stance.relief_setting.sin();
    let away_mm = edge_mm - stance.axis_above.mm();
    let wheel_mm = setup.wheel().radius_mm();
    at_mm - (wheel_mm - (wheel_mm * wheel_mm - away_mm * away_mm).max(0.0).sqrt())
}

/// The window of one ray.
fn ray_window(heelward_rad: f64, radius_mm: f64) -> Window {
    Window {
        from_rad: heelward_rad - RAY_RAD,
        to_rad: heelward_rad + RAY_RAD,
        exact_from_rad: heelward_rad - RAY_RAD,
        circle_mm: radius_mm,
        radius_max_mm: RADII_FOLLOWED * radius_mm,
    }
}

/// Finds the curve that owns the ray once, then follows that curve alone while the wheel is moved
/// until it passes through the wanted point. None where that does not settle.
fn follow(setup: &Setup, start_mm: f64, heelward_rad: f64, radius_mm: f64) -> Option<f64> {
    let window = ray_window(heelward_rad, radius_mm);
    let Reached { mut touch, curve, mut parameter, turn_rad } =
        Traced::new(setup, start_mm, &window).reach(heelward_rad)?;
    let mut at_mm = start_mm;
    for _ in 0..FOLLOW_STEPS_MAX {
        let miss_mm = touch.radius_mm - radius_mm;
        if miss_mm.abs() <= PLACE_ERROR_MM {
            return Some(at_mm);
        }
        at_mm -= miss_mm / touch.per_backing_off;
        let (meeting, curves) = met(setup, at_mm);
        let curve = curves.get(curve)?;
        (touch, parameter) = meeting.near(curve, parameter, heelward_rad + turn_rad)?;
    }
    None
}

impl Meeting {
    /// The point of a curve at an angle, by secant steps from a parameter near it.
    fn near(&self, curve: &Curve, from: f64, at_rad: f64) -> Option<(Touch, f64)> {
        let step = 1e-4 * (curve.to - curve.from);
        let (mut before, mut now) = (from - step, from);
        let mut miss_before = self.at(curve, before).heelward_rad - at_rad;
        for _ in 0..FOLLOW_STEPS_MAX {
            let touch = self.at(curve, now);
            let miss = touch.heelward_rad - at_rad;
            if miss.abs() < 1e-13 {
                return (curve.from..=curve.to).contains(&now).then_some((touch, now));
            }
            let next = now - miss * (now - before) / (miss - miss_before);
            (before, miss_before, now) = (now, miss, next);
            if !now.is_finite() {
                return None;
            }
        }
        None
    }
}

/// Newton's method on the radius at one angle, held inside a bracket that each step narrows. Where
/// the wheel leaves nothing at that angle it is still too far off.
fn back_off(setup: &Setup, heelward_rad: f64, radius_mm: f64) -> Result<f64, SectionError> {
    let window = ray_window(heelward_rad, radius_mm);
    let mut bracket = Bracket { low: f64::NEG_INFINITY, high: f64::INFINITY };
    let mut at_mm = start(setup, radius_mm);
    for _ in 0..STEPS_MAX {
        let reach = Traced::new(setup, at_mm, &window).reach(heelward_rad);
        let (miss_mm, step_mm) = match &reach {
            Some(Reached { touch, .. }) => {
                let miss_mm = touch.radius_mm - radius_mm;
                (miss_mm, miss_mm / touch.per_backing_off)
            }
            None => (f64::INFINITY, SEARCH_SHARE * radius_mm),
        };
        if miss_mm.abs() <= PLACE_ERROR_MM {
            return Ok(at_mm);
        }
        at_mm = bracket.next(at_mm, miss_mm > 0.0, step_mm);
        if bracket.high - bracket.low < 1e-12 {
            // The radius jumps past what was wanted, unless rounding alone keeps it off.
            return if miss_mm.abs() <= GUESS_MM { Ok(at_mm) } else { Err(out_of_reach(setup)) };
        }
        if at_mm < -radius_mm - setup.wheel().radius_mm() {
            break;
        }
    }
    Err(out_of_reach(setup))
}

/// Where the wheel is known to stand too near and too far off.
struct Bracket {
    low: f64,
    high: f64,
}

impl Bracket {
    /// Narrows the bracket by what was found at a place and gives the next place to try: a step
    /// inward where that stays in the bracket, else the middle.
    fn next(&mut self, at_mm: f64, too_far: bool, step_mm: f64) -> f64 {
        if too_far {
            self.high = at_mm
        } else {
            self.low = at_mm
        }
        let stepped = at_mm - step_mm;
        if stepped.is_finite() && stepped > self.low && stepped < self.high {
            return stepped;
        }
        match (self.low.is_finite(), self.high.is_finite()) {
            (true, true) => 0.5 * (self.low + self.high),
            (true, false) => at_mm + step_mm.abs().clamp(1e-6, 1.0),
            _ => at_mm - step_mm.abs().clamp(1e-6, 1.0),
        }
    }
}

fn out_of_reach(setup: &Setup) -> SectionError {
    let setting_deg = setup.stance().relief_setting.degrees();
    let reason = format!(
        "no feed brings the face to the edge with the tooth {setting_deg:.3} deg below centre; set \
         a smaller relief setting, or the rest nearer to the leading corner"
    );
    SectionError::OutOfReach { reason }
}
