//! The evidence of one linear model with normal priors, in closed form.

use nalgebra::linalg::QR;
use nalgebra::{DMatrix, DVector};

use super::belief::Belief;
use crate::fit::error::FitError;
use crate::fit::problem::{LinearProblem, Prior};

/// ln 2π.
const LN_TAU: f64 = 1.837_877_066_409_345_5;

/// How well a model with its priors foretold the readings.
#[derive(Clone, Debug)]
pub struct Evidence {
    /// ln of the probability density of all readings, parameters averaged over: in nats, the
    /// density in one over the readings' unit for each reading.
    pub log_evidence: f64,
    /// ln of the density at the best parameters beside the priors.
    pub log_best: f64,
    /// What the averaging costs: `log_evidence` − `log_best`. The more freely the priors let the
    /// parameters roam, the lower.
    pub log_occam: f64,
    /// What is known of the parameters after the readings.
    pub belief: Belief,
}

impl LinearProblem {
    /// The evidence of this model.
    ///
    /// **Source** \[mackay-evidence\] section 2, exact for a linear model: with L = S⁻¹ X P, S and
    /// P the standard deviations of readings and priors, and u = S⁻¹ (y − X m), −½ (n ln 2π + ln
    /// det S² + ln det(I + LᵀL) + min over w of |u − L w|² + |w|²). **Departs** by taking the
    /// Cholesky factor of I + LᵀL from an orthogonal factorisation of L over I, without forming it.
    /// **Error** about 1e-16 times the largest ratio of prior to reading, in nats. **Domain**
    /// normal noise with known standard deviations, a normal prior on each parameter.
    ///
    /// # Errors
    /// Where the standard deviations are not known, a parameter has no prior, or numbers leave the
    /// range of double precision.
    pub fn evidence(&self) -> Result<Evidence, FitError> {
        if !self.noise.is_known() {
            return Err(FitError::UnknownScale { what: "an evidence" });
        }
        let priors = self.all_priors()?;
        let (stacked, values) = self.standard(&priors);
        let factored = QR::new(stacked.clone());
        let mut turned = values.clone();
        factored.q_tr_mul(&mut turned);
        let root = factored.r();
        let parameters = self.parameters();
        let best = root.solve_upper_triangular(&turned.rows(0, parameters).into_owned());
        let inverse = root.solve_upper_triangular(&DMatrix::identity(parameters, parameters));
        let (Some(best), Some(inverse)) = (best, inverse) else { return Err(FitError::Overflow) };
        let misses = values - stacked * &best;
        let log_root: f64 = root.diagonal().iter().map(|entry| entry.abs().ln()).sum();
        let belief = belief(&priors, &best, inverse)?;
        self.weighed(&misses, log_root, belief)
    }

    pub(super) fn all_priors(&self) -> Result<Vec<Prior>, FitError> {
        let priors = self.priors.iter().enumerate();
        priors.map(|(parameter, prior)| prior.ok_or(FitError::MissingPrior { parameter })).collect()
    }

    /// L over I, and u over nought.
    pub(super) fn standard(&self, priors: &[Prior]) -> (DMatrix<f64>, DVector<f64>) {
        let (readings, parameters) = (self.readings(), self.parameters());
        let means = DVector::from_iterator(parameters, priors.iter().map(|prior| prior.mean));
        let mut stacked = self.rows.clone().resize_vertically(readings + parameters, 0.0);
        let values = &self.readings - &self.rows * means;
        let mut values = values.resize_vertically(readings + parameters, 0.0);
        for (mut column, prior) in stacked.column_iter_mut().zip(priors) {
            column.scale_mut(prior.deviation);
        }
        for (at, deviation) in self.noise.deviations().iter().enumerate() {
            stacked.row_mut(at).unscale_mut(*deviation);
            values[at] /= deviation;
        }
        for at in 0..parameters {
            stacked[(readings + at, at)] = 1.0;
        }
        (stacked, values)
    }

    fn weighed(
        &self,
        misses: &DVector<f64>,
        log_root: f64,
        belief: Belief,
    ) -> Result<Evidence, FitError> {
        let log_scale: f64 = self.noise.deviations().iter().map(|s| s.ln()).sum();
        let of_readings = misses.rows(0, self.readings()).norm_squared();
        let of_priors = misses.rows(self.readings(), self.parameters()).norm_squared();
        let log_best = -0.5 * (self.readings() as f64 * LN_TAU + of_readings) - log_scale;
        let log_occam = -0.5 * of_priors - log_root;
        let log_evidence = log_best + log_occam;
        if !log_evidence.is_finite() {
            return Err(FitError::Overflow);
        }
        Ok(Evidence { log_evidence, log_best, log_occam, belief })
    }
}

/// The belief in the parameters' own units.
fn belief(
    priors: &[Prior],
    best: &DVector<f64>,
    mut factor: DMatrix<f64>,
) -> Result<Belief, FitError> {
    for (mut row, prior) in factor.row_iter_mut().zip(priors) {
        row.scale_mut(prior.deviation);
    }
    let means = priors.iter().zip(best.iter()).map(|(prior, w)| prior.mean + prior.deviation * w);
    Belief::new(DVector::from_iterator(priors.len(), means), factor)
}
