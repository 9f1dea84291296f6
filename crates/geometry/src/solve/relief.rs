//! The setting that gives a wanted relief on the real section.

use thiserror::Error;

use crate::quantity::{Angle, Length};
use crate::section::{GroundSection, SectionError, Setup, Stance};

/// A wanted relief, and the distance behind the edge over which it is meant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReliefTarget {
    /// The relief.
    pub relief: Angle,
    /// Over what distance it is the mean; at the edge itself where None.
    pub over: Option<Length>,
}

/// The one setting that is turned to reach the target.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Adjusted {
    /// The angle by which the tooth at the rest is turned below centre.
    ReliefSetting,
    /// The height of the wheel's axis above the cutter's.
    AxisAbove,
    /// The rest is on the wheel head: lowering the head lowers rest and wheel axis together.
    RestWithAxis,
    /// The lean of the head.
    Lean,
}

/// Why a wanted relief cannot be had.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum SolveError {
    /// The set-up itself is impossible.
    #[error(transparent)]
    Section(#[from] SectionError),
    /// No value of the setting gives the relief.
    #[error(
        "no setting gives {wanted_deg:.2} deg of relief here: what can be had runs from \
         {least_deg:.2} to {most_deg:.2} deg"
    )]
    OutOfRange {
        /// What was wanted.
        wanted_deg: f64,
        /// The least that was found.
        least_deg: f64,
        /// The most that was found.
        most_deg: f64,
    },
}

impl ReliefTarget {
    /// The relief in a set-up at a diameter; None where the wheel leaves no surface.
    ///
    /// # Errors
    /// As for [`Setup::section`].
    pub(super) fn at(
        &self,
        setup: &Setup,
        diameter: Length,
    ) -> Result<Option<Angle>, SectionError> {
        let distance = self.over.unwrap_or(Length::ZERO);
        Ok(self.of(&setup.section_to(diameter, distance)?))
    }

    /// The relief of a section in the target's own terms; None where the wheel leaves no surface.
    pub fn of(&self, section: &GroundSection) -> Option<Angle> {
        match self.over {
            Some(distance) => section.mean_relief(distance),
            None => section.edge_relief(),
        }
    }
}

impl Adjusted {
    /// The stance with this setting at a value: degrees, or millimetres for a height.
    fn stance(self, stance: &Stance, radius: Length, value: f64) -> Stance {
        let mut changed = *stance;
        match self {
            Self::ReliefSetting => changed.relief_setting = Angle::from_degrees(value),
            Self::AxisAbove => changed.axis_above = Length::from_mm(value),
            Self::RestWithAxis => {
                changed.relief_setting = Angle::from_degrees(value);
                changed.axis_above = -(radius * changed.relief_setting.sin());
            }
            Self::Lean => changed.lean = Angle::from_degrees(value),
        }
        changed
    }

    /// The range searched, in degrees or millimetres.
    fn range(self, setup: &Setup) -> (f64, f64) {
        match self {
            Self::ReliefSetting | Self::RestWithAxis => (-10.0, 50.0),
            Self::AxisAbove => {
                let reach_mm = 0.7 * setup.wheel().radius_mm();
                (-reach_mm, reach_mm)
            }
            Self::Lean => (0.0, 30.0),
        }
    }
}

/// Steps of the coarse search that brackets the target.
const COARSE_STEPS: u32 = 24;

/// A target met no closer than this was jumped past and not met.
const MET_DEG: f64 = 1e-6;

/// How closely the relief is met.
const RELIEF_ERROR_DEG: f64 = 1e-7;

/// Turns one setting until the real section has the wanted relief at the new diameter.
///
/// # Errors
/// Where the set-up is impossible throughout, or no value of the setting gives the relief; the
/// latter names the reliefs that can be had.
pub fn solve_relief(
    setup: &Setup,
    diameter: Length,
    target: ReliefTarget,
    adjusted: Adjusted,
) -> Result<Stance, SolveError> {
    let miss = |value: f64| -> Result<f64, SectionError> {
        let stance = adjusted.stance(setup.stance(), diameter * 0.5, value);
        let setup = setup.with_stance(stance)?;
        let relief = target.at(&setup, diameter)?.ok_or_else(no_surface)?;
        Ok((relief - target.relief).degrees())
    };
    let guess = match adjusted {
        Adjusted::ReliefSetting | Adjusted::RestWithAxis => {
            target.relief.degrees() - setup.stance().axis_above.mm() / setup.wheel().radius_mm()
        }
        Adjusted::AxisAbove => {
            let rest = target.relief - setup.stance().relief_setting;
            setup.wheel().radius_mm() * rest.sin()
        }
        Adjusted::Lean => setup.stance().lean.degrees(),
    };
    let value = match near(&miss, guess) {
        Some(value) => value,
        None => bracketed(&miss, adjusted.range(setup), target.relief)?,
    };
    Ok(adjusted.stance(setup.stance(), diameter * 0.5, value))
}

fn no_surface() -> SectionError {
    SectionError::OutOfReach {
        reason: "the wheel leaves no surface at the distance over which the relief is meant"
            .to_owned(),
    }
}

/// Secant steps from a good guess; None where they do not settle.
fn near(miss: &impl Fn(f64) -> Result<f64, SectionError>, guess: f64) -> Option<f64> {
    let (mut before, mut now) = (guess, guess + 0.05);
    let mut miss_before = miss(before).ok()?;
    for _ in 0..12 {
        let miss_now = miss(now).ok()?;
        if miss_now.abs() < RELIEF_ERROR_DEG {
            return Some(now);
        }
        let slope = (miss_now - miss_before) / (now - before);
        if !slope.is_finite() || slope.abs() < 1e-6 {
            return None;
        }
        (before, miss_before) = (now, miss_now);
        now -= (miss_now / slope).clamp(-10.0, 10.0);
    }
    None
}

/// A coarse walk for a change of sign, then halving; the value nearest to zero is preferred.
fn bracketed(
    miss: &impl Fn(f64) -> Result<f64, SectionError>,
    (from, to): (f64, f64),
    wanted: Angle,
) -> Result<f64, SolveError> {
    let mut walked: Vec<(f64, f64)> = Vec::new();
    let mut last_error = None;
    for step in 0..=COARSE_STEPS {
        let value = from + (to - from) * f64::from(step) / f64::from(COARSE_STEPS);
        match miss(value) {
            Ok(found) => walked.push((value, found)),
            Err(error) => last_error = Some(error),
        }
    }
    for pair in walked.windows(2).filter(|pair| pair[0].1 * pair[1].1 <= 0.0) {
        let value = halved(miss, pair[0], pair[1].0);
        // A relief can jump past the target, where another part of the wheel takes over.
        if miss(value).is_ok_and(|found| found.abs() <= MET_DEG) {
            return Ok(value);
        }
    }
    if let (true, Some(error)) = (walked.is_empty(), last_error) {
        return Err(error.into());
    }
    let reliefs = walked.iter().map(|(_, found)| found + wanted.degrees());
    Err(SolveError::OutOfRange {
        wanted_deg: wanted.degrees(),
        least_deg: reliefs.clone().fold(f64::INFINITY, f64::min),
        most_deg: reliefs.fold(f64::NEG_INFINITY, f64::max),
    })
}

fn halved(
    miss: &impl Fn(f64) -> Result<f64, SectionError>,
    (mut low, miss_low): (f64, f64),
    mut high: f64,
) -> f64 {
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        match miss(middle) {
            Ok(found) if found * miss_low > 0.0 => low = middle,
            _ => high = middle,
        }
    }
    0.5 * (low + high)
}
