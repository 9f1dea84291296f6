//! From the kiss to size, pass by pass, in the marks of the cross feed.

use geometry::Length;
use trade::{Pass, PracticeItem};

use super::dial::{DialMark, snapped_travel};
use super::feed::Feed;
use super::order;
use super::wheel::greatest_pass;
use crate::context::{Cited, Ctx};
use crate::record::{Axis, AxisRole, Machine, SlideScale, Wheel};

/// What a pass is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PassKind {
    /// Takes stock off.
    Stock,
    /// Brings up the finish and the size.
    Finish,
    /// No feed: lets the sparks die away.
    SparkOut,
}

impl PassKind {
    /// The word used on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Stock => "stock",
            Self::Finish => "finish",
            Self::SparkOut => "spark out",
        }
    }
}

/// One round over all teeth at one setting of the cross feed.
#[derive(Clone, Debug, PartialEq)]
pub struct GrindPass {
    /// What it is for.
    pub kind: PassKind,
    /// How far the wheel is fed for it.
    pub feed: Length,
    /// What the dial reads then, set to zero at the kiss.
    pub dial: DialMark,
}

/// The grinding of one relief.
#[derive(Clone, Debug, PartialEq)]
pub struct Grinding {
    /// Where the wheel stands at the kiss and at size.
    pub feed: Feed,
    /// The travel as the dial can make it.
    pub travel: Length,
    /// What the wheel really comes nearer for each length of that travel, by what is known of it.
    pub ratio: f64,
    /// The passes in order.
    pub passes: Vec<GrindPass>,
    /// The greatest feed of one pass, and why.
    pub pass_max: Cited<Length>,
    /// Order of the teeth in each round.
    pub first_round: Vec<u32>,
    /// Order of the last round, with no feed.
    pub second_round: Vec<u32>,
    /// When over-fed: back the dial off to this mark, past the backlash.
    pub back_off_to: DialMark,
    /// Then come in again to this mark, short of zero.
    pub come_in_to: DialMark,
}

/// What is ordinary where no table says otherwise, on the radius.
const PASS_FALLBACK_MM: f64 = 0.05;

/// A pass may exceed its limit by this share when that makes a whole division.
const LIMIT_SLACK: f64 = 1.05;

/// A feed, and how the dial makes it.
pub(crate) struct DialFeed {
    pub(crate) feed: Feed,
    pub(crate) travel: Length,
    pub(crate) ratio: f64,
}

/// Plans the passes for a travel.
pub(crate) fn grinding(
    ctx: &Ctx<'_>,
    machine: &Machine,
    wheel: &Wheel,
    teeth: u32,
    DialFeed { feed, travel, ratio }: DialFeed,
) -> Option<Grinding> {
    let axis = machine.axis(AxisRole::CrossFeed)?;
    let scale = axis.slide()?;
    let pass_max = pass_max(ctx, wheel);
    // Where more comes off than the dial is fed, a pass is fed less, so that no depth is exceeded.
    let passes = passes(ctx, axis, scale, travel, pass_max.value / ratio.max(1.0));
    let backlash = scale.travel(scale.backlash);
    let past = (backlash * 1.5).max(scale.travel(scale.graduation * 5.0));
    let short = snapped_travel(scale, short_of_zero(ctx).value).max(scale.finest_travel());
    Some(Grinding {
        feed,
        travel,
        ratio,
        passes,
        pass_max,
        first_round: order::first_round(teeth),
        second_round: order::second_round(teeth),
        back_off_to: DialMark::slide(axis, scale, -snapped_travel(scale, short + past)),
        come_in_to: DialMark::slide(axis, scale, -short),
    })
}

fn short_of_zero(ctx: &Ctx<'_>) -> Cited<Length> {
    let practice = ctx.tables.practice(PracticeItem::Overfed).and_then(|lookup| {
        let amount = lookup.chosen.value.amount?.length()?.middle();
        Some(Cited::new(amount, &lookup.chosen.source))
    });
    practice.unwrap_or_else(|| Cited::new(Length::from_mm(PASS_FALLBACK_MM), "own choice"))
}

/// The most that a finish pass takes, by the tables.
pub(super) fn finish_most(ctx: &Ctx<'_>, pass_max: Length) -> Length {
    let finish = ctx.tables.pass(Pass::Finish);
    finish.map_or(pass_max, |row| row.chosen.value.depth.greatest).min(pass_max)
}

/// The most that a pass takes: by the tables, and by the wheel's grit.
pub(super) fn pass_max(ctx: &Ctx<'_>, wheel: &Wheel) -> Cited<Length> {
    let ordinary = ctx
        .tables
        .pass(Pass::Ordinary)
        .map(|row| Cited::new(row.chosen.value.depth.greatest, &row.chosen.source))
        .unwrap_or_else(|| Cited::new(Length::from_mm(PASS_FALLBACK_MM), "own choice"));
    match greatest_pass(ctx, wheel) {
        Some(grit) if grit.value < ordinary.value => grit,
        _ => ordinary,
    }
}

fn passes(
    ctx: &Ctx<'_>,
    axis: &Axis,
    scale: &SlideScale,
    travel: Length,
    pass_max: Length,
) -> Vec<GrindPass> {
    let finest = scale.finest_travel();
    let steps = (travel / finest).round().max(1.0) as u32;
    let finish = ctx.tables.pass(Pass::Finish).map(|row| row.chosen.value.depth);
    let finish_most = finish.as_ref().map_or(finest, |depth| depth.greatest).min(pass_max);
    let finish_least = finish.as_ref().map_or(finest, |depth| depth.least).min(finish_most);
    // A limit given in the other system of units must not cost a whole division.
    let in_steps = |length: Length| ((length / finest * LIMIT_SLACK).floor() as u32).max(1);
    let limits = Limits {
        pass: in_steps(pass_max),
        finish: in_steps(finish_most),
        alone: in_steps(finish_least),
    };
    let finish_steps = limits.finish_of(steps);
    let feeds = shared(steps - finish_steps, limits.pass);
    let stock = feeds.into_iter().map(|count| (PassKind::Stock, count));
    let last = [(PassKind::Finish, finish_steps), (PassKind::SparkOut, 0)];
    let mut fed = 0;
    stock
        .chain(last)
        .map(|(kind, count)| {
            fed += count;
            let dial = DialMark::slide(axis, scale, finest * f64::from(fed));
            GrindPass { kind, feed: finest * f64::from(count), dial }
        })
        .collect()
}

/// What passes may take, in steps of the dial.
struct Limits {
    /// The most that any pass takes.
    pass: u32,
    /// The most that a finish pass takes.
    finish: u32,
    /// So little is left to one finish pass alone.
    alone: u32,
}

impl Limits {
    /// What the finish pass takes of a travel: as much as it may, while every pass before it takes
    /// at least twice as much. A dial too coarse for that leaves it one step.
    fn finish_of(&self, steps: u32) -> u32 {
        if steps <= self.alone {
            return steps;
        }
        let is_light = |finish: &u32| {
            let before = shared(steps - finish, self.pass);
            before.last().is_some_and(|lightest| *lightest >= 2 * finish)
        };
        (1..=self.finish.min(steps)).rev().find(is_light).unwrap_or(1)
    }
}

/// Shares steps among the fewest passes of at most `most` each, the heavier ones first.
fn shared(steps: u32, most: u32) -> Vec<u32> {
    if steps == 0 {
        return Vec::new();
    }
    let count = steps.div_ceil(most);
    let (each, heavier) = (steps / count, steps % count);
    (0..count).map(|index| each + u32::from(index < heavier)).collect()
}

#[cfg(test)]
mod tests {
    use super::{Limits, shared};

    /// A dial of 0.0001 in under passes of 0.005 in and finish passes of 0.0005 to 0.001 in
    /// (common practice, no source): the finish is the lightest pass, and the sum is the travel.
    #[test]
    fn a_finish_pass_is_at_most_half_of_any_before_it() {
        let limits = Limits { pass: 52, finish: 10, alone: 5 };
        for steps in 1..400 {
            let finish = limits.finish_of(steps);
            let before = shared(steps - finish, limits.pass);
            assert!(before.iter().all(|feed| 2 * finish <= *feed), "{steps}: {before:?}, {finish}");
            assert_eq!(before.iter().sum::<u32>() + finish, steps);
            assert!(finish <= limits.finish && before.is_empty() == (steps <= limits.alone));
        }
        for (steps, finish) in [(5, 5), (6, 2), (12, 4), (30, 10), (100, 10)] {
            assert_eq!(limits.finish_of(steps), finish, "{steps}");
        }
    }

    /// A dial of 0.001 in has no step lighter than a whole finish pass.
    #[test]
    fn a_coarse_dial_leaves_the_finish_one_step() {
        let limits = Limits { pass: 5, finish: 1, alone: 1 };
        for steps in 1..40 {
            assert_eq!(limits.finish_of(steps), 1, "{steps}");
        }
    }

    #[test]
    fn shares_add_up_and_never_exceed() {
        for steps in 0..200 {
            for most in 1..20 {
                let feeds = shared(steps, most);
                assert_eq!(feeds.iter().sum::<u32>(), steps);
                assert!(feeds.iter().all(|feed| (1..=most).contains(feed)), "{steps} by {most}");
            }
        }
    }
}
