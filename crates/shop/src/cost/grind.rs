//! What one regrind costs.

use geometry::Length;
use trade::Minutes;

use super::money::Money;
use super::rates::Rates;
use super::{above_zero, not_negative};
use crate::error::ShopError;
use crate::plan::PartStock;

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
#[derive(Clone, Debug, PartialEq)]
pub struct GrindWork {
    /// Number of teeth.
    pub teeth: u32,
    /// The parts that are ground, with what comes off each.
    pub parts: Vec<PartStock>,
    /// How many cutters share the set-ups.
    pub setup_shared_by: u32,
    /// The wheel.
    pub wheel: WheelUse,
}

/// What one regrind costs, by its parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GrindCost {
    /// Its share of the set-ups.
    pub setup: Money,
    /// The grinding.
    pub grinding: Money,
    /// The wheel.
    pub wheel: Money,
    /// Handling and supplies.
    pub handling: Money,
    /// How long it takes at the machine, its share of the set-ups included.
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
/// **Source** \[own-derivation\] for each part a set-up over those who share it, and teeth ×
/// surfaces × (minutes a tooth + minutes a pass × depth off a surface over that of a pass); price
/// of the wheel × depth it loses over depth it has; handling. **Departs** by counting part of a
/// pass as that part, the stock on every surface, and the wheel once for a cutter however many its
/// parts; gash, chamfer and cutting off are left out. **Error** that of the rates. **Domain**
/// regrinds of periphery, end, corner and face.
///
/// # Errors
/// `Invalid` where a count is zero, no part is named, or a length or an amount is no number or
/// below zero.
pub fn cost_of_grind(rates: &Rates, work: &GrindWork) -> Result<GrindCost, ShopError> {
    check(work)?;
    let facts = rates.draft();
    let of_part = |part: &PartStock| {
        let passes = part.depth() / facts.pass_depth;
        let of_surface = facts.per_tooth.minutes() + facts.per_pass.minutes() * passes;
        f64::from(part.part.surfaces()) * of_surface
    };
    let grinding = f64::from(work.teeth) * work.parts.iter().map(of_part).sum::<f64>();
    let setups = work.parts.len() as f64;
    let setup = facts.setup.minutes() * setups / f64::from(work.setup_shared_by);
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
    let counts = [("work.teeth", work.teeth), ("work.setup_shared_by", work.setup_shared_by)];
    counts.iter().try_for_each(|(field, count)| above_zero(field, f64::from(*count)))?;
    above_zero("work.parts", work.parts.len() as f64)?;
    let wheel = &work.wheel;
    work.parts.iter().try_for_each(|part| not_negative("work.parts", part.off.mm()))?;
    not_negative("wheel.price", wheel.price.amount())?;
    not_negative("wheel.lost_per_cutter", wheel.lost_per_cutter.mm())?;
    not_negative("wheel.dressed_per_cutter", wheel.dressed_per_cutter.mm())?;
    above_zero("wheel.usable", wheel.usable.mm())
}
