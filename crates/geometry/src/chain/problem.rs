//! Relations over a list of free swivels, solved group by group.

use std::f64::consts::{PI, TAU};

use nalgebra::Vector3;

use super::closed::{one_turn, three_turns, turns_to_part, two_turns};
use super::error::ChainError;
use super::inverse::turned_into;
use super::joint::Settings;
use super::path::{Aim, Path, angle_rad};
use super::refine::{miss_rad, refined};
use super::relation::{Body, Sense};
use super::walk::{follows, starts};
use crate::quantity::Angle;

/// Stands that miss by less are a solution, in radians.
const MET_RAD: f64 = 1e-9;

/// Solutions nearer to each other than this in every swivel are one, in radians.
const SAME_RAD: f64 = 1e-7;

/// Starts of a search over one swivel; twice as many for each further one.
const STARTS: usize = 24;

/// What is to be solved: paths over a list of free swivels that stand somewhere.
pub(super) struct Problem {
    pub(super) paths: Vec<Path>,
    /// The joints that the places of the list stand for.
    pub(super) free: Vec<usize>,
    pub(super) stands: Vec<f64>,
}

impl Problem {
    pub(super) fn place(&self, joint: usize) -> Option<usize> {
        self.free.iter().position(|&one| one == joint)
    }

    /// The parts that share no free swivel.
    pub(super) fn groups(&self) -> Vec<Self> {
        let mut sets: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
        for (at, path) in self.paths.iter().enumerate() {
            let mut joined = (vec![at], path.steps.iter().map(|step| step.which).collect());
            let shares = |set: &(Vec<usize>, Vec<usize>), with: &Vec<usize>| {
                set.1.iter().any(|which| with.contains(which))
            };
            let (sharing, apart): (Vec<_>, Vec<_>) =
                sets.into_iter().partition(|set| shares(set, &joined.1));
            for set in sharing {
                joined.0.extend(set.0);
                joined.1.extend(set.1);
            }
            joined.0.sort_unstable();
            joined.1.sort_unstable();
            joined.1.dedup();
            sets = apart;
            sets.push(joined);
        }
        sets.into_iter().map(|(paths, free)| self.part(&paths, &free)).collect()
    }

    fn part(&self, paths: &[usize], free: &[usize]) -> Self {
        let renamed = |&at: &usize| {
            let mut path = self.paths[at].clone();
            for step in &mut path.steps {
                step.which = free.iter().position(|&one| one == step.which).unwrap_or(0);
            }
            path
        };
        Self {
            paths: paths.iter().map(renamed).collect(),
            free: free.iter().map(|&which| self.free[which]).collect(),
            stands: free.iter().map(|&which| self.stands[which]).collect(),
        }
    }

    /// How many swivels the relations decide: two for a parallel, one for an angle, and never more
    /// than three between the same two bodies.
    fn decided(&self) -> usize {
        let each = |bodies: &(Body, Body)| {
            let ours = self.paths.iter().filter(|path| path.bodies == *bodies);
            ours.map(|path| if matches!(path.aim, Aim::Along(_)) { 2 } else { 1 }).sum::<usize>()
        };
        let mut between: Vec<(Body, Body)> = Vec::new();
        for path in &self.paths {
            if !between.contains(&path.bodies) {
                between.push(path.bodies);
            }
        }
        between.iter().map(|bodies| each(bodies).min(3)).sum()
    }

    pub(super) fn solved(&self, stand: &Settings) -> Result<Vec<Vec<f64>>, ChainError> {
        let (free, decided) = (self.free.len(), self.decided());
        if free > decided {
            return Err(ChainError::Loose { free, decided });
        }
        if free == 0 {
            return self.as_it_stands(stand);
        }
        let found = match self.in_closed_form()? {
            Some(found) => found.into_iter().map(|one| refined(&self.paths, one)).collect(),
            None => self.searched(),
        };
        let met = found.into_iter().filter(|one| miss_rad(&self.paths, one) < MET_RAD);
        let distinct = met.fold(Vec::new(), with_distinct);
        if distinct.is_empty() { Err(self.out_of_reach(stand)) } else { Ok(distinct) }
    }

    /// Relations that no free swivel moves are met already or never.
    fn as_it_stands(&self, stand: &Settings) -> Result<Vec<Vec<f64>>, ChainError> {
        if miss_rad(&self.paths, &[]) < MET_RAD {
            Ok(vec![Vec::new()])
        } else {
            Err(self.out_of_reach(stand))
        }
    }

    /// The solutions that can be written down; None where they cannot.
    fn in_closed_form(&self) -> Result<Option<Vec<Vec<f64>>>, ChainError> {
        match self.paths.as_slice() {
            [path] => Ok(self.of_one(path)),
            [first, second] if self.free.len() == 3 && first.bodies == second.bodies => {
                self.of_two(first, second)
            }
            // Where a parallel decides by itself, the others can only agree or not.
            paths => {
                let decides = |path: &&Path| {
                    path.steps.len() == self.free.len() && matches!(path.aim, Aim::Along(_))
                };
                Ok(paths.iter().find(decides).and_then(|path| self.of_one(path)))
            }
        }
    }

    fn of_one(&self, path: &Path) -> Option<Vec<Vec<f64>>> {
        let stands: Vec<f64> = path.steps.iter().map(|step| self.stands[step.which]).collect();
        let in_order = |found: &[f64]| in_free_order(path, found);
        match (path.aim, path.steps.as_slice(), stands.as_slice()) {
            (Aim::Along(sense), [only], &[stand]) => {
                let turn = |to| in_order(&[one_turn(&only.axis, &path.start, &to, stand)]);
                Some(targets(path, sense).map(turn).collect())
            }
            (Aim::Along(sense), [outer, inner], &[outer_stand, inner_stand]) => {
                let turns = |to| {
                    let axes = [&outer.axis, &inner.axis];
                    two_turns(axes, &path.start, &to, [outer_stand, inner_stand])
                };
                let all = targets(path, sense).flat_map(turns);
                Some(all.map(|found| in_order(&found)).collect())
            }
            (Aim::AtAngle(angle), [only], _) => {
                let turns = turns_to_part(&only.axis, &path.start, &path.target, angle.cos());
                Some(turns.into_iter().map(|turn| in_order(&[turn])).collect())
            }
            _ => None,
        }
    }

    /// Three swivels that bring two directions to two others.
    fn of_two(&self, first: &Path, second: &Path) -> Result<Option<Vec<Vec<f64>>>, ChainError> {
        let (Aim::Along(one), Aim::Along(two)) = (first.aim, second.aim) else { return Ok(None) };
        let [outer, middle, inner] = first.steps.as_slice() else { return Ok(None) };
        let axes = [&outer.axis, &middle.axis, &inner.axis];
        let from = [&first.start, &second.start];
        let before = angle_rad(from[0], from[1]);
        if before.sin().abs() < MET_RAD {
            return Ok(None);
        }
        let stands = [outer, middle, inner].map(|step| self.stands[step.which]);
        let mut found = Vec::new();
        let mut nearest = None;
        for to in targets(first, one) {
            for second_to in targets(second, two) {
                let after = angle_rad(&to, &second_to);
                if (after - before).abs() > MET_RAD {
                    nearest = Some(after);
                    continue;
                }
                let turns = three_turns(axes, from, [&to, &second_to], stands);
                found.extend(turns.iter().map(|turn| in_free_order(first, turn)));
            }
        }
        match (found.is_empty(), nearest) {
            (true, Some(after)) => Err(ChainError::Contradiction {
                first_deg: before.to_degrees(),
                second_deg: after.to_degrees(),
            }),
            _ => Ok(Some(found)),
        }
    }

    /// The places to which starts all over the circle are drawn, and those that a walk finds.
    fn searched(&self) -> Vec<Vec<f64>> {
        let count = self.free.len();
        let walked = self.walked();
        let fewer = if walked.is_empty() { 0 } else { 2 };
        let starts = (0..STARTS << (count - 1) >> fewer).map(|index| scattered(index, count));
        let starts = starts.chain(walked).chain([self.stands.clone()]);
        starts.map(|start| refined(&self.paths, start)).collect()
    }

    /// Starts from a walk, where three swivels are free and one parallel takes them all.
    fn walked(&self) -> Vec<Vec<f64>> {
        let sense = self.paths.iter().find(|path| follows(path)).map(|path| path.aim);
        match sense {
            Some(Aim::Along(sense)) if self.free.len() == 3 => {
                starts(&self.paths, sense, &self.stands)
            }
            _ => Vec::new(),
        }
    }

    fn out_of_reach(&self, stand: &Settings) -> ChainError {
        let miss = |stands: &Vec<f64>| miss_rad(&self.paths, stands);
        let drawn = if self.free.is_empty() { vec![Vec::new()] } else { self.searched() };
        let best = drawn.into_iter().min_by(|one, other| miss(one).total_cmp(&miss(other)));
        let best = best.unwrap_or_else(|| self.stands.clone());
        let short = Angle::from_radians(miss(&best));
        let set = |settings: Settings, (&joint, &found): (&usize, &f64)| {
            settings.with_stand(joint, turned_into(found, -PI))
        };
        let nearest = self.free.iter().zip(&best).fold(stand.clone(), set);
        ChainError::OutOfReach { free: self.free.clone(), short, nearest }
    }
}

/// The directions that an arrow may be brought to.
fn targets(path: &Path, sense: Sense) -> impl Iterator<Item = Vector3<f64>> + use<> {
    let to = path.target;
    let both = match sense {
        Sense::Same => [Some(to), None],
        Sense::Opposite => [Some(-to), None],
        Sense::Either => [Some(to), Some(-to)],
    };
    both.into_iter().flatten()
}

/// Turns told step by step, in the order of the free swivels.
fn in_free_order(path: &Path, turns: &[f64]) -> Vec<f64> {
    let mut stands = vec![0.0; turns.len()];
    for (step, turn) in path.steps.iter().zip(turns) {
        stands[step.which] = *turn;
    }
    stands
}

/// Points that fill the circles of some swivels evenly, by powers of a number that repeats the
/// least.
fn scattered(index: usize, count: usize) -> Vec<f64> {
    // The root of x^(count + 1) = x + 1, by its own iteration.
    let power = 1.0 / (count as f64 + 1.0);
    let root = (0..30).fold(1.5_f64, |x, _| (x + 1.0).powf(power));
    let turn = |at: usize| {
        let share = (0.5 + (index as f64 + 1.0) * root.powi(-(at as i32 + 1))).fract();
        TAU * share - PI
    };
    (0..count).map(turn).collect()
}

fn with_distinct(mut distinct: Vec<Vec<f64>>, one: Vec<f64>) -> Vec<Vec<f64>> {
    let same = |(a, b): (&f64, &f64)| turned_into(a - b, -PI).abs() < SAME_RAD;
    if !distinct.iter().any(|other| other.iter().zip(&one).all(same)) {
        distinct.push(one);
    }
    distinct
}
