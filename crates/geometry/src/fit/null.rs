//! What readings leave open: combinations of parameters that no reading sees.

use nalgebra::DMatrix;

use super::error::{FitError, all_finite, counted};
use super::linear::LinearFit;
use super::singular::Singular;

/// The share of a direction below which a parameter takes no part in it.
const NOTHING: f64 = 1e-8;

/// A direction in which the parameters can move together without any reading noticing.
#[derive(Clone, Debug, PartialEq)]
pub struct NullDirection {
    /// What to add to each parameter, in its own unit: b and b + t · weights fit equally well, for
    /// every t. The parameters that take no part have exactly nought.
    pub weights: Vec<f64>,
    /// The same in columns of length one, the largest share ±1: how much of the direction each
    /// parameter makes, without units.
    pub shares: Vec<f64>,
}

impl NullDirection {
    /// The parameters that cannot be told apart along this direction. Alone, one has no effect on
    /// any reading.
    pub fn parameters(&self) -> Vec<usize> {
        (0..self.weights.len()).filter(|&at| self.weights[at] != 0.0).collect()
    }
}

/// The directions beyond the rank, each with as few parameters as elimination leaves it.
///
/// **Source** \[golub-van-loan\] section 5.5: the last columns of V span the null space.
/// **Departs** by reducing them by elimination with complete pivoting, so that each direction names
/// few parameters; they are no longer orthogonal. **Error** about 1e-16 over the least singular
/// value that counts; shares below 1e-8 are taken for nought. **Domain** any.
pub(super) fn null_directions(singular: &Singular, rank: usize) -> Vec<NullDirection> {
    let count = singular.rotation.ncols();
    let mut basis = singular.rotation.columns(rank, count - rank).transpose();
    eliminate(&mut basis);
    let direction = |shares: Vec<f64>| NullDirection {
        weights: shares.iter().zip(singular.lengths.iter()).map(|(s, n)| s / n).collect(),
        shares,
    };
    basis.row_iter().map(|row| direction(cleaned(row.iter().copied()))).collect()
}

/// Brings each row to one at a column of its own, with nought there in every other row.
fn eliminate(basis: &mut DMatrix<f64>) {
    let mut is_open = vec![true; basis.nrows()];
    for _ in 0..basis.nrows() {
        let Some((row, column)) = pivot(basis, &is_open) else { return };
        is_open[row] = false;
        let scaled = basis.row(row) / basis[(row, column)];
        for other in 0..basis.nrows() {
            let factor = basis[(other, column)];
            if other == row {
                basis.set_row(row, &scaled);
            } else {
                let rest = basis.row(other) - &scaled * factor;
                basis.set_row(other, &rest);
            }
        }
    }
}

/// Where the largest entry of the rows not yet used stands.
fn pivot(basis: &DMatrix<f64>, is_open: &[bool]) -> Option<(usize, usize)> {
    let rows = (0..basis.nrows()).filter(|&row| is_open[row]);
    let places = rows.flat_map(|row| (0..basis.ncols()).map(move |column| (row, column)));
    let best = places.max_by(|a, b| basis[*a].abs().total_cmp(&basis[*b].abs()))?;
    (basis[best] != 0.0).then_some(best)
}

/// Shares over their largest, rounding cleared away.
fn cleaned(row: impl Iterator<Item = f64> + Clone) -> Vec<f64> {
    let largest = row.clone().fold(0.0, |most: f64, share| most.max(share.abs()));
    row.map(|share| if share.abs() <= NOTHING * largest { 0.0 } else { share / largest }).collect()
}

impl LinearFit {
    /// Whether the readings determine the combination row · b. A further reading with this row
    /// would tell something new where they do not.
    ///
    /// # Errors
    /// Where the row has another length than the parameters, or is not finite.
    pub fn is_determined(&self, row: &[f64]) -> Result<bool, FitError> {
        self.check_row(row)?;
        let scaled: Vec<f64> = row.iter().zip(self.lengths.iter()).map(|(x, n)| x / n).collect();
        let length = scaled.iter().map(|x| x * x).sum::<f64>().sqrt();
        let along = |direction: &super::NullDirection| {
            let pairs = scaled.iter().zip(&direction.shares);
            pairs.map(|(x, share)| x * share).sum::<f64>().abs()
        };
        Ok(self.null_directions().iter().all(|direction| along(direction) <= NOTHING * length))
    }

    pub(super) fn check_row(&self, row: &[f64]) -> Result<(), FitError> {
        counted("entries of a row", self.parameters().len(), row.len())?;
        all_finite("entry", row)
    }
}
