//! A shop's own list of prices: its rates, its terms, its wheels and what new cutters cost.

use geometry::Length;
use trade::ToolMaterial;

use super::grind::WheelUse;
use super::money::Money;
use super::quote::Terms;
use super::rates::Rates;
use crate::record::Cutter;

/// What a wheel costs; of every other wheel where it names none.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelPrice {
    /// The wheel's number.
    pub number: Option<String>,
    /// What it costs over one cutter.
    pub wheel_use: WheelUse,
}

/// What new cutters of a kind cost. What is not named stands for all.
#[derive(Clone, Debug, PartialEq)]
pub struct NewPrice {
    /// The number of one cutter.
    pub cutter: Option<String>,
    /// The material of the teeth.
    pub material: Option<ToolMaterial>,
    /// The largest nominal diameter that still costs this.
    pub up_to: Option<Length>,
    /// The price.
    pub price: Money,
}

/// A list of prices.
#[derive(Clone, Debug, PartialEq)]
pub struct Prices {
    /// What amounts are written in.
    pub currency: String,
    /// The shop's rates.
    pub rates: Rates,
    /// The terms of its quotes.
    pub terms: Terms,
    /// How much of a new edge's work a reground edge does.
    pub edge_share: f64,
    /// Its wheels.
    pub wheels: Vec<WheelPrice>,
    /// New cutters.
    pub new: Vec<NewPrice>,
}

impl Prices {
    /// What a wheel costs over one cutter: its own line, else the line for every other.
    pub fn wheel_use(&self, number: Option<&str>) -> Option<WheelUse> {
        let own =
            self.wheels.iter().find(|line| number.is_some() && line.number.as_deref() == number);
        let other = || self.wheels.iter().find(|line| line.number.is_none());
        own.or_else(other).map(|line| line.wheel_use)
    }

    /// What a new cutter like this costs: the line of its own number, else the first that fits.
    pub fn new_price(&self, cutter: &Cutter) -> Option<Money> {
        let own = |line: &&NewPrice| line.cutter.as_deref() == Some(cutter.number());
        let fits = |line: &&NewPrice| {
            line.cutter.is_none()
                && line.material.is_none_or(|material| material == cutter.material())
                && line.up_to.is_none_or(|most| cutter.diameter() <= most)
        };
        let lines = || self.new.iter();
        lines().find(own).or_else(|| lines().find(fits)).map(|line| line.price)
    }
}
