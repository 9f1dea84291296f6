//! The points of a study, and the finished teeth at them, worked out on all threads.

use std::ops::ControlFlow;

use geometry::sampling::Points;
use rayon::prelude::*;
use trade::StudiedSetting;

use super::habit::{Errors, Habits};
use super::model::Model;
use super::outcome::{Measure, Outcome};
use super::regrind::StudyProgress;
use crate::error::ShopError;

/// So many points are worked out between two looks at whether to go on.
const BLOCK: u32 = 512;

/// Told how far the study has come; answers whether to go on.
pub(super) type Tell<'a> = &'a mut dyn FnMut(StudyProgress) -> ControlFlow<()>;

/// Deviates of two independent samples A and B, before they are given their sizes.
pub(super) struct Design<'a> {
    habits: &'a Habits,
    points: Points,
    model: &'a Model<'a>,
    /// The plan itself, which stands in for a tooth that the wheel would not reach.
    pub(super) planned: Outcome,
}

/// Whose coordinates a point has.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Mixed {
    /// All of A's.
    A,
    /// All of B's.
    B,
    /// A's, but for one setting that has B's.
    AWithB(usize),
    /// A's, every setting's error so many times as wide as by its habit.
    Scaled(Scales),
}

/// So many times as wide as its habit, for each setting in the order of the habits.
pub(super) type Scales = [f64; StudiedSetting::ALL.len()];

/// Outcomes in the order of their points, and how many of them were never reached.
pub(super) struct Worked {
    pub(super) outcomes: Vec<Outcome>,
    pub(super) lost: u32,
}

impl<'a> Design<'a> {
    pub(super) fn new(
        habits: &'a Habits,
        seed: u32,
        model: &'a Model<'a>,
    ) -> Result<Self, ShopError> {
        let planned = model.ground(&[0.0; StudiedSetting::ALL.len()]).ok_or_else(|| {
            ShopError::refused("a study starts from the plan", "its own set-up leaves no surface")
        })?;
        Ok(Self { habits, points: Points::new(seed), model, planned })
    }

    /// How many settings there are.
    pub(super) fn settings(&self) -> usize {
        self.habits.0.len()
    }

    fn errors(&self, index: u32, mixed: Mixed) -> Errors {
        let mut errors = [0.0; StudiedSetting::ALL.len()];
        let count = self.settings() as u32;
        for (place, habit) in self.habits.0.iter().enumerate() {
            let of_b = match mixed {
                Mixed::A | Mixed::Scaled(_) => false,
                Mixed::B => true,
                Mixed::AWithB(one) => one == place,
            };
            let dimension = place as u32 + if of_b { count } else { 0 };
            let coordinate = self.points.coordinate(index, dimension);
            let error = habit.error(coordinate, self.points.normal(index, dimension));
            let times = match mixed {
                Mixed::Scaled(scales) => scales[place],
                _ => 1.0,
            };
            errors[habit.setting as usize] = times * error;
        }
        errors
    }

    /// One finished tooth.
    pub(super) fn outcome(&self, index: u32, mixed: Mixed) -> Option<Outcome> {
        self.model.ground(&self.errors(index, mixed))
    }

    /// One finished tooth with a single setting off by an amount.
    pub(super) fn alone(&self, place: usize, error: f64) -> Option<Outcome> {
        let mut errors = [0.0; StudiedSetting::ALL.len()];
        errors[self.habits.0.get(place)?.setting as usize] = error;
        self.model.ground(&errors)
    }

    /// The first so many finished teeth, block by block; stopped where `go_on` says so after one.
    /// Each is worked out by itself and the order is that of the points, so that the number of
    /// threads changes nothing.
    pub(super) fn outcomes(
        &self,
        count: u32,
        mixed: Mixed,
        go_on: &mut dyn FnMut(&[Option<Outcome>]) -> ControlFlow<()>,
    ) -> Vec<Option<Outcome>> {
        let mut all = Vec::with_capacity(count as usize);
        let mut from = 0;
        while from < count {
            let to = count.min(from + BLOCK);
            let one = |index: u32| self.outcome(index, mixed);
            let block: Vec<Option<Outcome>> = (from..to).into_par_iter().map(one).collect();
            let flow = go_on(&block);
            all.extend(block);
            if flow.is_break() {
                break;
            }
            from = to;
        }
        all
    }

    /// The same with the plan standing in for what was never reached.
    pub(super) fn worked(
        &self,
        count: u32,
        mixed: Mixed,
        go_on: &mut dyn FnMut(&[Option<Outcome>]) -> ControlFlow<()>,
    ) -> Worked {
        let outcomes = self.outcomes(count, mixed, go_on);
        let lost = outcomes.iter().filter(|outcome| outcome.is_none()).count() as u32;
        let known = |outcome: Option<Outcome>| outcome.unwrap_or(self.planned);
        Worked { outcomes: outcomes.into_iter().map(known).collect(), lost }
    }
}

/// One result of many teeth.
pub(super) fn values(outcomes: &[Outcome], measure: Measure) -> Vec<f64> {
    outcomes.iter().map(|outcome| outcome.of(measure)).collect()
}
