//! What is known of the parameters, as a normal distribution, and what a reading would add.

use nalgebra::{DMatrix, DVector, DVectorView};

use super::discriminate::Predictive;
use crate::fit::error::{FitError, all_finite, all_positive, counted};
use crate::fit::linear::LinearFit;

/// A normal distribution of all parameters.
#[derive(Clone, Debug)]
pub struct Belief {
    mean: DVector<f64>,
    /// F with F Fᵀ the covariance.
    factor: DMatrix<f64>,
}

impl LinearFit {
    /// The fit as a belief; none where a parameter is not determined or no scale is known. An
    /// estimated scale is taken as if it were known.
    pub fn belief(&self) -> Option<Belief> {
        let scale = self.scale()?;
        let mean = DVector::from_column_slice(self.parameters());
        self.null_directions().is_empty().then(|| Belief { mean, factor: self.factor() * scale })
    }
}

impl Belief {
    pub(super) fn new(mean: DVector<f64>, factor: DMatrix<f64>) -> Result<Self, FitError> {
        let numbers = mean.iter().chain(factor.iter());
        let is_finite = numbers.copied().all(f64::is_finite);
        if is_finite { Ok(Self { mean, factor }) } else { Err(FitError::Overflow) }
    }

    /// The mean of each parameter, in its own unit.
    pub fn mean(&self) -> &[f64] {
        self.mean.as_slice()
    }

    /// The covariance of two parameters; none where there is no such parameter.
    pub fn covariance(&self, first: usize, second: usize) -> Option<f64> {
        let is_there = first < self.mean.len() && second < self.mean.len();
        is_there.then(|| self.factor.row(first).dot(&self.factor.row(second)))
    }

    /// What a further reading with this row and this standard deviation would show.
    ///
    /// **Source** \[mackay-evidence\] section 2: mean x·b, variance x C xᵀ + σ². **Departs**
    /// nowhere. **Error** rounding. **Domain** normal noise.
    ///
    /// # Errors
    /// Where the row has another length than the parameters, a number is not finite, or the
    /// standard deviation is not above zero.
    pub fn predictive(&self, row: &[f64], noise: f64) -> Result<Predictive, FitError> {
        let spread = self.image(row)?.norm();
        all_positive("the standard deviation of reading", &[noise])?;
        let mean = row.iter().zip(self.mean.iter()).map(|(x, b)| x * b).sum();
        Predictive::new(mean, spread.hypot(noise))
    }

    /// How much a further reading with this row and this standard deviation would tell of all
    /// parameters, in nats: by how much their entropy falls, whatever the reading shows.
    ///
    /// **Source** \[mackay-information\] section 3: ½ ln(1 + x C xᵀ/σ²). **Departs** nowhere.
    /// **Error** rounding. **Domain** normal noise.
    ///
    /// # Errors
    /// As [`Self::predictive`].
    pub fn information(&self, row: &[f64], noise: f64) -> Result<f64, FitError> {
        let spread = self.image(row)?.norm();
        all_positive("the standard deviation of reading", &[noise])?;
        finite(0.5 * (spread / noise).powi(2).ln_1p())
    }

    /// How much a further reading would tell of one combination `question` · b, in nats.
    ///
    /// **Source** \[mackay-information\] section 3: −½ ln(1 − ρ²), ρ the correlation of the
    /// combination and the reading. **Departs** nowhere. **Error** rounding. **Domain** normal
    /// noise; nought for a combination that is known exactly.
    ///
    /// # Errors
    /// As [`Self::predictive`], for either row.
    pub fn information_about(
        &self,
        question: &[f64],
        row: &[f64],
        noise: f64,
    ) -> Result<f64, FitError> {
        let (asked, seen) = (self.image(question)?, self.image(row)?);
        all_positive("the standard deviation of reading", &[noise])?;
        let length = asked.norm();
        if length == 0.0 {
            return Ok(0.0);
        }
        let along = asked.dot(&seen) / length;
        // 1/(1 − ρ²) = 1 + along²/(rest of the reading's variance), without cancellation.
        let across = (seen - asked * (along / length)).norm().hypot(noise);
        finite(0.5 * (along / across).powi(2).ln_1p())
    }

    /// The further reading among these (row, standard deviation) that tells most of all
    /// parameters, with what it tells in nats; none where there is none to choose from.
    ///
    /// # Errors
    /// As [`Self::information`].
    pub fn most_informative(
        &self,
        candidates: &[(Vec<f64>, f64)],
    ) -> Result<Option<(usize, f64)>, FitError> {
        let mut best: Option<(usize, f64)> = None;
        for (at, (row, noise)) in candidates.iter().enumerate() {
            let told = self.information(row, *noise)?;
            if best.is_none_or(|(_, most)| told > most) {
                best = Some((at, told));
            }
        }
        Ok(best)
    }

    /// Fᵀ x: its length is the standard deviation of x · b.
    fn image(&self, row: &[f64]) -> Result<DVector<f64>, FitError> {
        counted("entries of a row", self.mean.len(), row.len())?;
        all_finite("entry", row)?;
        Ok(self.factor.tr_mul(&DVectorView::from_slice(row, row.len())))
    }
}

fn finite(number: f64) -> Result<f64, FitError> {
    if number.is_finite() { Ok(number) } else { Err(FitError::Overflow) }
}
