//! How far the table may carry the wheel: from outside the corner to the centre, and what it meets.

use geometry::Length;
use geometry::end::{EndSection, EndStroke, EndTeeth, Reach};
use geometry::quantity::System;
use trade::EndItem;

use super::wanted::{EndWanted, practice_length};
use crate::context::Ctx;
use crate::error::ShopError;
use crate::plan::refusal::meets_next_tooth;

/// Where the stroke over an end tooth stops.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stops {
    /// How far the wheel's leading corner goes past the tooth's corner, inward, on a long tooth.
    pub long: Length,
    /// The same on a tooth that stops short on purpose; as `long` where all are alike.
    pub short: Length,
    /// How far past the centre that takes a long tooth's edge; below zero short of it.
    pub past_centre: Length,
    /// Whether it goes as far as it should; else another tooth stops it a little short of that.
    pub is_whole: bool,
    /// How far it could go before another tooth is cut.
    pub reach: Reach,
    /// The nearest that the wheel comes to another tooth's edge outside the middle, where there is
    /// another; below zero it brushes it.
    pub gap: Option<(u32, Length)>,
}

/// Whether the wheel may do the whole of a tooth here, and where it then stops.
pub(super) fn stops(
    ctx: &Ctx<'_>,
    wanted: &EndWanted,
    section: &EndSection,
    teeth: &EndTeeth,
    system: System,
) -> Result<Stops, ShopError> {
    let no_surface = || {
        let why = "it leaves no surface at the edge: bring its axis nearer to the edge's height";
        ShopError::refused("the wheel must leave a surface", why)
    };
    let stroke = EndStroke::new(section, teeth).ok_or_else(no_surface)?;
    let allowed = practice_length(ctx, EndItem::NextEdge)?.value;
    let past = practice_length(ctx, EndItem::PastCentre)?.value;
    let protected = wanted.short.value.max(teeth.shape().diameter * MIDDLE_SHARE);
    let reach = stroke.reach(allowed, protected).ok_or_else(|| {
        let why = "it cuts the next tooth's edge wherever it stops: use a smaller wheel, or one \
                   with a narrower face";
        meets_next_tooth(why)
    })?;
    let to_centre = teeth.inward_to(wanted.inner.value);
    let runs_past = wanted.inner.value == Length::ZERO;
    let goal = if runs_past { to_centre + past } else { to_centre };
    let ground = goal.min(reach.ground);
    if ground < to_centre - Length::from_um(1.0) {
        let why = format!(
            "it would have to stop {} before the edge is ground to its end, or cut the next tooth",
            (to_centre - ground).show_both(system)
        );
        return Err(meets_next_tooth(why));
    }
    let short = teeth.inward_to(wanted.short.value).min(ground);
    let long = stroke.stop_for(ground);
    Ok(Stops {
        long,
        short: stroke.stop_for(short),
        past_centre: ground - teeth.inward_to(Length::ZERO),
        is_whole: goal <= reach.ground,
        gap: stroke.gap_to_others(protected, long),
        reach,
    })
}

/// The part of the diameter round the centre in which edges meet, and are not counted as another
/// tooth's (own choice, no source).
pub(super) const MIDDLE_SHARE: f64 = 0.05;
