//! Singular values of a tall matrix, small ones to full relative accuracy.

use nalgebra::{DMatrix, DVector, DVectorViewMut};

/// Sweeps after which the rotation stops; ten are plenty in practice.
const SWEEPS: usize = 60;

/// The cosine between two columns at which they count as orthogonal.
const ORTHOGONAL: f64 = 1e-15;

/// A matrix A with columns scaled to length one, taken apart: A = W Vᵀ N, with N the columns'
/// lengths, V orthogonal, and the columns of W orthogonal to one another, each as long as its
/// singular value, longest first.
///
/// **Source** \[golub-van-loan\] section 8.6, one-sided Jacobi rotation; scaling of columns in
/// section 5.3. **Departs** by scaling every column to length one before the first rotation.
/// **Error** singular values to about 1e-15 of themselves; the fit's parameters to about 1e-16
/// times the ratio of largest to smallest singular value. **Domain** any finite matrix.
#[derive(Clone, Debug)]
pub(super) struct Singular {
    /// Lengths N of the columns of A; one for a column of noughts.
    pub(super) lengths: DVector<f64>,
    /// Orthogonal columns W.
    pub(super) turned: DMatrix<f64>,
    /// Singular values of the scaled matrix, the lengths of the columns of W.
    pub(super) values: DVector<f64>,
    /// The rotation V.
    pub(super) rotation: DMatrix<f64>,
}

impl Singular {
    /// Takes a matrix apart.
    pub(super) fn of(matrix: DMatrix<f64>) -> Self {
        let none = DVector::zeros(matrix.ncols());
        Self::with_lengths(matrix, &none)
    }

    /// Takes a matrix apart, its columns divided by these lengths where they are shorter.
    pub(super) fn with_lengths(mut matrix: DMatrix<f64>, least: &DVector<f64>) -> Self {
        let lengths = scale_columns(&mut matrix, least);
        let mut rotation = DMatrix::identity(matrix.ncols(), matrix.ncols());
        for _ in 0..SWEEPS {
            if !sweep(&mut matrix, &mut rotation) {
                break;
            }
        }
        let values = DVector::from_iterator(matrix.ncols(), matrix.column_iter().map(|w| w.norm()));
        let mut order: Vec<usize> = (0..values.len()).collect();
        order.sort_by(|&a, &b| values[b].total_cmp(&values[a]));
        Self {
            lengths,
            turned: matrix.select_columns(&order),
            values: values.select_rows(&order),
            rotation: rotation.select_columns(&order),
        }
    }

    /// How many singular values stand above this fraction of the largest.
    pub(super) fn rank(&self, tolerance: f64) -> usize {
        let floor = self.values[0] * tolerance;
        self.values.iter().take_while(|value| **value > floor).count()
    }

    /// The step that fits A b to the values best, damped: each singular value s weighs its
    /// direction by s²/(s² + damping). Directions beyond the rank are left alone.
    pub(super) fn step(&self, values: &DVector<f64>, rank: usize, damping: f64) -> DVector<f64> {
        let mut turned = self.turned.columns(0, rank).tr_mul(values);
        for (part, value) in turned.iter_mut().zip(self.values.iter()) {
            *part /= value * value + damping;
        }
        (self.rotation.columns(0, rank) * turned).component_div(&self.lengths)
    }

    /// The matrix F with F Fᵀ = (AᵀA)⁻¹ within the directions up to the rank.
    pub(super) fn factor(&self, rank: usize) -> DMatrix<f64> {
        let mut factor = self.rotation.columns(0, rank).into_owned();
        for (mut column, value) in factor.column_iter_mut().zip(self.values.iter()) {
            column.unscale_mut(*value);
        }
        for (mut row, length) in factor.row_iter_mut().zip(self.lengths.iter()) {
            row.unscale_mut(*length);
        }
        factor
    }

    /// The leverage of each row: the squared length of its row of orthonormal columns.
    pub(super) fn leverages(&self, rank: usize) -> Vec<f64> {
        let square = |row: usize| {
            (0..rank).map(|at| (self.turned[(row, at)] / self.values[at]).powi(2)).sum::<f64>()
        };
        (0..self.turned.nrows()).map(|row| square(row).min(1.0)).collect()
    }

    /// How much of the values lies within the span of A: the length of their projection.
    pub(super) fn within(&self, values: &DVector<f64>, rank: usize) -> f64 {
        let turned = self.turned.columns(0, rank).tr_mul(values);
        turned.component_div(&self.values.rows(0, rank)).norm()
    }
}

/// Divides every column by its length, or by the least one given for it; tells by what.
fn scale_columns(matrix: &mut DMatrix<f64>, least: &DVector<f64>) -> DVector<f64> {
    let scale = |(mut column, least): (DVectorViewMut<'_, f64>, &f64)| {
        // The largest entry goes first, so that no square leaves the range of the numbers.
        let largest = unit(column.amax());
        column.unscale_mut(largest);
        let length = unit(column.norm());
        let further = (least / largest).max(length);
        column.unscale_mut(further);
        largest * further
    };
    let lengths: Vec<f64> = matrix.column_iter_mut().zip(least.iter()).map(scale).collect();
    DVector::from_vec(lengths)
}

/// A length to divide by: one in place of nought.
fn unit(length: f64) -> f64 {
    if length > 0.0 { length } else { 1.0 }
}

/// One rotation of every pair of columns; whether any was needed.
fn sweep(matrix: &mut DMatrix<f64>, rotation: &mut DMatrix<f64>) -> bool {
    let count = matrix.ncols();
    let mut is_turned = false;
    for first in 0..count {
        for second in first + 1..count {
            if let Some((sine, cosine)) = turn(matrix, first, second) {
                rotate(matrix, first, second, sine, cosine);
                rotate(rotation, first, second, sine, cosine);
                is_turned = true;
            }
        }
    }
    is_turned
}

/// The sine and cosine that make two columns orthogonal; none where they are.
fn turn(matrix: &DMatrix<f64>, first: usize, second: usize) -> Option<(f64, f64)> {
    let (a, b) = (matrix.column(first), matrix.column(second));
    let (alpha, beta, gamma) = (a.norm_squared(), b.norm_squared(), a.dot(&b));
    // A column that has shrunk to the rounding of the other has no direction of its own.
    let rounding = f64::EPSILON * alpha.max(beta).sqrt();
    let is_nothing = alpha.min(beta).sqrt() <= rounding;
    if is_nothing || gamma.abs() <= ORTHOGONAL * (alpha * beta).sqrt() {
        return None;
    }
    let zeta = (beta - alpha) / (2.0 * gamma);
    let tangent = zeta.signum() / (zeta.abs() + (1.0 + zeta * zeta).sqrt());
    let cosine = 1.0 / (1.0 + tangent * tangent).sqrt();
    Some((cosine * tangent, cosine))
}

fn rotate(matrix: &mut DMatrix<f64>, first: usize, second: usize, sine: f64, cosine: f64) {
    for row in 0..matrix.nrows() {
        let (a, b) = (matrix[(row, first)], matrix[(row, second)]);
        matrix[(row, first)] = cosine * a - sine * b;
        matrix[(row, second)] = sine * a + cosine * b;
    }
}
