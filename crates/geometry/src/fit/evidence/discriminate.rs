//! How well one further reading would tell two models apart.

use crate::fit::error::{FitError, all_finite, all_positive, counted};

/// What a model says of one further reading: a normal distribution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Predictive {
    mean: f64,
    deviation: f64,
}

impl Predictive {
    /// Takes mean and standard deviation, in the reading's unit.
    ///
    /// # Errors
    /// Where a number is not finite or the standard deviation is not above zero.
    pub fn new(mean: f64, deviation: f64) -> Result<Self, FitError> {
        all_finite("the mean of reading", &[mean])?;
        all_positive("the standard deviation of reading", &[deviation])?;
        Ok(Self { mean, deviation })
    }

    /// The mean, in the reading's unit.
    pub fn mean(&self) -> f64 {
        self.mean
    }

    /// The standard deviation, in the reading's unit.
    pub fn deviation(&self) -> f64 {
        self.deviation
    }

    /// The mean logarithm by which this model's readings speak for it against another.
    fn against(&self, other: &Self) -> f64 {
        let ratio = self.deviation / other.deviation;
        let apart = (self.mean - other.mean) / other.deviation;
        // ½(ratio² − 1) − ln ratio, without cancellation near one.
        let excess = ratio - 1.0;
        let wider = excess * (1.0 + 0.5 * excess) - excess.ln_1p();
        (wider + 0.5 * apart * apart).clamp(0.0, f64::MAX)
    }
}

/// How far one further reading is expected to move the odds between two models, in nats.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Discrimination {
    /// The mean log Bayes factor for the first model where the first is true.
    pub if_first: f64,
    /// The mean log Bayes factor for the second model where the second is true.
    pub if_second: f64,
}

/// How well a further reading of which two models say this would tell them apart.
///
/// **Source** \[box-hill-1967\]: the two divergences of Kullback and Leibler between the
/// predictive distributions, ½ (v₁/v₂ + (m₁ − m₂)²/v₂ − 1 − ln(v₁/v₂)) and its mirror image.
/// **Departs** by giving both sides apart. **Error** rounding. **Domain** normal predictions.
pub fn discriminate(first: &Predictive, second: &Predictive) -> Discrimination {
    Discrimination { if_first: first.against(second), if_second: second.against(first) }
}

/// The expected log Bayes factor of the true model against the others, over models with these
/// probabilities: an upper bound of what the reading tells about which model is true, in nats.
///
/// **Source** \[box-hill-1967\]: Σ pᵢ pⱼ KL(i‖j). **Departs** nowhere. **Error** rounding.
/// **Domain** normal predictions; probabilities that sum to one.
///
/// # Errors
/// Where there are not as many probabilities as predictions, or one is not finite.
pub fn expected_separation(
    probabilities: &[f64],
    predictives: &[Predictive],
) -> Result<f64, FitError> {
    counted("probabilities", predictives.len(), probabilities.len())?;
    all_finite("probability", probabilities)?;
    let models = || probabilities.iter().zip(predictives);
    let pairs = models().flat_map(|one| models().map(move |other| (one, other)));
    let sum: f64 = pairs.map(|((p, one), (q, other))| p * q * one.against(other)).sum();
    if sum.is_finite() { Ok(sum) } else { Err(FitError::Overflow) }
}
