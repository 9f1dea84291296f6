//! How one value of a file is read: the kinds there are, and what to say when it is another.

use geometry::{Angle, Length, QuantityError};
use shop::record::Named;
use toml::de::DeValue;

/// What is wrong with a value, before file, line and key are attached.
pub(super) struct Wrong {
    pub(super) message: String,
    pub(super) right: String,
}

/// A wrong value and what would be right instead.
pub(super) fn wrong(message: impl Into<String>, right: impl Into<String>) -> Wrong {
    Wrong { message: message.into(), right: right.into() }
}

/// A kind of value.
pub(super) trait Readable: Sized {
    /// What to write where such a value is missing.
    fn example() -> String;

    /// A value to go on with, after a problem was noted, so that one reading finds all problems.
    fn stand_in() -> Self;

    /// Reads a value.
    fn read(value: &DeValue<'_>) -> Result<Self, Wrong>;
}

/// What a value is, in words.
fn kind(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number with a point",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a section",
    }
}

fn unlike(wanted: &str, value: &DeValue<'_>, right: String) -> Wrong {
    wrong(format!("must be {wanted}, not {}", kind(value)), right)
}

impl Readable for String {
    fn example() -> String {
        "write it as text in quotation marks".to_owned()
    }

    fn stand_in() -> Self {
        "?".to_owned()
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        match value {
            DeValue::String(text) => Ok(text.trim().to_owned()),
            other => Err(unlike("text", other, Self::example())),
        }
    }
}

impl Readable for u32 {
    fn example() -> String {
        "write a whole number without quotation marks".to_owned()
    }

    fn stand_in() -> Self {
        4
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        match value {
            DeValue::Integer(number) => Self::from_str_radix(number.as_str(), number.radix())
                .map_err(|_| {
                    let below = number.as_str().starts_with('-');
                    let message = if below { "below 0" } else { "far too large" };
                    wrong(message, Self::example())
                }),
            other => Err(unlike("a whole number", other, Self::example())),
        }
    }
}

impl Readable for bool {
    fn example() -> String {
        "write true or false without quotation marks".to_owned()
    }

    fn stand_in() -> Self {
        false
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        match value {
            DeValue::Boolean(truth) => Ok(*truth),
            other => Err(unlike("true or false", other, Self::example())),
        }
    }
}

impl Readable for Length {
    fn example() -> String {
        "write a length with its unit, such as \"12.7 mm\" or \"1/2 in\"".to_owned()
    }

    fn stand_in() -> Self {
        Self::from_mm(1.0)
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        match value {
            DeValue::String(text) => text.parse().map_err(as_wrong),
            other => Err(without_unit(other, "a length", ["mm", "in"], Self::example())),
        }
    }
}

impl Readable for Angle {
    fn example() -> String {
        "write an angle with its unit, such as \"30 deg\"".to_owned()
    }

    fn stand_in() -> Self {
        Self::from_degrees(1.0)
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        match value {
            DeValue::String(text) => text.parse().map_err(as_wrong),
            other => Err(without_unit(other, "an angle", ["deg", "min"], Self::example())),
        }
    }
}

fn as_wrong(error: QuantityError) -> Wrong {
    wrong(error.wrong(), error.right())
}

/// A bare number where a quantity belongs lacks only its unit; anything else is of a wrong kind.
fn without_unit(value: &DeValue<'_>, wanted: &str, units: [&str; 2], example: String) -> Wrong {
    let number = match value {
        DeValue::Integer(number) => number.as_str(),
        DeValue::Float(number) => number.as_str(),
        other => return unlike(wanted, other, example),
    };
    let [usual, other] = units;
    let right = format!("write \"{number} {usual}\" or \"{number} {other}\"");
    wrong(format!("{wanted} needs its unit"), right)
}

/// Reads one of a closed choice. `noun` says what is chosen, with its article: "a hand of helix".
pub(super) fn choice<T: Named>(value: &DeValue<'_>, noun: &str) -> Result<T, Wrong> {
    let DeValue::String(text) = value else {
        return Err(unlike("text", value, choices::<T>(None)));
    };
    T::from_name(text).ok_or_else(|| wrong(format!("not {noun}"), choices::<T>(Some(text))))
}

/// Names the members of a choice; of many, the nearest to `near` first.
pub(super) fn choices<T: Named>(near: Option<&str>) -> String {
    let names: Vec<_> = T::ALL.iter().map(|member| member.name()).collect();
    let quoted: Vec<_> = names.iter().map(|name| format!("\"{name}\"")).collect();
    match (quoted.as_slice(), near.and_then(|text| nearest(text, &names))) {
        ([one], _) => format!("write {one}"),
        ([first, second], _) => format!("write {first} or {second}"),
        (_, Some(name)) if quoted.len() > 4 => {
            format!("write \"{name}\", or another of {}", quoted.join(", "))
        }
        _ => format!("write one of {}", quoted.join(", ")),
    }
}

/// Below this, two names have too little in common for one to be a slip for the other.
const LIKENESS_MIN: f64 = 0.5;

/// The most alike of some names, if any is alike at all.
pub(super) fn nearest<'n>(text: &str, names: &[&'n str]) -> Option<&'n str> {
    let text = text.trim().to_lowercase();
    let likeness = |name: &str| strsim::normalized_damerau_levenshtein(&text, &name.to_lowercase());
    let scored = names.iter().map(|&name| (likeness(name), name));
    let best = scored.max_by(|one, other| one.0.total_cmp(&other.0))?;
    (best.0 >= LIKENESS_MIN).then_some(best.1)
}
