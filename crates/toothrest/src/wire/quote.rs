//! The answer of `toothrest quote`.

use serde::Serialize;
use shop::cost::{LotWorth, NotGround, QuoteLine};
use shop::plan::{GroundPart, PartStock};

use super::SCHEMA_VERSION;
use crate::cli::Quoted;

/// A quote for a lot.
#[derive(Serialize)]
pub(crate) struct QuoteAnswer<'a> {
    schema: u32,
    lot: &'a str,
    currency: &'a str,
    lines: Vec<LineAnswer<'a>>,
    per_lot: f64,
    to_least_charge: f64,
    total: f64,
    minutes_at_machine: f64,
    cutters: Vec<CutterAnswer<'a>>,
    not_ground: Vec<NotGroundAnswer<'a>>,
    remarks: &'a [String],
}

#[derive(Serialize)]
struct LineAnswer<'a> {
    what: &'a str,
    count: u32,
    each: f64,
    sum: f64,
    saved_against_new: Option<f64>,
}

#[derive(Serialize)]
struct CutterAnswer<'a> {
    number: &'a str,
    line: usize,
    stock_mm: Option<f64>,
    parts: Vec<PartAnswer>,
    worth: Option<bool>,
    saved: Option<f64>,
    lives: Option<u32>,
    lives_least: Option<u32>,
    lives_greatest: Option<u32>,
    lives_by: Option<&'a str>,
}

#[derive(Serialize)]
struct PartAnswer {
    part: &'static str,
    off: &'static str,
    off_mm: f64,
}

#[derive(Serialize)]
struct NotGroundAnswer<'a> {
    number: &'a str,
    why: &'a str,
}

pub(crate) fn quote(quoted: &Quoted) -> QuoteAnswer<'_> {
    let Quoted { lot, currency, quoted, .. } = quoted;
    let quote = &quoted.quote;
    QuoteAnswer {
        schema: SCHEMA_VERSION,
        lot,
        currency,
        lines: quote.lines.iter().map(line).collect(),
        per_lot: cents(quote.per_lot.amount()),
        to_least_charge: cents(quote.to_least_charge.amount()),
        total: cents(quote.total.amount()),
        minutes_at_machine: quote.at_machine.minutes(),
        cutters: quoted.cutters.iter().map(cutter).collect(),
        not_ground: quoted.not_ground.iter().map(not_ground).collect(),
        remarks: &quote.remarks,
    }
}

/// Amounts add up in binary to a hair more or less than they are written.
fn cents(amount: f64) -> f64 {
    (amount * 100.0).round() / 100.0
}

fn line(line: &QuoteLine) -> LineAnswer<'_> {
    LineAnswer {
        what: &line.what,
        count: line.count,
        each: cents(line.each.amount()),
        sum: cents(line.sum.amount()),
        saved_against_new: line.saved.map(|saved| cents(saved.amount())),
    }
}

fn cutter(cutter: &LotWorth) -> CutterAnswer<'_> {
    let periphery = cutter.parts.iter().find(|part| part.part == GroundPart::Periphery);
    CutterAnswer {
        number: &cutter.number,
        line: cutter.line,
        stock_mm: periphery.map(|part| part.off.mm()),
        parts: cutter.parts.iter().map(part).collect(),
        worth: cutter.worth.as_ref().map(|worth| worth.is_worth),
        saved: cutter.worth.as_ref().map(|worth| cents(worth.saved.amount())),
        lives: cutter.lives.as_ref().map(|lives| lives.expected),
        lives_least: cutter.lives.as_ref().map(|lives| lives.least),
        lives_greatest: cutter.lives.as_ref().map(|lives| lives.greatest),
        lives_by: cutter.lives.as_ref().map(|lives| lives.from.as_str()),
    }
}

fn part(part: &PartStock) -> PartAnswer {
    PartAnswer { part: part.part.name(), off: part.part.measured_on(), off_mm: part.off.mm() }
}

fn not_ground(one: &NotGround) -> NotGroundAnswer<'_> {
    NotGroundAnswer { number: &one.number, why: &one.why }
}
