//! A fit under noise with heavy tails: every reading has the less say the further off it stands.

use crate::fit::error::{FitError, all_positive};
use crate::fit::linear::LinearFit;
use crate::fit::problem::{LinearProblem, Noise};

/// Rounds after which the iteration gives up.
const ROUNDS: usize = 2000;

/// The change of a parameter, in its own standard deviations, and of the scale, as a fraction, at
/// which the fit has settled.
const SETTLED: f64 = 1e-9;

/// The fraction of the first scale below which the noise counts as gone.
const VANISHED: f64 = 1e-9;

/// A fit under Student's t noise.
#[derive(Clone, Debug, PartialEq)]
pub struct HeavyTailFit {
    /// The parameters.
    pub parameters: Vec<f64>,
    /// Their standard deviations for large samples; none where one is not determined.
    pub deviations: Vec<Option<f64>>,
    /// y − X b, in the readings' unit.
    pub residuals: Vec<f64>,
    /// How much say each reading has: (ν + 1)/ν where it fits, towards nought far off.
    pub weights: Vec<f64>,
    /// The common factor of the standard deviations; one where they were known.
    pub scale: f64,
    /// How many rounds it took.
    pub rounds: usize,
}

/// Fits by repeated reweighting under Student's t noise with `tail` degrees of freedom: 4 is usual.
///
/// Unlike [`super::set_aside`] it names no reading and has no threshold. It settles at a nearest
/// best fit from the least-squares fit; with few readings there can be others.
///
/// **Source** \[lange-little-taylor-1989\] sections 2 and 3: weights (ν + 1)/(ν + r²/σ²), the scale
/// from the weighted squares over n, standard deviations from the expected information, larger by
/// √((ν + 3)/(ν + 1)). **Departs** where standard deviations are known: then σ is not fitted, and
/// stands for the scale parameter of Student's t. **Error** settles to 1e-9 of a standard
/// deviation. **Domain** more readings than parameters where the scale is unknown; ν > 0.
///
/// # Errors
/// Where `tail` is not above zero, it does not settle, or the scale goes to nought because the
/// readings but a few fit exactly.
pub fn heavy_tail_fit(problem: &LinearProblem, tail: f64) -> Result<HeavyTailFit, FitError> {
    all_positive("the degrees of freedom of the noise", &[tail])?;
    let first = problem.fit()?;
    let widths: Vec<Option<f64>> =
        (0..problem.parameters()).map(|at| first.deviation(at)).collect();
    let first_scale = first_scale(&first)?;
    let (mut scale, mut fit) = (first_scale, first);
    for rounds in 1..=ROUNDS {
        let weights = weights(problem, &fit, scale, tail);
        let next = reweighted(problem, &weights)?;
        let before = scale;
        if !problem.noise.is_known() {
            scale = next_scale(problem, &next, &weights);
        }
        if scale <= first_scale * VANISHED {
            return Err(without_scale("all but a few of them fit exactly"));
        }
        let step = distance(&fit, &next, &widths) * first_scale / scale;
        fit = next;
        if step.max((scale / before).ln().abs()) <= SETTLED {
            return finish(problem, &fit, scale, tail, rounds);
        }
    }
    Err(FitError::NotConverged { iterations: ROUNDS })
}

fn without_scale(why: &'static str) -> FitError {
    FitError::Undetermined { what: "a scale of their noise", why }
}

fn first_scale(fit: &LinearFit) -> Result<f64, FitError> {
    let scale = fit.scale();
    let scale = scale.ok_or(without_scale("there are no more of them than parameters"))?;
    if scale > 0.0 { Ok(scale) } else { Err(without_scale("they fit exactly")) }
}

/// How much say each reading has at these residuals.
fn weights(problem: &LinearProblem, fit: &LinearFit, scale: f64, tail: f64) -> Vec<f64> {
    let off = fit.residuals().iter().zip(problem.noise.deviations());
    off.map(|(r, s)| (tail + 1.0) / (tail + (r / (s * scale)).powi(2))).collect()
}

fn reweighted(problem: &LinearProblem, weights: &[f64]) -> Result<LinearFit, FitError> {
    let deviations = problem.noise.deviations().iter().zip(weights);
    let deviations = deviations.map(|(s, weight)| s / weight.sqrt()).collect();
    problem.with_noise(problem.noise.with(deviations)).fit()
}

fn next_scale(problem: &LinearProblem, fit: &LinearFit, weights: &[f64]) -> f64 {
    let off = fit.residuals().iter().zip(problem.noise.deviations());
    let squares = off.zip(weights).map(|((r, s), weight)| weight * (r / s).powi(2));
    (squares.sum::<f64>() / weights.len() as f64).sqrt()
}

/// The largest change of a parameter in its own standard deviations.
fn distance(before: &LinearFit, after: &LinearFit, widths: &[Option<f64>]) -> f64 {
    let pairs = before.parameters().iter().zip(after.parameters()).zip(widths);
    let changes = pairs.filter_map(|((a, b), width)| Some((a - b).abs() / (*width)?));
    changes.fold(0.0, f64::max)
}

fn finish(
    problem: &LinearProblem,
    fit: &LinearFit,
    scale: f64,
    tail: f64,
    rounds: usize,
) -> Result<HeavyTailFit, FitError> {
    let wider = scale * ((tail + 3.0) / (tail + 1.0)).sqrt();
    let deviations = problem.noise.deviations().iter().map(|s| s * wider).collect();
    let informed = problem.with_noise(Noise::Known(deviations)).fit()?;
    Ok(HeavyTailFit {
        parameters: fit.parameters().to_vec(),
        deviations: (0..problem.parameters()).map(|at| informed.deviation(at)).collect(),
        residuals: fit.residuals().to_vec(),
        weights: weights(problem, fit, scale, tail),
        scale,
        rounds,
    })
}
