//! Which of many possible causes do the readings speak for? Sets of columns, weighed by evidence.

use nalgebra::{DMatrix, DVector};

use crate::fit::error::{FitError, all_finite, all_positive};
use crate::fit::problem::LinearProblem;

/// A cause: columns of the design that come or stay away together.
#[derive(Clone, Debug, PartialEq)]
pub struct Cause {
    /// Its parameters.
    pub columns: Vec<usize>,
    /// The odds, beforehand, that it is there: p/(1 − p).
    pub odds: f64,
    /// Causes of the same family never stand in one set: they are forms of one thing.
    pub family: usize,
}

/// How far the search goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Search {
    /// The most causes that may be there at once.
    pub most: usize,
    /// Sets of two causes and more are grown from this many of the best sets of one less. All
    /// pairs are tried whatever this is.
    pub width: usize,
}

/// One scale by which all standard deviations may be larger than stated, with its odds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoiseScale {
    /// The factor.
    pub factor: f64,
    /// Its odds, relative to those of the other scales.
    pub odds: f64,
}

/// A set of causes with its weight.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighed {
    /// The causes, by their places in the list, rising.
    pub causes: Vec<usize>,
    /// Which of the noise scales.
    pub scale: usize,
    /// The probability among all sets and scales that were tried.
    pub probability: f64,
}

/// All sets that were weighed.
#[derive(Clone, Debug, PartialEq)]
pub struct WeighedSets {
    /// The sets, the most probable first; those below a millionth of it are left out.
    pub sets: Vec<Weighed>,
    /// The logarithm of the sum of all weights: it compares searches over the same readings in
    /// other forms, and nothing else.
    pub log_sum: f64,
}

/// Weighs the sets of causes, each under each noise scale; the parameters in `always` are part of
/// every set.
///
/// **Source** \[mackay-evidence\] section 2, as [`LinearProblem::evidence`], summed over sets;
/// sets of three and more causes are grown from the best, \[madigan-raftery\]. **Departs** from
/// `evidence` by forming LᵀL once for all sets. **Error** in a log evidence about 1e-16 times the
/// square of the largest ratio of prior to reading; what a search by width leaves out. **Domain**
/// known standard deviations, a prior on each parameter, that ratio below 1e5.
///
/// # Errors
/// As [`LinearProblem::evidence`]; where a cause names no column or one that does not exist, or
/// odds or factors are not above zero.
pub fn weigh(
    problem: &LinearProblem,
    always: &[usize],
    causes: &[Cause],
    scales: &[NoiseScale],
    search: Search,
) -> Result<WeighedSets, FitError> {
    check(problem, always, causes, scales)?;
    let products = Products::of(problem)?;
    let sets = Sets { products, always, causes };
    let mut found: Vec<(Vec<usize>, usize, f64)> = Vec::new();
    for (at, scale) in scales.iter().enumerate() {
        let logs = sets.searched(scale.factor, search)?;
        found.extend(logs.into_iter().map(|(set, log)| (set, at, log + scale.odds.ln())));
    }
    Ok(normalised(found))
}

fn check(
    problem: &LinearProblem,
    always: &[usize],
    causes: &[Cause],
    scales: &[NoiseScale],
) -> Result<(), FitError> {
    if !problem.noise.is_known() {
        return Err(FitError::UnknownScale { what: "an evidence" });
    }
    if scales.is_empty() {
        return Err(FitError::Empty { what: "noise scale" });
    }
    let count = problem.parameters();
    let named = causes.iter().flat_map(|cause| cause.columns.iter()).chain(always);
    for &index in named {
        if index >= count {
            return Err(FitError::NoSuch { what: "parameter", index, count });
        }
    }
    let odds: Vec<f64> = causes.iter().map(|cause| cause.odds).collect();
    all_positive("the odds of cause", &odds)?;
    let factors: Vec<f64> = scales.iter().flat_map(|scale| [scale.factor, scale.odds]).collect();
    all_positive("the noise scale", &factors)
}

/// LᵀL, Lᵀu and uᵀu in the letters of [`LinearProblem::evidence`].
struct Products {
    squares: DMatrix<f64>,
    along: DVector<f64>,
    whole: f64,
    readings: f64,
}

impl Products {
    fn of(problem: &LinearProblem) -> Result<Self, FitError> {
        let priors = problem.all_priors()?;
        let (stacked, values) = problem.standard(&priors);
        let readings = problem.readings();
        let design = stacked.rows(0, readings).into_owned();
        let off = values.rows(0, readings).into_owned();
        let squares = design.tr_mul(&design);
        let along = design.tr_mul(&off);
        let whole = off.norm_squared();
        all_finite("a product of readings", squares.as_slice())?;
        all_finite("a product of readings", &[along.norm(), whole])?;
        Ok(Self { squares, along, whole, readings: readings as f64 })
    }

    /// The log evidence of the model with these columns, up to a constant that all models share.
    fn log_evidence(&self, columns: &[usize], factor: f64) -> Result<f64, FitError> {
        let shrink = 1.0 / (factor * factor);
        let flat = -0.5 * self.whole * shrink - self.readings * factor.ln();
        if columns.is_empty() {
            return Ok(flat);
        }
        let size = columns.len();
        let root = DMatrix::from_fn(size, size, |row, column| {
            let unit = if row == column { 1.0 } else { 0.0 };
            unit + shrink * self.squares[(columns[row], columns[column])]
        });
        let along = DVector::from_fn(size, |row, _| shrink * self.along[columns[row]]);
        let root = root.cholesky().ok_or(FitError::Overflow)?;
        let explained = root.l_dirty().solve_lower_triangular(&along).ok_or(FitError::Overflow)?;
        let log_root: f64 = root.l_dirty().diagonal().iter().map(|entry| entry.ln()).sum();
        Ok(flat + 0.5 * explained.norm_squared() - log_root)
    }
}

struct Sets<'a> {
    products: Products,
    always: &'a [usize],
    causes: &'a [Cause],
}

type Logged = (Vec<usize>, f64);

impl Sets<'_> {
    /// Every set that the search meets at one noise scale, with the logarithm of its weight.
    fn searched(&self, factor: f64, search: Search) -> Result<Vec<Logged>, FitError> {
        let none = (Vec::new(), self.log_weight(&[], factor)?);
        let mut all = vec![none.clone()];
        let mut best = vec![none];
        for size in 1..=search.most {
            let mut grown = self.grown(&best, factor)?;
            grown.sort_by(|a, b| b.1.total_cmp(&a.1));
            all.extend(grown.iter().cloned());
            // All singles are kept, so that all pairs are met.
            grown.truncate(if size == 1 { self.causes.len() } else { search.width });
            best = grown;
        }
        Ok(all)
    }

    /// The sets of one cause more, each once.
    fn grown(&self, from: &[Logged], factor: f64) -> Result<Vec<Logged>, FitError> {
        let mut sets: Vec<Vec<usize>> = Vec::new();
        for (set, _) in from {
            let family = |at: &usize| self.causes[*at].family;
            let taken: Vec<usize> = set.iter().map(family).collect();
            let free = (0..self.causes.len()).filter(|at| !taken.contains(&family(at)));
            sets.extend(free.map(|at| {
                let mut next = set.clone();
                next.insert(next.partition_point(|other| *other < at), at);
                next
            }));
        }
        sets.sort_unstable();
        sets.dedup();
        let weighed = |set: Vec<usize>| Ok((self.log_weight(&set, factor)?, set));
        sets.into_iter().map(|set| weighed(set).map(|(log, set)| (set, log))).collect()
    }

    fn log_weight(&self, set: &[usize], factor: f64) -> Result<f64, FitError> {
        let columns = set.iter().flat_map(|at| self.causes[*at].columns.iter());
        let columns: Vec<usize> = columns.chain(self.always).copied().collect();
        let odds: f64 = set.iter().map(|at| self.causes[*at].odds.ln()).sum();
        Ok(odds + self.products.log_evidence(&columns, factor)?)
    }
}

/// Sets below this share of the best are left out.
const SHARE_MIN: f64 = 1e-6;

fn normalised(mut found: Vec<(Vec<usize>, usize, f64)>) -> WeighedSets {
    found.sort_by(|a, b| b.2.total_cmp(&a.2).then_with(|| a.0.cmp(&b.0)));
    let most = found.first().map_or(0.0, |best| best.2);
    let sum: f64 = found.iter().map(|(_, _, log)| (log - most).exp()).sum();
    let weighed = |(causes, scale, log): (Vec<usize>, usize, f64)| {
        let share = (log - most).exp();
        (share >= SHARE_MIN).then_some(Weighed { causes, scale, probability: share / sum })
    };
    let sets = found.into_iter().map_while(weighed).collect();
    WeighedSets { sets, log_sum: most + sum.ln() }
}
