//! Starts for three swivels, found by walking one of them round while the other two keep a
//! parallel.

use std::f64::consts::{PI, TAU};

use nalgebra::Vector3;

use super::closed::two_turns;
use super::path::{Aim, Path, turned};
use super::refine::miss_rad;
use super::relation::Sense;

/// Places at which the walked swivel is tried.
const PLACES: usize = 90;

/// A path of three swivels, one of which is walked.
struct Walk<'a> {
    path: &'a Path,
    /// Whether the outermost is walked; else the innermost.
    outer: bool,
}

/// Starts near every solution of relations of which the first keeps three swivels parallel: where
/// the misses of the others are least as one swivel goes round and the other two follow. The one
/// that is walked leaves the two whose axes are least in line, so that they can follow best.
pub(super) fn starts(paths: &[Path], sense: Sense, stands: &[f64]) -> Vec<Vec<f64>> {
    let Some(path) = paths.iter().find(|path| follows(path)) else { return Vec::new() };
    let [first, middle, last] = path.steps.as_slice() else { return Vec::new() };
    let in_line = |one: &Vector3<f64>, other: &Vector3<f64>| one.dot(other).abs();
    let outer = in_line(&middle.axis, &last.axis) <= in_line(&first.axis, &middle.axis);
    let walk = Walk { path, outer };
    let targets: &[f64] = match sense {
        Sense::Same => &[1.0],
        Sense::Opposite => &[-1.0],
        Sense::Either => &[1.0, -1.0],
    };
    let branches = targets.iter().flat_map(|&sign| [(sign, 0), (sign, 1)]);
    branches.flat_map(|(sign, which)| walk.least(paths, sign, which, stands)).collect()
}

/// Whether a path is a parallel kept by three swivels.
pub(super) fn follows(path: &Path) -> bool {
    path.steps.len() == 3 && matches!(path.aim, Aim::Along(_))
}

impl Walk<'_> {
    /// The stands at and beside the least misses on one branch.
    fn least(&self, paths: &[Path], sign: f64, which: usize, stands: &[f64]) -> Vec<Vec<f64>> {
        let place = |at: usize| {
            let turn = TAU * (at as f64 + 0.5) / PLACES as f64 - PI;
            let found = self.followed(turn, sign, which, stands)?;
            let miss = miss_rad(paths, &found);
            Some((found, miss))
        };
        let places: Vec<Option<(Vec<f64>, f64)>> = (0..PLACES).map(place).collect();
        let miss = |at: usize| places[at % PLACES].as_ref().map_or(PI, |found| found.1);
        let is_least = |at: &usize| {
            let here = miss(*at);
            here < PI && here <= miss(at + 1) && here <= miss(at + PLACES - 1)
        };
        let beside = |at: usize| [at + PLACES - 1, at, at + 1];
        let all = (0..PLACES).filter(is_least).flat_map(beside);
        all.filter_map(|at| places[at % PLACES].as_ref().map(|found| found.0.clone())).collect()
    }

    /// The stands of all three where the walked one is at a turn; None where the others cannot
    /// follow.
    fn followed(&self, turn: f64, sign: f64, which: usize, stands: &[f64]) -> Option<Vec<f64>> {
        let [first, middle, last] = self.path.steps.as_slice() else { return None };
        let (start, target) = (self.path.start, self.path.target * sign);
        let held = [first, middle, last].map(|step| stands[step.which]);
        let [a, b, c] = if self.outer {
            let to = turned(&first.axis, -turn, &target);
            let axes = [&middle.axis, &last.axis];
            let found = two_turns(axes, &start, &to, [held[1], held[2]]);
            let [b, c] = *found.get(which)?;
            [turn, b, c]
        } else {
            let from = turned(&last.axis, turn, &start);
            let axes = [&first.axis, &middle.axis];
            let found = two_turns(axes, &from, &target, [held[0], held[1]]);
            let [a, b] = *found.get(which)?;
            [a, b, turn]
        };
        let mut all = stands.to_vec();
        for (step, stand) in [first, middle, last].into_iter().zip([a, b, c]) {
            all[step.which] = stand;
        }
        Some(all)
    }
}
