//! When to pull one cutter, by the shop's own prices and what was read of its wear.

use geometry::Length;
use trade::WearKind;

use super::grind::{GrindWork, WheelUse, cost_of_grind};
use super::money::Money;
use super::prices::Prices;
use super::pull::{Economy, Pull, pull_at};
use super::wear::{WearReading, wear_curve};
use crate::context::Ctx;
use crate::error::ShopError;
use crate::learn::CutterHistory;
use crate::plan::{GroundPart, Judged, PartStock, ground_parts, judge_cutter};
use crate::record::Cutter;

/// What is asked for.
#[derive(Clone, Copy, Debug)]
pub struct PullCutter<'a> {
    /// The cutter.
    pub cutter: &'a Cutter,
    /// Its own grinds.
    pub known: &'a CutterHistory,
    /// The number of the wheel that grinds it, where that is known.
    pub wheel: Option<&'a str>,
    /// What changing it at the milling machine costs.
    pub change: Money,
    /// Wear lands read after so many parts.
    pub readings: &'a [WearReading],
}

/// The wear land at which to pull a cutter so that a part costs least, and not beyond the wear land
/// that the tables allow a finishing cutter.
///
/// # Errors
/// `Invalid` where the prices have no line for a new cutter or the wheel, where no source gives a
/// smallest useful size or a wear land, or as for [`pull_at`] and [`wear_curve`].
pub fn pull_cutter(
    ctx: &Ctx<'_>,
    prices: &Prices,
    asked: &PullCutter<'_>,
) -> Result<Pull, ShopError> {
    let cutter = asked.cutter;
    let judged = judge_cutter(ctx, cutter, asked.known)?;
    let limit = ctx.tables.wear_limit(WearKind::Finishing, cutter.diameter());
    let limit = limit.or_else(|| ctx.tables.wear_limit(WearKind::Uniform, cutter.diameter()));
    let widest = limit.ok_or_else(|| missing("wear", "a wear land for this size"))?;
    let curve = wear_curve(asked.readings)?;
    pull_at(&economy(ctx, (prices, asked), &judged)?, &curve, widest.chosen.value.wear_land)
}

fn economy(
    ctx: &Ctx<'_>,
    (prices, asked): (&Prices, &PullCutter<'_>),
    judged: &Judged,
) -> Result<Economy, ShopError> {
    let cutter = asked.cutter;
    let new_price = prices.new_price(cutter);
    let new_price = new_price.ok_or_else(|| missing("prices", "a line for a new one like it"))?;
    let smallest = judged.verdict.smallest.as_ref();
    let smallest = smallest.ok_or_else(|| missing("shrink", "a smallest useful size"))?.value;
    let wheel = prices.wheel_use(asked.wheel);
    let wheel =
        wheel.ok_or_else(|| missing("prices", "a line for its wheel, or for every other"))?;
    let mut parts = ground_parts(ctx, cutter, judged, false)?;
    parts.retain(|part| matches!(part.part, GroundPart::End | GroundPart::Corner));
    let at = |stock| grind_cost(prices, cutter, wheel, (stock, &parts));
    let (none, one) = (at(Length::ZERO)?, at(Length::from_mm(1.0))?);
    let relief = cutter.as_ground().map_or(judged.wanted.primary.value, |ground| ground.primary);
    Ok(Economy {
        new_price,
        grind: none,
        grind_per_mm: one - none,
        change: asked.change,
        room: (cutter.diameter() - smallest).max(Length::ZERO),
        beyond_wear: judged.stock.beyond_wear.value,
        relief,
        rake: cutter.rake(),
        edge_share: prices.edge_share,
    })
}

fn grind_cost(
    prices: &Prices,
    cutter: &Cutter,
    wheel: WheelUse,
    (off, beside): (Length, &[PartStock]),
) -> Result<Money, ShopError> {
    let mut parts = vec![PartStock { part: GroundPart::Periphery, off }];
    parts.extend(beside);
    let work = GrindWork { teeth: cutter.teeth(), parts, setup_shared_by: 1, wheel };
    cost_of_grind(&prices.rates, &work).map(|cost| cost.total())
}

fn missing(what: &str, which: &str) -> ShopError {
    ShopError::invalid(what, format!("{which} is missing: write it there"))
}
