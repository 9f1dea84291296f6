//! Money, in whatever currency the shop reckons in.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Sub};

/// An amount of the shop's own currency; one currency throughout.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Money {
    amount: f64,
}

impl Money {
    /// Nothing.
    pub const ZERO: Self = Self { amount: 0.0 };

    /// From an amount in whole units of the currency and parts of them.
    pub const fn from_amount(amount: f64) -> Self {
        Self { amount }
    }

    /// The amount in units of the currency.
    pub const fn amount(self) -> f64 {
        self.amount
    }

    /// Whether it is a number at all, and not endless.
    pub const fn is_finite(self) -> bool {
        self.amount.is_finite()
    }

    /// The larger of two amounts.
    pub const fn max(self, other: Self) -> Self {
        Self { amount: self.amount.max(other.amount) }
    }

    /// The nearest whole multiple of a coin, halves away from zero; itself where the coin is not
    /// above zero.
    pub fn rounded_to(self, coin: Self) -> Self {
        if coin.amount > 0.0 {
            let count = self.amount / coin.amount;
            // A hair more, so that what is a half in writing is one in binary too.
            Self { amount: (count + count.signum() * 1e-9).round() * coin.amount }
        } else {
            self
        }
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = format!("{:.2}", self.amount);
        f.pad(if text == "-0.00" { "0.00" } else { &text })
    }
}

impl Add for Money {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { amount: self.amount + other.amount }
    }
}

impl AddAssign for Money {
    fn add_assign(&mut self, other: Self) {
        self.amount += other.amount;
    }
}

impl Sub for Money {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { amount: self.amount - other.amount }
    }
}

impl Mul<f64> for Money {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self { amount: self.amount * factor }
    }
}

impl Div<f64> for Money {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self { amount: self.amount / divisor }
    }
}

impl Div for Money {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.amount / other.amount
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_round_to_the_coin_and_halves_away_from_zero() {
        let coin = Money::from_amount(0.05);
        let rounded = |amount| Money::from_amount(amount).rounded_to(coin).to_string();
        assert_eq!(rounded(1.02), "1.00");
        assert_eq!(rounded(1.025), "1.05");
        assert_eq!(rounded(-1.025), "-1.05");
        let cent = Money::from_amount(0.01);
        assert_eq!(Money::from_amount(1.005).rounded_to(cent).to_string(), "1.01");
        assert_eq!(Money::from_amount(1.5).rounded_to(Money::ZERO), Money::from_amount(1.5));
    }

    #[test]
    fn nothing_has_no_sign() {
        assert_eq!(Money::from_amount(-0.001).to_string(), "0.00");
        assert_eq!(format!("{:>6}", Money::from_amount(2.5)), "  2.50");
    }
}
