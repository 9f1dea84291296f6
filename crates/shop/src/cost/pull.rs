//! The wear land at which to pull a cutter so that a part costs least.

use geometry::closed_form::worn_depth;
use geometry::{Angle, Length};

use super::money::Money;
use super::wear::WearCurve;
use super::{above_zero, not_negative};
use crate::error::ShopError;

/// What a cutter and its regrinds cost and last.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Economy {
    /// What a new cutter costs.
    pub new_price: Money,
    /// What a regrind costs before any stock is taken.
    pub grind: Money,
    /// What it costs more for each millimetre off the diameter.
    pub grind_per_mm: Money,
    /// What changing the cutter at the milling machine costs: the machine's standing, the new
    /// offset, the first part.
    pub change: Money,
    /// What can come off the diameter from new to the smallest useful one.
    pub room: Length,
    /// What a regrind takes off the diameter beyond twice the depth of the wear.
    pub beyond_wear: Length,
    /// Relief on which the cutter wears.
    pub relief: Angle,
    /// Rake at its edge.
    pub rake: Angle,
    /// How much of a new edge's work a reground edge does.
    pub edge_share: f64,
}

/// What holds the best wear land where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PullBound {
    /// Nothing: sooner and later both cost more.
    Inside,
    /// The widest wear land that the work allows; later would cost less.
    WorkAllows,
    /// The least wear land that was looked at; sooner would cost less.
    LeastLookedAt,
}

/// When to pull a cutter.
#[derive(Clone, Debug, PartialEq)]
pub struct Pull {
    /// The wear land at which a part costs least.
    pub wear_land: Length,
    /// What holds it there.
    pub bound: PullBound,
    /// What a part costs in cutter, regrinds and changes.
    pub cost_per_part: Money,
    /// Parts that one new edge cuts until then.
    pub parts_per_edge: f64,
    /// Regrinds over the cutter's life, part of one counted as that part.
    pub regrinds: f64,
    /// Stock of each, off the diameter.
    pub stock: Length,
    /// Between these wear lands a part costs at most the share `within` more.
    pub flat: (Length, Length),
    /// That share.
    pub within: f64,
    /// Whether the best wear land lies beyond the widest that was read.
    pub is_guess: bool,
}

/// A part may cost this share more within the flat region.
const FLAT: f64 = 0.02;

/// Wear lands tried between the least and the widest, and how often the best is narrowed.
const STEPS: u32 = 400;
const NARROWINGS: usize = 80;

/// The least wear land that is looked at, as a share of the widest (own choice, no source).
const LEAST_SHARE: f64 = 0.02;

impl Economy {
    /// Stock off the diameter that a regrind takes at this wear land.
    pub fn stock(&self, wear_land: Length) -> Length {
        2.0 * worn_depth(wear_land, self.relief, self.rake) + self.beyond_wear
    }

    /// What a part costs where every edge cuts `parts` parts to this wear land; endless where an
    /// edge cuts none.
    ///
    /// With s the stock, k = room/s regrinds, P the price, g = grind + grind_per_mm·s, c the change
    /// and e the share of a new edge's work: (P + k·g + (k + 1)·c) / ((1 + k·e)·parts).
    ///
    /// **Source** \[own-derivation\] as above. **Departs** by letting k be no whole number, since
    /// stock scatters from grind to grind. **Error** for a single cutter of which every stock is
    /// known, what the whole number below k in its place changes. **Domain** stock above zero.
    pub fn cost_per_part(&self, wear_land: Length, parts: f64) -> Money {
        let stock = self.stock(wear_land);
        let regrinds = self.room / stock;
        let grind = self.grind + self.grind_per_mm * stock.mm();
        let whole = self.new_price + grind * regrinds + self.change * (regrinds + 1.0);
        let cost = whole / ((1.0 + regrinds * self.edge_share) * parts);
        if parts > 0.0 { cost } else { Money::from_amount(f64::INFINITY) }
    }

    fn check(&self) -> Result<(), ShopError> {
        above_zero("new_price", self.new_price.amount())?;
        not_negative("grind", self.grind.amount())?;
        not_negative("grind_per_mm", self.grind_per_mm.amount())?;
        not_negative("change", self.change.amount())?;
        not_negative("room", self.room.mm())?;
        above_zero("beyond_wear", self.beyond_wear.mm())?;
        above_zero("edge_share", self.edge_share)?;
        let straight = self.relief.tan() * self.rake.tan();
        let is_tooth = self.relief > Angle::ZERO && self.relief.is_finite() && straight < 1.0;
        if is_tooth && self.rake.is_finite() {
            Ok(())
        } else {
            let relief = self.relief.degrees();
            let reason = format!("{relief:.1} deg, but it is above 0 and leaves a tooth");
            Err(ShopError::invalid("relief", reason))
        }
    }
}

/// When to pull a cutter whose wear grows along a curve that was read.
///
/// # Errors
/// As [`pull_by`].
pub fn pull_at(economy: &Economy, curve: &WearCurve, widest: Length) -> Result<Pull, ShopError> {
    let pull = pull_by(economy, |wear_land| curve.parts(wear_land), widest)?;
    Ok(Pull { is_guess: pull.wear_land > curve.widest_read, ..pull })
}

/// When to pull a cutter of which one new edge cuts `parts` until its wear land is so wide. The
/// wear lands looked at end with the widest that the work allows.
///
/// # Errors
/// `Invalid` where an amount is out of its domain, or no edge cuts a part within the widest wear
/// land.
pub fn pull_by(
    economy: &Economy,
    parts: impl Fn(Length) -> f64,
    widest: Length,
) -> Result<Pull, ShopError> {
    economy.check()?;
    above_zero("widest wear land", widest.mm())?;
    let cost = |wear_mm: f64| {
        let wear_land = Length::from_mm(wear_mm);
        economy.cost_per_part(wear_land, parts(wear_land)).amount()
    };
    let (low, high) = (LEAST_SHARE * widest.mm(), widest.mm());
    let best_mm = least(&cost, low, high);
    let best = cost(best_mm);
    if !best.is_finite() {
        let reason = "no edge cuts a part before its wear land is that wide: allow more wear";
        return Err(ShopError::invalid("widest wear land", reason));
    }
    let wear_land = Length::from_mm(best_mm);
    let most = best * (1.0 + FLAT);
    let stock = economy.stock(wear_land);
    Ok(Pull {
        wear_land,
        bound: bound(best_mm, low, high),
        cost_per_part: Money::from_amount(best),
        parts_per_edge: parts(wear_land),
        regrinds: economy.room / stock,
        stock,
        flat: (
            Length::from_mm(edge_of(|wear_mm| cost(wear_mm) <= most, best_mm, low)),
            Length::from_mm(edge_of(|wear_mm| cost(wear_mm) <= most, best_mm, high)),
        ),
        within: FLAT,
        is_guess: false,
    })
}

fn bound(best: f64, low: f64, high: f64) -> PullBound {
    let hair = 1e-6 * high;
    if best >= high - hair {
        PullBound::WorkAllows
    } else if best <= low + hair {
        PullBound::LeastLookedAt
    } else {
        PullBound::Inside
    }
}

/// Where a function is least between two places: by steps, the best of which is narrowed.
fn least(cost: &impl Fn(f64) -> f64, low: f64, high: f64) -> f64 {
    let step = (high - low) / f64::from(STEPS);
    let places = (0..=STEPS).map(|at| low + step * f64::from(at));
    let best = places.min_by(|a, b| cost(*a).total_cmp(&cost(*b))).unwrap_or(low);
    let (mut left, mut right) = ((best - step).max(low), (best + step).min(high));
    for _ in 0..NARROWINGS {
        let third = (right - left) / 3.0;
        if cost(left + third) <= cost(right - third) {
            right -= third;
        } else {
            left += third;
        }
    }
    // An end of the span is one exactly, not to within a narrowing.
    [low, f64::midpoint(left, right), high]
        .into_iter()
        .min_by(|a, b| cost(*a).total_cmp(&cost(*b)))
        .unwrap_or(best)
}

/// How far a statement that holds at `inside` holds on the way to `end`: by steps until it fails,
/// then by halving.
fn edge_of(holds: impl Fn(f64) -> bool, inside: f64, end: f64) -> f64 {
    let step = (end - inside) / f64::from(STEPS);
    let Some(fails) = (1..=STEPS).find(|at| !holds(inside + step * f64::from(*at))) else {
        return end;
    };
    let mut near = inside + step * f64::from(fails - 1);
    let mut far = inside + step * f64::from(fails);
    for _ in 0..NARROWINGS {
        let middle = f64::midpoint(near, far);
        if holds(middle) {
            near = middle;
        } else {
            far = middle;
        }
    }
    near
}
