//! Quantities that only tables need: surface speed, pressure, a share, a time of work, abrasive
//! content.
//! Lengths and angles come from `geometry`.

use crate::cell::Cell;
use crate::fault::Fault;
use geometry::{Angle, Length};

/// A number with a unit, written as text, never negative in a table.
pub trait Quantity: Copy + PartialOrd {
    /// The units in which it may be written, for a complaint that names the nearest.
    const UNITS: &'static [&'static str];

    /// Reads a text such as `0.015 in`.
    ///
    /// # Errors
    /// Says why the text cannot be read.
    fn from_written(text: &str) -> Result<Self, String>;

    /// Its number in the unit of [`Self::from_raw`].
    fn raw(self) -> f64;

    /// From such a number.
    fn from_raw(number: f64) -> Self;
}

impl Quantity for Length {
    const UNITS: &'static [&'static str] = &["mm", "um", "in", "inch", "thou"];

    fn from_written(text: &str) -> Result<Self, String> {
        text.parse::<Self>().map_err(|error| error.to_string())
    }

    fn raw(self) -> f64 {
        self.mm()
    }

    fn from_raw(number: f64) -> Self {
        Self::from_mm(number)
    }
}

impl Quantity for Angle {
    const UNITS: &'static [&'static str] = &["deg", "min", "sec", "rad"];

    fn from_written(text: &str) -> Result<Self, String> {
        text.parse::<Self>().map_err(|error| error.to_string())
    }

    fn raw(self) -> f64 {
        self.degrees()
    }

    fn from_raw(number: f64) -> Self {
        Self::from_degrees(number)
    }
}

/// Declares a quantity that is kept in the first unit of its list.
macro_rules! quantity {
    (
        $(#[$about:meta])*
        pub struct $name:ident {
            $first:literal = $(#[$one:meta])* $get:ident / $from:ident
            $(, $unit:literal = $factor:literal)*
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            $(#[$one])*
            pub const fn $get(self) -> f64 {
                self.0
            }

            #[doc = concat!("From ", $first, ".")]
            pub const fn $from(number: f64) -> Self {
                Self(number)
            }
        }

        impl Quantity for $name {
            const UNITS: &'static [&'static str] = &[$first $(, $unit)*];

            fn from_written(text: &str) -> Result<Self, String> {
                number_in(text, &[($first, 1.0) $(, ($unit, $factor))*]).map(Self)
            }

            fn raw(self) -> f64 {
                self.0
            }

            fn from_raw(number: f64) -> Self {
                Self(number)
            }
        }

        impl Cell for $name {
            fn from_text(text: &str) -> Result<Self, Fault> {
                one(text)
            }
        }
    };
}

quantity! {
    /// The speed of a wheel's surface. One foot is 0.3048 m exactly, so 1 sfm is 0.3048 m/min.
    pub struct SurfaceSpeed {
        "m/min" = /** In metres per minute. */ m_per_min / from_m_per_min,
        "sfm" = 0.3048, "m/s" = 60.0
    }
}

impl SurfaceSpeed {
    /// In feet per minute.
    pub const fn sfm(self) -> f64 {
        self.0 / 0.3048
    }

    /// In metres per second.
    pub const fn m_per_s(self) -> f64 {
        self.0 / 60.0
    }
}

quantity! {
    /// A pressure above that of the air around. One bar is 14.5038 psi.
    pub struct Pressure {
        "psi" = /** In pounds per square inch. */ psi / from_psi,
        "bar" = 14.503_773_773
    }
}

quantity! {
    /// A share of a whole.
    pub struct Share {
        "%" = /** In percent of the whole. */ percent / from_percent
    }
}

impl Share {
    /// As a part of one.
    pub const fn of_one(self) -> f64 {
        self.0 / 100.0
    }
}

quantity! {
    /// A time of work.
    pub struct Minutes {
        "min" = /** In minutes. */ minutes / from_minutes, "h" = 60.0
    }
}

quantity! {
    /// Weight of superabrasive in a volume of the layer. One carat is 0.2 g exactly.
    pub struct AbrasiveContent {
        "ct/cm3" = /** In carats per cubic centimetre. */ ct_per_cm3 / from_ct_per_cm3,
        "g/cm3" = 5.0
    }
}

impl AbrasiveContent {
    /// In grams per cubic centimetre.
    pub const fn g_per_cm3(self) -> f64 {
        self.0 * 0.2
    }
}

impl Cell for Length {
    fn from_text(text: &str) -> Result<Self, Fault> {
        one(text)
    }
}

impl Cell for Angle {
    fn from_text(text: &str) -> Result<Self, Fault> {
        one(text)
    }
}

/// Reads one quantity; a fault of its unit names the nearest unit.
pub(crate) fn one<T: Quantity>(text: &str) -> Result<T, Fault> {
    let text = text.trim();
    let quantity = T::from_written(text).map_err(|reason| match unit_of(text) {
        Some(unit) if !T::UNITS.contains(&unit) => {
            Fault::unknown("unit", unit, T::UNITS.iter().copied())
        }
        _ => Fault::unreadable(text, reason_alone(text, reason)),
    })?;
    if quantity.raw().is_finite() && quantity.raw() >= 0.0 {
        Ok(quantity)
    } else {
        Err(Fault::unreadable(text, "a table holds no number below zero"))
    }
}

/// What follows the digits of a quantity, if anything does.
pub(crate) fn unit_of(text: &str) -> Option<&str> {
    let begins =
        |letter: char| letter.is_alphabetic() || "%\u{b0}\"\u{2033}'\u{2032}".contains(letter);
    text.find(begins).map(|start| text[start..].trim_end())
}

/// The reason without the quotation of the text, which the fault quotes already.
fn reason_alone(text: &str, reason: String) -> String {
    match reason.strip_prefix(&format!("\"{text}\" ")) {
        Some(rest) => format!("it {rest}"),
        None => reason,
    }
}

fn number_in(text: &str, units: &[(&str, f64)]) -> Result<f64, String> {
    let (factor, digits) = units
        .iter()
        .find_map(|(unit, factor)| Some((factor, text.strip_suffix(unit)?.trim_end())))
        .ok_or("it has no unit that belongs here")?;
    let number: f64 = digits.parse().map_err(|_| "its number is none".to_owned())?;
    Ok(number * factor)
}
