//! Angle, kept in radians.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A signed plane angle. Kept in radians; every way in and out names its unit.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle {
    radians: f64,
}

impl Angle {
    /// No angle at all.
    pub const ZERO: Self = Self { radians: 0.0 };

    /// From radians.
    pub const fn from_radians(radians: f64) -> Self {
        Self { radians }
    }

    /// From degrees.
    pub const fn from_degrees(degrees: f64) -> Self {
        Self { radians: degrees.to_radians() }
    }

    /// From minutes of arc.
    pub const fn from_minutes(minutes: f64) -> Self {
        Self::from_degrees(minutes / 60.0)
    }

    /// The angle whose tangent is `ratio`, between −90 and 90 degrees.
    pub fn from_tangent(ratio: f64) -> Self {
        Self { radians: ratio.atan() }
    }

    /// In radians.
    pub const fn radians(self) -> f64 {
        self.radians
    }

    /// In degrees.
    pub const fn degrees(self) -> f64 {
        self.radians.to_degrees()
    }

    /// Its sine.
    pub fn sin(self) -> f64 {
        self.radians.sin()
    }

    /// Its cosine.
    pub fn cos(self) -> f64 {
        self.radians.cos()
    }

    /// Its tangent.
    pub fn tan(self) -> f64 {
        self.radians.tan()
    }

    /// Its size without its sign.
    pub const fn abs(self) -> Self {
        Self { radians: self.radians.abs() }
    }

    /// The smaller of two.
    pub const fn min(self, other: Self) -> Self {
        Self { radians: self.radians.min(other.radians) }
    }

    /// The larger of two.
    pub const fn max(self, other: Self) -> Self {
        Self { radians: self.radians.max(other.radians) }
    }

    /// Whether it is a number at all, and not endless.
    pub const fn is_finite(self) -> bool {
        self.radians.is_finite()
    }

    /// The nearest whole multiple of `step`; itself when the step is not positive.
    pub fn snapped_to(self, step: Self) -> Self {
        if step.radians > 0.0 {
            Self { radians: (self.radians / step.radians).round() * step.radians }
        } else {
            self
        }
    }
}

impl Add for Angle {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { radians: self.radians + other.radians }
    }
}

impl Sub for Angle {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { radians: self.radians - other.radians }
    }
}

impl Neg for Angle {
    type Output = Self;
    fn neg(self) -> Self {
        Self { radians: -self.radians }
    }
}

impl Mul<f64> for Angle {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self { radians: self.radians * factor }
    }
}

impl Div<f64> for Angle {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self { radians: self.radians / divisor }
    }
}

impl Div for Angle {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.radians / other.radians
    }
}
