//! Ways of writing a number that are refused before it is read, because only the whole text shows
//! what should stand there instead.

use std::ops::Range;

use super::error::{Flaw, Kind};

/// The signs that may stand before a number: plus, hyphen-minus and the true minus.
pub(super) const SIGNS: [char; 3] = ['+', '-', '\u{2212}'];

/// Refuses an empty text, commas and powers of ten.
pub(super) fn refuse_slips(text: &str, kind: Kind) -> Result<(), Flaw> {
    if text.is_empty() {
        return Err(Flaw::new("is empty", format!("write {}", kind.plain())));
    }
    refuse_comma(text)?;
    refuse_power_of_ten(text)
}

/// Whether the number is negative, and the text behind its sign.
pub(super) fn split_sign(text: &str) -> (bool, &str) {
    match text.strip_prefix(SIGNS) {
        Some(rest) => (!text.starts_with('+'), rest),
        None => (false, text),
    }
}

/// A comma is a decimal sign in one country and a thousands mark in the next, and a bench that uses
/// both has people from both.
fn refuse_comma(text: &str) -> Result<(), Flaw> {
    let Some((before, after)) = text.split_once(',') else { return Ok(()) };
    let is_single = !after.contains(',') && !text.contains('.');
    let right = if is_single && after.starts_with(|c: char| c.is_ascii_digit()) {
        without_comma(before, after)
    } else {
        "write it without commas, and with one point at most".to_owned()
    };
    Err(Flaw::new("has a comma", right))
}

/// Says how to write a number with one comma; three digits behind it may be meant as thousands.
fn without_comma(before: &str, after: &str) -> String {
    let is_digit = |c: char| c.is_ascii_digit();
    let whole = &before[before.trim_end_matches(is_digit).len()..];
    let places = after.len() - after.trim_start_matches(is_digit).len();
    if places == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0') {
        format!("write {before}.{after} or {before}{after}, whichever is meant")
    } else {
        format!("write {before}.{after}, with a point")
    }
}

/// No drawing, dial or rule carries a power of ten, so an `e` between digits is more likely a
/// slip of a gloved finger than a number, and a slip there is a factor of ten or more.
fn refuse_power_of_ten(text: &str) -> Result<(), Flaw> {
    let Some(place) = power_of_ten(text) else { return Ok(()) };
    let (before, after) = (&text[..place.start], &text[place.end..]);
    let right = match text[place].parse::<f64>() {
        Ok(value) if (1e-9..1e9).contains(&value) => format!("write {before}{value}{after}"),
        _ => "write the number out in full".to_owned(),
    };
    Err(Flaw::new("is written with a power of ten", right))
}

/// Where a number with a power of ten stands, if there is one.
fn power_of_ten(text: &str) -> Option<Range<usize>> {
    text.match_indices(['e', 'E']).find_map(|(at, letter)| {
        let start = text[..at].trim_end_matches(|c: char| c.is_ascii_digit() || c == '.').len();
        let behind = &text[at + letter.len()..];
        let power = behind.strip_prefix(SIGNS).unwrap_or(behind);
        let rest = power.trim_start_matches(|c: char| c.is_ascii_digit());
        (start < at && rest.len() < power.len()).then_some(start..text.len() - rest.len())
    })
}
