//! What was found against what is allowed.

use geometry::Length;

use super::design::Design;
use super::fault::Fault;
use super::finding::{Edges, Explanation, Figure, Finding, stand};
use super::nominal::Nominal;
use super::sight::Seen;
use super::teeth::Touched;
use super::term::Term;
use super::weighing::Weighing;
use crate::context::Cited;

/// What is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quality {
    /// Highest less lowest edge at one place.
    Runout,
    /// Change of the diameter over the flute.
    Taper,
    /// Diameter against the size that was asked for, or the tag's.
    Size,
    /// Relief against the plan's.
    Relief,
}

impl Quality {
    /// The words used on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Runout => "runout of the edges",
            Self::Taper => "taper on diameter",
            Self::Size => "diameter",
            Self::Relief => "relief",
        }
    }
}

/// How a quality stands to what is allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Within, with its whole band.
    Within,
    /// Within, but its band reaches beyond.
    LikelyWithin,
    /// The middle of its band is within, but the band is wider than all that is allowed: these
    /// readings cannot tell.
    NotSeen,
    /// Beyond, but its band reaches within.
    LikelyBeyond,
    /// Beyond, with its whole band.
    Beyond,
    /// Nothing says how much is allowed.
    NotJudged,
}

/// A quality with what is allowed.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// What.
    pub quality: Quality,
    /// As found: millimetres, or degrees of relief.
    pub found: Figure,
    /// What is allowed, least and greatest, with its source.
    pub allowed: Option<Cited<(f64, f64)>>,
    /// How the one stands to the other.
    pub standing: Standing,
}

fn standing(found: Figure, allowed: Option<&Cited<(f64, f64)>>) -> Standing {
    let Some(Cited { value: (least, greatest), .. }) = allowed else { return Standing::NotJudged };
    // A band that ends on the limit to a hundredth of a micrometre is within it.
    let is_within = |value: f64| (least - 1e-5..=greatest + 1e-5).contains(&value);
    let whole =
        is_within(found.value - found.half_width) && is_within(found.value + found.half_width);
    let out = found.value - found.half_width > *greatest || found.value + found.half_width < *least;
    match (is_within(found.value), whole, out) {
        (true, true, _) => Standing::Within,
        (true, false, _) if found.half_width > (greatest - least) / 2.0 => Standing::NotSeen,
        (true, false, _) => Standing::LikelyWithin,
        (false, _, false) => Standing::LikelyBeyond,
        (false, _, true) => Standing::Beyond,
    }
}

impl Quality {
    /// The fault that spoils it by itself, and how many of its size make one of the quality.
    pub const fn spoilt_by(self) -> (Fault, f64) {
        match self {
            Self::Runout => (Fault::Runout, 2.0),
            Self::Taper => (Fault::Taper, 2.0),
            Self::Size => (Fault::Size, 2.0),
            Self::Relief => (Fault::Clearance, 1.0),
        }
    }

    /// What to read to see it.
    pub const fn advice(self) -> &'static str {
        let (fault, _) = self.spoilt_by();
        Seen { fault, half_width: None, apart_half_width: None, rival: None }.advice()
    }
}

fn judged(quality: Quality, found: Figure, allowed: Option<Cited<(f64, f64)>>) -> Judgement {
    let standing = standing(found, allowed.as_ref());
    Judgement { quality, found, allowed, standing }
}

/// A relief that is off by this much is still good (own choice, no source).
const RELIEF_SLACK_DEG: f64 = 0.5;

/// What is judged, in the terms of one model.
pub(super) struct Judged<'a> {
    pub(super) nominal: &'a Nominal<'a>,
    pub(super) design: &'a Design<'a>,
    pub(super) weighing: &'a Weighing,
    pub(super) edges: &'a Edges,
    pub(super) findings: &'a [Finding],
    /// Explanations of which nobody knows which is true; none where that is clear.
    pub(super) open: &'a [Explanation],
    pub(super) seen: &'a [Seen],
    pub(super) asked_size: Option<Length>,
    /// Whether any reading shows how far out the edges stand, and whether any shows the relief.
    pub(super) sees_edges: bool,
    pub(super) sees_size: bool,
    pub(super) sees_taper: bool,
    pub(super) sees_relief: bool,
}

impl Judged<'_> {
    pub(super) fn all(&self) -> Vec<Judgement> {
        let runout = self.sees_edges.then(|| self.runout());
        let taper = self.sees_taper.then(|| self.taper());
        let size = self.sees_size.then(|| self.size());
        let relief = self.sees_relief.then(|| self.relief());
        [runout, taper, size, relief].into_iter().flatten().collect()
    }

    /// A quality with a band that is no narrower than what the readings could see of its fault:
    /// what they cannot see is not within.
    fn judged(
        &self,
        quality: Quality,
        found: Figure,
        allowed: Option<Cited<(f64, f64)>>,
    ) -> Judgement {
        let (fault, factor) = quality.spoilt_by();
        let half = self.seen.iter().find(|one| one.fault == fault).and_then(|one| one.half_width);
        let least = half.map_or(0.0, |half| half * factor);
        let found = Figure { half_width: found.half_width.max(least), ..found };
        judged(quality, found, allowed)
    }

    /// The worst place's highest less lowest edge.
    fn runout(&self) -> Judgement {
        let expected = &self.nominal.peripheral.expected;
        let allowed = expected.runout.as_ref();
        let allowed = allowed.map(|cited| Cited::new((0.0, cited.value.mm()), &cited.source));
        let spreads = self.edges.places.iter().zip(&self.edges.stands);
        let found = spreads.map(|(place, stands)| self.spread(*place, stands));
        let worst = found.max_by(|a, b| a.value.total_cmp(&b.value));
        let worst = worst.unwrap_or(Figure { value: 0.0, half_width: 0.0 });
        let mut judgement = self.judged(Quality::Runout, worst, allowed);
        // Nothing runs out by less than nothing: only the upper end of the band can be too much.
        let band = judgement.found;
        if let Some(Cited { value: (_, most), .. }) = judgement.allowed
            && band.value <= most
        {
            judgement.standing = match band.value + band.half_width {
                upper if upper <= most => Standing::Within,
                _ if band.half_width > most => Standing::NotSeen,
                _ => Standing::LikelyWithin,
            };
        }
        judgement
    }

    fn spread(&self, place: Length, stands: &[Figure]) -> Figure {
        let indexed = || (1_u32..).zip(stands);
        let highest = indexed().max_by(|a, b| a.1.value.total_cmp(&b.1.value));
        let lowest = indexed().min_by(|a, b| a.1.value.total_cmp(&b.1.value));
        let at = |tooth| Touched { tooth, from_end_mm: place.mm(), weight: 1.0 };
        let (Some((highest, _)), Some((lowest, _))) = (highest, lowest) else {
            return Figure { value: 0.0, half_width: 0.0 };
        };
        let stands = |term: Term, tooth: u32| self.design.stand(term, &at(tooth));
        stand(self.weighing, |term: Term| stands(term, highest) - stands(term, lowest))
    }

    fn taper(&self) -> Judgement {
        let flute = Length::from_mm(self.design.flute_mm);
        let allowed = self.nominal.peripheral.expected.taper.as_ref().map(|cited| {
            let (most, over) = cited.value;
            let mm = most.mm() * (flute / over);
            Cited::new((-mm, mm), &cited.source)
        });
        self.judged(Quality::Taper, self.size_of(Fault::Taper).times(2.0), allowed)
    }

    /// The diameter at the tip. The tag gives what was found, so it is judged only against a size
    /// that was asked for.
    fn size(&self) -> Judgement {
        let planned_mm = 2.0 * self.nominal.radius_mm();
        let teeth = self.design.teeth.count();
        let share = 1.0 / f64::from(teeth);
        let tip = |tooth| Touched { tooth, from_end_mm: 0.0, weight: share };
        // What a micrometer shows on the mean of all teeth; a drift or a slip is part of it.
        let mean = stand(self.weighing, |term: Term| {
            (1..=teeth).map(|tooth| share * self.design.stand(term, &tip(tooth))).sum()
        });
        let hidden = self.size_of(Fault::Size);
        let off = Figure { half_width: mean.half_width.max(hidden.half_width), ..mean }.times(2.0);
        let found = Figure { value: planned_mm + off.value, half_width: off.half_width };
        let tolerance = self.nominal.peripheral.expected.size.as_ref();
        let allowed = self.asked_size.zip(tolerance).map(|(asked, cited)| {
            let (above, below) = cited.value;
            Cited::new(((asked - below).mm(), (asked + above).mm()), &cited.source)
        });
        self.judged(Quality::Size, found, allowed)
    }

    fn relief(&self) -> Judgement {
        let planned = self.nominal.peripheral.stanced.relief.degrees();
        let off = self.size_of(Fault::Clearance);
        let found = Figure { value: planned + off.value, half_width: off.half_width };
        let wanted = self.nominal.peripheral.stanced.target.relief.degrees();
        let range = (wanted - RELIEF_SLACK_DEG, wanted + RELIEF_SLACK_DEG);
        let allowed = Cited::new(range, "own choice, no source");
        self.judged(Quality::Relief, found, Some(allowed))
    }

    /// How far from nothing a fault may be by an explanation that is still open: a band that left
    /// it out would contradict what stands beside it.
    fn open_size(&self, fault: Fault) -> f64 {
        let faults = self.open.iter().flat_map(|one| &one.faults);
        let sizes = faults.filter(|one| one.fault == fault);
        sizes.map(|one| one.size.value.abs() + one.size.half_width).fold(0.0, f64::max)
    }

    fn size_of(&self, fault: Fault) -> Figure {
        let found = self.findings.iter().find(|finding| finding.fault == fault);
        // What was not found may still be there, as large as the readings would let it hide.
        let hidden = || {
            let seen = self.seen.iter().find(|seen| seen.fault == fault);
            let half_width = seen.and_then(|seen| seen.half_width).unwrap_or(0.0);
            Figure { value: 0.0, half_width: half_width.max(self.open_size(fault)) }
        };
        found.map_or_else(hidden, |finding| finding.size)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_band_wider_than_what_is_allowed_says_nothing() {
        let allowed = Cited::new((-0.013, 0.013), "a test");
        let of = |value, half_width| standing(Figure { value, half_width }, Some(&allowed));
        assert_eq!(of(0.0, 0.004), Standing::Within);
        assert_eq!(of(0.010, 0.006), Standing::LikelyWithin);
        assert_eq!(of(0.0, 0.026), Standing::NotSeen);
        assert_eq!(of(0.030, 0.026), Standing::LikelyBeyond);
        assert!(Quality::Runout.advice().contains("land of every tooth"));
    }
}
