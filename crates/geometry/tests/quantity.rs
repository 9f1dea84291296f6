//! Reading and showing of lengths and angles: each accepted form, each refusal with its words,
//! and the round trip of every shown form.
#![allow(clippy::panic, reason = "a helper that stops a test is part of the test")]

use geometry::{Angle, Length, QuantityError, System};
use proptest::prelude::*;

fn length(text: &str) -> Length {
    text.parse().unwrap_or_else(|refusal| panic!("{refusal}"))
}

fn angle(text: &str) -> Angle {
    text.parse().unwrap_or_else(|refusal| panic!("{refusal}"))
}

fn assert_near(found: f64, wanted: f64, of: &str) {
    assert!((found - wanted).abs() <= 1e-12 * wanted.abs().max(1.0), "{of}: {found} not {wanted}");
}

/// The international inch of 1959 is 25.4 mm exactly (NIST SP 811, appendix B; from memory).
#[test]
fn one_inch_is_exactly_25_4_mm() {
    assert_eq!(length("1 in").mm(), 25.4);
    assert_eq!(length("25.4 mm").inches(), 1.0);
    assert_eq!(length("10 in").mm(), 254.0);
    assert_eq!(length("1/2 in").mm(), 12.7);
}

/// Conversion factors as printed in NIST SP 811, appendix B.8 (from memory), to half of their
/// last place.
#[test]
fn printed_conversion_factors_are_met() {
    assert!((angle("1 deg").radians() - 1.745_329e-2).abs() < 0.5e-8);
    assert!((angle("1 min").radians() - 2.908_882e-4).abs() < 0.5e-10);
    assert!((angle("1 sec").radians() - 4.848_137e-6).abs() < 0.5e-12);
    assert!((length("1 thou").um() - 25.4).abs() < 1e-9);
    assert!((length("0.000001 in").um() - 2.54e-2).abs() < 1e-12);
}

/// Inch fractions in millimetres, multiplied out by hand from 25.4.
#[test]
fn lengths_are_read_as_written() {
    for (text, mm) in [
        ("12.7 mm", 12.7),
        ("12.7mm", 12.7),
        ("12.7 MM", 12.7),
        ("  12.7\u{a0}mm ", 12.7),
        ("5. mm", 5.0),
        (".5 mm", 0.5),
        ("+5 mm", 5.0),
        ("0 mm", 0.0),
        ("1/2 mm", 0.5),
        ("5 um", 0.005),
        ("5 \u{b5}m", 0.005),
        ("5 \u{3bc}m", 0.005),
        ("0.5 in", 12.7),
        ("0.5 IN", 12.7),
        ("0.5 in.", 12.7),
        ("0.5 inch", 12.7),
        ("2 inches", 50.8),
        ("0.5\"", 12.7),
        ("0.5\u{2033}", 12.7),
        ("0.5\u{201d}", 12.7),
        (".005 in", 0.127),
        ("5 thou", 0.127),
        ("1/2 thou", 0.0127),
        ("3/8 in", 9.525),
        ("3 / 8 in", 9.525),
        ("3\u{2044}8 in", 9.525),
        ("3\u{2215}8 in", 9.525),
        ("11/8 in", 34.925),
        ("1-3/8 in", 34.925),
        ("1\u{2010}3/8 in", 34.925),
        ("1\u{2011}3/8 in", 34.925),
        ("1 3/8 in", 34.925),
        ("1-3/8\"", 34.925),
        ("0-3/8 in", 9.525),
        ("\u{215c} in", 9.525),
        ("\u{215c}\"", 9.525),
        ("1\u{215c} in", 34.925),
        ("1 \u{215c} in", 34.925),
        ("1-\u{215c} in", 34.925),
        ("-1-3/8 in", -34.925),
        ("\u{2212}1 3/8 in", -34.925),
        ("- 1\u{215c} in", -34.925),
        ("+1-3/8 in", 34.925),
        ("10000 mm", 10_000.0),
        ("393.7008 in", 10_000.000_32),
        ("0.5000 in (12.700 mm)", 12.7),
        ("3/8 in ( 9.525 mm )", 9.525),
        ("12.700 mm (0.5000 in)", 12.7),
        ("-0.0434 in (-1.102 mm)", -1.10236),
        ("13 mm (0.5 in)", 13.0),
    ] {
        assert_near(length(text).mm(), mm, text);
    }
}

/// All characters that Unicode names VULGAR FRACTION, with the numeric values of the Unicode
/// Character Database.
#[test]
fn every_vulgar_fraction_is_read() {
    for (character, value) in [
        ('\u{bc}', 0.25),
        ('\u{bd}', 0.5),
        ('\u{be}', 0.75),
        ('\u{2150}', 0.142_857_142_857_142_85),
        ('\u{2151}', 0.111_111_111_111_111_1),
        ('\u{2152}', 0.1),
        ('\u{2153}', 0.333_333_333_333_333_3),
        ('\u{2154}', 0.666_666_666_666_666_6),
        ('\u{2155}', 0.2),
        ('\u{2156}', 0.4),
        ('\u{2157}', 0.6),
        ('\u{2158}', 0.8),
        ('\u{2159}', 0.166_666_666_666_666_66),
        ('\u{215a}', 0.833_333_333_333_333_4),
        ('\u{215b}', 0.125),
        ('\u{215c}', 0.375),
        ('\u{215d}', 0.625),
        ('\u{215e}', 0.875),
        ('\u{2189}', 0.0),
    ] {
        assert_near(length(&format!("{character} mm")).mm(), value, "alone");
        assert_near(length(&format!("-7{character} mm")).mm(), -7.0 - value, "behind a whole");
        assert_near(angle(&format!("{character}°")).degrees(), value, "of a degree");
    }
}

#[test]
fn angles_are_read_as_written() {
    for (text, degrees) in [
        ("30 deg", 30.0),
        ("30deg", 30.0),
        ("30 DEG", 30.0),
        ("30 deg.", 30.0),
        ("30°", 30.0),
        ("0 deg", 0.0),
        ("29.5 deg", 29.5),
        (".5 deg", 0.5),
        ("+30°", 30.0),
        ("\u{2212}30°", -30.0),
        ("6 min", 0.1),
        ("6'", 0.1),
        ("6\u{2032}", 0.1),
        ("6\u{2019}", 0.1),
        ("90 min", 1.5),
        ("36 sec", 0.01),
        ("36\u{2033}", 0.01),
        ("5 min 24 sec", 0.09),
        ("1 deg 30 min", 1.5),
        ("1 deg. 30 min.", 1.5),
        ("1deg30min", 1.5),
        ("1°30'", 1.5),
        ("1°30'36\"", 1.51),
        ("1° 30\u{2032} 36\u{2033}", 1.51),
        ("1° 36\u{201d}", 1.01),
        ("1 deg 1.5 min", 1.025),
        ("1 deg 1-1/2 min", 1.025),
        ("1°\u{bd}'", 1.0 + 1.0 / 120.0),
        ("-1 deg 30 min", -1.5),
        ("-0 deg 30 min", -0.5),
        ("1/2 deg", 0.5),
        ("\u{bd} deg", 0.5),
        ("89-1/2 deg", 89.5),
        ("89 1/2°", 89.5),
        ("89\u{bd}°", 89.5),
        ("3600 deg", 3600.0),
    ] {
        assert_near(angle(text).degrees(), degrees, text);
    }
    assert_eq!(angle("0.5 rad").radians(), 0.5);
    assert_eq!(angle("-0.5 rad").radians(), -0.5);
}

/// The whole sentence of a refusal, put together from the text and what is said of it.
fn assert_refused<Quantity: std::str::FromStr<Err = QuantityError> + std::fmt::Debug>(
    refusals: &[(&str, &str)],
) {
    for (text, said) in refusals {
        match text.parse::<Quantity>() {
            Ok(quantity) => panic!("{text} was read as {quantity:?}"),
            Err(refusal) if text.len() < 200 => {
                assert_eq!(refusal.to_string(), format!("\"{text}\" {said}"));
            }
            Err(refusal) => {
                let (told, begins) = (refusal.to_string(), format!("\"{}", &text[..50]));
                assert!(told.starts_with(&begins) && told.contains('…'), "{told}");
                assert!(told.ends_with(said) && told.len() < 300, "{told}");
            }
        }
    }
}

const NO_NUMBER: &str = "does not begin with a number: write a length such as 12.7 mm";
const TWO_NUMBERS: &str =
    "has more than one number before the unit: write one number, such as 3/8 in or 1-3/8 in";

#[test]
fn numbers_that_could_mean_two_things_are_refused() {
    assert_refused::<Length>(&[
        ("12,7 mm", "has a comma: write 12.7 mm, with a point"),
        (",5 mm", "has a comma: write .5 mm, with a point"),
        ("0,125 in", "has a comma: write 0.125 in, with a point"),
        ("1,000 mm", "has a comma: write 1.000 mm or 1000 mm, whichever is meant"),
        ("10,125 mm", "has a comma: write 10.125 mm or 10125 mm, whichever is meant"),
        ("1,000,000 um", "has a comma: write it without commas, and with one point at most"),
        ("1.000,5 mm", "has a comma: write it without commas, and with one point at most"),
        ("5, mm", "has a comma: write it without commas, and with one point at most"),
        ("1e-3 mm", "is written with a power of ten: write 0.001 mm"),
        ("-2.5E+2 um", "is written with a power of ten: write -250 um"),
        ("1e99 mm", "is written with a power of ten: write the number out in full"),
        ("1.2.3 mm", "has two points: write one point at most"),
        ("1 3 mm", TWO_NUMBERS),
        ("12-3 mm", TWO_NUMBERS),
        ("1 - 3/8 in", TWO_NUMBERS),
        ("1\u{2013}3/8 in", TWO_NUMBERS),
        ("1+3/8 in", TWO_NUMBERS),
        ("1.5/8 in", TWO_NUMBERS),
        ("1.5\u{bd} in", TWO_NUMBERS),
        ("3/8.5 in", TWO_NUMBERS),
        ("3/8/2 in", TWO_NUMBERS),
        ("\u{bd}\u{bd} in", TWO_NUMBERS),
        (
            "1-11/8 in",
            "has a whole and a fraction of one or more: \
             write a whole and less than one, such as 1-3/8 in",
        ),
        (
            "1-8/8 in",
            "has a whole and a fraction of one or more: \
             write a whole and less than one, such as 1-3/8 in",
        ),
    ]);
}

#[test]
fn what_is_no_number_is_refused() {
    let no_denominator =
        "has no number below the line of its fraction: write a fraction such as 3/8 in";
    let digits = "9".repeat(400) + " mm";
    assert_refused::<Length>(&[
        ("", "is empty: write a length such as 12.7 mm"),
        ("  ", "is empty: write a length such as 12.7 mm"),
        ("mm", NO_NUMBER),
        ("-", NO_NUMBER),
        (". mm", NO_NUMBER),
        ("--5 mm", NO_NUMBER),
        ("NaN mm", NO_NUMBER),
        ("inf mm", NO_NUMBER),
        ("-infinity mm", NO_NUMBER),
        ("\u{221e} mm", NO_NUMBER),
        ("3/0 in", "divides by zero: write a fraction such as 3/8 in"),
        ("1-3/0 in", "divides by zero: write a fraction such as 3/8 in"),
        ("3/ in", no_denominator),
        ("3/-8 in", no_denominator),
        (&digits, "has too many digits: write fewer"),
    ]);
}

#[test]
fn units_that_are_missing_or_strange_are_refused() {
    assert_refused::<Length>(&[
        ("12.7", "has no unit: write 12.7 mm or 12.7 in"),
        ("0", "has no unit: write 0 mm or 0 in"),
        ("-1-3/8", "has no unit: write -1-3/8 mm or -1-3/8 in"),
        ("1.27 cm", "is in cm, which the trade does not use: write 12.7 mm"),
        ("-.1 m", "is in m, which the trade does not use: write -100 mm"),
        ("5'", "is in feet: write 60 in"),
        ("1-1/2 ft", "is in feet: write 18 in"),
        ("5 mil", "is in mil, which can mean thou or millimetres: write 5 thou or 5 mm"),
        (
            "3 tenths",
            "is in tenths, which can be of a thou or of a millimetre: write 0.0003 in or 0.3 mm",
        ),
        ("5 deg", "is an angle: write a length such as 12.7 mm"),
        ("5 furlong", "has the unknown unit furlong: write mm, um, in or thou"),
        ("5 e3 mm", "has the unknown unit e: write mm, um, in or thou"),
        ("5 mm 3", "has 3 after its unit: write one number and one unit"),
        ("1 in 3/8 in", "has 3/8 in after its unit: write one number and one unit"),
        ("5 mm (", "has ( after its unit: write one number and one unit"),
        ("1 in (25.4 mm) x", "has (25.4 mm) x after its unit: write one number and one unit"),
        ("1 in (25.4 mm (1 in))", "has (1 in) after its unit: write one number and one unit"),
        ("0.500 in (12.8 mm)", "gives two lengths that differ: write the one that is meant"),
        ("500 in", "is longer than 10 m: check the unit, this is 12700 mm"),
        ("-10001 mm", "is longer than 10 m: check the unit, this is -10001 mm"),
    ]);
}

#[test]
fn angles_that_could_mean_two_things_are_refused() {
    let order = "write degrees, then minutes, then seconds, or rad alone";
    assert_refused::<Angle>(&[
        ("", "is empty: write an angle such as 29.5 deg"),
        ("nan deg", "does not begin with a number: write an angle such as 29.5 deg"),
        ("1/0 deg", "divides by zero: write a fraction such as 1/2 deg"),
        ("29,5 deg", "has a comma: write 29.5 deg, with a point"),
        ("1e1 deg", "is written with a power of ten: write 10 deg"),
        ("30", "has no unit: write 30 deg or 30 min"),
        ("0", "has no unit: write 0 deg or 0 min"),
        ("1 deg 30", "has no unit after 30: write 30 min"),
        ("1° 30' 20", "has no unit after 20: write 20 sec"),
        ("30 mm", "is a length: write an angle such as 29.5 deg"),
        ("30 grad", "has the unknown unit grad: write deg, min, sec or rad"),
        ("1 deg -30 min", "has a sign inside it: write one sign, at the front"),
        ("1°-30'", "has a sign inside it: write one sign, at the front"),
        ("1.5 deg 30 min", "has a part of a whole in deg and then min: write whole deg before min"),
        ("\u{bd}° 30'", "has a part of a whole in deg and then min: write whole deg before min"),
        ("1 deg 75 min", "has 75 min after a larger part: write less than 60 and carry the rest"),
        ("1 deg 60 sec", "has 60 sec after a larger part: write less than 60 and carry the rest"),
        ("9 min 60 sec", "has 60 sec after a larger part: write less than 60 and carry the rest"),
        ("30 min 1 deg", &format!("has deg after min: {order}")),
        ("1 deg 2 deg", &format!("has deg after deg: {order}")),
        ("1 rad 2 deg", &format!("has deg after rad: {order}")),
        ("1 deg 2 rad", &format!("has rad after deg: {order}")),
        ("63 rad", "is wider than ten turns: check the unit, this is 3610 deg"),
        (
            "1 2 deg",
            "has more than one number before the unit: write one number, such as 1/2 deg or \
             89-1/2 deg",
        ),
    ]);
}

#[test]
fn an_error_keeps_the_text_as_it_was_given() {
    let refusal = " 12.7 ".parse::<Length>().unwrap_err();
    assert_eq!(refusal.given(), " 12.7 ");
    assert_eq!(refusal.wrong(), "has no unit");
    assert_eq!(refusal.right(), "write 12.7 mm or 12.7 in");
}

#[test]
fn lengths_are_shown_as_the_trade_writes_them() {
    let shown = |mm, system| Length::from_mm(mm).show(system).to_string();
    assert_eq!(shown(12.7, System::Inch), "0.5000 in");
    assert_eq!(shown(12.7, System::Millimetre), "12.700 mm");
    assert_eq!(shown(-12.7, System::Inch), "-0.5000 in");
    assert_eq!(shown(-0.001, System::Inch), "0.0000 in");
    assert_eq!(shown(-0.0, System::Millimetre), "0.000 mm");
    assert_eq!(shown(f64::NAN, System::Inch), "no length");
    assert_eq!(Length::from_mm(f64::INFINITY).show_both(System::Inch).as_str(), "no length");
    assert_eq!(format!("[{:>11.1}]", Length::from_mm(5.0).show(System::Inch)), "[0.1969 in]");
}

#[test]
fn a_step_sets_the_decimals() {
    let (inch, mm) = (Length::from_inches, Length::from_mm);
    for (step, in_inches, in_mm) in [
        (inch(0.001), "0.043 in", "1.092 mm"),
        (inch(0.0005), "0.0435 in", "1.105 mm"),
        (inch(0.0001), "0.0434 in", "1.1024 mm"),
        (inch(0.0002), "0.0434 in", "1.102 mm"),
        (inch(0.00005), "0.04340 in", "1.1024 mm"),
        (mm(0.1), "0.043 in", "1.1 mm"),
        (mm(0.01), "0.0433 in", "1.10 mm"),
        (mm(0.02), "0.0433 in", "1.10 mm"),
        (mm(0.005), "0.04331 in", "1.100 mm"),
        (mm(0.001), "0.04339 in", "1.102 mm"),
        (mm(5.0), "0.00 in", "0 mm"),
        (Length::ZERO, "0.0434 in", "1.102 mm"),
        (mm(-0.01), "0.0434 in", "1.102 mm"),
        (mm(f64::NAN), "0.0434 in", "1.102 mm"),
    ] {
        let length = Length::from_mm(1.1024);
        assert_eq!(length.show_to(System::Inch, step).as_str(), in_inches, "{step:?}");
        assert_eq!(length.show_to(System::Millimetre, step).as_str(), in_mm, "{step:?}");
    }
}

#[test]
fn fractions_are_shown_only_when_exact() {
    let shown = |text: &str, most| length(text).show_fraction(most).map(|shown| shown.to_string());
    assert_eq!(shown("34.925 mm", 64).as_deref(), Some("1-3/8 in"));
    assert_eq!(shown("-0.015625 in", 64).as_deref(), Some("-1/64 in"));
    assert_eq!(shown("0.015625 in", 32), None);
    assert_eq!(shown("0 mm", 1).as_deref(), Some("0 in"));
    assert_eq!(shown("9.5259 mm", 64).as_deref(), Some("3/8 in"));
    assert_eq!(shown("9.5261 mm", 64), None);
    assert_eq!(shown("25.3991 mm", 64).as_deref(), Some("1 in"));
    assert_eq!(shown("1 in", 0), None);
    assert_eq!(Length::from_mm(f64::NAN).show_fraction(u32::MAX), None);
    assert_eq!(Length::from_mm(f64::INFINITY).show_fraction(u32::MAX), None);
}

#[test]
fn angles_are_shown_by_their_step() {
    let angle = Angle::from_degrees(9.26);
    for (step, shown) in [
        (Angle::from_minutes(1.0), "9 deg 16 min"),
        (Angle::from_minutes(5.0), "9 deg 15 min"),
        (Angle::from_minutes(10.0), "9 deg 20 min"),
        (Angle::from_minutes(20.0), "9 deg 20 min"),
        (Angle::from_degrees(1.0), "9 deg"),
        (Angle::from_degrees(0.5), "9.5 deg"),
        (Angle::from_degrees(0.25), "9.25 deg"),
        (Angle::from_degrees(0.2), "9.2 deg"),
        (Angle::from_degrees(0.1), "9.3 deg"),
        (Angle::from_degrees(0.01), "9.26 deg"),
        (Angle::from_minutes(0.5), "9.258 deg"),
        (Angle::ZERO, "9.26 deg"),
    ] {
        assert_eq!(angle.show_to(step).as_str(), shown, "{step:?}");
    }
    let in_minutes = |minutes| Angle::from_minutes(minutes).show_to(Angle::from_minutes(5.0));
    assert_eq!(in_minutes(-555.0).as_str(), "-9 deg 15 min");
    assert_eq!(in_minutes(-15.0).as_str(), "-15 min");
    assert_eq!(in_minutes(-2.0).as_str(), "0 min");
    assert_eq!(in_minutes(60.0).as_str(), "1 deg 0 min");
    assert_eq!(Angle::from_degrees(-0.004).show().as_str(), "0.00 deg");
    assert_eq!(
        Angle::from_degrees(f64::NAN).show_to(Angle::from_minutes(5.0)).as_str(),
        "no angle"
    );
}

/// Half of the last decimal place of the first number in a shown text.
fn half_place(shown: &str) -> f64 {
    let number = shown.split(' ').next().unwrap_or_default();
    let places = number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    0.5 * 0.1_f64.powi(places as i32)
}

fn in_unit(length: Length, system: System) -> f64 {
    if system == System::Inch { length.inches() } else { length.mm() }
}

/// Noise of the conversions, far below every last place that is shown.
const NOISE: f64 = 1e-9;

/// What a good text is made of, as a pattern.
const GOOD_PARTS: &str = "-|[+]|[0-9]{1,3}|[.]|/| |½|mm|in|\"|thou|deg|°|min|'|[(]|[)]";

fn systems() -> impl Strategy<Value = System> {
    prop_oneof![Just(System::Inch), Just(System::Millimetre)]
}

/// Lengths of every size that is read, small ones as often as large ones.
fn lengths() -> impl Strategy<Value = Length> {
    (-4.0..4.0_f64, any::<bool>()).prop_map(|(power, is_negative)| {
        let mm = 10.0_f64.powf(power);
        Length::from_mm(if is_negative { -mm } else { mm })
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn shown_lengths_read_back(length in lengths(), system in systems()) {
        let wanted = in_unit(length, system);
        for shown in [length.show(system), length.show_both(system)] {
            let back = in_unit(shown.as_str().parse()?, system);
            prop_assert!((back - wanted).abs() <= half_place(shown.as_str()) + NOISE, "{shown}");
        }
    }

    #[test]
    fn lengths_shown_to_a_step_read_back(
        length in lengths(), system in systems(), power in -5.0..1.0_f64, is_inch in any::<bool>(),
    ) {
        let from_unit = if is_inch { Length::from_inches } else { Length::from_mm };
        let step = from_unit(10.0_f64.powf(power));
        prop_assume!(length.abs() + step < Length::from_mm(10_000.0));
        let shown = length.show_to(system, step);
        let back: Length = shown.as_str().parse()?;
        let miss = in_unit(back, system) - in_unit(length.snapped_to(step), system);
        prop_assert!(miss.abs() <= half_place(shown.as_str()) + NOISE, "{shown}");
        prop_assert_eq!(back.show_to(system, step), shown);
    }

    #[test]
    fn neighbouring_marks_never_look_alike(
        marks in -5000_i32..5000, digit in 1_u8..100, places in 1..6_i32, is_inch in any::<bool>(),
        system in systems(),
    ) {
        let step = f64::from(digit) * 0.1_f64.powi(places);
        let step = if is_inch { Length::from_inches(step) } else { Length::from_mm(step) };
        let shown = |marks: i32| (step * f64::from(marks)).show_to(system, step);
        prop_assert_ne!(shown(marks), shown(marks + 1));
    }

    #[test]
    fn shown_fractions_read_back(sixty_fourths in -20_000_i32..20_000) {
        let length = Length::from_inches(f64::from(sixty_fourths) / 64.0);
        let shown = length.show_fraction(64).map(|shown| shown.to_string());
        let back: Length = shown.as_deref().unwrap_or("none").parse()?;
        prop_assert!((back - length).abs() <= Length::from_um(0.001), "{shown:?}");
    }

    #[test]
    fn a_shown_fraction_is_never_more_than_a_micrometre_off(length in lengths()) {
        if let Some(shown) = length.show_fraction(4096) {
            let back: Length = shown.as_str().parse()?;
            prop_assert!((back - length).abs() <= Length::from_um(1.001), "{shown}");
        }
    }

    #[test]
    fn written_mixed_numbers_are_read(
        whole in 0..300_u32, above in 0..64_u32, sign in "[+−-]?", join in "[- ]",
    ) {
        let wanted = f64::from(whole) + f64::from(above) / 64.0;
        let wanted = if sign.is_empty() || sign == "+" { wanted } else { -wanted };
        let found: Length = format!("{sign}{whole}{join}{above}/64 in").parse()?;
        prop_assert!((found.inches() - wanted).abs() <= NOISE);
    }

    #[test]
    fn shown_angles_read_back(degrees in -3599.0..3599.0_f64) {
        let shown = Angle::from_degrees(degrees).show();
        let back: Angle = shown.as_str().parse()?;
        prop_assert!((back.degrees() - degrees).abs() <= half_place(shown.as_str()) + NOISE);
    }

    #[test]
    fn angles_shown_to_a_step_read_back(degrees in -360.0..360.0_f64, power in -3.0..1.0_f64) {
        let angle = Angle::from_degrees(degrees);
        let step = Angle::from_degrees(10.0_f64.powf(power));
        let shown = angle.show_to(step);
        let back: Angle = shown.as_str().parse()?;
        let miss = (back - angle.snapped_to(step)).degrees();
        prop_assert!(miss.abs() <= half_place(shown.as_str()) + NOISE, "{shown}");
        prop_assert_eq!(back.show_to(step), shown);
    }

    #[test]
    fn degrees_and_minutes_read_back(minutes in -21_600_i32..21_600, step in 1..60_i32) {
        let angle = Angle::from_minutes(f64::from(minutes - minutes % step));
        let shown = angle.show_to(Angle::from_minutes(f64::from(step)));
        prop_assert_eq!(shown.as_str().contains("min"), step % 6 != 0 && step % 15 != 0);
        let back: Angle = shown.as_str().parse()?;
        prop_assert!((back - angle).abs() <= Angle::from_degrees(NOISE), "{shown}");
    }

    #[test]
    fn no_text_brings_reading_down(text in any::<String>()) {
        assert_read_or_told(&text)?;
    }

    #[test]
    fn no_near_miss_brings_reading_down(text in "[-+−0-9./,eE '\"°′″½⅜()–a-z]{0,16}") {
        assert_read_or_told(&text)?;
    }

    #[test]
    fn no_jumble_of_good_parts_brings_reading_down(
        parts in prop::collection::vec(GOOD_PARTS, 0..8),
    ) {
        assert_read_or_told(&parts.concat())?;
    }
}

/// Whatever the text, it gives a bounded quantity or a sentence that contains it.
fn assert_read_or_told(text: &str) -> Result<(), TestCaseError> {
    match text.parse::<Length>() {
        Ok(length) => prop_assert!(length.abs() <= Length::from_mm(10_001.0)),
        Err(refusal) => prop_assert!(refusal.to_string().contains(text)),
    }
    match text.parse::<Angle>() {
        Ok(angle) => prop_assert!(angle.abs() <= Angle::from_degrees(3601.0)),
        Err(refusal) => prop_assert!(refusal.to_string().contains(text)),
    }
    Ok(())
}
