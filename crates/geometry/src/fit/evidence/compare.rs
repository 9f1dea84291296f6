//! Several models of the same readings, weighed against each other.

use super::marginal::Evidence;
use crate::fit::error::{FitError, all_positive, counted};
use crate::fit::problem::LinearProblem;

/// How far the readings speak for each of several models.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// The evidence of each model, in the models' order.
    pub evidences: Vec<Evidence>,
    /// The probability of each model after the readings; they sum to one.
    pub probabilities: Vec<f64>,
}

impl Comparison {
    /// The most probable model, the first of equals.
    pub fn best(&self) -> usize {
        let better = |best: usize, at: usize| {
            if self.probabilities[at] > self.probabilities[best] { at } else { best }
        };
        (0..self.probabilities.len()).fold(0, better)
    }

    /// The log Bayes factor for one model against another, in nats; none where there is no such
    /// model.
    pub fn log_bayes_factor(&self, model: usize, against: usize) -> Option<f64> {
        let of = |at: usize| Some(self.evidences.get(at)?.log_evidence);
        Some(of(model)? - of(against)?)
    }
}

/// Weighs models of the same readings, each with its odds beforehand (all equal: the same number
/// for each).
///
/// **Source** \[mackay-evidence\] section 2: probability proportional to odds times evidence.
/// **Departs** nowhere. **Error** absolute in a log evidence is relative in a probability.
/// **Domain** one of the models, or one near it, is true.
///
/// # Errors
/// As [`LinearProblem::evidence`]; where there is no model, the odds are not one for each and above
/// zero, or the models were not given the same readings with the same standard deviations.
pub fn compare(models: &[LinearProblem], odds: &[f64]) -> Result<Comparison, FitError> {
    let Some(first) = models.first() else { return Err(FitError::Empty { what: "model" }) };
    counted("odds", models.len(), odds.len())?;
    all_positive("the odds of model", odds)?;
    let is_other =
        |model: &LinearProblem| model.readings != first.readings || model.noise != first.noise;
    if let Some(model) = models.iter().position(is_other) {
        return Err(FitError::OtherReadings { model });
    }
    let evidences: Vec<Evidence> =
        models.iter().map(LinearProblem::evidence).collect::<Result<_, _>>()?;
    let logs = evidences.iter().zip(odds).map(|(evidence, odds)| evidence.log_evidence + odds.ln());
    let probabilities = normalised(&logs.collect::<Vec<_>>());
    Ok(Comparison { evidences, probabilities })
}

/// Probabilities from their logarithms, the largest taken off first so that none overflows.
fn normalised(logs: &[f64]) -> Vec<f64> {
    let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = logs.iter().map(|log| (log - most).exp()).collect();
    let sum: f64 = weights.iter().sum();
    weights.iter().map(|weight| weight / sum).collect()
}
