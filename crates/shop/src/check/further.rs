//! What to read or to try next, where the readings cannot tell.

use geometry::Length;
use geometry::fit::evidence::{Predictive, expected_separation};

use super::design::Design;
use super::fault::Fault;
use super::observed::{Beside, Extra, Observed, ReadingKind};
use super::plausible::group_name;
use super::term::Term;
use super::weighing::Model;
use crate::record::{
    DiameterGroup, DiameterReading, DropGroup, DropReading, Holding, Instrument, LandGroup,
    LandReading, LandStage, Over, Readings, ReadingsDraft, RunoutOf, RunoutReading,
};

/// A reading that would tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Further {
    /// What to read.
    pub kind: ReadingKind,
    /// On which tooth, where it matters.
    pub tooth: Option<u32>,
    /// How far from the cutter's end, where it matters.
    pub from_end: Option<Length>,
    /// What it is expected to tell, in nats: by how much it moves the odds for what is true.
    pub tells: f64,
    /// What each explanation foretells it to be, in the order of the explanations.
    pub foretold: Vec<Length>,
    /// The same in words.
    pub words: String,
}

/// A trial at the machine that would tell, without any instrument.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trial {
    /// Turn the shank in the collet and read again.
    TurnShank,
    /// Grind one tooth again with no feed.
    RegrindTooth(u32),
    /// Turn the cutter half round and go round once more with no feed.
    HalfRound,
    /// Dress the wheel and go over one tooth with no feed.
    DressAndSpark,
    /// Dress the wheel's corner sharp, grind one tooth again and look at its relief.
    DressCorner,
}

impl Trial {
    /// What to do and what it would show.
    pub fn words(self) -> String {
        match self {
            Self::TurnShank => {
                "turn the shank half round in the collet, go round with no feed and \
                                read the lands again: runout goes round with the shank, anything \
                                else stays with its tooth"
                    .to_owned()
            }
            Self::RegrindTooth(tooth) => format!(
                "go over tooth {tooth} again with no feed, held fast from tip to shank: if it \
                 sparks and comes to match the others it had slipped"
            ),
            Self::HalfRound => "turn the cutter half round and go round once more with no feed: \
                                teeth that grew with the wheel's wear spark and come down, runout \
                                and slips do not change"
                .to_owned(),
            Self::DressAndSpark => "dress the wheel, then go over one tooth with no feed from tip \
                                    to shank: if it sparks at one end, the wheel had worn along \
                                    the stroke; if not, the table stands askew"
                .to_owned(),
            Self::DressCorner => "dress the wheel's corner sharp, kiss one tooth, go over it with \
                                  no feed and read its drop again: if the drop comes right the \
                                  corner had worn; if not, the relief is set wrong"
                .to_owned(),
        }
    }
}

/// The instrument that a kind is usually read with, where none of its kind has been used yet (own
/// choice, no source).
const LAND_STEP_MM: f64 = 0.02;
const MICROMETER_STEP_MM: f64 = 0.002;
const INDICATOR_STEP_MM: f64 = 0.002;

fn usual(step_mm: f64) -> Instrument {
    Instrument { resolution: Length::from_mm(step_mm), repeatability: None }
}

/// A reading that tells less than this, in nats, is not worth asking for.
const TELLS_MIN: f64 = 0.7;

/// What a further reading is sought among.
pub(super) struct Seek<'a, 'b> {
    pub(super) beside: &'a Beside<'b>,
    pub(super) design: &'a Design<'a>,
    pub(super) readings: &'a Readings,
    /// The explanations to tell apart.
    pub(super) models: &'a [&'a Model],
    pub(super) places: [Length; 2],
    pub(super) drop_at: Length,
}

impl Seek<'_, '_> {
    /// The reading that separates the explanations best; None where none is worth it.
    ///
    /// **Source** \[box-hill-1967\] the expected separation of the predictions. **Departs** in
    /// taking it reading by reading. **Error** as there. **Domain** two explanations and more.
    pub(super) fn best(&self) -> Option<Further> {
        let total: f64 = self.models.iter().map(|model| model.probability).sum();
        let odds: Vec<f64> = self.models.iter().map(|m| m.probability / total).collect();
        let candidates = self.candidates();
        let told = |one: &Observed| -> Option<(f64, Vec<Predictive>)> {
            let foretold: Option<Vec<Predictive>> =
                self.models.iter().map(|model| self.foretold(model, one)).collect();
            let foretold = foretold?;
            if !differ(&foretold, one.sight.deviation_mm) {
                return None;
            }
            Some((expected_separation(&odds, &foretold).ok()?, foretold))
        };
        let ranked = candidates.iter().filter_map(|one| Some((one, told(one)?)));
        let (one, (tells, foretold)) = ranked.max_by(|a, b| a.1.0.total_cmp(&b.1.0))?;
        (tells >= TELLS_MIN).then(|| {
            let shown = |p: &Predictive| {
                one.measured
                    + Length::from_mm(one.sight.per_value * (p.mean() - one.sight.value_mm))
            };
            Further {
                kind: one.kind,
                tooth: one.tooth,
                from_end: one.from_end,
                tells,
                foretold: foretold.iter().map(shown).collect(),
                words: self.words(one),
            }
        })
    }

    fn words(&self, one: &Observed) -> String {
        let again = if self.design.observed.contains(one) { ", once more" } else { "" };
        format!("{}{again}", words(one))
    }

    /// What an explanation foretells a reading to be, in the fit's terms.
    fn foretold(&self, model: &Model, one: &Observed) -> Option<Predictive> {
        if let Extra::Shank(at_mm) = one.sight.extra {
            let (mean, deviation) = model.shank_runout(at_mm / self.design.flute_mm);
            let noise = one.sight.deviation_mm * model.noise_factor;
            return Predictive::new(mean, deviation.hypot(noise)).ok();
        }
        let effect = |term: &Term| match term {
            Term::Bad(_) => 0.0,
            term => self.design.effect(*term, usize::MAX, one),
        };
        let weights: Vec<(Term, f64)> = model.terms.iter().map(|t| (*t, effect(t))).collect();
        let (mean, deviation) = model.combined(&weights).unwrap_or((0.0, 0.0));
        let noise = one.sight.deviation_mm * model.noise_factor;
        // What stands behind a land that was never read before is known from the plan alone.
        let stages = [LandStage::AfterPrimary, LandStage::AfterSecondary].map(Term::Back);
        let known = self.design.is_back_known;
        let fresh = stages.iter().filter(|term| !model.terms.contains(term));
        let fresh = fresh.map(|term| effect(term) * term.spread(|_| 0.0, known));
        let extra: f64 = fresh.map(|part| part * part).sum();
        Predictive::new(mean, (deviation * deviation + noise * noise + extra).sqrt()).ok()
    }

    /// Readings that have not been taken yet, each at the value the plan foretells.
    fn candidates(&self) -> Vec<Observed> {
        let mut draft = ReadingsDraft::default();
        draft.lands.push(self.lands());
        draft.diameters.push(self.diameters());
        draft.drops.push(self.drops());
        let indicator = self.readings.indicator().first().map(|group| group.instrument);
        let instrument = indicator.unwrap_or_else(|| usual(INDICATOR_STEP_MM));
        let shank = |one: &RunoutReading| one.of == RunoutOf::Shank;
        if !self.readings.runouts().iter().any(shank) {
            draft.runouts.push(RunoutReading {
                of: RunoutOf::Shank,
                held: Holding::AsGround,
                from_end: None,
                reading: Length::ZERO,
                instrument,
            });
        }
        let Ok(readings) = draft.build(self.beside.nominal.cutter) else { return Vec::new() };
        let Beside { plan, nominal, teeth, curves, .. } = self.beside;
        let new = Beside::of([plan, nominal], teeth, curves, &readings).observed;
        let is_new = |one: &Observed| {
            let same = |other: &Observed| {
                other.kind == one.kind && other.tooth == one.tooth && other.from_end == one.from_end
            };
            !self.design.observed.iter().any(same)
        };
        // A reading that some explanation calls bad is worth taking again.
        let doubted = self.models.iter().flat_map(|model| &model.bad);
        let again: Vec<Observed> =
            doubted.filter_map(|at| self.design.observed.get(*at)).cloned().collect();
        new.into_iter().filter(is_new).chain(again).collect()
    }

    fn lands(&self) -> LandGroup {
        let read = self.readings.lands().first();
        let stage = read.map_or(LandStage::AfterPrimary, |group| group.stage);
        let curve = self.beside.curves.iter().find(|curve| curve.stage == stage);
        let width = Length::from_mm(curve.map_or(0.5, |curve| curve.planned_mm()));
        let teeth = 1..=self.beside.teeth.count();
        let at = |from_end: Length| {
            teeth.clone().map(move |tooth| LandReading { tooth, from_end, width })
        };
        let readings = self.places.iter().flat_map(|place| at(*place)).collect();
        let instrument = read.map_or_else(|| usual(LAND_STEP_MM), |group| group.instrument);
        LandGroup { stage, instrument, readings }
    }

    fn diameters(&self) -> DiameterGroup {
        let read = self.readings.diameters().first();
        let teeth = self.beside.teeth.count();
        let even = teeth.is_multiple_of(2);
        let usual_over = if even { Over::Micrometer } else { Over::FlatAnvils };
        let over = read.map_or(usual_over, |group| group.over);
        let anvil_width = read.and_then(|group| group.anvil_width);
        let radius_mm = self.beside.nominal.radius_mm();
        let anvil_mm = anvil_width.map_or(0.0, Length::mm);
        let reading = Length::from_mm(self.beside.teeth.reading_mm(over, radius_mm, anvil_mm));
        let distinct = if even { teeth / 2 } else { teeth };
        let at = |from_end: Length| {
            (1..=distinct).map(move |tooth| DiameterReading {
                from_end,
                tooth: Some(tooth),
                reading,
            })
        };
        let readings = self.places.iter().flat_map(|place| at(*place)).collect();
        let instrument = read.map_or_else(|| usual(MICROMETER_STEP_MM), |group| group.instrument);
        DiameterGroup { over, anvil_width, instrument, readings }
    }

    fn drops(&self) -> DropGroup {
        let read = self.readings.drops().first();
        let instrument = read.map_or_else(|| usual(INDICATOR_STEP_MM), |group| group.instrument);
        let distance = self.drop_at;
        let drop = self.beside.plan.drop_mm(distance).map_or(Length::ZERO, Length::from_mm);
        DropGroup { instrument, readings: vec![DropReading { tooth: None, distance, drop }] }
    }
}

/// Whether two explanations foretell readings that differ by more than the instrument scatters.
fn differ(foretold: &[Predictive], deviation_mm: f64) -> bool {
    let means = || foretold.iter().map(Predictive::mean);
    let least = means().fold(f64::INFINITY, f64::min);
    means().fold(f64::NEG_INFINITY, f64::max) - least > DIFFER_DEVIATIONS * deviation_mm
}

/// Readings that are foretold to differ by less than this many of their standard deviations are
/// not asked for.
const DIFFER_DEVIATIONS: f64 = 2.5;

fn words(one: &Observed) -> String {
    let tooth = one.tooth.map_or(String::new(), |tooth| format!(" of tooth {tooth}"));
    let place = one.from_end.map_or(String::new(), |at| {
        format!(" {:.2} mm ({:.3} in) from the end", at.mm(), at.inches())
    });
    match one.kind {
        ReadingKind::Land(stage) => format!("the land{tooth}{place}, {stage}"),
        ReadingKind::Diameter(Over::Micrometer) => {
            let tooth = one.tooth.map_or(String::new(), |tooth| format!(" over tooth {tooth}"));
            format!("the diameter{tooth} and its opposite{place}")
        }
        ReadingKind::Diameter(over) => {
            let tooth = one.tooth.map_or(String::new(), |tooth| format!(" tooth {tooth} on"));
            format!("the diameter{place},{tooth} {over}")
        }
        ReadingKind::Runout(RunoutOf::Shank) => {
            "the runout of the shank, as held for grinding".to_owned()
        }
        ReadingKind::Drop(distance) => {
            format!("the drop {:.2} mm ({:.3} in) behind an edge", distance.mm(), distance.inches())
        }
        kind => group_name(kind),
    }
}

/// The trial that tells two sets of faults apart, each with whether it makes edges stand out.
pub(super) fn trial(first: &[(Fault, bool)], second: &[(Fault, bool)]) -> Option<Trial> {
    let in_set = |set: &[(Fault, bool)], fault: Fault| set.iter().any(|one| one.0 == fault);
    let differ = |one: &&(Fault, bool)| in_set(first, one.0) != in_set(second, one.0);
    let apart: Vec<(Fault, bool)> = first.iter().chain(second).filter(differ).copied().collect();
    let slipped = apart.iter().find_map(|one| match one {
        (Fault::Slip(tooth), true) => Some(*tooth),
        _ => None,
    });
    let has = |fault: Fault| in_set(&apart, fault);
    if let Some(tooth) = slipped {
        return Some(Trial::RegrindTooth(tooth));
    }
    if has(Fault::Drift) {
        return Some(Trial::HalfRound);
    }
    if has(Fault::Runout) {
        return Some(Trial::TurnShank);
    }
    if has(Fault::Corner) {
        return Some(Trial::DressCorner);
    }
    has(Fault::Taper).then_some(Trial::DressAndSpark)
}
