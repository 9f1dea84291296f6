//! What a wheel takes off for what the dial was fed, and what it loses over a cutter.

use geometry::Length;
use trade::{Abrasive, LearningItem};

use super::learned::{Gathered, Learned, in_mm, missing};
use super::shrink::Entry;
use super::wheel_grinds::{WheelGrind, WheelHistory};
use crate::context::{Cited, Ctx};
use crate::error::ShopError;

/// Standard deviation of what is read to have come off a radius (own choice, no source).
const STOCK_READING_MM: f64 = 0.0035;

/// Standard deviation of what a face is read to have lost (own choice, no source).
const FACE_READING_MM: f64 = 0.005;

/// Why an entry says nothing of the ratio.
const NO_FEED: &str = "no feed of 0.005 mm or more with what came off";

/// Why an entry says nothing of the wheel's wear.
const NO_LOSS: &str = "what the face lost was not read";

/// What comes off the radius for each length that should come off by the dial: below one where the
/// wheel wears, the set-up gives way or the dial lags; to feed by, divide by it.
///
/// An entry counts by how well its ratio is known: a long feed tells more than a short one. What
/// is held beforehand is one, as if the dial told the truth.
///
/// # Errors
/// `Invalid` where a table has no row for it.
pub fn dial_to_stock(ctx: &Ctx<'_>, history: &WheelHistory) -> Result<Learned<f64>, ShopError> {
    let mut gathered = Gathered::default();
    for grind in history.grinds() {
        gathered.put(&grind.entry, ratio(grind).ok_or(NO_FEED));
    }
    let table = Cited::new(1.0, "the dial taken at its word");
    gathered.learned(ctx, LearningItem::DialToStock, "grind", table)
}

/// What this wheel's grinding face loses over one cutter, dressing left out.
///
/// The table's value is the middle of what it gives for the abrasive.
///
/// # Errors
/// `Invalid` where a table has no row for it.
pub fn wheel_wear(
    ctx: &Ctx<'_>,
    abrasive: Abrasive,
    history: &WheelHistory,
) -> Result<Learned<Length>, ShopError> {
    let row = ctx.tables.wheel_wear(abrasive).ok_or_else(|| missing("wheel-wear"))?.chosen;
    let table = Cited::new(row.value.per_cutter.middle(), &row.source);
    let mut gathered = Gathered::default();
    for grind in history.grinds() {
        gathered.put(&grind.entry, loss(grind).ok_or(NO_LOSS));
    }
    let learned = gathered.learned(ctx, LearningItem::WheelWear, "cutter", in_mm(&table))?;
    Ok(learned.map(Length::from_mm))
}

fn ratio(grind: &WheelGrind) -> Option<Entry> {
    let (fed, came_off) = grind.fed_and_came_off()?;
    let reading = STOCK_READING_MM / fed.mm();
    Some(Entry { value: came_off / fed, count: 1, reading })
}

fn loss(grind: &WheelGrind) -> Option<Entry> {
    let cutters = f64::from(grind.cutters);
    let value = grind.face_lost?.mm() / cutters;
    Some(Entry { value, count: grind.cutters, reading: FACE_READING_MM / cutters })
}
