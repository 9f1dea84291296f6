//! Which causes do the readings speak for, and how large is each?

use geometry::fit::evidence::{Belief, NoiseScale, Search, Weighed, weigh};
use geometry::fit::{FitError, Prior};

use super::design::{Design, Direction, Problem};
use super::fault::Fault;
use super::observed::{Extra, Observed};
use super::teeth::Touched;
use super::term::{Coordinate, Term};

/// How far the search for causes goes.
const SEARCH: Search = Search { most: 5, width: 24 };

/// Hands differ: readings may scatter more than their instrument's step says (own choice, no
/// source).
pub(super) const NOISE_SCALES: [NoiseScale; 5] = [
    NoiseScale { factor: 1.0, odds: 0.92 },
    NoiseScale { factor: 1.6, odds: 0.05 },
    NoiseScale { factor: 2.5, odds: 0.02 },
    NoiseScale { factor: 4.0, odds: 0.007 },
    NoiseScale { factor: 6.4, odds: 0.003 },
];

/// One explanation of the readings: the faults in it, the readings it calls bad, its terms with
/// what is known of them.
#[derive(Clone, Debug)]
pub(super) struct Model {
    pub(super) faults: Vec<Fault>,
    pub(super) bad: Vec<usize>,
    pub(super) terms: Vec<Term>,
    pub(super) belief: Option<Belief>,
    pub(super) probability: f64,
    pub(super) noise_factor: f64,
}

/// All explanations, the most probable first.
pub(super) struct Weighing {
    pub(super) models: Vec<Model>,
    /// Whether edges were read at more than one place, so that growth along the flute can be seen.
    pub(super) sees_growth: bool,
}

impl Weighing {
    /// Weighs; total indicator readings are taken in a second go and a third, about what the others
    /// showed.
    ///
    /// # Errors
    /// Where numbers leave the range of double precision.
    pub(super) fn of(design: &mut Design<'_>) -> Result<(Self, Problem), FitError> {
        let is_signless =
            |one: &Observed| matches!(one.sight.extra, Extra::Shank(_) | Extra::Spread(_));
        let signed: Vec<Observed> =
            design.observed.iter().filter(|one| !is_signless(one)).cloned().collect();
        if signed.len() == design.observed.len() {
            return Self::once(design);
        }
        if !signed.is_empty() {
            let (runs, turns) = (design.runs.clone(), design.turns.clone());
            let direction = Direction::default();
            let part = Design { observed: &signed, runs, turns, direction, ..*design };
            design.direction = Self::once(&part)?.0.direction(design);
        }
        design.direction = start(design)?;
        design.direction = Self::once(design)?.0.direction(design);
        Self::once(design)
    }

    fn once(design: &Design<'_>) -> Result<(Self, Problem), FitError> {
        let problem = design.problem()?;
        let weighed =
            weigh(&problem.linear, &problem.always, &problem.causes, &NOISE_SCALES, SEARCH)?;
        let mut models = Vec::with_capacity(weighed.sets.len());
        for (place, one) in weighed.sets.iter().enumerate() {
            models.push(model(&problem, one, place < BELIEFS_MAX)?);
        }
        // A corner cannot be sharper than sharp.
        models.retain(|model| model.value(Term::Corner).is_none_or(|corner| corner > 0.0));
        let sum: f64 = models.iter().map(|model| model.probability).sum();
        models.iter_mut().for_each(|model| model.probability /= sum);
        let sees_growth = design.sees_growth();
        Ok((Self { models, sees_growth }, problem))
    }

    /// One explanation as if it were the only one.
    pub(super) fn of_one(model: &Model) -> Self {
        let models = vec![Model { probability: 1.0, ..model.clone() }];
        Self { models, sees_growth: true }
    }

    /// The best explanation.
    pub(super) fn best(&self) -> &Model {
        &self.models[0]
    }

    /// The probability that a fault is there, over all explanations.
    pub(super) fn probability(&self, fault: Fault) -> f64 {
        let with = self.models.iter().filter(|model| model.faults.contains(&fault));
        with.map(|model| model.probability).sum()
    }

    /// The probability that nothing is wrong with the grind.
    pub(super) fn sound(&self) -> f64 {
        let sound = self.models.iter().filter(|model| model.faults.is_empty());
        sound.map(|model| model.probability).sum()
    }

    /// Mean and standard deviation of a quantity over all explanations that have it, each with its
    /// probability: what the choice among them leaves open widens the band.
    ///
    /// **Source** \[madigan-raftery\] the mean and variance of a mixture. **Departs** by leaving
    /// out explanations beyond the forty best. **Error** what those weigh. **Domain** one
    /// explanation at least that has it.
    pub(super) fn averaged(
        &self,
        quantity: impl Fn(&Model) -> Option<(f64, f64)>,
    ) -> Option<(f64, f64)> {
        let whole = |model: &&Model| model.belief.is_some() || model.terms.is_empty();
        let models = self.models.iter().filter(whole);
        let parts: Vec<(f64, f64, f64)> = models
            .filter_map(|model| quantity(model).map(|(mean, sd)| (model.probability, mean, sd)))
            .collect();
        let sum: f64 = parts.iter().map(|part| part.0).sum();
        if sum <= 0.0 {
            return None;
        }
        let mean = parts.iter().map(|(p, mean, _)| p * mean).sum::<f64>() / sum;
        let spread = parts.iter().map(|(p, m, sd)| p * (sd * sd + (m - mean).powi(2)));
        Some((mean, (spread.sum::<f64>() / sum).sqrt()))
    }

    /// What the best explanation says of the direction of the runout, and of the highest and the
    /// lowest tooth, at the places of the readings that hang on it.
    fn direction(&self, design: &Design<'_>) -> Direction {
        // A runout that the other readings show faintly may show plainly in the one that has no
        // sign: its direction is taken from the best explanation that has a runout at all.
        let has_runout = |model: &&Model| model.faults.contains(&Fault::Runout);
        let runs_out = self.models.iter().find(|model| has_runout(model) && model.belief.is_some());
        let best = self.best();
        let mut direction = Direction::default();
        for one in design.observed {
            match one.sight.extra {
                Extra::Shank(at_mm) => {
                    let along = at_mm / design.flute_mm;
                    let turned = runs_out.and_then(|model| model.offset_rad(along));
                    direction.offsets_rad.extend(turned.map(|turned| (at_mm, turned)));
                }
                Extra::Spread(at_mm) => {
                    let extremes = best.extremes(design, at_mm);
                    direction.extremes.extend(extremes.map(|extremes| (at_mm, extremes)));
                }
                _ => {}
            }
        }
        direction
    }
}

/// Directions that are tried for a runout of which a reading gives the length alone.
const DIRECTIONS: u32 = 12;

/// A shallow search is enough to compare directions.
const SHALLOW: Search = Search { most: 2, width: 4 };

/// The direction under which all readings agree best: that of the other readings, or one of those
/// that are tried where they leave it open, as two teeth do.
fn start(design: &Design<'_>) -> Result<Direction, FitError> {
    let place = |one: &Observed| match one.sight.extra {
        Extra::Shank(at_mm) => Some(at_mm),
        _ => None,
    };
    let places: Vec<f64> = design.observed.iter().filter_map(place).collect();
    let mut best = (log_sum(design, &design.direction)?, design.direction.clone());
    let tried = if places.is_empty() { 0 } else { DIRECTIONS };
    for step in 0..tried {
        let turned = std::f64::consts::TAU * f64::from(step) / f64::from(DIRECTIONS);
        let offsets_rad = places.iter().map(|place| (*place, turned)).collect();
        let direction = Direction { offsets_rad, ..design.direction.clone() };
        let log = log_sum(design, &direction)?;
        if log > best.0 {
            best = (log, direction);
        }
    }
    Ok(best.1)
}

/// The logarithm of the evidence of all readings about a direction.
fn log_sum(design: &Design<'_>, direction: &Direction) -> Result<f64, FitError> {
    let (runs, turns) = (design.runs.clone(), design.turns.clone());
    let problem = Design { runs, turns, direction: direction.clone(), ..*design }.problem()?;
    let scales = &NOISE_SCALES[..1];
    let found = weigh(&problem.linear, &problem.always, &problem.causes, scales, SHALLOW)?;
    Ok(found.log_sum)
}

/// Only this many of the best explanations are worked out in full.
const BELIEFS_MAX: usize = 40;

fn model(problem: &Problem, weighed: &Weighed, in_full: bool) -> Result<Model, FitError> {
    let forms = || weighed.causes.iter().map(|at| &problem.forms[*at]);
    let columns = weighed.causes.iter().flat_map(|at| problem.causes[*at].columns.iter());
    let columns: Vec<usize> = problem.always.iter().chain(columns).copied().collect();
    let terms: Vec<Term> = columns.iter().map(|at| problem.terms[*at]).collect();
    let noise_factor = NOISE_SCALES[weighed.scale].factor;
    let belief = if in_full && !columns.is_empty() {
        Some(belief(problem, &columns, &terms, noise_factor)?)
    } else {
        None
    };
    let bad = |form: &super::term::Form| match form.terms[..] {
        [Term::Bad(reading)] => Some(reading),
        _ => None,
    };
    Ok(Model {
        faults: forms().filter_map(|form| form.fault).collect(),
        bad: forms().filter_map(bad).collect(),
        terms,
        belief,
        probability: weighed.probability,
        noise_factor,
    })
}

/// Sizes are told with this much less trust in what was taken of them beforehand than serves to
/// choose among causes, so that no size is drawn toward nothing.
const WIDER_PRIOR: f64 = 8.0;

fn belief(
    problem: &Problem,
    columns: &[usize],
    terms: &[Term],
    noise_factor: f64,
) -> Result<Belief, FitError> {
    let mut part = problem.linear.with_parameters(columns)?.with_noise_times(noise_factor)?;
    for (at, term) in terms.iter().enumerate() {
        if let Some(fault) = term.fault() {
            let deviation = WIDER_PRIOR * fault.spread();
            part = part.with_prior(at, Prior { mean: 0.0, deviation })?;
        }
    }
    Ok(part.evidence()?.belief)
}

impl Model {
    /// The mean of a term; None where it is not part of the explanation.
    pub(super) fn value(&self, term: Term) -> Option<f64> {
        let at = self.terms.iter().position(|other| *other == term)?;
        self.belief.as_ref().map(|belief| belief.mean()[at])
    }

    /// Mean and standard deviation of a combination of terms.
    pub(super) fn combined(&self, weights: &[(Term, f64)]) -> Option<(f64, f64)> {
        let belief = self.belief.as_ref()?;
        let at = |term: &Term| self.terms.iter().position(|other| other == term);
        let placed: Vec<(usize, f64)> =
            weights.iter().filter_map(|(term, w)| Some((at(term)?, *w))).collect();
        let mean = placed.iter().map(|(at, w)| w * belief.mean()[*at]).sum();
        let pairs = placed.iter().flat_map(|one| placed.iter().map(move |other| (one, other)));
        let parts = pairs.map(|((a, v), (b, w))| v * w * belief.covariance(*a, *b).unwrap_or(0.0));
        Some((mean, parts.sum::<f64>().max(0.0).sqrt()))
    }

    /// The angle of the offset at a place along the flute; None without a runout.
    fn offset_rad(&self, along: f64) -> Option<f64> {
        let sum = |wanted: Coordinate| {
            let part = |term: &Term| match term {
                Term::Offset(c, ..) if *c == wanted => self.value(*term),
                Term::Tilt(c, ..) if *c == wanted => self.value(*term).map(|v| v * along),
                _ => None,
            };
            self.terms.iter().filter_map(part).sum::<f64>()
        };
        let (x, y) = (sum(Coordinate::X), sum(Coordinate::Y));
        (x != 0.0 || y != 0.0).then(|| y.atan2(x))
    }

    /// The total indicator reading of the shank at a place, mean and standard deviation: twice the
    /// length of the offset, of which a coordinate that was not seen may make a part.
    pub(super) fn shank_runout(&self, along: f64) -> (f64, f64) {
        let part = |wanted: Coordinate| {
            let weight = |term: &Term| match term {
                Term::Offset(c, ..) if *c == wanted => Some((*term, 1.0)),
                Term::Tilt(c, ..) if *c == wanted => Some((*term, along)),
                _ => None,
            };
            let weights: Vec<(Term, f64)> = self.terms.iter().filter_map(weight).collect();
            self.combined(&weights).unwrap_or((0.0, 0.0))
        };
        let ((x, sx), (y, sy)) = (part(Coordinate::X), part(Coordinate::Y));
        let spread = sx.hypot(sy);
        // The mean length of a vector of normal coordinates about nothing is 1.25 of one's own.
        (2.0 * x.hypot(y).hypot(0.886 * spread), 2.0 * 0.6 * spread)
    }

    /// The highest and the lowest tooth at a place; None where all stand alike.
    fn extremes(&self, design: &Design<'_>, from_end_mm: f64) -> Option<(u32, u32)> {
        let at = |tooth| self.stand(design, &Touched { tooth, from_end_mm, weight: 1.0 });
        let teeth = || 1..=design.teeth.count();
        let highest = teeth().max_by(|a, b| at(*a).total_cmp(&at(*b)))?;
        let lowest = teeth().min_by(|a, b| at(*a).total_cmp(&at(*b)))?;
        (at(highest) - at(lowest) > 1e-9).then_some((highest, lowest))
    }

    /// The stand of an edge at a place, in mm.
    pub(super) fn stand(&self, design: &Design<'_>, at: &Touched) -> f64 {
        let value = |term: &Term| self.value(*term).unwrap_or(0.0);
        self.terms.iter().map(|term| value(term) * design.stand(*term, at)).sum()
    }

    /// What a reading would show, in the fit's terms.
    pub(super) fn foretold(&self, design: &Design<'_>, at: usize) -> f64 {
        let one = &design.observed[at];
        let is_whole = |term: &&Term| !matches!(term, Term::Bad(_));
        let value = |term: &Term| self.value(*term).unwrap_or(0.0);
        let whole = self.terms.iter().filter(is_whole);
        whole.map(|term| value(term) * design.effect(*term, at, one)).sum()
    }
}
