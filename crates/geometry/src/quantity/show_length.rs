//! Showing a length to a person, in inches, millimetres or both.

use std::fmt;

use super::length::Length;

/// A system of units.
///
/// ```
/// use geometry::System;
///
/// assert_eq!(System::Inch.unit(), "in");
/// assert_eq!(System::Millimetre.unit(), "mm");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum System {
    /// Inches and decimals of an inch.
    Inch,
    /// Millimetres.
    Millimetre,
}

impl System {
    /// The sign of its unit of length, as it is written behind a number.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Millimetre => "mm",
        }
    }

    const fn other(self) -> Self {
        match self {
            Self::Inch => Self::Millimetre,
            Self::Millimetre => Self::Inch,
        }
    }

    const fn measure(self, length: Length) -> f64 {
        match self {
            Self::Inch => length.inches(),
            Self::Millimetre => length.mm(),
        }
    }

    /// The decimals that a person of the trade expects: tenths of a thou, or micrometres.
    const fn decimals(self) -> usize {
        match self {
            Self::Inch => 4,
            Self::Millimetre => 3,
        }
    }
}

/// A length written for a person; [`Display`](fmt::Display) gives the text, padded as asked.
///
/// ```
/// use geometry::{Length, System};
///
/// let shown = Length::from_inches(0.375).show(System::Inch);
/// assert_eq!(shown.as_str(), "0.3750 in");
/// assert_eq!(format!("{shown:>12}"), "   0.3750 in");
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ShownLength {
    text: String,
}

impl ShownLength {
    /// The text.
    pub fn as_str(&self) -> &str {
        &self.text
    }

    fn decimal(length: Length, system: System, decimals: usize) -> Self {
        let text = if length.is_finite() {
            format!("{} {}", plain_decimal(system.measure(length), decimals), system.unit())
        } else {
            "no length".to_owned()
        };
        Self { text }
    }
}

impl fmt::Display for ShownLength {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_whole(&self.text, f)
    }
}

impl Length {
    /// Shown in one system: inches to 4 decimals, millimetres to 3.
    ///
    /// A length that is no number or endless is shown as `no length`.
    ///
    /// ```
    /// use geometry::{Length, System};
    ///
    /// let length = Length::from_mm(-1.1024);
    /// assert_eq!(length.show(System::Inch).to_string(), "-0.0434 in");
    /// assert_eq!(length.show(System::Millimetre).to_string(), "-1.102 mm");
    /// assert_eq!(Length::from_um(-0.1).show(System::Inch).to_string(), "0.0000 in");
    /// ```
    pub fn show(self, system: System) -> ShownLength {
        ShownLength::decimal(self, system, system.decimals())
    }

    /// Shown as the nearest multiple of `step`, the smallest amount that a person can set.
    ///
    /// A step that comes out even in the system sets the decimals: 0.01 mm needs two. A step of
    /// the other system gets as many as keep rounding below a sixth of the step, so that
    /// neighbouring marks never look alike. Without a positive step it is [`Length::show`].
    ///
    /// ```
    /// use geometry::{Length, System};
    ///
    /// let length = Length::from_mm(1.1024);
    /// let half_thou = Length::from_inches(0.0005);
    /// assert_eq!(length.show_to(System::Inch, half_thou).to_string(), "0.0435 in");
    /// assert_eq!(length.show_to(System::Millimetre, half_thou).to_string(), "1.105 mm");
    ///
    /// let hundredth = Length::from_mm(0.01);
    /// assert_eq!(length.show_to(System::Millimetre, hundredth).to_string(), "1.10 mm");
    /// assert_eq!(length.show_to(System::Inch, hundredth).to_string(), "0.0433 in");
    /// ```
    pub fn show_to(self, system: System, step: Length) -> ShownLength {
        if !(step.is_finite() && step > Self::ZERO) {
            return self.show(system);
        }
        let decimals = decimals_of_step(system.measure(step), system.decimals());
        ShownLength::decimal(self.snapped_to(step), system, decimals)
    }

    /// Shown in both systems, the second in brackets.
    ///
    /// ```
    /// use geometry::{Length, System};
    ///
    /// let length = Length::from_mm(1.1024);
    /// assert_eq!(length.show_both(System::Inch).to_string(), "0.0434 in (1.102 mm)");
    /// assert_eq!(length.show_both(System::Millimetre).to_string(), "1.102 mm (0.0434 in)");
    /// ```
    pub fn show_both(self, first: System) -> ShownLength {
        let shown = self.show(first);
        if !self.is_finite() {
            return shown;
        }
        ShownLength { text: format!("{shown} ({})", self.show(first.other())) }
    }

    /// Shown in inches as a whole and a fraction, when it lies within 1 µm of one whose
    /// denominator is a power of two up to `denominator_max`; the smallest such denominator.
    ///
    /// Rules and drawings stop at 64. From 4096 on the fractions lie so close that many a length
    /// meets one by chance.
    ///
    /// ```
    /// use geometry::Length;
    ///
    /// let fraction = |length: Length| length.show_fraction(64).map(|shown| shown.to_string());
    /// assert_eq!(fraction(Length::from_mm(34.925)).as_deref(), Some("1-3/8 in"));
    /// assert_eq!(fraction(Length::from_mm(-12.7)).as_deref(), Some("-1/2 in"));
    /// assert_eq!(fraction(Length::from_mm(50.8)).as_deref(), Some("2 in"));
    /// assert_eq!(fraction(Length::from_mm(12.6)), None);
    /// ```
    pub fn show_fraction(self, denominator_max: u32) -> Option<ShownLength> {
        std::iter::successors(Some(1_u32), |denominator| denominator.checked_mul(2))
            .take_while(|&denominator| denominator <= denominator_max)
            .find_map(|denominator| self.as_parts(f64::from(denominator)))
            .map(|text| ShownLength { text })
    }

    /// Written in parts of `denominator` to the inch, when it lies within 1 µm of a whole number
    /// of them. An endless length is near none, as its distance is no number.
    fn as_parts(self, denominator: f64) -> Option<String> {
        let parts = (self.inches() * denominator).round();
        let miss = (self - Self::from_inches(parts / denominator)).abs();
        (miss <= Self::from_um(1.0)).then(|| fraction_text(parts, denominator))
    }
}

fn fraction_text(parts: f64, denominator: f64) -> String {
    let sign = if parts < 0.0 { "-" } else { "" };
    let whole = (parts.abs() / denominator).floor();
    let above = parts.abs() - whole * denominator;
    if above == 0.0 {
        format!("{sign}{whole} in")
    } else if whole == 0.0 {
        format!("{sign}{above}/{denominator} in")
    } else {
        format!("{sign}{whole}-{above}/{denominator} in")
    }
}

/// A number to so many decimals, without a sign when all of them are zero.
pub(super) fn plain_decimal(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(unsigned) if unsigned.chars().all(|c| c == '0' || c == '.') => unsigned.to_owned(),
        _ => text,
    }
}

/// The decimals that show multiples of a step (given in the unit shown) so that no two look
/// alike: as many as the step itself has, up to the `customary` ones, else enough that rounding
/// loses at most a sixth of a step.
pub(super) fn decimals_of_step(step: f64, customary: usize) -> usize {
    // Finer than a billionth of the unit nothing is settable, and no more digits are printed.
    const MOST: usize = 9;
    let mut scaled = (0..=MOST).zip(std::iter::successors(Some(step), |step| Some(step * 10.0)));
    scaled
        .clone()
        .take(customary + 1)
        .find(|&(_, step)| is_whole(step))
        .or_else(|| scaled.find(|&(_, step)| step >= 3.0))
        .map_or(MOST, |(decimals, _)| decimals)
}

/// Whether a positive number is a whole one but for the noise of a conversion.
pub(super) fn is_whole(value: f64) -> bool {
    value >= 0.5 && (value - value.round()).abs() <= 1e-9 * value
}

/// Writes the whole text, padded to the width asked for. A precision would cut digits off a
/// number without a trace, so it is not passed on.
pub(super) fn write_whole(text: &str, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    if f.precision().is_some() { f.write_str(text) } else { f.pad(text) }
}
