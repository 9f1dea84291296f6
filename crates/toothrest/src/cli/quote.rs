//! `toothrest quote`.

use std::path::PathBuf;

use book::Book;
use clap::Args;
use geometry::quantity::System;
use sheets::paper::{QuoteSheet, quote_sheet};
use shop::book::{Query, Store, SubjectKind, whole_list};
use shop::cost::{LotCutter, LotQuote, LotWorth, Money, Prices, quote_lot};
use shop::record::{Cutter, Wheel};
use shop::tray::{TrayBench, tray_job};
use shop::{Ctx, ShopError};
use trade::Tables;

use super::columns::Columns;
use super::failure::Failure;
use super::inputs;
use super::place::BookArguments;
use super::print::PaperArguments;
use super::shelf;
use crate::files::{FileProblems, load, read_cutter, read_prices};
use crate::paper;
use crate::wire;

#[derive(Debug, Args)]
pub(super) struct QuoteArguments {
    #[command(flatten)]
    book: BookArguments,
    /// The cutters of this tray in the book
    #[arg(long, value_name = "NAME", required_unless_present = "cutters")]
    tray: Option<String>,
    /// A dull cutter's file; may be given more than once, and needs no book beside --prices
    #[arg(long, value_name = "FILE", conflicts_with_all = ["tray", "machine"])]
    cutters: Vec<PathBuf>,
    /// A file of prices; left out, the one in the book
    #[arg(long, value_name = "FILE")]
    prices: Option<PathBuf>,
    /// The name of the prices in the book, where there are several
    #[arg(long, value_name = "NAME", conflicts_with = "prices")]
    list: Option<String>,
    /// The machine in the book; left out, the only one there, and where there is none the wheels
    /// cost what the prices say of every other wheel
    #[arg(long, value_name = "NAME")]
    machine: Option<String>,
    /// Answer in JSON
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    print: PaperArguments,
}

/// A lot with the price of each.
pub(crate) struct Quoted {
    /// What was quoted for, in words.
    pub(crate) lot: String,
    pub(crate) currency: String,
    pub(crate) quoted: LotQuote,
    /// The system that its first cutter was made in.
    pub(crate) system: System,
}

/// The cutters, each with the wheel that will grind it where that is known.
type Lot = Vec<(Cutter, Option<String>)>;

pub(super) fn run(asked: &QuoteArguments) -> Result<String, Failure> {
    let quoted = match &asked.tray {
        Some(tray) => asked.book.work(async |book| of_tray(book, asked, tray).await)?,
        None => of_files(asked)?,
    };
    let answer = serde_json::to_string_pretty(&wire::quote(&quoted))? + "\n";
    let (lot, revision) = (quoted.lot.as_str(), paper::of_answer(&answer));
    asked.print.write(lot, revision, quoted.system, |imprint| {
        let Quoted { lot, currency, quoted, .. } = &quoted;
        quote_sheet(&QuoteSheet { lot, currency, quoted }, imprint)
    })?;
    Ok(if asked.json { answer } else { told(&quoted) })
}

async fn of_tray(book: &Book, asked: &QuoteArguments, name: &str) -> Result<Quoted, Failure> {
    let prices = match prices_of_file(asked)? {
        Some(prices) => prices,
        None => prices_of_book(book, asked).await?,
    };
    let found = book.find(SubjectKind::Tray, name).await?;
    let tray = found.ok_or_else(|| ShopError::NotFound { what: format!("tray {name:?}") })?;
    let tables = shelf::tables(book).await?;
    let cutters = shelf::waiting(book, Some(&tray.subject.id)).await?;
    let cutters = cutters.into_iter().map(|cutter| cutter.state.cutter).collect();
    let lot = with_wheels(book, asked, &tables, cutters).await?;
    quoted(&tables, &prices, tray.number, &lot)
}

/// Finds the wheel that will grind each, where the machine is known.
async fn with_wheels(
    book: &Book,
    asked: &QuoteArguments,
    tables: &Tables,
    cutters: Vec<Cutter>,
) -> Result<Lot, Failure> {
    let machines = whole_list(book, Query::of(SubjectKind::Machine)).await?;
    if asked.machine.is_none() && machines.len() != 1 {
        return Ok(cutters.into_iter().map(|cutter| (cutter, None)).collect());
    }
    let machine = shelf::machine(book, asked.machine.as_deref()).await?;
    let wheels = shelf::wheels(book).await?;
    let wheels: Vec<Wheel> = wheels.into_iter().map(|(_, wheel)| wheel).collect();
    let bench = TrayBench { machine: &machine, wheels: &wheels };
    let wheel = |cutter: &Cutter| {
        let job = tray_job(&Ctx { tables }, bench, cutter, None);
        job.will_not_clean_up.is_none().then_some(job.setup.wheel)
    };
    Ok(cutters.into_iter().map(|cutter| (wheel(&cutter), cutter)).map(|(w, c)| (c, w)).collect())
}

fn of_files(asked: &QuoteArguments) -> Result<Quoted, Failure> {
    let mut problems: Vec<FileProblems> = Vec::new();
    let mut lot: Lot = Vec::new();
    for path in &asked.cutters {
        match load(path, read_cutter) {
            Ok(cutter) => lot.push((cutter, None)),
            Err(found) => problems.push(found),
        }
    }
    if !problems.is_empty() {
        return Err(Failure::Files(problems));
    }
    let prices = match prices_of_file(asked)? {
        Some(prices) => prices,
        None => asked.book.work(async |book| prices_of_book(book, asked).await)?,
    };
    quoted(&inputs::tables(None)?, &prices, "cutters from files".to_owned(), &lot)
}

fn prices_of_file(asked: &QuoteArguments) -> Result<Option<Prices>, Failure> {
    Ok(asked.prices.as_deref().map(|path| load(path, read_prices)).transpose()?)
}

async fn prices_of_book(book: &Book, asked: &QuoteArguments) -> Result<Prices, Failure> {
    let paper = shelf::paper(book, SubjectKind::Prices, asked.list.as_deref(), "--list").await?;
    Ok(read_prices(&paper.name, &paper.text)?)
}

fn quoted(tables: &Tables, prices: &Prices, name: String, lot: &Lot) -> Result<Quoted, Failure> {
    let cutters = lot.iter().map(|(cutter, wheel)| LotCutter { cutter, wheel: wheel.as_deref() });
    let quoted = quote_lot(&Ctx { tables }, prices, &cutters.collect::<Vec<_>>())?;
    let system = lot.first().map_or(System::Millimetre, |(cutter, _)| cutter.system());
    Ok(Quoted { lot: name, currency: prices.currency.clone(), quoted, system })
}

fn told(quoted: &Quoted) -> String {
    let Quoted { lot, currency, quoted, .. } = quoted;
    let mut text = format!("QUOTE  {lot}, in {currency}\n");
    text += &lines(quoted);
    let minutes = quoted.quote.at_machine.minutes();
    text += &format!("TOTAL  {} {currency}, {minutes:.0} min at the machine\n", quoted.quote.total);
    quoted.quote.remarks.iter().for_each(|remark| text += &format!("* {remark}\n"));
    text += &worths(&quoted.cutters);
    if !quoted.not_ground.is_empty() {
        let mut table = Columns::new(["NOT GROUND", ""]);
        let rows = quoted.not_ground.iter().map(|one| [one.number.clone(), one.why.clone()]);
        rows.for_each(|row| table.row(row));
        text += &table.text();
    }
    text
}

fn amount(money: Money) -> String {
    format!("{money:>9}")
}

fn lines(quoted: &LotQuote) -> String {
    let mut table = Columns::new(["count", "what", "     each", "      sum", "saved against new"]);
    for line in &quoted.quote.lines {
        let saved = line.saved.map(amount).unwrap_or_default();
        let count = format!("{:>5}", line.count);
        table.row([count, line.what.clone(), amount(line.each), amount(line.sum), saved]);
    }
    for (what, money) in [
        ("beside the cutters", quoted.quote.per_lot),
        ("to reach the least charge", quoted.quote.to_least_charge),
    ] {
        if money > Money::ZERO {
            let none = String::new;
            table.row([none(), what.to_owned(), none(), amount(money), none()]);
        }
    }
    table.text()
}

fn worths(cutters: &[LotWorth]) -> String {
    let mut table = Columns::new(["cutter", "worth it", "saves", "lives left", "stock"]);
    for cutter in cutters {
        let worth = cutter.worth.as_ref();
        let word = worth.map_or("not known", |worth| if worth.is_worth { "yes" } else { "no" });
        let saved = worth.map(|worth| worth.saved.to_string()).unwrap_or_default();
        let lives = cutter
            .lives
            .as_ref()
            .map(|lives| format!("{} ({} to {})", lives.expected, lives.least, lives.greatest));
        let stock = format!("{:.3} mm", cutter.stock.mm());
        table.row([
            cutter.number.clone(),
            word.to_owned(),
            saved,
            lives.unwrap_or_default(),
            stock,
        ]);
    }
    table.text()
}
