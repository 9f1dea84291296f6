//! A quote for a lot of cutters.

use trade::{Minutes, Share};

use super::grind::{GrindWork, cost_of_grind};
use super::money::Money;
use super::not_negative;
use super::rates::Rates;
use crate::error::ShopError;

/// Cutters of a lot that are ground alike, in one set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct LotLine {
    /// What they are, in words.
    pub what: String,
    /// How many there are.
    pub count: u32,
    /// The work on one; who shares its set-up is put in from the count.
    pub work: GrindWork,
    /// What a new one costs, where that is known.
    pub new_price: Option<Money>,
}

/// The terms of a quote.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Terms {
    /// What is put on top of the cost.
    pub margin: Share,
    /// What the lot costs beside its cutters: unpacking, papers, carriage.
    pub per_lot: Money,
    /// The least that is charged for a lot.
    pub least_charge: Money,
    /// The coin to which a price is rounded, such as 0.01.
    pub coin: Money,
}

/// One line of a quote.
#[derive(Clone, Debug, PartialEq)]
pub struct QuoteLine {
    /// What they are.
    pub what: String,
    /// How many.
    pub count: u32,
    /// The price of one.
    pub each: Money,
    /// The price of all.
    pub sum: Money,
    /// What all save against new ones; below zero where they cost more.
    pub saved: Option<Money>,
}

/// A quote.
#[derive(Clone, Debug, PartialEq)]
pub struct Quote {
    /// Its lines, in the order of the lot.
    pub lines: Vec<QuoteLine>,
    /// What the lot costs beside its cutters.
    pub per_lot: Money,
    /// What is put on to reach the least charge.
    pub to_least_charge: Money,
    /// The whole: every line and what stands beside them.
    pub total: Money,
    /// How long it takes at the machine.
    pub at_machine: Minutes,
    /// What a reader should know.
    pub remarks: Vec<String>,
}

/// Quotes for a lot. Prices are rounded for one cutter, so that lines and total add up as written.
///
/// # Errors
/// `Invalid` where the lot is empty, a line counts none, or an amount is below zero.
pub fn quote(rates: &Rates, lot: &[LotLine], terms: &Terms) -> Result<Quote, ShopError> {
    check(lot, terms)?;
    let priced = lot.iter().map(|line| priced(rates, line, terms));
    let priced: Vec<(QuoteLine, f64)> = priced.collect::<Result<_, _>>()?;
    let minutes = priced.iter().map(|(_, minutes)| minutes).sum();
    let lines: Vec<QuoteLine> = priced.into_iter().map(|(line, _)| line).collect();
    let per_lot = terms.per_lot.rounded_to(terms.coin);
    let sum = lines.iter().map(|line| line.sum).sum::<Money>() + per_lot;
    let to_least_charge = (terms.least_charge.rounded_to(terms.coin) - sum).max(Money::ZERO);
    Ok(Quote {
        remarks: lines.iter().filter_map(remark).collect(),
        lines,
        per_lot,
        to_least_charge,
        total: sum + to_least_charge,
        at_machine: Minutes::from_minutes(minutes),
    })
}

fn priced(rates: &Rates, line: &LotLine, terms: &Terms) -> Result<(QuoteLine, f64), ShopError> {
    let work = GrindWork { setup_shared_by: line.count, ..line.work.clone() };
    let cost = cost_of_grind(rates, &work)?;
    let count = f64::from(line.count);
    let each = (cost.total() * (1.0 + terms.margin.of_one())).rounded_to(terms.coin);
    let priced = QuoteLine {
        what: line.what.clone(),
        count: line.count,
        each,
        sum: each * count,
        saved: line.new_price.map(|price| (price - each) * count),
    };
    Ok((priced, count * cost.at_machine.minutes()))
}

fn remark(line: &QuoteLine) -> Option<String> {
    let saved = line.saved.filter(|saved| *saved < Money::ZERO)?;
    let more = Money::ZERO - saved;
    Some(format!("{}: new ones cost {more} less than grinding these", line.what))
}

fn check(lot: &[LotLine], terms: &Terms) -> Result<(), ShopError> {
    if lot.is_empty() {
        return Err(ShopError::invalid("lot", "empty: put a line for each kind of cutter"));
    }
    if let Some(line) = lot.iter().find(|line| line.count == 0) {
        return Err(ShopError::invalid("lot.count", format!("{}: 0, but one at least", line.what)));
    }
    let prices = lot.iter().filter_map(|line| line.new_price);
    prices.map(Money::amount).try_for_each(|price| not_negative("lot.new_price", price))?;
    not_negative("terms.margin", terms.margin.percent())?;
    not_negative("terms.per_lot", terms.per_lot.amount())?;
    not_negative("terms.least_charge", terms.least_charge.amount())?;
    not_negative("terms.coin", terms.coin.amount())
}
