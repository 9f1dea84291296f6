//! The linear problem: one row for each reading, one column for each term.

use geometry::fit::evidence::Cause;
use geometry::fit::{FitError, LinearProblem, Noise, Prior};

use crate::record::{LandStage, TeethRun};

use super::observed::{Extra, Observed};
use super::teeth::{Teeth, Touched};
use super::term::{Coordinate, Form, Forms, Shared, Term};

/// What total indicator readings are linearised about: they have no sign, so which way the runout
/// lies, and which teeth are the highest and the lowest, must be known from the other readings, or
/// may be chosen where nothing else shows it.
#[derive(Clone, Debug, Default)]
pub(super) struct Direction {
    /// By place from the end, in mm: the offset's angle heelward of tooth 1.
    pub(super) offsets_rad: Vec<(f64, f64)>,
    /// By place from the end, in mm: the highest and the lowest tooth.
    pub(super) extremes: Vec<(f64, (u32, u32))>,
}

fn at_place<T: Copy>(list: &[(f64, T)], at_mm: f64) -> Option<T> {
    list.iter().find(|(place, _)| *place == at_mm).map(|(_, value)| *value)
}

/// Everything that the rows are made from.
pub(super) struct Design<'a> {
    pub(super) teeth: &'a Teeth,
    pub(super) flute_mm: f64,
    /// Place of each tooth in the order of grinding, from 0 to 1.
    pub(super) turns: Vec<f64>,
    pub(super) observed: &'a [Observed],
    pub(super) rounds: usize,
    pub(super) is_back_known: bool,
    pub(super) runs: Vec<TeethRun>,
    pub(super) direction: Direction,
}

/// The problem with its causes.
pub(super) struct Problem {
    pub(super) linear: LinearProblem,
    pub(super) terms: Vec<Term>,
    pub(super) always: Vec<usize>,
    pub(super) forms: Vec<Form>,
    pub(super) causes: Vec<Cause>,
}

impl Design<'_> {
    fn has_stage(&self, stage: LandStage) -> bool {
        self.observed.iter().any(|one| one.sight.extra == Extra::Back(stage))
    }

    /// The reliefs that a fault of the set-up may be in.
    pub(super) fn shared(&self) -> Vec<Shared> {
        let both = [Shared::PrimaryOnly, Shared::WithSecondary];
        both[..if self.has_stage(LandStage::AfterSecondary) { 2 } else { 1 }].to_vec()
    }

    /// Whether edges were read at places far enough apart to show a change along the flute.
    pub(super) fn sees_growth(&self) -> bool {
        let places = || {
            let touched = self.observed.iter().flat_map(|one| &one.sight.touched);
            touched.map(|touched| touched.from_end_mm)
        };
        let least = places().fold(f64::INFINITY, f64::min);
        places().fold(f64::NEG_INFINITY, f64::max) - least > GROWTH_SEEN_SHARE * self.flute_mm
    }

    /// The terms that are part of every model: what is not known, and is no fault.
    fn nuisances(&self) -> Vec<Term> {
        let stages = [LandStage::AfterPrimary, LandStage::AfterSecondary];
        let read = stages.into_iter().filter(|stage| self.has_stage(*stage));
        let backs = read.flat_map(|stage| [Term::Back(stage), Term::Growth(stage)]);
        backs.chain((0..self.rounds).map(Term::Zero)).collect()
    }

    /// The problem over all terms.
    ///
    /// # Errors
    /// Where numbers leave the range of double precision.
    pub(super) fn problem(&self) -> Result<Problem, FitError> {
        let (shared, readings) = (self.shared(), self.observed.len());
        let teeth = self.teeth.count();
        let families = Forms { teeth, runs: &self.runs, shared: &shared, readings }.all();
        let mut terms = self.nuisances();
        let always: Vec<usize> = (0..terms.len()).collect();
        for term in families.iter().flat_map(|(_, form)| &form.terms) {
            if !terms.contains(term) {
                terms.push(*term);
            }
        }
        let place = |term: &Term| terms.iter().position(|other| other == term);
        let cause = |(family, form): &(usize, Form)| Cause {
            columns: form.terms.iter().filter_map(place).collect(),
            odds: form.odds,
            family: *family,
        };
        let causes = families.iter().map(cause).collect();
        let linear = self.linear(&terms)?;
        let forms = families.into_iter().map(|(_, form)| form).collect();
        Ok(Problem { linear, terms, always, forms, causes })
    }

    fn linear(&self, terms: &[Term]) -> Result<LinearProblem, FitError> {
        let indexed = self.observed.iter().enumerate();
        let row = |(at, one): (usize, &Observed)| -> Vec<f64> {
            terms.iter().map(|term| self.effect(*term, at, one)).collect()
        };
        let mut rows: Vec<Vec<f64>> = indexed.map(row).collect();
        let mut values: Vec<f64> = self.observed.iter().map(|one| one.sight.value_mm).collect();
        let mut sd: Vec<f64> = self.observed.iter().map(|one| one.sight.deviation_mm).collect();
        for aside in self.observed.iter().filter_map(|one| self.across(one)) {
            rows.push(terms.iter().map(|term| aside.effect(self, *term)).collect());
            values.push(0.0);
            sd.push(aside.deviation_mm);
        }
        let spread = |term: &Term| term.spread(|reading| sd[reading], self.is_back_known);
        let priors: Vec<Prior> =
            terms.iter().map(|t| Prior { mean: 0.0, deviation: spread(t) }).collect();
        LinearProblem::new(&rows, &values, Noise::Known(sd.clone()))?.with_priors(&priors)
    }

    /// What a reading of a length says across the direction that it was linearised about: the
    /// offset has no part there but for what the direction is off, and that is no more than the
    /// offset itself.
    fn across(&self, one: &Observed) -> Option<Across> {
        let noise_mm = one.sight.deviation_mm;
        let half_mm = 0.5 * one.sight.value_mm;
        let (at_mm, turned_rad, share) = match one.sight.extra {
            Extra::Shank(at_mm) => {
                let turned = at_place(&self.direction.offsets_rad, at_mm).unwrap_or(0.0);
                (at_mm, turned, 1.0)
            }
            // Between two teeth the offset may lie half a pitch off the highest; two teeth alone
            // see nothing of what lies across them.
            Extra::Spread(at_mm) if self.teeth.count() > 2 => {
                let highest = at_place(&self.direction.extremes, at_mm).map_or(1, |pair| pair.0);
                let run = self.runs.first().copied().unwrap_or(TeethRun::Heelward);
                let turned = self.teeth.angle_rad(highest, at_mm, run);
                let half_pitch = std::f64::consts::PI / f64::from(self.teeth.count());
                (at_mm, turned, half_pitch.tan().max(ACROSS_SHARE_MIN))
            }
            _ => return None,
        };
        let deviation_mm = (half_mm * share).max(noise_mm);
        Some(Across { at_mm, turned_rad, deviation_mm })
    }

    /// What a unit of a term makes of a reading.
    pub(super) fn effect(&self, term: Term, at: usize, one: &Observed) -> f64 {
        let sight = &one.sight;
        match (term, sight.extra) {
            (Term::Bad(reading), _) => f64::from(u8::from(reading == at)),
            (Term::Clearance, _) => sight.slopes[0],
            (Term::Corner, _) => sight.slopes[1],
            (Term::Back(stage), extra) => {
                if extra == Extra::Back(stage) {
                    -1.0
                } else {
                    0.0
                }
            }
            // A land that grows faster shows every stand larger by the same share.
            (Term::Growth(stage), extra) => {
                if extra == Extra::Back(stage) {
                    sight.value_mm
                } else {
                    0.0
                }
            }
            (Term::Zero(zero), Extra::Zero { round, .. }) => f64::from(u8::from(zero == round)),
            (Term::Zero(_), _) => 0.0,
            (_, Extra::Shank(at_mm)) => self.of_shank(term, at_mm),
            (_, Extra::Spread(at_mm)) => self.of_spread(term, at_mm),
            (_, extra) if is_hidden(term, extra) => 0.0,
            _ => sight.touched.iter().map(|t| t.weight * self.stand(term, t)).sum(),
        }
    }

    /// Stand that a unit of a term gives an edge at a place.
    pub(super) fn stand(&self, term: Term, at: &Touched) -> f64 {
        let along = at.from_end_mm / self.flute_mm;
        let turned = |run| self.teeth.angle_rad(at.tooth, at.from_end_mm, run);
        match term {
            Term::Size => 1.0,
            Term::Taper(_) => along,
            Term::Offset(Coordinate::X, run, _) => turned(run).cos(),
            Term::Offset(Coordinate::Y, run, _) => turned(run).sin(),
            Term::Tilt(Coordinate::X, run, _) => along * turned(run).cos(),
            Term::Tilt(Coordinate::Y, run, _) => along * turned(run).sin(),
            Term::Drift => self.turns.get(at.tooth as usize - 1).copied().unwrap_or(0.0),
            Term::Slip(tooth) => f64::from(u8::from(tooth == at.tooth)),
            Term::Clearance | Term::Corner | Term::Back(_) | Term::Growth(_) => 0.0,
            Term::Zero(_) | Term::Bad(_) => 0.0,
        }
    }

    /// The shank, as held for grinding, runs out by twice the offset at its place.
    fn of_shank(&self, term: Term, at_mm: f64) -> f64 {
        let turned = at_place(&self.direction.offsets_rad, at_mm).unwrap_or(0.0);
        let (sin, cos) = turned.sin_cos();
        let along = at_mm / self.flute_mm;
        match term {
            Term::Offset(Coordinate::X, ..) => 2.0 * cos,
            Term::Offset(Coordinate::Y, ..) => 2.0 * sin,
            Term::Tilt(Coordinate::X, ..) => 2.0 * cos * along,
            Term::Tilt(Coordinate::Y, ..) => 2.0 * sin * along,
            _ => 0.0,
        }
    }

    /// The edges, held by the shank, run out by the highest less the lowest.
    fn of_spread(&self, term: Term, from_end_mm: f64) -> f64 {
        let half = self.teeth.count() / 2;
        let known = at_place(&self.direction.extremes, from_end_mm);
        let (highest, lowest) = known.unwrap_or((1, 1 + half));
        let stand = |tooth| self.stand(term, &Touched { tooth, from_end_mm, weight: 1.0 });
        stand(highest) - stand(lowest)
    }
}

/// Places nearer to each other than this share of the flute are as one.
const GROWTH_SEEN_SHARE: f64 = 0.2;

/// However many teeth there are, the direction that they give is no surer than this.
const ACROSS_SHARE_MIN: f64 = 0.3;

/// The part of the offset across a direction, at a place.
struct Across {
    at_mm: f64,
    turned_rad: f64,
    deviation_mm: f64,
}

impl Across {
    fn effect(&self, design: &Design<'_>, term: Term) -> f64 {
        let (sin, cos) = self.turned_rad.sin_cos();
        let along = self.at_mm / design.flute_mm;
        match term {
            Term::Offset(Coordinate::X, ..) => -sin,
            Term::Offset(Coordinate::Y, ..) => cos,
            Term::Tilt(Coordinate::X, ..) => -sin * along,
            Term::Tilt(Coordinate::Y, ..) => cos * along,
            _ => 0.0,
        }
    }
}

/// Whether a fault of the chucking or of the swivel does not show in a reading.
fn is_hidden(term: Term, extra: Extra) -> bool {
    let (is_runout, shared) = match term {
        Term::Offset(_, _, shared) | Term::Tilt(_, _, shared) => (true, shared),
        Term::Taper(shared) => (false, shared),
        _ => return false,
    };
    match extra {
        Extra::Zero { sees_runout, .. } => is_runout && !sees_runout,
        Extra::Back(LandStage::AfterSecondary) => shared == Shared::WithSecondary,
        _ => false,
    }
}

/// Places of the teeth in an order of grinding, 0 for the first and 1 for the last.
pub(super) fn turns(order: &[u32]) -> Vec<f64> {
    let last = (order.len().max(2) - 1) as f64;
    let mut turns = vec![0.0; order.len()];
    for (place, tooth) in order.iter().enumerate() {
        if let Some(slot) = turns.get_mut(*tooth as usize - 1) {
            *slot = place as f64 / last;
        }
    }
    turns
}
