//! Ranges as tables print them: `10 to 14 deg`, `up to 0.020 in`, `over 3 in`.

use crate::cell::Cell;
use crate::fault::Fault;
use crate::quantity::{Pressure, Quantity, Share, one, unit_of};
use geometry::{Angle, Length};

/// A range with both ends; a single value has two equal ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range<T> {
    /// The least value.
    pub least: T,
    /// The greatest value.
    pub greatest: T,
}

impl<T: Quantity> Range<T> {
    /// The middle of the range, half-way between its ends.
    pub fn middle(self) -> T {
        T::from_raw(f64::midpoint(self.least.raw(), self.greatest.raw()))
    }

    /// Whether the value lies in it, ends included.
    pub fn contains(self, value: T) -> bool {
        self.least <= value && value <= self.greatest
    }
}

/// A range that may be open at either end; an end that is there belongs to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span<T> {
    /// The least value, if there is one.
    pub least: Option<T>,
    /// The greatest value, if there is one.
    pub greatest: Option<T>,
}

impl<T: Quantity> Span<T> {
    /// Whether it is one listed value and no range.
    pub fn is_listed_value(self) -> bool {
        self.least.is_some() && self.least == self.greatest
    }

    /// Whether the value lies in it, ends included.
    pub fn contains(self, value: T) -> bool {
        self.least.is_none_or(|least| least <= value)
            && self.greatest.is_none_or(|greatest| value <= greatest)
    }

    /// How far outside it the value lies, as the ratio to its nearer end; 1 where it lies inside.
    pub fn ratio_outside(self, value: T) -> f64 {
        let below = self.least.map_or(1.0, |least| least.raw() / value.raw());
        let above = self.greatest.map_or(1.0, |greatest| value.raw() / greatest.raw());
        below.max(above).max(1.0)
    }
}

impl<T: Quantity> Cell for Range<T> {
    fn from_text(text: &str) -> Result<Self, Fault> {
        let (least, greatest) = match text.split_once(" to ") {
            Some((least, greatest)) => (one(&with_unit_of(least, greatest))?, one(greatest)?),
            None => one(text).map(|value| (value, value))?,
        };
        if least <= greatest {
            Ok(Self { least, greatest })
        } else {
            Err(Fault::unreadable(text, "its first end is above its second"))
        }
    }
}

impl<T: Quantity> Cell for Span<T> {
    fn from_text(text: &str) -> Result<Self, Fault> {
        let text = text.trim();
        if let Some(end) = text.strip_prefix("up to ").or_else(|| text.strip_prefix("under ")) {
            Ok(Self { least: None, greatest: Some(one(end)?) })
        } else if let Some(end) = text.strip_prefix("over ") {
            Ok(Self { least: Some(one(end)?), greatest: None })
        } else if let Some(end) = text.strip_suffix(" and over") {
            Ok(Self { least: Some(one(end)?), greatest: None })
        } else if text.starts_with("any ") {
            Ok(Self { least: None, greatest: None })
        } else {
            let Range { least, greatest } = Range::from_text(text)?;
            Ok(Self { least: Some(least), greatest: Some(greatest) })
        }
    }
}

/// The first end of a range with the unit of its second, where it has none of its own.
fn with_unit_of(first: &str, second: &str) -> String {
    match (unit_of(first), unit_of(second)) {
        (None, Some(unit)) => format!("{} {unit}", first.trim()),
        _ => first.to_owned(),
    }
}

/// An amount whose kind only the row knows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    /// A length.
    Length(Range<Length>),
    /// An angle.
    Angle(Range<Angle>),
    /// A pressure.
    Pressure(Range<Pressure>),
    /// A share.
    Share(Range<Share>),
}

impl Amount {
    /// The length, where it is one.
    pub const fn length(self) -> Option<Range<Length>> {
        if let Self::Length(range) = self { Some(range) } else { None }
    }

    /// The angle, where it is one.
    pub const fn angle(self) -> Option<Range<Angle>> {
        if let Self::Angle(range) = self { Some(range) } else { None }
    }

    /// The share, where it is one.
    pub const fn share(self) -> Option<Range<Share>> {
        if let Self::Share(range) = self { Some(range) } else { None }
    }

    /// The pressure, where it is one.
    pub const fn pressure(self) -> Option<Range<Pressure>> {
        if let Self::Pressure(range) = self { Some(range) } else { None }
    }
}

impl Cell for Amount {
    fn from_text(text: &str) -> Result<Self, Fault> {
        let last = text.rsplit(" to ").next().unwrap_or(text);
        let unit = unit_of(last).unwrap_or_default();
        let kinds = [Length::UNITS, Angle::UNITS, Pressure::UNITS, Share::UNITS];
        match kinds.iter().position(|units| units.contains(&unit)) {
            Some(0) => Range::from_text(text).map(Self::Length),
            Some(1) => Range::from_text(text).map(Self::Angle),
            Some(2) => Range::from_text(text).map(Self::Pressure),
            Some(_) => Range::from_text(text).map(Self::Share),
            None => Err(Fault::unknown("unit", unit, kinds.concat())),
        }
    }
}
