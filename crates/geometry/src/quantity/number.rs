//! The number in front of a unit: decimal, fraction, or whole and fraction.

use super::error::{Flaw, Kind};
use super::slips::SIGNS;

/// The line of a fraction: the solidus, the fraction slash and the division slash.
const SLASHES: [char; 3] = ['/', '\u{2044}', '\u{2215}'];

/// What may join a whole to its fraction: hyphen-minus, hyphen, and the hyphen that does not
/// break. The longer dashes are left out, since they also mean a range.
const HYPHENS: [char; 3] = ['-', '\u{2010}', '\u{2011}'];

/// The dashes that mean a range.
const DASHES: [char; 2] = ['\u{2013}', '\u{2014}'];

/// A number without its sign.
#[derive(Clone, Copy, Debug)]
pub(super) struct Number {
    /// Its value, never negative and always finite.
    pub(super) value: f64,
    /// Half of its last decimal place: how far rounding may have moved it. Zero for a fraction.
    pub(super) half_place: f64,
    /// Whether it was written as a whole number.
    pub(super) is_whole: bool,
}

impl Number {
    const fn fraction(value: f64) -> Self {
        Self { value, half_place: 0.0, is_whole: false }
    }

    /// Reads the number that `text` begins with and hands back the rest.
    pub(super) fn take(text: &str, kind: Kind) -> Result<(Self, &str), Flaw> {
        let text = text.trim_start();
        let (number, rest) = match take_vulgar(text) {
            Some((part, rest)) => (Self::fraction(part), rest),
            None => take_digits(text, kind)?,
        };
        refuse_second_number(rest, kind)?;
        Ok((number, rest))
    }
}

/// The unit that `text` begins with (perhaps none) and the rest behind it. A point that ends an
/// abbreviation, as in `3/8 in.`, is passed over.
pub(super) fn take_unit(text: &str) -> (&str, &str) {
    let text = text.trim_start();
    let ends_unit = |c: char| c == '.' || c == '(' || c.is_whitespace() || begins_number(c);
    let (unit, rest) = text.split_at(text.find(ends_unit).unwrap_or(text.len()));
    let rest = match rest.strip_prefix('.') {
        Some(behind) if !unit.is_empty() && !behind.starts_with(begins_number) => behind,
        _ => rest,
    };
    (unit, rest.trim_start())
}

fn begins_number(c: char) -> bool {
    c.is_ascii_digit() || vulgar(c).is_some() || SIGNS.contains(&c)
}

fn take_digits(text: &str, kind: Kind) -> Result<(Number, &str), Flaw> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    if !digits.contains(|c: char| c.is_ascii_digit()) {
        let right = format!("write {}", kind.plain());
        return Err(Flaw::new("does not begin with a number", right));
    }
    match digits.split_once('.') {
        Some((_, decimals)) => Ok((decimal(digits, decimals)?, rest)),
        None => take_whole(digits, rest, kind),
    }
}

fn decimal(digits: &str, decimals: &str) -> Result<Number, Flaw> {
    if decimals.contains('.') {
        return Err(Flaw::new("has two points", "write one point at most"));
    }
    let places = i32::try_from(decimals.len()).unwrap_or(i32::MAX);
    let half_place = 0.5 * 0.1_f64.powi(places);
    Ok(Number { value: bounded(digits)?, half_place, is_whole: false })
}

/// Reads on from a run of digits without a point: a whole number, the upper part of a fraction,
/// or the whole in front of one.
fn take_whole<'a>(digits: &str, rest: &'a str, kind: Kind) -> Result<(Number, &'a str), Flaw> {
    let value = bounded(digits)?;
    let next = rest.trim_start();
    if let Some(below) = next.strip_prefix(SLASHES) {
        let (below, rest) = take_denominator(below, kind)?;
        return Ok((Number::fraction(value / below), rest));
    }
    if next.starts_with(|c: char| c.is_ascii_digit() || vulgar(c).is_some()) {
        return take_mixed(value, next, kind);
    }
    match rest.strip_prefix(HYPHENS) {
        Some(fraction) => take_mixed(value, fraction, kind),
        None => Ok((Number { value, half_place: 0.5, is_whole: true }, rest)),
    }
}

/// Reads the fraction behind a whole.
fn take_mixed(whole: f64, text: &str, kind: Kind) -> Result<(Number, &str), Flaw> {
    let (part, rest) = match take_vulgar(text) {
        Some(found) => found,
        None => take_fraction(text, kind)?,
    };
    if part >= 1.0 {
        let right = format!("write a whole and less than one, such as {}", kind.mixed());
        return Err(Flaw::new("has a whole and a fraction of one or more", right));
    }
    Ok((Number::fraction(whole + part), rest))
}

fn take_fraction(text: &str, kind: Kind) -> Result<(f64, &str), Flaw> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let (above, rest) = text.split_at(end);
    let below = rest.trim_start().strip_prefix(SLASHES).filter(|_| !above.is_empty());
    let Some(below) = below else { return Err(second_number(kind)) };
    let (below, rest) = take_denominator(below, kind)?;
    Ok((bounded(above)? / below, rest))
}

fn take_denominator(text: &str, kind: Kind) -> Result<(f64, &str), Flaw> {
    let text = text.trim_start();
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let (below, rest) = text.split_at(end);
    let right = || format!("write a fraction such as {}", kind.fraction());
    if below.is_empty() {
        return Err(Flaw::new("has no number below the line of its fraction", right()));
    }
    let below = bounded(below)?;
    if below == 0.0 { Err(Flaw::new("divides by zero", right())) } else { Ok((below, rest)) }
}

/// Refuses whatever else of a number stands where the unit should: `1.5/8`, `1 - 3/8`, `3/8/2`.
fn refuse_second_number(rest: &str, kind: Kind) -> Result<(), Flaw> {
    let next = rest.trim_start();
    let is_number = next.starts_with(|c| c == '.' || begins_number(c));
    let is_joined = [&SLASHES[..], &HYPHENS, &DASHES].iter().any(|some| next.starts_with(*some));
    if is_number || is_joined { Err(second_number(kind)) } else { Ok(()) }
}

fn second_number(kind: Kind) -> Flaw {
    let right = format!("write one number, such as {} or {}", kind.fraction(), kind.mixed());
    Flaw::new("has more than one number before the unit", right)
}

/// Reads a run of digits, with a point or without. The largest is far beyond every quantity of
/// the trade and small enough that no later conversion runs out of range.
fn bounded(digits: &str) -> Result<f64, Flaw> {
    match digits.parse::<f64>() {
        Ok(value) if value <= 1e15 => Ok(value),
        _ => Err(Flaw::new("has too many digits", "write fewer")),
    }
}

fn take_vulgar(text: &str) -> Option<(f64, &str)> {
    let mut characters = text.chars();
    let part = vulgar(characters.next()?)?;
    Some((part, characters.as_str()))
}

/// The value of a single character that is a fraction: all that Unicode calls vulgar fractions.
fn vulgar(c: char) -> Option<f64> {
    let (above, below) = match c {
        '¼' => (1, 4),
        '½' => (1, 2),
        '¾' => (3, 4),
        '⅐' => (1, 7),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '↉' => (0, 3),
        _ => return None,
    };
    Some(f64::from(above) / f64::from(below))
}
