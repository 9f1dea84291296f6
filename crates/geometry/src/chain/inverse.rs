//! From wanted relations to every setting that gives them.

use std::f64::consts::{PI, TAU};

use super::error::ChainError;
use super::joint::{Joint, Settings};
use super::linkage::Linkage;
use super::path::Path;
use super::problem::Problem;
use super::refine::gains;
use super::relation::Relation;
use crate::quantity::Angle;

/// The most swivels that can be free at once.
pub const FREE_MAX: usize = 6;

/// Settings that give what is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    /// Where every joint stands, the free ones as found, the others as given.
    pub settings: Settings,
    /// How far the relations move, in radians, for each radian that the free swivels turn
    /// together, in the direction in which they move least. Near 0 the swivels fight each other: a
    /// small change of what is wanted takes a large one of the dials.
    pub gain_least: f64,
    /// The same in the direction in which they move most: what an error of the dials can do.
    pub gain_most: f64,
}

/// How far beyond a stop a stand may be by rounding alone, in radians.
const STOP_SLACK_RAD: f64 = 1e-9;

impl Linkage {
    /// Every setting of the `free` swivels that meets all relations, the others left where they
    /// stand, in the order of how far the swivels must turn from there. Relations that share no
    /// free swivel are solved each by itself.
    ///
    /// A swivel that may stand anywhere, as where two axes have come to lie in line, is left where
    /// it stands; its solution then has a least gain of nothing.
    ///
    /// # Errors
    /// Where the question makes no sense, where the swivels cannot turn so far, and where each
    /// setting lies beyond a stop.
    pub fn solve(
        &self,
        relations: &[Relation],
        free: &[usize],
        stand: &Settings,
    ) -> Result<Vec<Solution>, ChainError> {
        let problem = self.problem(relations, free, stand)?;
        let mut whole = vec![problem.stands.clone()];
        for group in problem.groups() {
            let found = group.solved(stand)?;
            whole = combined(&whole, &found, |joint| problem.place(joint), &group.free);
        }
        let all: Vec<Solution> =
            whole.iter().map(|stands| self.solution(&problem, stands, stand)).collect();
        let (mut within, beyond): (Vec<_>, Vec<_>) =
            all.into_iter().partition(|one| self.overshoot(&one.settings, free).is_none());
        if within.is_empty() {
            return Err(self.stopped(&beyond, free));
        }
        let way = |one: &Solution| way_rad(&one.settings, stand, free);
        within.sort_by(|one, other| way(one).total_cmp(&way(other)));
        Ok(within)
    }

    fn problem(
        &self,
        relations: &[Relation],
        free: &[usize],
        stand: &Settings,
    ) -> Result<Problem, ChainError> {
        if relations.is_empty() || free.is_empty() {
            return Err(ChainError::Nothing);
        }
        if free.len() > FREE_MAX {
            return Err(ChainError::TooMany { free: free.len(), most: FREE_MAX });
        }
        let count = self.joints().len();
        if let Some(&joint) = free.iter().find(|&&joint| joint >= count) {
            return Err(ChainError::NoSuchJoint { joint, count });
        }
        let paths: Vec<Path> =
            relations.iter().map(|relation| Path::new(self, relation, free, stand)).collect();
        let used = |which: usize| {
            paths.iter().flat_map(|path| &path.steps).any(|step| step.which == which)
        };
        // A joint named twice is used once only, so that its second mention is idle.
        if let Some(which) = (0..free.len()).find(|&which| !used(which)) {
            return Err(ChainError::Idle { joint: free[which] });
        }
        let stands = free.iter().map(|&joint| stand.stand(joint)).collect();
        Ok(Problem { paths, free: free.to_vec(), stands })
    }

    fn solution(&self, problem: &Problem, stands: &[f64], stand: &Settings) -> Solution {
        let (gain_least, gain_most) = gains(&problem.paths, stands);
        let mut settings = stand.clone();
        for (&joint, &found) in problem.free.iter().zip(stands) {
            let kept = self.joints().get(joint).map_or(found, |one| within_stops(one, found));
            settings = settings.with_stand(joint, kept);
        }
        Solution { settings, gain_least, gain_most }
    }

    /// The joint that goes farthest beyond its stop, and by how much.
    fn overshoot(&self, settings: &Settings, free: &[usize]) -> Option<(usize, f64)> {
        let beyond = |&joint: &usize| {
            let ends = self.joints().get(joint)?.turn_ends()?;
            Some((joint, beyond_rad(ends, settings.stand(joint))))
        };
        let all = free.iter().filter_map(beyond).filter(|(_, by)| *by > STOP_SLACK_RAD);
        all.max_by(|one, other| one.1.total_cmp(&other.1))
    }

    /// The complaint that every solution lies beyond a stop; tells of the one that does so least.
    fn stopped(&self, beyond: &[Solution], free: &[usize]) -> ChainError {
        let told = |one: &Solution| {
            let (joint, by) = self.overshoot(&one.settings, free)?;
            Some((joint, by, one.settings.clone()))
        };
        let least = beyond.iter().filter_map(told).min_by(|one, other| one.1.total_cmp(&other.1));
        match least {
            Some((joint, by, nearest)) => {
                ChainError::BeyondStop { joint, by: Angle::from_radians(by), nearest }
            }
            None => ChainError::Nothing,
        }
    }
}

/// Every pair of a solution so far with one of a further group.
fn combined(
    whole: &[Vec<f64>],
    found: &[Vec<f64>],
    place: impl Fn(usize) -> Option<usize>,
    joints: &[usize],
) -> Vec<Vec<f64>> {
    let put = |stands: &Vec<f64>, group: &Vec<f64>| {
        let mut stands = stands.clone();
        for (&joint, &stand) in joints.iter().zip(group) {
            if let Some(at) = place(joint) {
                stands[at] = stand;
            }
        }
        stands
    };
    whole.iter().flat_map(|stands| found.iter().map(move |group| put(stands, group))).collect()
}

/// The angle of a whole number of turns away that lies in the turn from `low`.
pub(super) fn turned_into(angle: f64, low: f64) -> f64 {
    low + (angle - low).rem_euclid(TAU)
}

/// The stand between a swivel's stops, or as near as whole turns bring it; without stops the one
/// within half a turn.
fn within_stops(joint: &Joint, stand: f64) -> f64 {
    let Some(ends) = joint.turn_ends() else { return turned_into(stand, -PI) };
    let over = turned_into(stand, ends.0.radians() - STOP_SLACK_RAD);
    let under = over - TAU;
    if beyond_rad(ends, under) < beyond_rad(ends, over) { under } else { over }
}

/// How far a stand lies beyond the nearer stop; 0 between them.
fn beyond_rad((low, high): (Angle, Angle), stand: f64) -> f64 {
    (low.radians() - stand).max(stand - high.radians()).max(0.0)
}

/// How far some swivels turn in all.
fn way_rad(settings: &Settings, stand: &Settings, free: &[usize]) -> f64 {
    free.iter().map(|&joint| (settings.stand(joint) - stand.stand(joint)).abs()).sum()
}
