//! The least-squares fit of a linear model, with all that can be said of it.

use nalgebra::{DMatrix, DVector, DVectorView};

use super::error::FitError;
use super::null::{NullDirection, null_directions};
use super::problem::LinearProblem;
use super::quantile::chi_square_tail;
use super::singular::Singular;

/// The share of a reading's variance that the fit must leave free for its residual to say
/// anything: below it the fit runs through the reading whatever it is.
const FREE: f64 = 1e-9;

/// A weighted least-squares fit: the parameters b that make Σ ((y − X b)/σ)² least, priors counted
/// as further readings of single parameters.
///
/// Where the readings do not determine every parameter, b is the smallest of the best: smallest in
/// the sum of squares of parameter times length of its weighted column, which has no unit. What
/// the readings leave open is told by [`Self::null_directions`].
///
/// **Source** \[golub-van-loan\] sections 5.3, 5.5 and 8.6: columns scaled to length one, singular
/// values by one-sided Jacobi rotation, one round of refinement. **Departs** from the source's
/// shortest b by measuring it in scaled columns, so that the choice of units changes nothing.
/// **Error** parameters about 1e-16 times the ratio of largest to smallest singular value; checked
/// against \[nist-strd\]. **Domain** finite numbers; any count of readings and parameters.
#[derive(Clone, Debug)]
pub struct LinearFit {
    parameters: DVector<f64>,
    /// F with F Fᵀ the covariance for a scale of one.
    factor: DMatrix<f64>,
    residuals: Vec<f64>,
    leverages: Vec<f64>,
    deviations: Vec<f64>,
    has_known_noise: bool,
    chi_square: f64,
    chi_square_of_priors: f64,
    degrees_of_freedom: usize,
    singular_values: Vec<f64>,
    null: Vec<NullDirection>,
    pub(super) lengths: DVector<f64>,
}

impl LinearFit {
    pub(super) fn of(problem: &LinearProblem) -> Result<Self, FitError> {
        let (rows, values) = problem.weighted();
        if rows.iter().chain(values.iter()).any(|entry| !entry.is_finite()) {
            return Err(FitError::Overflow);
        }
        let singular = Singular::of(rows.clone());
        let rank = singular.rank(problem.rank_tolerance);
        let step = singular.step(&values, rank, 0.0);
        // One round of refinement: what rounding left over is fitted once more.
        let step = &step + singular.step(&(&values - &rows * &step), rank, 0.0);
        let misses = &values - rows * &step;
        let (of_readings, of_priors) = misses.as_slice().split_at(problem.readings());
        let square = |misses: &[f64]| misses.iter().map(|miss| miss * miss).sum::<f64>();
        let deviations = problem.noise.deviations();
        let fit = Self {
            parameters: &problem.centre + step,
            factor: singular.factor(rank),
            residuals: of_readings.iter().zip(deviations).map(|(miss, s)| miss * s).collect(),
            leverages: singular.leverages(rank)[..problem.readings()].to_vec(),
            deviations: deviations.to_vec(),
            has_known_noise: problem.noise.is_known(),
            chi_square: misses.norm_squared(),
            chi_square_of_priors: square(of_priors),
            degrees_of_freedom: values.len() - rank,
            singular_values: singular.values.as_slice().to_vec(),
            null: null_directions(&singular, rank),
            lengths: singular.lengths,
        };
        fit.checked()
    }

    /// No number that is not one leaves here.
    fn checked(self) -> Result<Self, FitError> {
        let numbers = self.parameters.iter().chain(self.factor.iter()).chain(&self.residuals);
        let is_whole = numbers.chain([&self.chi_square]).all(|number| number.is_finite());
        if is_whole { Ok(self) } else { Err(FitError::Overflow) }
    }

    /// The parameters b, each in its own unit.
    pub fn parameters(&self) -> &[f64] {
        self.parameters.as_slice()
    }

    /// y − X b of each reading, in the readings' unit: above zero where the reading is the larger.
    pub fn residuals(&self) -> &[f64] {
        &self.residuals
    }

    /// How far each reading pulls the fit to itself, 0 to 1.
    pub fn leverages(&self) -> &[f64] {
        &self.leverages
    }

    /// Each residual divided by its own standard deviation, r/(σ √(1 − h)); none where the fit
    /// runs through the reading whatever it is, or where no scale is known.
    ///
    /// **Source** \[cook-weisberg\] section 2.1, h the leverage. **Departs** with priors, h being
    /// the leverage beside them. **Error** rounding over 1 − h. **Domain** 1 − h > 1e-9.
    pub fn standardised(&self) -> Vec<Option<f64>> {
        let scale = self.scale().filter(|scale| *scale > 0.0);
        (0..self.residuals.len()).map(|at| Some(self.over_free(at)? / scale?)).collect()
    }

    /// Each residual against what the other readings alone say of it: the standardised residual
    /// where standard deviations are known; else with the scale from the other readings, which
    /// follows Student's t with one degree of freedom less than the fit's.
    ///
    /// **Source** \[cook-weisberg\] section 2.1.2: t = r √((ν − 1)/(ν − r²)), ν the fit's degrees
    /// of freedom and r the standardised residual. **Departs** nowhere. **Error** rounding.
    /// **Domain** as [`Self::standardised`], and ν > 1 where the scale is unknown.
    pub fn studentised(&self) -> Vec<Option<f64>> {
        if self.has_known_noise {
            return self.standardised();
        }
        let degrees = self.degrees_of_freedom as f64;
        let external = |at: usize| {
            let free = self.over_free(at)?;
            let rest = self.chi_square - free * free;
            // Where the others fit exactly, rounding is all that is left of them.
            let rest = rest.max(f64::EPSILON * self.chi_square);
            (degrees > 1.0 && rest > 0.0).then(|| free * ((degrees - 1.0) / rest).sqrt())
        };
        (0..self.residuals.len()).map(external).collect()
    }

    /// A weighted residual over the root of its free share.
    fn over_free(&self, at: usize) -> Option<f64> {
        let free = self.free_share(at)?;
        Some(self.residuals[at] / (self.deviations[at] * free.sqrt()))
    }

    /// 1 − h, where it is enough to say anything.
    pub(super) fn free_share(&self, at: usize) -> Option<f64> {
        Some(1.0 - self.leverages[at]).filter(|free| *free > FREE)
    }

    /// Σ ((y − X b)/σ)², priors counted.
    pub fn chi_square(&self) -> f64 {
        self.chi_square
    }

    /// The part of chi-square that the priors make.
    pub fn chi_square_of_priors(&self) -> f64 {
        self.chi_square_of_priors
    }

    /// Readings and priors, less the rank.
    pub fn degrees_of_freedom(&self) -> usize {
        self.degrees_of_freedom
    }

    /// How many independent combinations of parameters are determined.
    pub fn rank(&self) -> usize {
        self.factor.ncols()
    }

    /// The singular values of the weighted design with columns of length one, largest first.
    pub fn singular_values(&self) -> &[f64] {
        &self.singular_values
    }

    /// What the readings leave open: empty where every parameter is determined.
    pub fn null_directions(&self) -> &[NullDirection] {
        &self.null
    }

    /// Whether the readings' standard deviations were known.
    pub fn has_known_noise(&self) -> bool {
        self.has_known_noise
    }

    /// The common factor of the standard deviations: one where they were known, else estimated;
    /// none where no degree of freedom is left to estimate it.
    ///
    /// **Source** \[cook-weisberg\] section 2.1: √(χ²/ν). **Departs** nowhere. **Error** itself
    /// uncertain by about 1/√(2ν). **Domain** ν > 0.
    pub fn scale(&self) -> Option<f64> {
        if self.has_known_noise {
            return Some(1.0);
        }
        let degrees = self.degrees_of_freedom;
        (degrees > 0).then(|| (self.chi_square / degrees as f64).sqrt())
    }

    /// The probability of a chi-square at least this large if model and standard deviations are
    /// right; none where the scale is estimated or nothing is left over.
    pub fn misfit_probability(&self) -> Option<f64> {
        let is_judged = self.has_known_noise && self.degrees_of_freedom > 0;
        is_judged.then(|| chi_square_tail(self.degrees_of_freedom as f64, self.chi_square).ok())?
    }

    /// The covariance of two parameters; none where one is not determined or no scale is known.
    ///
    /// **Source** \[golub-van-loan\] section 5.3: s² (XᵀWX)⁻¹, here from the singular values.
    /// **Departs** with priors: then the posterior's. **Error** as the parameters'.
    /// **Domain** determined parameters.
    pub fn covariance(&self, first: usize, second: usize) -> Option<f64> {
        if !self.is_parameter_determined(first) || !self.is_parameter_determined(second) {
            return None;
        }
        let scale = self.scale()?;
        Some(self.factor.row(first).dot(&self.factor.row(second)) * scale * scale)
    }

    /// The standard deviation of a parameter; none where it is not determined or no scale is known.
    pub fn deviation(&self, parameter: usize) -> Option<f64> {
        self.covariance(parameter, parameter).map(f64::sqrt)
    }

    /// Whether the readings determine a parameter by itself.
    pub fn is_parameter_determined(&self, parameter: usize) -> bool {
        parameter < self.parameters.len()
            && self.null.iter().all(|direction| direction.weights[parameter] == 0.0)
    }

    /// The length of a row's image under the covariance's factor: its standard deviation for a
    /// scale of one.
    pub(super) fn spread(&self, row: &[f64]) -> f64 {
        let row = DVectorView::from_slice(row, row.len());
        self.factor.tr_mul(&row).norm()
    }

    pub(super) fn factor(&self) -> &DMatrix<f64> {
        &self.factor
    }
}
