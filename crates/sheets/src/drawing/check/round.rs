//! Where the edges stand round the cutter, seen from its tip.

use std::f64::consts::{FRAC_PI_2, TAU};

use geometry::Length;
use shop::check::Check;
use shop::plan::Peripheral;
use shop::record::{Hand, TeethRun};

use super::share::Share;

/// How the run of the teeth's numbers is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum RunBy {
    /// The readings say it.
    Noted,
    /// The runout that was found fits no other way.
    Found,
    /// Nobody knows it, and nothing that was found depends on it.
    Taken,
}

/// The edges of a cutter, seen from its tip.
#[derive(Clone, Debug)]
pub(super) struct Round {
    teeth: u32,
    run: TeethRun,
    by: RunBy,
    twist_rad_per_mm: f64,
    /// +1 where heels lie clockwise of their edges to the eye, −1 where they lie the other way.
    heel_sign: f64,
}

impl Round {
    pub(super) fn of(check: &Check, peripheral: &Peripheral) -> Self {
        let cutter = &check.request.plan.request.cutter;
        let heel_sign = match cutter.hand() {
            // It turns clockwise seen from its shank, so counterclockwise from here, and its heels
            // trail.
            Hand::Right => 1.0,
            Hand::Left => -1.0,
        };
        let twist_rad_per_mm = peripheral.stanced.setup.flutes().twist_rad_per_mm();
        let (run, by) = (TeethRun::Heelward, RunBy::Taken);
        let teeth = cutter.teeth();
        let round = Self { teeth, run, by, twist_rad_per_mm, heel_sign };
        match check.request.readings.teeth_run() {
            Some(run) => Self { run, by: RunBy::Noted, ..round },
            None => round.told_by(check),
        }
    }

    /// The run with which the faults found explain the edges.
    fn told_by(self, check: &Check) -> Self {
        let other = Self { run: TeethRun::Edgeward, ..self.clone() };
        let left = |round: &Self| Share::of(check, round).left_over_mm2(&check.findings);
        let (own, turned) = (left(&self), left(&other));
        if (own - turned).abs() <= 1e-9 {
            return self;
        }
        Self { by: RunBy::Found, ..if turned < own { other } else { self } }
    }

    pub(super) const fn teeth(&self) -> u32 {
        self.teeth
    }

    /// Angle heelward of tooth 1's edge at the tip.
    ///
    /// **Source** \[own-derivation\] 2π (i − 1)/N, and 2π z/lead along the helix. **Departs** in
    /// taking the teeth as equally spaced. **Error** rounding. **Domain** equal index.
    pub(super) fn heelward_rad(&self, tooth: u32, from_end: Length) -> f64 {
        let sign = match self.run {
            TeethRun::Heelward => 1.0,
            TeethRun::Edgeward => -1.0,
        };
        let steps = f64::from(tooth) - 1.0;
        sign * TAU * steps / f64::from(self.teeth) + self.twist_rad(from_end)
    }

    /// How far the helix brings an edge heelward from the tip to a place.
    pub(super) fn twist_rad(&self, from_end: Length) -> f64 {
        self.twist_rad_per_mm * from_end.mm()
    }

    /// The direction of an edge on paper, from +x toward +y.
    pub(super) fn paper_rad(&self, tooth: u32, from_end: Length) -> f64 {
        self.heel_sign * self.heelward_rad(tooth, from_end) - FRAC_PI_2
    }

    /// Which way on paper lies heelward: +1 clockwise to the eye, −1 the other way.
    pub(super) const fn heel_sign(&self) -> f64 {
        self.heel_sign
    }

    /// From which end it is seen and which way the numbers run.
    pub(super) fn note(&self) -> String {
        let is_clockwise = (self.run == TeethRun::Heelward) == (self.heel_sign > 0.0);
        let way = if is_clockwise { "clockwise" } else { "counterclockwise" };
        let by = match self.by {
            RunBy::Noted => "",
            RunBy::Found => ", as found",
            RunBy::Taken => ", not noted",
        };
        format!("seen from the tip, teeth numbered {way} ({}{by})", self.run.name())
    }
}
