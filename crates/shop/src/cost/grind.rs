//! What one regrind costs.

use geometry::Length;
use trade::Minutes;

use super::money::Money;
use super::rates::Rates;
use super::{above_zero, not_negative};
use crate::error::ShopError;

/// What a wheel costs over one cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelUse {
    /// Price of the wheel.
    pub price: Money,
    /// Depth of it that can be used up.
    pub usable: Length,
    /// Depth that it loses over one cutter.
    pub lost_per_cutter: Length,
    /// Depth that dressing takes, for each cutter.
    pub dressed_per_cutter: Length,
}

/// The work on one cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GrindWork {
    /// Number of teeth.
    pub teeth: u32,
    /// Surfaces ground on each tooth: the primary is one, the secondary another.
    pub surfaces: u32,
    /// Stock off the diameter.
    pub stock: Length,
    /// How many cutters share the set-up.
    pub setup_shared_by: u32,
    /// The wheel.
    pub wheel: WheelUse,
}

/// What one regrind costs, by its parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GrindCost {
    /// Its share of the set-up.
    pub setup: Money,
    /// The grinding.
    pub grinding: Money,
    /// The wheel.
    pub wheel: Money,
    /// Handling and supplies.
    pub handling: Money,
    /// How long it takes at the machine, its share of the set-up included.
    pub at_machine: Minutes,
}

impl GrindCost {
    /// All parts together.
    pub fn total(&self) -> Money {
        self.setup + self.grinding + self.wheel + self.handling
    }
}

/// What one regrind costs by the shop's own rates.
///
/// **Source** \[own-derivation\] set-up over those who share it; teeth × surfaces × (minutes a
/// tooth + minutes a pass × stock on the radius over the depth of a pass); price of the wheel ×
/// depth it loses over depth it has; handling. **Departs** by counting part of a pass as that part,
/// and the stock on every surface. **Error** that of the rates. **Domain** regrinds on the
/// periphery.
///
/// # Errors
/// `Invalid` where a count is zero, or a length or an amount is no number or below zero.
pub fn cost_of_grind(rates: &Rates, work: &GrindWork) -> Result<GrindCost, ShopError> {
    check(work)?;
    let facts = rates.draft();
    let passes = 0.5 * work.stock.mm() / facts.pass_depth.mm();
    let of_tooth = facts.per_tooth.minutes() + facts.per_pass.minutes() * passes;
    let grinding = f64::from(work.teeth) * f64::from(work.surfaces) * of_tooth;
    let setup = facts.setup.minutes() / f64::from(work.setup_shared_by);
    let wheel = &work.wheel;
    let lost = (wheel.lost_per_cutter + wheel.dressed_per_cutter) / wheel.usable;
    Ok(GrindCost {
        setup: rates.at_machine(setup),
        grinding: rates.at_machine(grinding),
        wheel: wheel.price * lost,
        handling: rates.at_bench(facts.handling.minutes()) + facts.supplies,
        at_machine: Minutes::from_minutes(setup + grinding),
    })
}

fn check(work: &GrindWork) -> Result<(), ShopError> {
    let counts = [
        ("work.teeth", work.teeth),
        ("work.surfaces", work.surfaces),
        ("work.setup_shared_by", work.setup_shared_by),
    ];
    counts.iter().try_for_each(|(field, count)| above_zero(field, f64::from(*count)))?;
    let wheel = &work.wheel;
    not_negative("work.stock", work.stock.mm())?;
    not_negative("wheel.price", wheel.price.amount())?;
    not_negative("wheel.lost_per_cutter", wheel.lost_per_cutter.mm())?;
    not_negative("wheel.dressed_per_cutter", wheel.dressed_per_cutter.mm())?;
    above_zero("wheel.usable", wheel.usable.mm())
}
