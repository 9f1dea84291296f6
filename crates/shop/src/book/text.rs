//! What free text of an entry may be, and how text is made comparable.

use geometry::{Angle, Length};

use crate::error::ShopError;
use crate::plan::Quantity;

/// The longest name or number, in characters, so that it fits a tag.
pub(super) const NAME_CHARACTERS: usize = 60;
/// The longest line, in characters.
pub(super) const LINE_CHARACTERS: usize = 200;
/// The longest note, in characters.
pub(super) const NOTE_CHARACTERS: usize = 4000;
/// The longest file that is kept as text, in bytes.
pub(super) const TEXT_BYTES: usize = 1 << 20;
/// A length beyond this is a slip of unit, in mm.
const LENGTH_MM: f64 = 10_000.0;
/// An angle beyond this is a slip of unit, in degrees.
const ANGLE_DEG: f64 = 3600.0;

pub(super) type Sound = Result<(), ShopError>;

pub(super) fn require(holds: bool, field: &str, reason: impl FnOnce() -> String) -> Sound {
    if holds { Ok(()) } else { Err(ShopError::invalid(field, reason())) }
}

/// A name: one line, not empty, short.
pub(super) fn name(field: &str, text: &str) -> Sound {
    require(!text.trim().is_empty(), field, || "empty; write at least one letter".to_owned())?;
    one_line(field, text, NAME_CHARACTERS)
}

/// A line, which may be empty.
pub(super) fn line(field: &str, text: &str) -> Sound {
    one_line(field, text, LINE_CHARACTERS)
}

/// A line that may be missing.
pub(super) fn maybe_line(field: &str, text: Option<&str>) -> Sound {
    text.map_or(Ok(()), |text| line(field, text))
}

fn one_line(field: &str, text: &str, most: usize) -> Sound {
    require(!text.chars().any(char::is_control), field, || {
        "holds a line break or control character; write it on one line".to_owned()
    })?;
    at_most(field, text.chars().count(), most, "characters")
}

/// A note: some lines, which may be empty.
pub(super) fn note(field: &str, text: &str) -> Sound {
    plain(field, text)?;
    at_most(field, text.chars().count(), NOTE_CHARACTERS, "characters")
}

/// A whole file's text.
pub(super) fn file(field: &str, text: &str) -> Sound {
    plain(field, text)?;
    at_most(field, text.len(), TEXT_BYTES, "bytes")
}

fn plain(field: &str, text: &str) -> Sound {
    let odd = |c: char| c.is_control() && !['\n', '\r', '\t'].contains(&c);
    require(!text.contains(odd), field, || {
        "holds a control character; it must be plain text".to_owned()
    })
}

pub(super) fn at_most(field: &str, count: usize, most: usize, unit: &str) -> Sound {
    require(count <= most, field, || format!("{count} {unit}; write at most {most}"))
}

/// A length that is a number and no slip of unit.
pub(super) fn length(field: &str, length: Option<Length>) -> Sound {
    let Some(length) = length else { return Ok(()) };
    require(length.mm().abs() <= LENGTH_MM, field, || {
        format!("{} mm; write a length up to {LENGTH_MM} mm", length.mm())
    })
}

fn angle(field: &str, angle: Angle) -> Sound {
    require(angle.degrees().abs() <= ANGLE_DEG, field, || {
        format!("{} deg; write an angle up to {ANGLE_DEG} deg", angle.degrees())
    })
}

/// A length or an angle.
pub(super) fn quantity(field: &str, quantity: Option<Quantity>) -> Sound {
    match quantity {
        Some(Quantity::Length(value)) => length(field, Some(value)),
        Some(Quantity::Angle(value)) => angle(field, value),
        None => Ok(()),
    }
}

/// A text made comparable: small letters, single spaces. Numbers of cutters that differ in nothing
/// else are the same number.
pub fn key(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// The words by which a text can be found: the whole of it and each run of letters and digits.
pub(super) fn words<'a>(texts: impl Iterator<Item = &'a str>) -> Vec<String> {
    let mut words = Vec::new();
    for text in texts {
        let whole = key(text);
        let parts = whole.split(|c: char| !c.is_alphanumeric()).map(str::to_owned);
        words.extend(parts.collect::<Vec<_>>());
        words.extend(whole.split(' ').map(str::to_owned));
        words.push(whole);
    }
    words.retain(|word| !word.is_empty() && word.chars().count() <= NAME_CHARACTERS);
    words.sort_unstable();
    words.dedup();
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_the_whole_and_its_parts() {
        let found = words(["K-12  Ölnut", "HSS"].into_iter());
        assert_eq!(found, ["12", "hss", "k", "k-12", "k-12 ölnut", "ölnut"]);
        assert_eq!(key("  K-12\t b "), "k-12 b");
    }

    #[test]
    fn text_is_bounded_and_plain() {
        assert!(name("n", &"é".repeat(60)).is_ok() && name("n", &"é".repeat(61)).is_err());
        assert!(name("n", " ").is_err() && line("n", "").is_ok() && line("n", "a\nb").is_err());
        assert!(note("n", "a\nb").is_ok() && note("n", "a\0b").is_err());
        assert!(file("n", &"x".repeat(TEXT_BYTES)).is_ok());
        assert!(file("n", &"x".repeat(TEXT_BYTES + 1)).is_err());
    }

    #[test]
    fn what_is_no_number_is_refused() {
        assert!(length("l", Some(Length::from_mm(f64::NAN))).is_err());
        assert!(quantity("q", Some(Quantity::Angle(Angle::from_degrees(f64::INFINITY)))).is_err());
        assert!(quantity("q", Some(Quantity::Length(Length::from_mm(-1.0)))).is_ok());
    }
}
