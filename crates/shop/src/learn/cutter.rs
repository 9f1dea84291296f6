//! What a regrind takes off this cutter.

use std::f64::consts::SQRT_2;

use geometry::closed_form::worn_depth;
use geometry::{Angle, Length};
use trade::{LearningItem, StockItem, WearKind, WorkGroup};

use super::grinds::{CutterGrind, CutterHistory};
use super::learned::{Gathered, Learned, in_mm, missing};
use super::shrink::Entry;
use crate::context::{Cited, Ctx};
use crate::error::ShopError;
use crate::record::Cutter;

/// Standard deviation of a diameter read over edges (own choice, no source).
const DIAMETER_READING_MM: f64 = 0.005;

/// Standard deviation of a wear land read under a glass (own choice, no source).
const WEAR_READING_MM: f64 = 0.02;

/// Why a grind says nothing of the stock.
const NO_SIZE_BEFORE: &str =
    "neither the sharp size before it nor the dull size with its wear land is known";

/// Why a grind says nothing of what comes off beyond the wear.
const NO_WEAR: &str = "its wear land, or the sharp size before it, was not read";

/// What a regrind takes off this cutter's diameter, from sharp edge to sharp edge: wear and grind
/// together, which is what its life is made of.
///
/// An entry is the sharp size before less the size after; where the former is not known, the dull
/// size and twice the depth of its wear land stand in. The table's value is the ordinary stock.
///
/// # Errors
/// `Invalid` where a table has no row for it.
pub fn stock_per_grind(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    history: &CutterHistory,
) -> Result<Learned<Length>, ShopError> {
    let ordinary = ordinary(ctx)?;
    let mut gathered = Gathered::default();
    for grind in history.grinds() {
        gathered.put(&grind.entry, loss(ctx, cutter, grind).ok_or(NO_SIZE_BEFORE));
    }
    let learned = gathered.learned(ctx, LearningItem::StockPerGrind, "grind", in_mm(&ordinary))?;
    Ok(learned.map(Length::from_mm))
}

/// What a regrind takes off this cutter's diameter beyond twice the depth of its wear land: the
/// part that does not hang on when the cutter was pulled.
///
/// The table's value is the ordinary stock less what it takes to clean the wear land at which the
/// tables would pull a finishing cutter of this size, and a fifth of the ordinary stock at least.
///
/// # Errors
/// `Invalid` where a table has no row for it.
pub fn stock_beyond_wear(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    history: &CutterHistory,
) -> Result<Learned<Length>, ShopError> {
    let table = beyond_wear_of_table(ctx, cutter)?;
    let mut gathered = Gathered::default();
    for grind in history.grinds() {
        gathered.put(&grind.entry, beyond_wear(ctx, cutter, grind).ok_or(NO_WEAR));
    }
    let learned = gathered.learned(ctx, LearningItem::BeyondWear, "grind", in_mm(&table))?;
    Ok(learned.map(Length::from_mm))
}

/// What the next regrind will take off the diameter, from sharp edge to sharp edge, for a wear land
/// on a relief and a rake.
///
/// **Source** \[own-derivation\] twice the depth of the wear land, and what is learned to come off
/// beyond it. **Departs** as the depth itself does. **Error** the bounds of what was learned.
/// **Domain** a wear land that decides, not a chip.
pub fn expected_stock(
    wear_land: Length,
    relief: Angle,
    rake: Angle,
    beyond: &Learned<Length>,
) -> Length {
    2.0 * worn_depth(wear_land, relief, rake) + beyond.value
}

/// The share of the ordinary stock that comes off beyond the wear at least (own choice, no source).
const BEYOND_SHARE_MIN: f64 = 0.2;

fn ordinary(ctx: &Ctx<'_>) -> Result<Cited<Length>, ShopError> {
    let row = ctx.tables.stock(StockItem::FreshEdge).ok_or_else(|| missing("stock"))?.chosen;
    Ok(Cited::new(row.value.off_diameter.middle(), &row.source))
}

fn beyond_wear_of_table(ctx: &Ctx<'_>, cutter: &Cutter) -> Result<Cited<Length>, ShopError> {
    let ordinary = ordinary(ctx)?;
    let pulled = ctx.tables.wear_limit(WearKind::Finishing, cutter.diameter());
    let depth = pulled
        .zip(relief_of(ctx, cutter))
        .map(|(limit, relief)| worn_depth(limit.chosen.value.wear_land, relief, cutter.rake()));
    let least = ordinary.value * BEYOND_SHARE_MIN;
    let beyond = ordinary.value - 2.0 * depth.unwrap_or(Length::ZERO);
    Ok(Cited::new(beyond.max(least), ordinary.source))
}

/// The relief that this cutter is taken to have worn on, where an entry does not say.
fn relief_of(ctx: &Ctx<'_>, cutter: &Cutter) -> Option<Angle> {
    let of_table = || {
        let row = ctx.tables.relief(cutter.diameter(), cutter.material(), WorkGroup::Any)?;
        Some(row.chosen.value.recommended())
    };
    cutter.as_ground().map(|ground| ground.primary).or_else(of_table)
}

/// Twice the depth of a grind's wear land, in mm, with the standard deviation of that reading.
fn wear_off_diameter(ctx: &Ctx<'_>, cutter: &Cutter, grind: &CutterGrind) -> Option<(f64, f64)> {
    let relief = grind.worn_on.or_else(|| relief_of(ctx, cutter))?;
    let depth = |land: Length| 2.0 * worn_depth(land, relief, cutter.rake()).mm();
    Some((depth(grind.wear_land?), depth(Length::from_mm(WEAR_READING_MM))))
}

fn loss(ctx: &Ctx<'_>, cutter: &Cutter, grind: &CutterGrind) -> Option<Entry> {
    let of_reading = SQRT_2 * DIAMETER_READING_MM;
    if let Some(before) = grind.sharp_before {
        let value = (before - grind.after).mm();
        return Some(Entry { value, count: 1, reading: of_reading });
    }
    let (wear, of_wear) = wear_off_diameter(ctx, cutter, grind)?;
    let value = (grind.dull? - grind.after).mm() + wear;
    Some(Entry { value, count: 1, reading: of_reading.hypot(of_wear) })
}

fn beyond_wear(ctx: &Ctx<'_>, cutter: &Cutter, grind: &CutterGrind) -> Option<Entry> {
    let of_reading = SQRT_2 * DIAMETER_READING_MM;
    // From the dull edge on, what comes off is beyond the wear, whatever the wear was.
    if let Some(dull) = grind.dull {
        return Some(Entry { value: (dull - grind.after).mm(), count: 1, reading: of_reading });
    }
    let (wear, of_wear) = wear_off_diameter(ctx, cutter, grind)?;
    let value = (grind.sharp_before? - grind.after).mm() - wear;
    Some(Entry { value, count: 1, reading: of_reading.hypot(of_wear) })
}
