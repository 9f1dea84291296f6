//! Bringing the wheel in until its envelope passes through a point of the tooth's section.

use super::contact::{Curve, Meeting};
use super::envelope::{Owned, envelope};
use super::ground::GroundSection;
use super::setup::{SectionError, Setup};
use super::trace::{Run, Window, trace};

/// The wheel counts as leaving no surface beyond this many cutting-circle radii.
const RADII_FOLLOWED: f64 = 10.0;

/// How closely the envelope is brought to the wanted point.
const PLACE_ERROR_MM: f64 = 1e-8;

/// Where the wheel leaves nothing at the wanted angle, it is fed in by this share of the radius.
const SEARCH_SHARE: f64 = 0.05;

/// Steps of the search; it converges in three to five where it converges at all.
const STEPS_MAX: u32 = 60;

/// All that is known of an envelope at one place of the wheel.
#[derive(Clone)]
pub(super) struct Traced {
    pub(super) meeting: Meeting,
    pub(super) curves: Vec<Curve>,
    pub(super) runs: Vec<Run>,
    pub(super) owned: Vec<Owned>,
}

impl Traced {
    fn new(setup: &Setup, backed_off_mm: f64, window: &Window) -> Self {
        let pose = setup.pose().backed_off(backed_off_mm);
        let meeting = Meeting { pose, screw: setup.screw() };
        let mut curves = Vec::with_capacity(16);
        let profile = setup.wheel().profile();
        profile.vertices().iter().for_each(|vertex| meeting.add_circle(vertex, &mut curves));
        profile.elements().iter().for_each(|element| meeting.add_contacts(element, &mut curves));
        let mut runs = Vec::with_capacity(16);
        for (index, curve) in curves.iter().enumerate() {
            trace(&meeting, window, curve, index, &mut runs);
        }
        runs.retain(|run| run.end_rad() > window.from_rad && run.start_rad() < window.to_rad);
        let owned = envelope(&runs);
        Self { meeting, curves, runs, owned }
    }

    /// Radius at one angle and what it gains per millimetre of backing off, from the contact curve
    /// itself and not from its interpolation.
    fn reach(&self, at_rad: f64) -> Option<(f64, f64)> {
        let owner =
            self.owned.iter().find(|piece| (piece.from_rad..=piece.to_rad).contains(&at_rad))?;
        let touch = self.touch(owner.run, at_rad);
        Some((touch.radius_mm, touch.per_backing_off))
    }
}

/// The whole section with the wheel where its envelope passes through the wanted point.
pub(super) fn placed(
    setup: &Setup,
    heelward_rad: f64,
    radius_mm: f64,
) -> Result<GroundSection, SectionError> {
    let backed_off_mm = back_off(setup, heelward_rad, radius_mm)?;
    let pitch_rad = setup.flutes().pitch_rad().min(std::f64::consts::PI);
    let window = Window {
        from_rad: -pitch_rad - 1e-6,
        to_rad: pitch_rad + 1e-6,
        circle_mm: radius_mm,
        radius_max_mm: RADII_FOLLOWED * radius_mm,
    };
    let traced = Traced::new(setup, backed_off_mm, &window);
    Ok(GroundSection::new(setup.clone(), traced, backed_off_mm, radius_mm))
}

/// Newton's method on the radius at one angle, held inside a bracket that each step narrows. Where
/// the wheel leaves nothing at that angle it is still too far off.
fn back_off(setup: &Setup, heelward_rad: f64, radius_mm: f64) -> Result<f64, SectionError> {
    let window = Window {
        from_rad: heelward_rad - 1e-9,
        to_rad: heelward_rad + 1e-9,
        circle_mm: radius_mm,
        radius_max_mm: RADII_FOLLOWED * radius_mm,
    };
    let mut bracket = Bracket { low: f64::NEG_INFINITY, high: f64::INFINITY };
    let mut at_mm = radius_mm * setup.stance().relief_setting.cos();
    for _ in 0..STEPS_MAX {
        let reach = Traced::new(setup, at_mm, &window).reach(heelward_rad);
        let (miss_mm, step_mm) = match reach {
            Some((reached_mm, rate)) => (reached_mm - radius_mm, (reached_mm - radius_mm) / rate),
            None => (f64::INFINITY, SEARCH_SHARE * radius_mm),
        };
        if miss_mm.abs() <= PLACE_ERROR_MM {
            return Ok(at_mm);
        }
        at_mm = bracket.next(at_mm, miss_mm > 0.0, step_mm);
        if bracket.high - bracket.low < 1e-12 && reach.is_some() {
            return Ok(at_mm);
        }
        if at_mm < -radius_mm {
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
