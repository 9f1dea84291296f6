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

fn pass_max(ctx: &Ctx<'_>, wheel: &Wheel) -> Cited<Length> {
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
    let finish = ctx.tables.pass(Pass::Finish).map(|row| row.chosen.value.depth.greatest);
    let finish = finish.unwrap_or(finest).min(pass_max);
    // A limit given in the other system of units must not cost a whole division.
    let in_steps = |length: Length| ((length / finest * LIMIT_SLACK).floor() as u32).max(1);
    let finish_steps = in_steps(finish).min(steps);
    let feeds = shared(steps - finish_steps, in_steps(pass_max));
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
    use super::shared;

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
