//! Reading a length as people write it.

use std::str::FromStr;

use super::error::{Flaw, Kind, QuantityError};
use super::length::Length;
use super::number::{Number, take_unit};
use super::slips::{refuse_slips, split_sign};

/// The longest length that is read, either way from zero: 10 m. Nothing on a cutter grinder comes
/// near it, so whatever is longer has a wrong unit.
pub const LONGEST: Length = Length::from_mm(10_000.0);

/// Reads a length with its unit: `12.7 mm`, `5 um`, `1-3/8 in`, `⅜"`, `5 thou`.
///
/// The letters of a unit may be large or small. Millimetres, micrometres, inches and thousandths
/// of an inch are read; other units are refused with the same length in one of these. So are a
/// number without a unit (even zero), a comma, a power of ten and whatever is longer than
/// [`LONGEST`]. A second form in brackets is checked against the first, which counts.
///
/// ```
/// use geometry::Length;
///
/// let mm = |text: &str| text.parse::<Length>().map(Length::mm);
/// assert_eq!(mm("12.7 mm")?, 12.7);
/// assert_eq!(mm("1/2 in")?, 12.7);
/// assert_eq!(mm("−½ in")?, -12.7);
/// assert_eq!(mm("0.5000 in (12.700 mm)")?, 12.7);
///
/// let refusal = mm("1.27 cm").unwrap_err();
/// assert_eq!(
///     refusal.to_string(),
///     "\"1.27 cm\" is in cm, which the trade does not use: write 12.7 mm"
/// );
/// # Ok::<(), geometry::QuantityError>(())
/// ```
impl FromStr for Length {
    type Err = QuantityError;

    fn from_str(given: &str) -> Result<Self, QuantityError> {
        read(given.trim()).map_err(|flaw| flaw.found_in(given))
    }
}

/// A length as it was written.
struct Written {
    length: Length,
    /// How far rounding to the last written place may have moved it.
    half_place: Length,
}

fn read(text: &str) -> Result<Length, Flaw> {
    refuse_slips(text, Kind::Length)?;
    let (first, rest) = take(text)?;
    if rest.is_empty() {
        return Ok(first.length);
    }
    let Some(bracket) = rest.strip_prefix('(').and_then(|rest| rest.strip_suffix(')')) else {
        return Err(trailing(rest));
    };
    let (second, rest) = take(bracket.trim())?;
    if rest.is_empty() { agreed(&first, &second) } else { Err(trailing(rest)) }
}

/// The first length, when the second is the same within what rounding can explain.
fn agreed(first: &Written, second: &Written) -> Result<Length, Flaw> {
    let rounding = first.half_place + second.half_place + Length::from_mm(1e-9);
    if (first.length - second.length).abs() <= rounding {
        return Ok(first.length);
    }
    Err(Flaw::new("gives two lengths that differ", "write the one that is meant"))
}

fn trailing(rest: &str) -> Flaw {
    Flaw::new(format!("has {rest} after its unit"), "write one number and one unit")
}

/// Reads one signed number with its unit and hands back the rest.
fn take(text: &str) -> Result<(Written, &str), Flaw> {
    let (is_negative, unsigned) = split_sign(text);
    let (number, rest) = Number::take(unsigned, Kind::Length)?;
    let written = text[..text.len() - rest.len()].trim_end();
    let value = if is_negative { -number.value } else { number.value };
    let (unit, rest) = take_unit(rest);
    let Some(from_unit) = constructor(unit) else {
        return Err(unit_flaw(unit, written, value));
    };
    let found = Written { length: from_unit(value), half_place: from_unit(number.half_place) };
    refuse_absurd(&found)?;
    Ok((found, rest))
}

/// Rounding is allowed for, so that [`LONGEST`] itself reads back in inches.
fn refuse_absurd(found: &Written) -> Result<(), Flaw> {
    if found.length.abs() - found.half_place <= LONGEST {
        return Ok(());
    }
    let right = format!("check the unit, this is {:.0} mm", found.length.mm());
    Err(Flaw::new("is longer than 10 m", right))
}

/// How a number with this unit becomes a length.
fn constructor(unit: &str) -> Option<fn(f64) -> Length> {
    match unit.to_ascii_lowercase().as_str() {
        "mm" => Some(Length::from_mm),
        // The second is the micro sign, the third the Greek letter; keyboards give either.
        "um" | "\u{b5}m" | "\u{3bc}m" => Some(Length::from_um),
        // The straight quote, the double prime and the closing quote.
        "in" | "inch" | "inches" | "\"" | "\u{2033}" | "\u{201d}" => Some(Length::from_inches),
        "thou" => Some(Length::from_thou),
        _ => None,
    }
}

/// What is wrong with a unit that is not read, and what to write for `value` of it.
fn unit_flaw(unit: &str, written: &str, value: f64) -> Flaw {
    let instead = |factor: f64, name: &str| format!("write {} {name}", tidy(value * factor));
    let unused = |factor, name| {
        Flaw::new(format!("is in {unit}, which the trade does not use"), instead(factor, name))
    };
    match unit.to_ascii_lowercase().as_str() {
        "" => Flaw::new("has no unit", format!("write {written} mm or {written} in")),
        "cm" => unused(10.0, "mm"),
        "m" => unused(1000.0, "mm"),
        "ft" | "foot" | "feet" | "'" | "\u{2032}" | "\u{2019}" => {
            Flaw::new("is in feet", instead(12.0, "in"))
        }
        "mil" | "mils" => Flaw::new(
            format!("is in {unit}, which can mean thou or millimetres"),
            format!("write {written} thou or {written} mm"),
        ),
        "tenth" | "tenths" => Flaw::new(
            format!("is in {unit}, which can be of a thou or of a millimetre"),
            format!("write {} in or {} mm", tidy(value * 1e-4), tidy(value * 0.1)),
        ),
        "deg" | "\u{b0}" | "min" | "sec" | "rad" => {
            Flaw::new("is an angle", format!("write {}", Kind::Length.plain()))
        }
        _ => Flaw::new(format!("has the unknown unit {unit}"), "write mm, um, in or thou"),
    }
}

/// The shortest decimal form of a converted number, without the noise of the conversion.
fn tidy(value: f64) -> String {
    format!("{value:.11e}").parse().unwrap_or(value).to_string()
}
