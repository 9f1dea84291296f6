//! Reading an angle as people write it.

use std::str::FromStr;

use super::angle::Angle;
use super::error::{Flaw, Kind, QuantityError};
use super::number::{Number, take_unit};
use super::slips::{SIGNS, refuse_slips, split_sign};

/// The widest angle that is read, either way from zero: ten turns, 3600 degrees. A tooth turns
/// less than that along its flute, so whatever is wider has a wrong unit.
pub const WIDEST: Angle = Angle::from_degrees(3600.0);

/// Reads an angle with its unit: `29.5 deg`, `30°`, `½ deg`, `5'`, `1° 30′ 20″`, `0.5 rad`.
///
/// Degrees, minutes and seconds of arc stand in this order; all but the last are whole numbers,
/// and what follows a larger part stays below 60. Minutes or seconds alone may be more. A number
/// without a unit (even zero), a comma, a power of ten and whatever is wider than [`WIDEST`] are
/// refused.
///
/// ```
/// use geometry::Angle;
///
/// let degrees = |text: &str| text.parse::<Angle>().map(|angle| angle.degrees() as f32);
/// assert_eq!(degrees("89-1/2 deg")?, 89.5);
/// assert_eq!(degrees("1°30'")?, 1.5);
/// assert_eq!(degrees("-1 deg 30 min")?, -1.5);
/// assert_eq!(degrees("90 min")?, 1.5);
///
/// let refusal = degrees("1 deg 75 min").unwrap_err();
/// assert_eq!(
///     refusal.to_string(),
///     "\"1 deg 75 min\" has 75 min after a larger part: write less than 60 and carry the rest"
/// );
/// # Ok::<(), geometry::QuantityError>(())
/// ```
impl FromStr for Angle {
    type Err = QuantityError;

    fn from_str(given: &str) -> Result<Self, QuantityError> {
        read(given.trim()).map_err(|flaw| flaw.found_in(given))
    }
}

/// The units of an angle, from the largest to the smallest. Radians take no part in a row.
#[derive(Clone, Copy, PartialEq, PartialOrd)]
enum Unit {
    Radian,
    Degree,
    Minute,
    Second,
}

impl Unit {
    fn named(name: &str) -> Option<Self> {
        match name.to_ascii_lowercase().as_str() {
            "rad" => Some(Self::Radian),
            "deg" | "\u{b0}" => Some(Self::Degree),
            // The apostrophe, the prime and the closing single quote.
            "min" | "'" | "\u{2032}" | "\u{2019}" => Some(Self::Minute),
            // The straight quote, the double prime and the closing quote.
            "sec" | "\"" | "\u{2033}" | "\u{201d}" => Some(Self::Second),
            _ => None,
        }
    }

    const fn name(self) -> &'static str {
        match self {
            Self::Radian => "rad",
            Self::Degree => "deg",
            Self::Minute => "min",
            Self::Second => "sec",
        }
    }

    const fn of(self, value: f64) -> Angle {
        match self {
            Self::Radian => Angle::from_radians(value),
            Self::Degree => Angle::from_degrees(value),
            Self::Minute => Angle::from_minutes(value),
            Self::Second => Angle::from_minutes(value / 60.0),
        }
    }
}

/// One number with its unit, as in the `30 min` of `1 deg 30 min`.
struct Part {
    number: Number,
    unit: Unit,
}

fn read(text: &str) -> Result<Angle, Flaw> {
    refuse_slips(text, Kind::Angle)?;
    let (is_negative, unsigned) = split_sign(text);
    let (mut last, mut rest) = take(unsigned, None)?;
    let mut total = last.unit.of(last.number.value);
    while !rest.is_empty() {
        let (part, behind) = take(rest, Some(&last))?;
        refuse_sequel(&last, &part)?;
        total = total + part.unit.of(part.number.value);
        (last, rest) = (part, behind);
    }
    refuse_absurd(total)?;
    Ok(if is_negative { -total } else { total })
}

/// Reads one number with its unit and hands back the rest.
fn take<'a>(text: &'a str, last: Option<&Part>) -> Result<(Part, &'a str), Flaw> {
    if last.is_some() && text.starts_with(SIGNS) {
        return Err(Flaw::new("has a sign inside it", "write one sign, at the front"));
    }
    let (number, rest) = Number::take(text, Kind::Angle)?;
    let written = text[..text.len() - rest.len()].trim();
    let (name, rest) = take_unit(rest);
    match Unit::named(name) {
        Some(unit) => Ok((Part { number, unit }, rest)),
        None => Err(unit_flaw(name, written, last)),
    }
}

/// Refuses a part that cannot stand behind the one before it.
fn refuse_sequel(last: &Part, part: &Part) -> Result<(), Flaw> {
    let (larger, smaller) = (last.unit.name(), part.unit.name());
    if last.unit == Unit::Radian || part.unit <= last.unit {
        let wrong = format!("has {smaller} after {larger}");
        return Err(Flaw::new(wrong, "write degrees, then minutes, then seconds, or rad alone"));
    }
    if !last.number.is_whole {
        let wrong = format!("has a part of a whole in {larger} and then {smaller}");
        return Err(Flaw::new(wrong, format!("write whole {larger} before {smaller}")));
    }
    if part.number.value >= 60.0 {
        let wrong = format!("has {} {smaller} after a larger part", part.number.value);
        return Err(Flaw::new(wrong, "write less than 60 and carry the rest"));
    }
    Ok(())
}

fn refuse_absurd(total: Angle) -> Result<(), Flaw> {
    // A billionth of the limit allows for the rounding of radians at the limit itself.
    if total <= WIDEST * (1.0 + 1e-9) {
        return Ok(());
    }
    let right = format!("check the unit, this is {:.0} deg", total.degrees());
    Err(Flaw::new("is wider than ten turns", right))
}

/// What is wrong with a unit that is not read; `written` is the number in front of it.
fn unit_flaw(name: &str, written: &str, last: Option<&Part>) -> Flaw {
    match (name.to_ascii_lowercase().as_str(), last.map(|part| part.unit)) {
        ("", None) => Flaw::new("has no unit", format!("write {written} deg or {written} min")),
        ("", Some(Unit::Degree)) => {
            Flaw::new(format!("has no unit after {written}"), format!("write {written} min"))
        }
        ("", Some(_)) => {
            Flaw::new(format!("has no unit after {written}"), format!("write {written} sec"))
        }
        ("mm" | "um" | "in" | "inch" | "inches" | "thou" | "cm", _) => {
            Flaw::new("is a length", format!("write {}", Kind::Angle.plain()))
        }
        _ => Flaw::new(format!("has the unknown unit {name}"), "write deg, min, sec or rad"),
    }
}
