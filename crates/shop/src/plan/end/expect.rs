//! The readings that prove the end.

use geometry::end::{EndPlane, EndTeeth};
use geometry::{Angle, Length};
use trade::EndItem;

use super::stock::EndStock;
use super::wanted::{EndWanted, practice_length};
use crate::context::{Cited, Ctx};
use crate::error::ShopError;
use crate::plan::RegrindPlan;

/// What a feeler reads under a straightedge laid over the corners of an end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeelerReading {
    /// Distance from the cutter's axis.
    pub from_axis: Length,
    /// Gap there.
    pub gap: Length,
}

/// What to read when the end is done.
#[derive(Clone, Debug, PartialEq)]
pub struct EndExpected {
    /// How nearly alike the teeth stand on a surface plate.
    pub heights_alike: Cited<Length>,
    /// The dish by feeler.
    pub dish: Vec<FeelerReading>,
    /// Axial relief as set, over the land.
    pub relief: Angle,
    /// Width of the land.
    pub land: Length,
    /// Length of the whole cutter afterwards.
    pub overall_length: Length,
    /// What the machinist takes off the tool's length.
    pub tool_length_change: Length,
    /// How much the length may miss: the dial's half mark and the kiss.
    pub length_band: Length,
    /// Length of flute afterwards.
    pub flute_length: Length,
}

/// What a good ear gives at the kiss (common practice, no source).
pub(super) const KISS_ERROR_THOU: f64 = 0.2;

/// The readings to expect.
pub(super) fn expected(
    ctx: &Ctx<'_>,
    plan: &RegrindPlan,
    wanted: &EndWanted,
    stock: &EndStock,
    teeth: &EndTeeth,
    (made, land, off): (EndPlane, Length, Length),
) -> Result<EndExpected, ShopError> {
    let half = teeth.shape().diameter / 2.0;
    let gap = |from_axis: Length| FeelerReading { from_axis, gap: teeth.hollow_at(from_axis) };
    let innermost = wanted.inner.value.max(wanted.ahead.abs());
    let places = [(half + innermost) / 2.0, innermost];
    let shorter = stock.cut_back + off;
    let cutter = &plan.request.cutter;
    let half_mark = plan.request.machine.cross_feed().finest_travel() / 2.0;
    Ok(EndExpected {
        heights_alike: practice_length(ctx, EndItem::HeightsAlike)?,
        dish: places.into_iter().map(gap).collect(),
        relief: made.relief(),
        land,
        overall_length: cutter.overall_length() - shorter,
        tool_length_change: -shorter,
        length_band: half_mark + Length::from_thou(KISS_ERROR_THOU),
        flute_length: cutter.flute_length() - shorter,
    })
}
