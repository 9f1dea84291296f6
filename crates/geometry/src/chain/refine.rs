//! Settings drawn to the nearest that meet every relation, and what they are worth there.

use nalgebra::{DMatrix, SMatrix, SVector, Vector3};

use super::inverse::FREE_MAX;
use super::path::{Aim, Path};

/// Normal equations with room for every free swivel; what is not used stays empty.
type Square = SMatrix<f64, FREE_MAX, FREE_MAX>;
type Column = SVector<f64, FREE_MAX>;

/// Steps after which a start is given up.
const STEPS_MAX: u32 = 40;

/// A sum of squared misses below this is met to the last figure.
const MET_SQUARED: f64 = 1e-30;

/// A share of the misses that is not worth a further step: what is left cannot be met.
const LEAST_GAIN: f64 = 1e-9;

/// An arrow nearer than this to its target's line shows no way to change the angle.
const SHORT: f64 = 1e-12;

/// How far stands are from what is wanted: the normal equations and the sum of squares.
struct Misses {
    square: Square,
    column: Column,
    squared: f64,
}

impl Misses {
    fn of(paths: &[Path], stands: &[f64]) -> Self {
        let mut misses = Self { square: Square::zeros(), column: Column::zeros(), squared: 0.0 };
        each_row(paths, stands, |path, miss, gains| misses.add(path, miss, gains));
        misses
    }

    fn add(&mut self, path: &Path, miss: f64, gains: &[f64]) {
        self.squared += miss * miss;
        for (row, gain) in path.steps.iter().zip(gains) {
            self.column[row.which] += gain * miss;
            for (column, other) in path.steps.iter().zip(gains) {
                self.square[(row.which, column.which)] += gain * other;
            }
        }
    }

    /// The step that a damped least squares makes from here.
    fn step(&self, damping: f64) -> Option<Column> {
        let mut square = self.square;
        for at in 0..FREE_MAX {
            square[(at, at)] += damping * (1.0 + square[(at, at)]);
        }
        Some(-square.cholesky()?.solve(&self.column))
    }
}

/// Hands over every equation at these stands: its miss, and what each step of its path changes.
fn each_row(paths: &[Path], stands: &[f64], mut row: impl FnMut(&Path, f64, &[f64])) {
    let mut moves: Vec<Vector3<f64>> = Vec::with_capacity(FREE_MAX);
    let mut gains: Vec<f64> = Vec::with_capacity(FREE_MAX);
    for path in paths {
        let arrow = path.moved(stands, &mut moves);
        let wanted = path.wanted(&arrow);
        if let Aim::AtAngle(angle) = path.aim {
            let across = arrow.cross(&wanted).norm();
            let miss = across.atan2(arrow.dot(&wanted)) - angle;
            gains.clear();
            gains.extend(moves.iter().map(|moved| -moved.dot(&wanted) / across.max(SHORT)));
            row(path, miss, &gains);
            continue;
        }
        let miss = arrow - wanted;
        for part in 0..3 {
            gains.clear();
            gains.extend(moves.iter().map(|moved| moved[part]));
            row(path, miss[part], &gains);
        }
    }
}

/// Draws stands to where the sum of squared misses is least nearby, by damped least squares.
///
/// **Source** \[own-derivation\] Gauss and Newton's step with Levenberg and Marquardt's damping.
/// **Departs** nowhere. **Error** rounding over the least gain; where that is nothing, its square
/// root. **Domain** any start; what is found is the least nearby and need be no solution.
pub(super) fn refined(paths: &[Path], mut stands: Vec<f64>) -> Vec<f64> {
    let mut misses = Misses::of(paths, &stands);
    let mut damping = 1e-3;
    for _ in 0..STEPS_MAX {
        if misses.squared < MET_SQUARED || damping > 1e8 {
            break;
        }
        let Some(step) = misses.step(damping) else { break };
        let tried: Vec<f64> = stands.iter().zip(step.iter()).map(|(at, by)| at + by).collect();
        let found = Misses::of(paths, &tried);
        if found.squared < misses.squared {
            let is_least = misses.squared - found.squared < LEAST_GAIN * misses.squared;
            (stands, misses) = (tried, found);
            if is_least {
                break;
            }
            damping = (damping * 0.03).max(1e-14);
        } else {
            damping *= 10.0;
        }
    }
    stands
}

/// The largest angle by which stands miss a relation, in radians.
pub(super) fn miss_rad(paths: &[Path], stands: &[f64]) -> f64 {
    paths.iter().map(|path| path.miss_rad(stands)).fold(0.0, f64::max)
}

/// How far the wanted relations move for each turn of the swivels, at the least and at the most,
/// over all ways of turning them together.
///
/// **Source** \[own-derivation\] least and greatest singular value of what turns change.
/// **Departs** nowhere. **Error** rounding of the greatest. **Domain** as many equations as
/// swivels, or more.
pub(super) fn gains(paths: &[Path], stands: &[f64]) -> (f64, f64) {
    let count = stands.len();
    let mut rows: Vec<f64> = Vec::new();
    each_row(paths, stands, |path, _, gains| {
        let start = rows.len();
        rows.resize(start + count, 0.0);
        for (step, gain) in path.steps.iter().zip(gains) {
            rows[start + step.which] = *gain;
        }
    });
    let matrix = DMatrix::from_row_slice(rows.len() / count.max(1), count, &rows);
    let values = matrix.singular_values();
    let least = if values.len() < count { 0.0 } else { values.min() };
    (least, values.max())
}
