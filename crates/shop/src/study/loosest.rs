//! How loosely each setting may be set, and which one is worth setting better.

use std::ops::ControlFlow;

use trade::StudiedSetting;

use super::design::{Design, Mixed, Scales, Tell};
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

/// So often a setting is made twice as close, all together, before the search is given up.
const CLOSER_MAX: u32 = 16;

/// How loosely a setting may be set while all others keep to their habits, or to what they must be
/// set within.
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

/// Settings that must be met more closely than a hand ordinarily does, so that enough teeth hold
/// the target.
#[derive(Clone, Debug, PartialEq)]
pub struct Closer {
    /// Within what each must be set, as [`Habit::within`] counts it, in the order of the settings.
    pub within: Vec<(StudiedSetting, Quantity)>,
    /// The share of teeth that hold the target then.
    pub held: f64,
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
    fn share(&self, scales: &Scales) -> f64 {
        let go_on = &mut |_: &[Option<Outcome>]| ControlFlow::Continue(());
        let all = self.design.outcomes(self.count, Mixed::Scaled(*scales), go_on);
        f64::from(self.held_count(&all)) / f64::from(self.count)
    }

    /// Whether enough hold the target; no more teeth are looked at than it takes to know.
    fn is_enough(&self, scales: &Scales) -> bool {
        let may_fail = ((1.0 - HELD) * f64::from(self.count)).floor() as u32;
        let mut failed = 0;
        self.design.outcomes(self.count, Mixed::Scaled(*scales), &mut |block| {
            failed += block.len() as u32 - self.held_count(block);
            if failed > may_fail { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
        failed <= may_fail
    }

    /// How loosely the setting at a place may be set, the others being as `scales` say; `is_held`
    /// tells whether they hold the target with this one.
    fn widest(&self, place: usize, habit: &Habit, (scales, is_held): (&Scales, bool)) -> Widest {
        let enough = |times: f64| self.is_enough(&with(scales, place, times));
        let from = scales[place];
        let (mut low, mut high) = if is_held {
            let mut high = 2.0 * from;
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
            let mut low = 0.5 * from;
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

    /// Makes one setting after the other twice as close, always the one that gains most, and all
    /// of them where none gains by itself, until enough teeth hold; none where that never comes.
    /// Broken off where `go_on` says so.
    fn closer(
        &self,
        settings: usize,
        held: f64,
        go_on: &mut dyn FnMut() -> ControlFlow<()>,
    ) -> ControlFlow<(), Option<(Scales, f64)>> {
        let (mut scales, mut held) = ([1.0; StudiedSetting::ALL.len()], held);
        for _ in 0..CLOSER_MAX {
            let mut best = (held, scales);
            for place in 0..settings {
                let closer = with(&scales, place, 0.5 * scales[place]);
                let share = self.share(&closer);
                if share > best.0 {
                    best = (share, closer);
                }
                go_on()?;
            }
            if best.0 <= held {
                let all = scales.map(|scale| 0.5 * scale);
                best = (self.share(&all), all);
            }
            if best.0 <= held {
                return ControlFlow::Continue(None);
            }
            (held, scales) = best;
            if held >= HELD {
                return ControlFlow::Continue(Some((scales, held)));
            }
        }
        ControlFlow::Continue(None)
    }
}

/// The same scales with another one at a place.
fn with(scales: &Scales, place: usize, times: f64) -> Scales {
    let mut changed = *scales;
    changed[place] = times;
    changed
}

/// What all settings may be off by.
pub(super) struct Loosest {
    pub(super) allowances: Vec<Allowance>,
    pub(super) closer: Option<Closer>,
}

/// The allowances of all settings; None where it was stopped. Where too few teeth hold with every
/// setting as a hand ordinarily meets it, those that must be met more closely are found first, and
/// the allowances are those beside them.
pub(super) fn loosest(
    design: &Design<'_>,
    (habits, wanted): (&Habits, &Wanted),
    count: u32,
    tell: Tell<'_>,
) -> Option<Loosest> {
    let search = Search { design, wanted, count };
    let usual = [1.0; StudiedSetting::ALL.len()];
    let held = search.share(&usual);
    let of = habits.0.len() as u64;
    let closer = if held < HELD {
        let begun = StudyProgress { doing: StudyProgress::LOOSEST, done: 0, of };
        match search.closer(habits.0.len(), held, &mut || tell(begun)) {
            ControlFlow::Continue(found) => found,
            ControlFlow::Break(()) => return None,
        }
    } else {
        None
    };
    let scales = closer.map_or(usual, |(scales, _)| scales);
    let is_held = held >= HELD || closer.is_some();
    let mut allowances = Vec::with_capacity(habits.0.len());
    for (place, habit) in habits.0.iter().enumerate() {
        let widest = search.widest(place, habit, (&scales, is_held));
        let gain = search.share(&with(&usual, place, 0.5)) - held;
        allowances.push(Allowance { setting: habit.setting, widest, gain });
        let done = place as u64 + 1;
        if tell(StudyProgress { doing: StudyProgress::LOOSEST, done, of }).is_break() {
            return None;
        }
    }
    let closer = closer.map(|(scales, held)| Closer { within: within(habits, &scales), held });
    Some(Loosest { allowances, closer })
}

/// Within what the settings must be met whose scale is below one.
fn within(habits: &Habits, scales: &Scales) -> Vec<(StudiedSetting, Quantity)> {
    let each = habits.0.iter().zip(scales).filter(|(_, scale)| **scale < 1.0);
    each.map(|(habit, scale)| (habit.setting, scaled(habit.within(), *scale))).collect()
}
