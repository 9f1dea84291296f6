//! Readings, the linear model behind them, and what is known beforehand.

use nalgebra::{DMatrix, DVector};

use super::error::{FitError, all_finite, all_positive, counted};
use super::linear::LinearFit;

/// How far the singular values of a design may fall, as a fraction of the largest, before a
/// direction counts as one that the readings do not see.
///
/// The columns are first weighted and scaled to length one, so that the figure has no unit. Rows
/// that are computed in double precision carry about 1e-15 of rounding each; a thousand times that
/// is taken for nothing.
pub const RANK_TOLERANCE: f64 = 1e-12;

/// How well the readings are known: standard deviations in the readings' own unit, one each.
#[derive(Clone, Debug, PartialEq)]
pub enum Noise {
    /// The standard deviations themselves.
    Known(Vec<f64>),
    /// The standard deviations up to one common factor, which the fit estimates.
    Relative(Vec<f64>),
}

impl Noise {
    /// The same known standard deviation for every reading.
    pub fn known(deviation: f64, readings: usize) -> Self {
        Self::Known(vec![deviation; readings])
    }

    /// The same unknown standard deviation for every reading.
    pub fn unknown(readings: usize) -> Self {
        Self::Relative(vec![1.0; readings])
    }

    /// The standard deviations, known or relative.
    pub fn deviations(&self) -> &[f64] {
        match self {
            Self::Known(deviations) | Self::Relative(deviations) => deviations,
        }
    }

    /// Whether the standard deviations are known, not only their ratios.
    pub fn is_known(&self) -> bool {
        matches!(self, Self::Known(_))
    }

    /// The same kind of knowledge with other figures.
    pub(super) fn with(&self, deviations: Vec<f64>) -> Self {
        match self {
            Self::Known(_) => Self::Known(deviations),
            Self::Relative(_) => Self::Relative(deviations),
        }
    }

    pub(super) fn check(&self, readings: usize) -> Result<(), FitError> {
        counted("standard deviations of readings", readings, self.deviations().len())?;
        all_positive("the standard deviation of reading", self.deviations())
    }
}

/// What is known of one parameter before any reading: a normal distribution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// Its mean, in the parameter's unit.
    pub mean: f64,
    /// Its standard deviation, in the parameter's unit; above zero.
    pub deviation: f64,
}

/// Readings y with a linear model of them: y = X b + noise, b the parameters.
///
/// One row of X belongs to each reading: by how much each parameter moves it, in units of the
/// reading per unit of the parameter. Parameters may have priors.
#[derive(Clone, Debug, PartialEq)]
pub struct LinearProblem {
    pub(super) rows: DMatrix<f64>,
    pub(super) readings: DVector<f64>,
    pub(super) noise: Noise,
    pub(super) priors: Vec<Option<Prior>>,
    pub(super) rank_tolerance: f64,
    /// Where the parameters are counted from: nought, or where a nonlinear model was linearised.
    pub(super) centre: DVector<f64>,
}

impl LinearProblem {
    /// Takes the rows of X, the readings and their noise.
    ///
    /// # Errors
    /// Where there is no reading or no parameter, lists differ in length, a number is not finite
    /// or a standard deviation is not above zero.
    pub fn new<R: AsRef<[f64]>>(
        rows: &[R],
        readings: &[f64],
        noise: Noise,
    ) -> Result<Self, FitError> {
        let parameters = rows.first().map_or(0, |row| row.as_ref().len());
        for row in rows {
            counted("entries of a row", parameters, row.as_ref().len())?;
            all_finite("entry", row.as_ref())?;
        }
        counted("readings", rows.len(), readings.len())?;
        let entries = rows.iter().flat_map(|row| row.as_ref().iter().copied());
        let rows = DMatrix::from_row_iterator(rows.len(), parameters, entries);
        Self::from_parts(rows, DVector::from_column_slice(readings), noise)
    }

    pub(super) fn from_parts(
        rows: DMatrix<f64>,
        readings: DVector<f64>,
        noise: Noise,
    ) -> Result<Self, FitError> {
        let parameters = rows.ncols();
        if rows.nrows() == 0 {
            return Err(FitError::Empty { what: "reading" });
        }
        if parameters == 0 {
            return Err(FitError::Empty { what: "parameter" });
        }
        all_finite("reading", readings.as_slice())?;
        noise.check(readings.len())?;
        let centre = DVector::zeros(parameters);
        let priors = vec![None; parameters];
        Ok(Self { rows, readings, noise, priors, rank_tolerance: RANK_TOLERANCE, centre })
    }

    /// The same with a prior on one parameter.
    ///
    /// # Errors
    /// Where there is no such parameter, the prior is not finite or not above zero, or the
    /// readings' standard deviations are not known: then no scale is left to weigh a prior by.
    pub fn with_prior(mut self, parameter: usize, prior: Prior) -> Result<Self, FitError> {
        if !self.noise.is_known() {
            return Err(FitError::UnknownScale { what: "a prior" });
        }
        all_finite("the mean of prior", &[prior.mean])?;
        all_positive("the standard deviation of prior", &[prior.deviation])?;
        let count = self.priors.len();
        let slot = self.priors.get_mut(parameter);
        *slot.ok_or(FitError::NoSuch { what: "parameter", index: parameter, count })? = Some(prior);
        Ok(self)
    }

    /// The same with one prior for each parameter, in their order.
    ///
    /// # Errors
    /// As [`Self::with_prior`], and where there are more or fewer priors than parameters.
    pub fn with_priors(self, priors: &[Prior]) -> Result<Self, FitError> {
        counted("priors", self.parameters(), priors.len())?;
        priors
            .iter()
            .enumerate()
            .try_fold(self, |problem, (at, prior)| problem.with_prior(at, *prior))
    }

    /// The same with another [`RANK_TOLERANCE`].
    ///
    /// # Errors
    /// Where it is not strictly between 0 and 1.
    pub fn with_rank_tolerance(mut self, tolerance: f64) -> Result<Self, FitError> {
        if !(tolerance > 0.0 && tolerance < 1.0) {
            return Err(FitError::Probability { value: tolerance });
        }
        self.rank_tolerance = tolerance;
        Ok(self)
    }

    /// The model with these parameters only, in this order; the others are left out as if nought.
    ///
    /// # Errors
    /// Where there is no such parameter, or none is named.
    pub fn with_parameters(&self, chosen: &[usize]) -> Result<Self, FitError> {
        let count = self.parameters();
        if let Some(&index) = chosen.iter().find(|&&index| index >= count) {
            return Err(FitError::NoSuch { what: "parameter", index, count });
        }
        let rows = self.rows.select_columns(chosen);
        let mut part = Self::from_parts(rows, self.readings.clone(), self.noise.clone())?;
        part.priors = chosen.iter().map(|&at| self.priors[at]).collect();
        part.rank_tolerance = self.rank_tolerance;
        Ok(part)
    }

    /// The same with every standard deviation multiplied by `factor`.
    ///
    /// # Errors
    /// Where the factor is not above zero.
    pub fn with_noise_times(&self, factor: f64) -> Result<Self, FitError> {
        all_positive("the factor of noise", &[factor])?;
        let deviations = self.noise.deviations().iter().map(|s| s * factor).collect();
        Ok(self.with_noise(self.noise.with(deviations)))
    }

    /// The problem with these readings only.
    pub(super) fn with_readings(&self, kept: &[usize]) -> Self {
        let deviations = self.noise.deviations();
        let mut part = self.clone();
        part.rows = self.rows.select_rows(kept);
        part.readings = self.readings.select_rows(kept);
        part.noise = self.noise.with(kept.iter().map(|&at| deviations[at]).collect());
        part
    }

    /// The problem with other noise of the same count.
    pub(super) fn with_noise(&self, noise: Noise) -> Self {
        Self { noise, ..self.clone() }
    }

    /// How many readings there are.
    pub fn readings(&self) -> usize {
        self.readings.len()
    }

    /// How many parameters there are.
    pub fn parameters(&self) -> usize {
        self.rows.ncols()
    }

    /// The least-squares fit; see [`LinearFit`]. A design that does not determine every parameter
    /// is no error.
    ///
    /// # Errors
    /// Where weighting the readings leaves the range of double precision.
    pub fn fit(&self) -> Result<LinearFit, FitError> {
        LinearFit::of(self)
    }

    /// The weighted system, priors as further rows: each row divided by its standard deviation.
    pub(super) fn weighted(&self) -> (DMatrix<f64>, DVector<f64>) {
        let priors: Vec<(usize, Prior)> = self.known_beforehand().collect();
        let (count, extra) = (self.readings(), priors.len());
        let mut rows = self.rows.clone().resize_vertically(count + extra, 0.0);
        let mut values = self.readings.clone().resize_vertically(count + extra, 0.0);
        for (at, deviation) in self.noise.deviations().iter().enumerate() {
            rows.row_mut(at).unscale_mut(*deviation);
            values[at] /= deviation;
        }
        for (at, (parameter, prior)) in (count..).zip(priors) {
            rows[(at, parameter)] = 1.0 / prior.deviation;
            values[at] = (prior.mean - self.centre[parameter]) / prior.deviation;
        }
        (rows, values)
    }

    /// The parameters with priors.
    fn known_beforehand(&self) -> impl Iterator<Item = (usize, Prior)> {
        self.priors.iter().enumerate().filter_map(|(at, prior)| Some((at, (*prior)?)))
    }
}
