//! A cell as a value: nothing is guessed, and what is wrong is said with what would be right.

use geometry::{Angle, Length, QuantityError};
use shop::record::Named;

use super::grid::Cell;
use super::mapping::is_degrees;
use super::problem::{ListProblem, problem};

/// What is wrong with a cell, before its place is added.
pub(super) type Wrong = ListProblem;

/// Words; a number in a workbook is taken as it is shown there.
pub(super) fn words(cell: &Cell) -> Result<String, Wrong> {
    match cell {
        Cell::Text(text) => Ok(text.clone()),
        Cell::Number(number) => Ok(number.to_string()),
        Cell::Flag(_) | Cell::Other(_) => Err(problem("no words", "write it as text")),
        Cell::Blank => Err(problem("empty", "write it")),
    }
}

pub(super) fn count(cell: &Cell) -> Result<u32, Wrong> {
    let right = "write a whole number, 0 or more";
    match cell {
        Cell::Number(number) if number.fract() == 0.0 && (0.0..1e6).contains(number) => {
            Ok(*number as u32)
        }
        Cell::Text(text) => text.parse().map_err(|_| problem("not a whole number", right)),
        _ => Err(problem("not a whole number", right)),
    }
}

pub(super) fn flag(cell: &Cell) -> Result<bool, Wrong> {
    match cell {
        Cell::Flag(flag) => Ok(*flag),
        Cell::Text(text) => match text.to_lowercase().as_str() {
            "yes" | "true" | "y" => Ok(true),
            "no" | "false" | "n" => Ok(false),
            _ => Err(problem("neither yes nor no", "write yes or no")),
        },
        _ => Err(problem("neither yes nor no", "write yes or no")),
    }
}

pub(super) fn choice<T: Named>(cell: &Cell) -> Result<T, Wrong> {
    let text = words(cell)?;
    T::from_name(&text).ok_or_else(|| {
        let names: Vec<&str> = T::ALL.iter().map(|member| member.name()).collect();
        problem("not one of the words for it", format!("write {}", names.join(", ")))
    })
}

/// A length with its own unit, or else with the one that holds for its column.
pub(super) fn length(cell: &Cell, unit: Option<&str>, comma: bool) -> Result<Length, Wrong> {
    let text = number_text(cell, comma)?;
    let own = text.parse::<Length>();
    let (false, Some(unit)) = (has_unit(&text), unit) else {
        return own.map_err(|error| match has_unit(&text) {
            true => unread(&error),
            false => {
                let right = format!(
                    "write {text} mm or {text} in, or the unit in brackets behind the heading, or \
                     say the unit of the whole list"
                );
                problem("has no unit", right)
            }
        });
    };
    format!("{text} {unit}").parse::<Length>().map_err(|error| unread(&error))
}

/// An angle; a bare number is in degrees, as the trade has it.
pub(super) fn angle(cell: &Cell, comma: bool) -> Result<Angle, Wrong> {
    let text = number_text(cell, comma)?;
    let whole = if has_unit(&text) { text } else { format!("{text} deg") };
    whole.parse::<Angle>().map_err(|error| unread(&error))
}

/// Angles, one for each tooth, with semicolons between them.
pub(super) fn angles(cell: &Cell, comma: bool) -> Result<Vec<Angle>, Wrong> {
    let Cell::Text(text) = cell else {
        return Err(problem(
            "not one angle for each tooth",
            "write them as text, such as 0 deg; 88 deg; 180 deg; 268 deg",
        ));
    };
    let one = |part: &str| angle(&Cell::Text(part.trim().to_owned()), comma);
    text.split(';').map(one).collect()
}

fn number_text(cell: &Cell, comma: bool) -> Result<String, Wrong> {
    match cell {
        Cell::Number(number) => Ok(number.to_string()),
        Cell::Text(text) if comma && !text.contains('.') => Ok(text.replacen(',', ".", 1)),
        Cell::Text(text) => Ok(text.clone()),
        Cell::Flag(_) | Cell::Other(_) => Err(problem("not a number", "write a number")),
        Cell::Blank => Err(problem("empty", "write it")),
    }
}

/// Whether letters or marks of a unit stand behind the number.
fn has_unit(text: &str) -> bool {
    let of_number = |letter: char| {
        letter.is_ascii_digit()
            || letter.is_whitespace()
            || ".,+-/\u{2212}\u{2044}\u{2010}\u{2011}".contains(letter)
            || letter.is_numeric()
    };
    text.contains(|letter: char| !of_number(letter))
}

fn unread(error: &QuantityError) -> Wrong {
    problem(error.wrong().to_owned(), error.right().to_owned())
}

/// Whether what stands in brackets behind an angle's heading changes nothing.
pub(super) fn is_plain_angle(unit: Option<&str>) -> bool {
    unit.is_none_or(is_degrees)
}
