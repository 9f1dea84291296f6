//! The papers of a lot: what it will cost, and what went back.

use geometry::Length;
use kurbo::{Point, Rect};
use shop::cost::{LotQuote, LotWorth, Money, QuoteLine};
use shop::plan::PartStock;

use super::flow::{BODY, Flow, SMALL, pencil_box};
use super::table::{Column, Holds, table};
use super::{Imprint, Pages};
use crate::scene::{Scene, Words};
use crate::text::Units;

/// A quote as a sheet.
#[derive(Clone, Copy, Debug)]
pub struct QuoteSheet<'a> {
    /// What was quoted for.
    pub lot: &'a str,
    /// The currency.
    pub currency: &'a str,
    /// The quote.
    pub quoted: &'a LotQuote,
}

/// What goes back with a lot.
#[derive(Clone, Debug, PartialEq)]
pub struct DeliveryNote {
    /// What the lot is.
    pub lot: String,
    /// Where it goes, where that is known.
    pub to: Option<String>,
    /// Its cutters.
    pub lines: Vec<DeliveryLine>,
}

/// One cutter of a delivery.
#[derive(Clone, Debug, PartialEq)]
pub struct DeliveryLine {
    /// Its number.
    pub number: String,
    /// What it is.
    pub about: String,
    /// Nominal diameter.
    pub nominal: Length,
    /// Diameter as ground; none where it goes back as it came.
    pub ground: Option<Length>,
    /// Length of flute that is left.
    pub flute: Length,
    /// The whole length.
    pub overall: Length,
    /// How often it has been reground.
    pub regrind: u32,
}

/// Columns of the prices.
const PRICES: [Column; 5] = [
    Column::new("count", 14.0, 3.2).holding(Holds::Figures),
    Column::new("what", 78.0, 3.2),
    Column::new("each", 26.0, 3.2).holding(Holds::Figures),
    Column::new("sum", 28.0, 3.4).holding(Holds::Figures),
    Column::new("saved against new", 34.0, 3.2).holding(Holds::Figures),
];

/// Columns of the cutters that are quoted for.
const QUOTED: [Column; 5] = [
    Column::new("cutter", 40.0, BODY).holding(Holds::Bold),
    Column::new("worth it", 22.0, BODY),
    Column::new("saves by edge", 24.0, BODY).holding(Holds::Figures),
    Column::new("lives left", 34.0, BODY).holding(Holds::Figures),
    Column::new("comes off", 60.0, BODY),
];

/// Columns of those that are not ground.
const NOT_GROUND: [Column; 2] =
    [Column::new("cutter", 44.0, BODY).holding(Holds::Bold), Column::new("why", 136.0, BODY)];

/// Columns of a delivery.
const DELIVERED: [Column; 7] = [
    Column::new("cutter", 30.0, 3.6).holding(Holds::Bold),
    Column::new("what", 46.0, SMALL),
    Column::new("diameter now", 30.0, 3.6).holding(Holds::Figures),
    Column::new("from nominal", 26.0, BODY).holding(Holds::Figures),
    Column::new("flute left", 22.0, BODY).holding(Holds::Figures),
    Column::new("overall", 22.0, BODY).holding(Holds::Figures),
    Column::new("regrind", 13.0, BODY).holding(Holds::Figures),
];

/// The quote for a lot.
pub fn quote_sheet(sheet: &QuoteSheet<'_>, imprint: &Imprint) -> Pages {
    let QuoteSheet { lot, currency, quoted } = *sheet;
    let units = Units { system: imprint.system, both: false };
    let description = format!("Quote for {lot}: {} {currency} in all.", quoted.quote.total);
    let closing = "Each cutter is looked at again at the bench; what will not clean up is told \
                   before it is ground.";
    let mut flow = Flow::new(imprint, format!("QUOTE {lot}"), description, closing);
    flow.paragraph(3.4, &format!("Prices in {currency}."));
    flow.skip(1.0);
    let lines = quoted.quote.lines.iter().enumerate();
    let mut rows: Vec<Vec<String>> =
        lines.map(|(at, line)| price(line, &quoted.numbers(at))).collect();
    rows.extend(beside(quoted));
    table(&mut flow, &PRICES, &rows);
    flow.skip(1.5);
    flow.strong(5.0, &format!("Total {} {currency}", quoted.quote.total));
    quoted.quote.remarks.iter().for_each(|remark| flow.marked("*", BODY, remark));
    flow.skip(2.0);
    flow.heading("Cutters", 16.0);
    let rows: Vec<Vec<String>> = quoted.cutters.iter().map(|one| worth(one, units)).collect();
    table(&mut flow, &QUOTED, &rows);
    if !quoted.not_ground.is_empty() {
        flow.skip(2.0);
        flow.heading("Not ground", 16.0);
        let row = |one: &shop::cost::NotGround| vec![one.number.clone(), one.why.clone()];
        let rows: Vec<Vec<String>> = quoted.not_ground.iter().map(row).collect();
        table(&mut flow, &NOT_GROUND, &rows);
    }
    flow.finish()
}

fn price(line: &QuoteLine, numbers: &[&str]) -> Vec<String> {
    let saved = line.saved.map(|saved| saved.to_string()).unwrap_or_default();
    let (each, sum) = (line.each.to_string(), line.sum.to_string());
    let what = format!("{} ({})", line.what, numbers.join(", "));
    vec![line.count.to_string(), what, each, sum, saved]
}

/// What stands beside the cutters, where it is anything.
fn beside(quoted: &LotQuote) -> Vec<Vec<String>> {
    let none = String::new;
    [
        ("for the lot: unpacking, papers, carriage", quoted.quote.per_lot),
        ("to reach the least charge", quoted.quote.to_least_charge),
    ]
    .into_iter()
    .filter(|(_, money)| *money > Money::ZERO)
    .map(|(what, money)| vec![none(), what.to_owned(), none(), money.to_string(), none()])
    .collect()
}

fn worth(one: &LotWorth, units: Units) -> Vec<String> {
    let worth = one.worth.as_ref();
    let word = worth.map_or("not known", |worth| if worth.is_worth { "yes" } else { "no" });
    let saved = worth.map(|worth| worth.saved.to_string()).unwrap_or_default();
    let lives = one
        .lives
        .as_ref()
        .map(|lives| format!("{} ({} to {})", lives.expected, lives.least, lives.greatest));
    let off = comes_off(&one.parts, units);
    vec![one.number.clone(), word.to_owned(), saved, lives.unwrap_or_default(), off]
}

/// What comes off each part of a cutter, in one line.
pub fn comes_off(parts: &[PartStock], units: Units) -> String {
    let words =
        |part: &PartStock| format!("{} {}", part.part.measured_on(), units.length(part.off));
    parts.iter().map(words).collect::<Vec<_>>().join(", ")
}

/// The note that goes with a lot that is handed back.
pub fn delivery_note(note: &DeliveryNote, imprint: &Imprint) -> Pages {
    let units = Units { system: imprint.system, both: false };
    let (title, count) = (format!("DELIVERY NOTE {}", note.lot), note.lines.len());
    let cutters = if count == 1 { "cutter" } else { "cutters" };
    let description = format!("Delivery note of {}: {count} {cutters}.", note.lot);
    let closing = "Set the diameter that is written here, never the nominal one.";
    let mut flow = Flow::new(imprint, title, description, closing);
    let to = note.to.as_ref().map(|to| format!(" To {to}.")).unwrap_or_default();
    flow.paragraph(3.4, &format!("{count} {cutters}.{to}"));
    flow.skip(1.0);
    let rows: Vec<Vec<String>> = note.lines.iter().map(|line| delivered(line, units)).collect();
    table(&mut flow, &DELIVERED, &rows);
    flow.skip(1.0);
    flow.marked(
        "!",
        BODY,
        "Fresh edges cut: lift cutters by the shank. A reground cutter is smaller than its shank \
         says: set the diameter measured, and check the first part.",
    );
    signatures(&mut flow);
    flow.finish()
}

fn delivered(line: &DeliveryLine, units: Units) -> Vec<String> {
    let (size, change) = match line.ground {
        Some(ground) => (units.length(ground), units.signed(ground - line.nominal)),
        None => ("as it came".to_owned(), String::new()),
    };
    let (flute, overall) = (units.length(line.flute), units.length(line.overall));
    let regrind = line.regrind.to_string();
    vec![line.number.clone(), line.about.clone(), size, change, flute, overall, regrind]
}

/// Room for who handed over and who took it.
fn signatures(flow: &mut Flow<'_>) {
    let high = 16.0;
    flow.skip(4.0);
    flow.need(high);
    let (top, left, half) = (flow.y(), flow.sides().0, 0.5 * flow.width());
    let mut sign = |x: f64, words: &str| {
        let scene: &mut Scene = flow.scene();
        scene.text(Words::starting(Point::new(x, top + 3.0), SMALL, words));
        pencil_box(scene, Rect::new(x, top + 4.4, x + half - 4.0, top + high));
    };
    sign(left, "handed over by, date");
    sign(left + half + 2.0, "taken by, date");
    flow.set_y(top + high);
}
