//! A model of readings, and its derivatives by differences.

use nalgebra::DMatrix;

use crate::fit::error::{FitError, all_finite, counted};

/// How much wider than the plain difference's the steps of the finer one are.
const WIDER: f64 = 30.0;

/// What the readings should be for given parameters. Every function from parameters to readings is
/// a model.
pub trait Model {
    /// The reading that the model foretells for each row, in order. Not finite where the parameters
    /// make no sense: the fit then turns back.
    fn values(&self, parameters: &[f64]) -> Vec<f64>;

    /// The rows of derivatives, one for each reading, each parameter's entry in turn; none where
    /// the fit is to take differences.
    fn jacobian(&self, _parameters: &[f64]) -> Option<Vec<Vec<f64>>> {
        None
    }
}

impl<F: Fn(&[f64]) -> Vec<f64>> Model for F {
    fn values(&self, parameters: &[f64]) -> Vec<f64> {
        self(parameters)
    }
}

/// The derivatives of a function at a point, by central differences over ∛ε of each parameter's
/// size, the larger of its value and its typical size.
///
/// **Source** \[numerical-recipes\] section 5.7. **Departs** nowhere. **Error** relative 1e-10 of
/// value over size, where the function is smooth over a hundred thousandth of the size.
/// **Domain** functions that are finite on either side of the point.
///
/// # Errors
/// Where lists differ in length, or the function is not finite beside the point.
pub fn central_jacobian(
    function: impl Fn(&[f64]) -> Vec<f64>,
    parameters: &[f64],
    sizes: &[f64],
) -> Result<Vec<Vec<f64>>, FitError> {
    by_columns(parameters, sizes, |at, step| slope(&function, parameters, at, step))
}

/// The same from two central differences, one twice as wide as the other, so that the error of
/// either cancels.
///
/// **Source** \[numerical-recipes\] section 5.7, extrapolation of the difference to nought.
/// **Departs** by one stage only. **Error** relative 3e-12 of value over size, where the function
/// is smooth over a thousandth of the size. **Domain** as [`central_jacobian`].
///
/// # Errors
/// As [`central_jacobian`].
pub fn finer_jacobian(
    function: impl Fn(&[f64]) -> Vec<f64>,
    parameters: &[f64],
    sizes: &[f64],
) -> Result<Vec<Vec<f64>>, FitError> {
    by_columns(parameters, sizes, |at, step| {
        let narrow = slope(&function, parameters, at, WIDER * step)?;
        let wide = slope(&function, parameters, at, 2.0 * WIDER * step)?;
        counted("readings of the model", narrow.len(), wide.len())?;
        Ok(narrow.iter().zip(&wide).map(|(narrow, wide)| (4.0 * narrow - wide) / 3.0).collect())
    })
}

/// Rows of derivatives from a column for each parameter, each taken over its own step.
fn by_columns(
    parameters: &[f64],
    sizes: &[f64],
    column: impl Fn(usize, f64) -> Result<Vec<f64>, FitError>,
) -> Result<Vec<Vec<f64>>, FitError> {
    counted("sizes of parameters", parameters.len(), sizes.len())?;
    let step = |at: usize| f64::EPSILON.cbrt() * parameters[at].abs().max(sizes[at]);
    let columns = (0..parameters.len()).map(|at| column(at, step(at)));
    let columns: Vec<Vec<f64>> = columns.collect::<Result<_, _>>()?;
    let count = columns.first().map_or(0, Vec::len);
    for column in &columns {
        counted("readings of the model", count, column.len())?;
    }
    Ok((0..count).map(|row| columns.iter().map(|column| column[row]).collect()).collect())
}

/// The derivative of every reading by one parameter, over a step to either side.
fn slope(
    function: &impl Fn(&[f64]) -> Vec<f64>,
    parameters: &[f64],
    at: usize,
    step: f64,
) -> Result<Vec<f64>, FitError> {
    let mut beside = parameters.to_vec();
    beside[at] = parameters[at] + step;
    let (above, ahead) = (beside[at], function(&beside));
    beside[at] = parameters[at] - step;
    let (below, behind) = (beside[at], function(&beside));
    counted("readings of the model", ahead.len(), behind.len())?;
    let pairs = ahead.iter().zip(&behind);
    let slope: Vec<f64> = pairs.map(|(a, b)| (a - b) / (above - below)).collect();
    all_finite("the derivative of reading", &slope)?;
    Ok(slope)
}

/// The rows as one matrix, checked.
pub(super) fn matrix(rows: &[Vec<f64>], size: (usize, usize)) -> Result<DMatrix<f64>, FitError> {
    counted("rows of derivatives", size.0, rows.len())?;
    for row in rows {
        counted("entries of a row", size.1, row.len())?;
        all_finite("entry", row)?;
    }
    Ok(DMatrix::from_row_iterator(size.0, size.1, rows.iter().flatten().copied()))
}
