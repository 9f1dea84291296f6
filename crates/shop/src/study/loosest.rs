//! How loosely each setting may be set, and which one is worth setting better.

use std::ops::ControlFlow;

use trade::StudiedSetting;

use super::design::{Design, Mixed, Tell};
use super::habit::{Habit, Habits, scaled};
use super::outcome::{Outcome, Wanted};
use super::regrind::StudyProgress;
use crate::plan::Quantity;

/// The share of the teeth that must hold the target.
pub const HELD: f64 = 0.95;

/// A setting that may be off by so many times its habit has no limit worth naming.
const TIMES_MAX: f64 = 32.0;

/// Halvings, on a scale of ratios, by which a limit is closed in on: to 3 % of it.
const HALVINGS: u32 = 5;

/// How loosely a setting may be set while all others keep to their habits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Widest {
    /// The target is not held even with this setting met exactly.
    NotEvenExact,
    /// Within this, as [`Habit::within`] counts it.
    Within(Quantity),
    /// Many times its habit does no harm.
    NoLimit,
}

/// One setting's allowance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowance {
    /// The setting.
    pub setting: StudiedSetting,
    /// How loosely it may be set.
    pub widest: Widest,
    /// The share of teeth that hold the target with this setting made twice as good, less the
    /// share with all habits as they are.
    pub gain: f64,
}

/// What is asked of many teeth.
struct Search<'a> {
    design: &'a Design<'a>,
    wanted: &'a Wanted,
    count: u32,
}

impl Search<'_> {
    fn held_count(&self, block: &[Option<Outcome>]) -> u32 {
        let is_held = |one: &&Option<Outcome>| one.is_some_and(|one| self.wanted.is_held(&one));
        block.iter().filter(is_held).count() as u32
    }

    /// The share that holds the target.
    fn share(&self, mixed: Mixed) -> f64 {
        let all = self.design.outcomes(self.count, mixed, &mut |_| ControlFlow::Continue(()));
        f64::from(self.held_count(&all)) / f64::from(self.count)
    }

    /// Whether enough hold the target; no more teeth are looked at than it takes to know.
    fn is_enough(&self, mixed: Mixed) -> bool {
        let may_fail = ((1.0 - HELD) * f64::from(self.count)).floor() as u32;
        let mut failed = 0;
        self.design.outcomes(self.count, mixed, &mut |block| {
            failed += block.len() as u32 - self.held_count(block);
            if failed > may_fail { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
        failed <= may_fail
    }

    fn widest(&self, place: usize, habit: &Habit, is_held: bool) -> Widest {
        let enough = |times: f64| self.is_enough(Mixed::Scaled(place, times));
        let (mut low, mut high) = if is_held {
            let mut high = 2.0;
            while high <= TIMES_MAX && enough(high) {
                high *= 2.0;
            }
            if high > TIMES_MAX {
                return Widest::NoLimit;
            }
            (0.5 * high, high)
        } else {
            if !enough(0.0) {
                return Widest::NotEvenExact;
            }
            let mut low = 0.5;
            while low > 1.0 / TIMES_MAX && !enough(low) {
                low *= 0.5;
            }
            (low, 2.0 * low)
        };
        for _ in 0..HALVINGS {
            let middle = (low * high).sqrt();
            if enough(middle) { low = middle } else { high = middle }
        }
        Widest::Within(scaled(habit.within(), low))
    }
}

/// The allowances of all settings; None where it was stopped.
pub(super) fn allowances(
    design: &Design<'_>,
    (habits, wanted): (&Habits, &Wanted),
    count: u32,
    tell: Tell<'_>,
) -> Option<Vec<Allowance>> {
    let search = Search { design, wanted, count };
    let held = search.share(Mixed::A);
    let of = habits.0.len() as u64;
    let mut found = Vec::with_capacity(habits.0.len());
    for (place, habit) in habits.0.iter().enumerate() {
        let widest = search.widest(place, habit, held >= HELD);
        let gain = search.share(Mixed::Scaled(place, 0.5)) - held;
        found.push(Allowance { setting: habit.setting, widest, gain });
        let done = place as u64 + 1;
        if tell(StudyProgress { doing: StudyProgress::LOOSEST, done, of }).is_break() {
            return None;
        }
    }
    Some(found)
}
