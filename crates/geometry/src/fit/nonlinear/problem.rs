//! Readings with a model of them that is not linear in its parameters.

use nalgebra::{DMatrix, DVector};

use super::model::{Model, central_jacobian, finer_jacobian, matrix};
use crate::fit::error::{FitError, all_finite, all_positive, counted};
use crate::fit::linear::LinearFit;
use crate::fit::problem::{LinearProblem, Noise, Prior};

/// Readings y with a model of them: y = f(b) + noise, and where to start looking for b.
#[derive(Clone, Debug)]
pub struct NonlinearProblem<M> {
    model: M,
    start: DVector<f64>,
    pub(super) sizes: Vec<f64>,
    pub(super) has_given_sizes: bool,
    /// Readings, noise and priors; its rows are filled in wherever the model is linearised.
    frame: LinearProblem,
}

/// The fit of a nonlinear model.
#[derive(Clone, Debug)]
pub struct NonlinearFit {
    /// Parameters, residuals, covariance and all else, from the model linearised at the best
    /// parameters: bands are as good as the model is straight across them.
    pub fit: LinearFit,
    /// How many times the model was linearised.
    pub rounds: usize,
    /// What is left to go: the length of the last step over the parameters' standard deviations,
    /// the scale taken from the residuals.
    pub offset: f64,
}

/// How derivatives are taken, over these sizes of the parameters.
#[derive(Clone, Debug)]
pub(super) enum Differences {
    Plain(Vec<f64>),
    Finer(Vec<f64>),
}

/// Parameters with the weighted misses there, priors among them.
#[derive(Clone, Debug)]
pub(super) struct Place {
    pub(super) at: DVector<f64>,
    pub(super) square: f64,
}

impl<M: Model> NonlinearProblem<M> {
    /// Takes a model, the readings, their noise, and a start for each parameter.
    ///
    /// # Errors
    /// Where there is no reading or no parameter, lists differ in length, or a number is not
    /// finite.
    pub fn new(model: M, readings: &[f64], noise: Noise, start: &[f64]) -> Result<Self, FitError> {
        all_finite("the start of parameter", start)?;
        let rows = DMatrix::zeros(readings.len(), start.len());
        let frame = LinearProblem::from_parts(rows, DVector::from_column_slice(readings), noise)?;
        let size = |value: &f64| if *value == 0.0 { 1.0 } else { value.abs() };
        let sizes = start.iter().map(size).collect();
        Ok(Self {
            model,
            start: DVector::from_column_slice(start),
            sizes,
            has_given_sizes: false,
            frame,
        })
    }

    /// The same with typical sizes of the parameters, over which their derivatives are taken; else
    /// these are the sizes of their starts (one for a start of nought), and at the end those of the
    /// parameters found.
    ///
    /// # Errors
    /// Where there is not one for each parameter, finite and above zero.
    pub fn with_sizes(mut self, sizes: &[f64]) -> Result<Self, FitError> {
        counted("sizes of parameters", self.start.len(), sizes.len())?;
        all_positive("the size of parameter", sizes)?;
        self.sizes = sizes.to_vec();
        self.has_given_sizes = true;
        Ok(self)
    }

    /// The same with a prior on one parameter.
    ///
    /// # Errors
    /// As [`LinearProblem::with_prior`].
    pub fn with_prior(mut self, parameter: usize, prior: Prior) -> Result<Self, FitError> {
        self.frame = self.frame.with_prior(parameter, prior)?;
        Ok(self)
    }

    pub(super) fn parameters(&self) -> usize {
        self.start.len()
    }

    pub(super) fn start(&self) -> Result<Place, FitError> {
        self.place(self.start.clone())
    }

    /// The model at some parameters.
    ///
    /// # Errors
    /// Where it foretells something that is not finite, or another count of readings.
    pub(super) fn place(&self, at: DVector<f64>) -> Result<Place, FitError> {
        let (_, misses) = self.level(&at)?.weighted();
        let square = misses.norm_squared();
        if square.is_finite() { Ok(Place { at, square }) } else { Err(FitError::Overflow) }
    }

    /// The misses at some parameters, without derivatives.
    fn level(&self, at: &DVector<f64>) -> Result<LinearProblem, FitError> {
        let values = self.model.values(at.as_slice());
        counted("readings of the model", self.frame.readings(), values.len())?;
        all_finite("the model's reading", &values)?;
        let mut problem = self.frame.clone();
        problem.readings -= DVector::from_vec(values);
        problem.centre.copy_from(at);
        Ok(problem)
    }

    /// The linear problem in the step away from some parameters. Unless the model knows its own
    /// derivatives they are taken by differences over these sizes.
    pub(super) fn linearised(
        &self,
        at: &DVector<f64>,
        differences: &Differences,
    ) -> Result<LinearProblem, FitError> {
        let (at_slice, model) = (at.as_slice(), |at: &[f64]| self.model.values(at));
        let rows = match (self.model.jacobian(at_slice), differences) {
            (Some(rows), _) => rows,
            (None, Differences::Plain(sizes)) => central_jacobian(model, at_slice, sizes)?,
            (None, Differences::Finer(sizes)) => finer_jacobian(model, at_slice, sizes)?,
        };
        let mut problem = self.level(at)?;
        problem.rows = matrix(&rows, (problem.readings(), problem.parameters()))?;
        Ok(problem)
    }

    /// The sum of squares of the weighted readings themselves.
    pub(super) fn whole(&self) -> f64 {
        self.frame.weighted().1.norm_squared()
    }
}
