//! The shop's own rates.

use geometry::Length;
use trade::Minutes;

use super::money::Money;
use super::{above_zero, not_negative};
use crate::error::ShopError;

/// Rates before they are checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RatesDraft {
    /// What an hour of a hand costs.
    pub labour_per_hour: Money,
    /// What an hour of the machine costs beside the hand.
    pub machine_per_hour: Money,
    /// How long a set-up takes.
    pub setup: Minutes,
    /// How long a tooth takes on one surface, passes left out: indexing, sparking out, looking.
    pub per_tooth: Minutes,
    /// How long one pass takes over one tooth.
    pub per_pass: Minutes,
    /// How much of a surface an ordinary pass takes.
    pub pass_depth: Length,
    /// How long a cutter is handled beside the grinding: received, washed, checked, tagged.
    pub handling: Minutes,
    /// What goes with each cutter: tag, wax, box, carriage.
    pub supplies: Money,
}

/// Sound rates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rates {
    facts: RatesDraft,
}

impl RatesDraft {
    /// Checks every rate.
    ///
    /// # Errors
    /// `Invalid` with the rate that is no number or below zero; a pass must take something.
    pub fn build(self) -> Result<Rates, ShopError> {
        let amounts = [
            ("rates.labour_per_hour", self.labour_per_hour.amount()),
            ("rates.machine_per_hour", self.machine_per_hour.amount()),
            ("rates.setup", self.setup.minutes()),
            ("rates.per_tooth", self.per_tooth.minutes()),
            ("rates.per_pass", self.per_pass.minutes()),
            ("rates.handling", self.handling.minutes()),
            ("rates.supplies", self.supplies.amount()),
        ];
        amounts.iter().try_for_each(|(field, amount)| not_negative(field, *amount))?;
        above_zero("rates.pass_depth", self.pass_depth.mm())?;
        Ok(Rates { facts: self })
    }
}

impl Rates {
    /// The rates as they were given.
    pub const fn draft(&self) -> RatesDraft {
        self.facts
    }

    /// What so long at the machine costs, hand and machine together.
    pub fn at_machine(&self, minutes: f64) -> Money {
        (self.facts.labour_per_hour + self.facts.machine_per_hour) * (minutes / 60.0)
    }

    /// What so long at the bench costs, the hand alone.
    pub fn at_bench(&self, minutes: f64) -> Money {
        self.facts.labour_per_hour * (minutes / 60.0)
    }
}
