//! Length, kept in millimetres.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// Millimetres in one inch, exact since the international inch of 1959.
pub const MM_PER_INCH: f64 = 25.4;

/// A signed length. Kept in millimetres; every way in and out names its unit.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length {
    mm: f64,
}

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self { mm: 0.0 };

    /// From millimetres.
    pub const fn from_mm(mm: f64) -> Self {
        Self { mm }
    }

    /// From micrometres.
    pub const fn from_um(um: f64) -> Self {
        Self { mm: um / 1000.0 }
    }

    /// From inches.
    pub const fn from_inches(inches: f64) -> Self {
        Self { mm: inches * MM_PER_INCH }
    }

    /// From thousandths of an inch.
    pub const fn from_thou(thou: f64) -> Self {
        Self { mm: thou * MM_PER_INCH / 1000.0 }
    }

    /// In millimetres.
    pub const fn mm(self) -> f64 {
        self.mm
    }

    /// In micrometres.
    pub const fn um(self) -> f64 {
        self.mm * 1000.0
    }

    /// In inches.
    pub const fn inches(self) -> f64 {
        self.mm / MM_PER_INCH
    }

    /// In thousandths of an inch.
    pub const fn thou(self) -> f64 {
        self.mm * 1000.0 / MM_PER_INCH
    }

    /// Its size without its sign.
    pub const fn abs(self) -> Self {
        Self { mm: self.mm.abs() }
    }

    /// The smaller of two lengths.
    pub const fn min(self, other: Self) -> Self {
        Self { mm: self.mm.min(other.mm) }
    }

    /// The larger of two lengths.
    pub const fn max(self, other: Self) -> Self {
        Self { mm: self.mm.max(other.mm) }
    }

    /// Whether it is a number at all, and not endless.
    pub const fn is_finite(self) -> bool {
        self.mm.is_finite()
    }

    /// The nearest whole multiple of `step`; itself when the step is not positive.
    pub fn snapped_to(self, step: Self) -> Self {
        if step.mm > 0.0 { Self { mm: (self.mm / step.mm).round() * step.mm } } else { self }
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { mm: self.mm + other.mm }
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.mm += other.mm;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { mm: self.mm - other.mm }
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.mm -= other.mm;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self { mm: -self.mm }
    }
}

impl Mul<f64> for Length {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self { mm: self.mm * factor }
    }
}

impl Mul<Length> for f64 {
    type Output = Length;
    fn mul(self, length: Length) -> Length {
        length * self
    }
}

impl Div<f64> for Length {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self { mm: self.mm / divisor }
    }
}

impl Div for Length {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.mm / other.mm
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}
