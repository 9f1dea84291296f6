//! Cutters by the symbols of ISO 13399: symbol, value, unit.

use geometry::{Angle, Length};
use serde_json::{Value, json};
use shop::record::{Cutter, Hand, Wear};

use crate::list::{corner_radius, guarded};

/// A property by its symbol.
#[derive(Clone, Debug, PartialEq)]
pub struct Symbol {
    /// The symbol, such as DC.
    pub symbol: &'static str,
    /// What it stands for, in words.
    pub words: &'static str,
    /// Its value.
    pub value: SymbolValue,
}

/// The value of a property.
#[derive(Clone, Debug, PartialEq)]
pub enum SymbolValue {
    /// In millimetres.
    Length(Length),
    /// In degrees.
    Angle(Angle),
    /// So many.
    Count(u32),
    /// In words.
    Words(String),
}

/// A cutter's properties, in a fixed order. DC is the diameter measured last, else the one it was
/// ground to, else the nominal one, as ISO 13399 describes the cutter that is there; the words say
/// which, and that a tapered one has it at the tip. HAND is R or L (ISO 13399-2, from memory).
pub fn symbols(cutter: &Cutter) -> Vec<Symbol> {
    let measured = cutter.wear().and_then(Wear::measured_diameter);
    let ground = cutter.as_ground().map(|ground| ground.diameter);
    let (diameter, [all_along, at_tip]) = match (measured, ground) {
        (Some(measured), _) => (
            measured,
            ["cutting diameter, over worn edges", "cutting diameter at the tip, over worn edges"],
        ),
        (None, Some(ground)) => {
            (ground, ["cutting diameter, as ground", "cutting diameter at the tip, as ground"])
        }
        (None, None) => (
            cutter.diameter(),
            ["cutting diameter, nominal", "cutting diameter at the tip, nominal"],
        ),
    };
    let of = if cutter.taper() == Angle::ZERO { all_along } else { at_tip };
    let hand = match cutter.hand() {
        Hand::Right => "R",
        Hand::Left => "L",
    };
    let one = |symbol, words, value| Symbol { symbol, words, value };
    let length = |symbol, words, length| one(symbol, words, SymbolValue::Length(length));
    let teeth = SymbolValue::Count(cutter.teeth());
    let mut all = vec![
        length("DC", of, diameter),
        one("HAND", "hand of cut", SymbolValue::Words(hand.to_owned())),
        length("APMX", "greatest depth of cut", cutter.flute_length()),
        length("OAL", "overall length", cutter.overall_length()),
        length("DMM", "shank diameter", cutter.shank_diameter()),
        one("NOF", "flutes", teeth.clone()),
        one("ZEFP", "peripheral effective edges", teeth),
        one("FHA", "flute helix angle", SymbolValue::Angle(cutter.helix())),
    ];
    all.extend(corner_radius(cutter.end()).map(|radius| length("RE", "corner radius", radius)));
    let words = |text: &str| SymbolValue::Words(text.to_owned());
    all.push(one("SUBSTRATE", "material", words(cutter.material().name())));
    all.extend(cutter.coating().map(|coating| one("COATING", "coating", words(coating))));
    all
}

impl SymbolValue {
    /// The number or the words, and the unit; empty where there is none.
    fn parts(&self) -> (Value, &'static str) {
        let rounded = |value: f64, scale: f64| (value * scale).round() / scale;
        match self {
            Self::Length(length) => (json!(rounded(length.mm(), 1e5)), "mm"),
            Self::Angle(angle) => (json!(rounded(angle.degrees(), 1e4)), "deg"),
            Self::Count(count) => (json!(count), ""),
            Self::Words(words) => (json!(words), ""),
        }
    }
}

/// Cutters as JSON: each with its number and its symbols.
pub fn symbols_json(cutters: &[Cutter]) -> String {
    let property = |one: &Symbol| {
        let (value, unit) = one.value.parts();
        let mut told = json!({ "symbol": one.symbol, "words": one.words, "value": value });
        if !unit.is_empty() {
            told["unit"] = json!(unit);
        }
        told
    };
    let cutter = |cutter: &Cutter| {
        let all: Vec<Value> = symbols(cutter).iter().map(property).collect();
        json!({ "cutter": cutter.number(), "properties": all })
    };
    let all: Vec<Value> = cutters.iter().map(cutter).collect();
    let document = json!({ "schema": 1, "standard": "ISO 13399", "cutters": all });
    format!("{document:#}\n")
}

/// Cutters as CSV (RFC 4180): a line for each property.
pub fn symbols_csv(cutters: &[Cutter]) -> String {
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    // Writing to memory does not fail, and every record has four cells.
    let _ = writer.write_record(["cutter", "symbol", "value", "unit"]);
    for cutter in cutters {
        for one in symbols(cutter) {
            let (value, unit) = one.value.parts();
            let value = value.as_str().map_or_else(|| value.to_string(), guarded);
            let number = guarded(cutter.number());
            let _ = writer.write_record([number.as_str(), one.symbol, &value, unit]);
        }
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}
