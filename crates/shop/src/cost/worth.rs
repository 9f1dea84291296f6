//! Whether a regrind is worth it, and by how much.

use super::money::Money;
use super::{above_zero, not_negative};
use crate::error::ShopError;
use crate::learn::Lives;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorthQuestion {
    /// What the regrind costs.
    pub grind: Money,
    /// What a new cutter costs.
    pub new_price: Money,
    /// How much of a new edge's work a reground edge does: 1 where it is as good.
    pub edge_share: f64,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Worth {
    /// Whether the regrind is worth it: an edge it makes costs less than a new one, and the cutter
    /// has a life left.
    pub is_worth: bool,
    /// What the regrind saves against a new cutter for the same work; below zero where it costs
    /// more.
    pub saved: Money,
    /// The most a regrind may cost to be worth it.
    pub grind_at_most: Money,
    /// What the life of one edge costs where cutters are thrown away dull.
    pub per_edge_new: Money,
    /// What the life of a new edge costs by this regrind.
    pub per_edge_reground: Money,
    /// What it costs over the cutter's whole life, at the lives expected.
    pub per_edge_over_life: Money,
    /// The same at the fewest and at the most lives.
    pub per_edge_range: (Money, Money),
}

/// Weighs a regrind against a new cutter.
///
/// A cutter of price P that is reground n times at g each, its reground edges doing the share e of
/// a new edge's work, costs (P + n·g)/(1 + n·e) for the work of a new edge. That lies between P and
/// g/e and falls with n exactly where g/e < P; so one regrind more is worth it exactly then,
/// however many there were before, and saves e·P − g.
///
/// **Source** \[own-derivation\] as above. **Departs** by leaving out what the cutter fetches as
/// scrap, and what a smaller diameter costs at the milling machine. **Error** that of rates and
/// share. **Domain** e above 0 and up to 2.
///
/// # Errors
/// `Invalid` where an amount is below zero or the share out of its domain.
pub fn worth(question: &WorthQuestion, lives: &Lives) -> Result<Worth, ShopError> {
    let WorthQuestion { grind, new_price, edge_share } = *question;
    not_negative("grind", grind.amount())?;
    above_zero("new_price", new_price.amount())?;
    above_zero("edge_share", edge_share)?;
    if edge_share > 2.0 {
        let reason = format!("{edge_share}, but a reground edge does at most twice a new one's");
        return Err(ShopError::invalid("edge_share", reason));
    }
    let over_life = |lives: u32| {
        let lives = f64::from(lives);
        (new_price + grind * lives) / (1.0 + edge_share * lives)
    };
    let saved = new_price * edge_share - grind;
    Ok(Worth {
        is_worth: saved > Money::ZERO && lives.expected > 0,
        saved,
        grind_at_most: new_price * edge_share,
        per_edge_new: new_price,
        per_edge_reground: grind / edge_share,
        per_edge_over_life: over_life(lives.expected),
        per_edge_range: (over_life(lives.least), over_life(lives.greatest)),
    })
}
