//! What a regrind costs by the shop's own rates, whether it is worth it against a new cutter, at
//! which wear land to pull a cutter so that a part costs least, and a quote for a lot.
//!
//! No rate is bundled: labour, machine, wheel and price are the shop's own. Everything here is a
//! function of them.

mod grind;
mod lot;
mod money;
mod of_cutter;
mod prices;
mod pull;
mod quote;
mod rates;
mod wear;
mod worth;

pub use grind::{GrindCost, GrindWork, WheelUse, cost_of_grind};
pub use lot::{LotCutter, LotQuote, LotWorth, NotGround, quote_lot};
pub use money::Money;
pub use of_cutter::{PullCutter, pull_cutter};
pub use prices::{NewPrice, Prices, WheelPrice};
pub use pull::{Economy, Pull, PullBound, pull_at, pull_by};
pub use quote::{LotLine, Quote, QuoteLine, Terms, quote};
pub use rates::{Rates, RatesDraft};
pub use wear::{WearCurve, WearReading, wear_curve};
pub use worth::{Worth, WorthQuestion, worth};

use crate::error::ShopError;

/// That an amount is a number and not below zero.
pub(crate) fn not_negative(field: &str, amount: f64) -> Result<(), ShopError> {
    if amount.is_finite() && amount >= 0.0 {
        Ok(())
    } else {
        Err(ShopError::invalid(field, format!("{amount}, but it must be 0 or more")))
    }
}

/// That an amount is a number above zero.
pub(crate) fn above_zero(field: &str, amount: f64) -> Result<(), ShopError> {
    if amount.is_finite() && amount > 0.0 {
        Ok(())
    } else {
        Err(ShopError::invalid(field, format!("{amount}, but it must be above 0")))
    }
}
