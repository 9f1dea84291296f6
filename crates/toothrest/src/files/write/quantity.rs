//! A length or an angle in the words that read back as exactly the same one.

use geometry::quantity::System;
use geometry::{Angle, Length};

/// Rules and drawings go down to this fraction of an inch.
const DENOMINATOR_MAX: u32 = 64;

/// Decimals of an inch that people write; more than that was millimetres.
const INCH_DECIMALS: [usize; 3] = [3, 4, 5];

/// Decimals of a millimetre that people write; more than that was inches.
const MM_DECIMALS_MAX: usize = 3;

/// Decimals of a degree that are tried, from a bare number on.
const DEGREE_DECIMALS_MAX: usize = 9;

/// The system that something of this size was made in.
pub(super) fn made_in(size: Length) -> System {
    match size.show_fraction(DENOMINATOR_MAX) {
        Some(_) => System::Inch,
        None => System::Millimetre,
    }
}

/// The system that some readings were taken in: inches where most of them are whole numbers of
/// tenths of a thou.
pub(super) fn read_in(readings: impl Iterator<Item = Length>) -> System {
    let in_inches = |length: &Length| {
        let tenths = length.inches() * 10_000.0;
        (tenths - tenths.round()).abs() < 1e-6
    };
    let any = readings.filter(|length| *length > Length::ZERO);
    let (inches, others): (Vec<_>, Vec<_>) = any.partition(in_inches);
    if inches.len() > others.len() { System::Inch } else { System::Millimetre }
}

/// A length in the system that it was likely written in. Of two that read back as the same length
/// the record's own system decides, if it needs no more decimals than people write.
pub(crate) fn length_words(length: Length, system: System) -> String {
    // The length is kept in millimetres, so their shortest decimal always reads back.
    let number = length.mm().to_string();
    let decimals = number.split_once('.').map_or(0, |(_, behind)| behind.len());
    let metric = format!("{number} mm");
    if system == System::Millimetre && decimals <= MM_DECIMALS_MAX {
        return metric;
    }
    in_inches(length).unwrap_or(metric)
}

fn in_inches(length: Length) -> Option<String> {
    let reads_back = |words: &String| words.parse() == Ok(length);
    let fraction = length.show_fraction(DENOMINATOR_MAX).map(|shown| shown.to_string());
    let decimal = |decimals: usize| format!("{:.decimals$} in", length.inches());
    fraction.into_iter().chain(INCH_DECIMALS.map(decimal)).find(reads_back)
}

/// An angle in degrees with as few decimals as read back as the same angle, or in radians, in which
/// it is kept, where no decimal of a degree does.
pub(super) fn angle_words(angle: Angle) -> String {
    let degrees = angle.degrees();
    let rounded = (0..=DEGREE_DECIMALS_MAX).map(|decimals| format!("{degrees:.decimals$} deg"));
    let near = [degrees, degrees.next_down(), degrees.next_up()];
    let mut tried = rounded.chain(near.map(|degrees| format!("{degrees} deg")));
    let reads_back = |words: &String| words.parse() == Ok(angle);
    tried.find(reads_back).unwrap_or_else(|| format!("{} rad", angle.radians()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(length: Length) -> String {
        length_words(length, System::Inch)
    }

    #[test]
    fn lengths_are_written_as_they_were_likely_meant() {
        assert_eq!(inch(Length::from_inches(0.5)), "1/2 in");
        assert_eq!(inch(Length::from_inches(3.25)), "3-1/4 in");
        assert_eq!(inch(Length::from_inches(0.244)), "0.244 in");
        assert_eq!(inch(Length::from_inches(0.49055)), "0.49055 in");
        assert_eq!(inch(Length::from_mm(0.1)), "0.1 mm");
        let metric = |mm: f64| length_words(Length::from_mm(mm), System::Millimetre);
        assert_eq!(metric(12.7), "12.7 mm");
        assert_eq!(metric(0.254), "0.254 mm");
        assert_eq!(metric(0.1016), "0.004 in");
        assert_eq!(metric(0.0), "0 mm");
    }

    #[test]
    fn angles_are_written_in_degrees_where_degrees_can_say_them() {
        assert_eq!(angle_words(Angle::from_degrees(30.0)), "30 deg");
        assert_eq!(angle_words(Angle::from_minutes(555.0)), "9.25 deg");
        assert_eq!(angle_words(Angle::ZERO), "0 deg");
    }
}
