//! The terms of which a stand of the edges is made: one column of the fit each.
//!
//! *Stand* is how much farther out than planned an edge lies, in millimetres of radius; what was
//! ground too deep stands below nothing. Places along the cutter are counted from its end in
//! lengths of the ground flute, so that a taper is a length: that of the shank's end over the
//! tip's.

use crate::record::{LandStage, TeethRun};

use super::fault::Fault;

/// One coordinate of the vector by which the cutter lay off the axis it was ground round. X points
/// at tooth 1's edge at the tip, Y a quarter turn heelward of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Coordinate {
    X,
    Y,
}

/// Which of the two reliefs a fault of the set-up is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shared {
    /// In the primary alone: lands show it.
    PrimaryOnly,
    /// In both, as when they are ground in one chucking: lands read after the secondary do not
    /// show it.
    WithSecondary,
}

/// One column of the fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Term {
    /// Millimetres of radius on every edge.
    Size,
    /// Millimetres of radius from tip to shank.
    Taper(Shared),
    /// Millimetres of offset at the tip.
    Offset(Coordinate, TeethRun, Shared),
    /// Millimetres by which the offset grows from tip to shank.
    Tilt(Coordinate, TeethRun, Shared),
    /// Millimetres from the first tooth ground to the last.
    Drift,
    /// Millimetres on one tooth.
    Slip(u32),
    /// Degrees of relief over the distance that the plan means it at.
    Clearance,
    /// Millimetres of radius on the wheel's leading corner.
    Corner,
    /// Millimetres by which the surface behind the land stands off where the plan takes it.
    Back(LandStage),
    /// The share by which lands grow faster with the stand than the plan's surfaces make them.
    Growth(LandStage),
    /// Millimetres of an indicator's zero in one round.
    Zero(usize),
    /// Millimetres on one reading alone.
    Bad(usize),
}

/// A cause: terms that come or stay away together.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Form {
    /// What it is called; none for a bad reading.
    pub(super) fault: Option<Fault>,
    pub(super) terms: Vec<Term>,
    pub(super) odds: f64,
}

impl Term {
    /// The fault it is a term of; none for what is not known and is no fault.
    pub(super) const fn fault(self) -> Option<Fault> {
        match self {
            Self::Size => Some(Fault::Size),
            Self::Taper(_) => Some(Fault::Taper),
            Self::Offset(..) | Self::Tilt(..) => Some(Fault::Runout),
            Self::Drift => Some(Fault::Drift),
            Self::Slip(tooth) => Some(Fault::Slip(tooth)),
            Self::Clearance => Some(Fault::Clearance),
            Self::Corner => Some(Fault::Corner),
            Self::Back(_) | Self::Growth(_) | Self::Zero(_) | Self::Bad(_) => None,
        }
    }

    /// Whether it is in both reliefs.
    pub(super) fn is_shared(self) -> bool {
        match self {
            Self::Taper(shared) | Self::Offset(_, _, shared) | Self::Tilt(_, _, shared) => {
                shared == Shared::WithSecondary
            }
            _ => false,
        }
    }

    /// Standard deviation before any reading, in the term's own unit. `reading_sd_mm` is that of
    /// the reading a bad one stands for; `is_back_known` says whether the old land is on record.
    pub(super) fn spread(self, reading_sd_mm: impl Fn(usize) -> f64, is_back_known: bool) -> f64 {
        match self {
            Self::Size => Fault::Size.spread(),
            Self::Taper(_) => Fault::Taper.spread(),
            Self::Offset(..) | Self::Tilt(..) => Fault::Runout.spread(),
            Self::Drift => Fault::Drift.spread(),
            Self::Slip(tooth) => Fault::Slip(tooth).spread(),
            Self::Clearance => Fault::Clearance.spread(),
            Self::Corner => Fault::Corner.spread(),
            Self::Back(LandStage::AfterSecondary) => FRESH_BACK_MM,
            Self::Back(LandStage::AfterPrimary) if is_back_known => KNOWN_BACK_MM,
            Self::Back(LandStage::AfterPrimary) => UNKNOWN_BACK_MM,
            Self::Growth(_) => GROWTH_SHARE,
            Self::Zero(_) => ZERO_MM,
            Self::Bad(reading) => BAD_DEVIATIONS * reading_sd_mm(reading),
        }
    }
}

/// How well a fresh secondary stands where its dial says (own choice: half a division and the
/// kiss, no source).
const FRESH_BACK_MM: f64 = 0.004;

/// How well the old secondary stands where the cutter's record says (own choice, no source).
const KNOWN_BACK_MM: f64 = 0.004;

/// The same where nobody knows it: lands then tell nothing of size.
const UNKNOWN_BACK_MM: f64 = 0.3;

/// How well the growth of a land is known: the secondary's angle to a quarter of a degree makes
/// a fortieth of it (own choice, no source).
const GROWTH_SHARE: f64 = 0.025;

/// An indicator's zero may be anywhere.
const ZERO_MM: f64 = 5.0;

/// A bad reading is off by some tens of its own standard deviations (own choice, no source).
const BAD_DEVIATIONS: f64 = 30.0;

/// The chance that a given reading is bad (own choice, no source).
const BAD_CHANCE: f64 = 0.004;

/// The share of runouts whose offset changes along the flute (own choice, no source).
const TILTED_SHARE: f64 = 0.35;

fn odds(chance: f64) -> f64 {
    chance / (1.0 - chance)
}

/// What the forms of the faults depend on.
pub(super) struct Forms<'a> {
    pub(super) teeth: u32,
    /// The ways in which the teeth may be numbered.
    pub(super) runs: &'a [TeethRun],
    /// The reliefs that a fault of the set-up may be in.
    pub(super) shared: &'a [Shared],
    pub(super) readings: usize,
}

impl Forms<'_> {
    /// Every cause that is weighed, and the family of each: forms of one fault exclude each other.
    pub(super) fn all(&self) -> Vec<(usize, Form)> {
        let mut families: Vec<Vec<Form>> = vec![
            self.plain(Fault::Size, Term::Size),
            self.tapers(),
            self.runouts(),
            self.plain(Fault::Drift, Term::Drift),
            self.plain(Fault::Clearance, Term::Clearance),
            self.plain(Fault::Corner, Term::Corner),
        ];
        families.extend((1..=self.teeth).map(|tooth| self.slip(tooth)));
        families.extend((0..self.readings).map(bad));
        let numbered = families.into_iter().enumerate();
        numbered.flat_map(|(family, forms)| forms.into_iter().map(move |f| (family, f))).collect()
    }

    fn plain(&self, fault: Fault, term: Term) -> Vec<Form> {
        vec![Form { fault: Some(fault), terms: vec![term], odds: odds(fault.chance()) }]
    }

    fn slip(&self, tooth: u32) -> Vec<Form> {
        let fault = Fault::Slip(tooth);
        let chance = fault.chance() / f64::from(self.teeth);
        vec![Form { fault: Some(fault), terms: vec![Term::Slip(tooth)], odds: odds(chance) }]
    }

    fn tapers(&self) -> Vec<Form> {
        let chance = Fault::Taper.chance() / self.shared.len() as f64;
        let form = |shared: &Shared| Form {
            fault: Some(Fault::Taper),
            terms: vec![Term::Taper(*shared)],
            odds: odds(chance),
        };
        self.shared.iter().map(form).collect()
    }

    fn runouts(&self) -> Vec<Form> {
        let ways = (self.shared.len() * self.runs.len()) as f64;
        let of = |shared: Shared, run: TeethRun| {
            let offset = [Coordinate::X, Coordinate::Y].map(|c| Term::Offset(c, run, shared));
            let tilt = [Coordinate::X, Coordinate::Y].map(|c| Term::Tilt(c, run, shared));
            let form = |terms: Vec<Term>, share: f64| Form {
                fault: Some(Fault::Runout),
                terms,
                odds: odds(Fault::Runout.chance() * share / ways),
            };
            let both = offset.iter().chain(&tilt).copied().collect();
            [form(offset.to_vec(), 1.0 - TILTED_SHARE), form(both, TILTED_SHARE)]
        };
        let runs = self.runs;
        let pairs = self.shared.iter().flat_map(|s| runs.iter().map(move |run| (*s, *run)));
        pairs.flat_map(|(shared, run)| of(shared, run)).collect()
    }
}

fn bad(reading: usize) -> Vec<Form> {
    vec![Form { fault: None, terms: vec![Term::Bad(reading)], odds: odds(BAD_CHANCE) }]
}
