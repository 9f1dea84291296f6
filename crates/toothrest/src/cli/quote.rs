//! `toothrest quote`.

use std::path::PathBuf;

use book::Book;
use clap::Args;
use geometry::quantity::System;
use sheets::paper::{QuoteSheet, comes_off, quote_sheet};
use sheets::text::Units;
use shop::book::{Id, Query, Store, SubjectKind, whole_list};
use shop::cost::{LotCutter, LotQuote, LotWorth, Money, Prices, quote_lot};
use shop::learn::CutterHistory;
use shop::record::{Cutter, Wheel};
use shop::tray::{TrayBench, tray_job};
use shop::{Ctx, ShopError};
use trade::Tables;

use super::columns::Columns;
use super::failure::Failure;
use super::inputs;
use super::place::BookArguments;
use super::print::PaperArguments;
use super::shelf::{self, Waiting};
use crate::desk::inputs_of;
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
    /// With the end of every cutter beside its periphery; left out, of those whose kept plan grinds
    /// the end
    #[arg(long)]
    end: bool,
    /// The machine in the book; left out, the only one there, and where there is none the wheels
    /// cost what the prices say of every other wheel
    #[arg(long, value_name = "NAME")]
    machine: Option<String>,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
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

/// A cutter to be quoted for.
struct Piece {
    cutter: Cutter,
    /// The wheel that will grind it, where that is known.
    wheel: Option<String>,
    /// Its own grinds, as far as the book has them.
    grinds: CutterHistory,
    /// Whether the plan that is kept of it grinds the end too.
    end_planned: bool,
}

pub(super) fn run(asked: &QuoteArguments) -> Result<String, Failure> {
    let quoted = match &asked.tray {
        Some(tray) => asked.book.read(async |book| of_tray(book, asked, tray).await)?,
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
    let lot = with_wheels(book, asked, &tables, cutters).await?;
    quoted(&tables, &prices, tray.number, (&lot, asked.end))
}

/// Finds the wheel that will grind each, where the machine is known.
async fn with_wheels(
    book: &Book,
    asked: &QuoteArguments,
    tables: &Tables,
    cutters: Vec<Waiting>,
) -> Result<Vec<Piece>, Failure> {
    let piece = |waiting: Waiting, wheel: Option<String>| Piece {
        cutter: waiting.state.cutter,
        wheel,
        grinds: waiting.grinds,
        end_planned: waiting.planned.as_ref().is_some_and(|plan| inputs_of(plan).end),
    };
    let machines = whole_list(book, Query::of(SubjectKind::Machine)).await?;
    if asked.machine.is_none() && machines.len() != 1 {
        return Ok(cutters.into_iter().map(|cutter| piece(cutter, None)).collect());
    }
    let (machine_id, machine) = shelf::machine(book, asked.machine.as_deref()).await?;
    let rack = shelf::wheels(book).await?;
    let wheels: Vec<Wheel> = rack.iter().map(|(_, wheel)| wheel.clone()).collect();
    let bench = TrayBench { machine: &machine, wheels: &wheels };
    let number = |id: &Id| rack.iter().find(|(at, _)| at == id).map(|(_, wheel)| wheel.number());
    let wheel = |waiting: &Waiting| {
        let kept = waiting.planned.as_ref().and_then(|plan| plan.kept(&machine_id, number));
        let job = tray_job(&Ctx { tables }, bench, &waiting.state.cutter, kept);
        job.will_not_clean_up.is_none().then_some(job.setup.wheel)
    };
    let with_wheel = |waiting| {
        let wheel = wheel(&waiting);
        piece(waiting, wheel)
    };
    Ok(cutters.into_iter().map(with_wheel).collect())
}

fn of_files(asked: &QuoteArguments) -> Result<Quoted, Failure> {
    let mut problems: Vec<FileProblems> = Vec::new();
    let mut lot: Vec<Piece> = Vec::new();
    for path in &asked.cutters {
        match load(path, read_cutter) {
            Ok(cutter) => lot.push(Piece {
                cutter,
                wheel: None,
                grinds: CutterHistory::default(),
                end_planned: false,
            }),
            Err(found) => problems.push(found),
        }
    }
    if !problems.is_empty() {
        return Err(Failure::Files(problems));
    }
    let prices = match prices_of_file(asked)? {
        Some(prices) => prices,
        None => asked.book.read(async |book| prices_of_book(book, asked).await)?,
    };
    quoted(&inputs::tables(None)?, &prices, "cutters from files".to_owned(), (&lot, asked.end))
}

fn prices_of_file(asked: &QuoteArguments) -> Result<Option<Prices>, Failure> {
    Ok(asked.prices.as_deref().map(|path| load(path, read_prices)).transpose()?)
}

async fn prices_of_book(book: &Book, asked: &QuoteArguments) -> Result<Prices, Failure> {
    let paper = shelf::paper(book, SubjectKind::Prices, asked.list.as_deref(), "--list").await?;
    Ok(read_prices(&paper.name, &paper.text)?)
}

fn quoted(
    tables: &Tables,
    prices: &Prices,
    name: String,
    (lot, end): (&[Piece], bool),
) -> Result<Quoted, Failure> {
    let cutters = lot.iter().map(|piece| LotCutter {
        cutter: &piece.cutter,
        wheel: piece.wheel.as_deref(),
        history: &piece.grinds,
        end_asked: end || piece.end_planned,
    });
    let quoted = quote_lot(&Ctx { tables }, prices, &cutters.collect::<Vec<_>>())?;
    let system = lot.first().map_or(System::Millimetre, |piece| piece.cutter.system());
    Ok(Quoted { lot: name, currency: prices.currency.clone(), quoted, system })
}

fn told(quoted: &Quoted) -> String {
    let Quoted { lot, currency, quoted, system } = quoted;
    let mut text = format!("QUOTE  {lot}, in {currency}\n");
    text += &lines(quoted);
    let minutes = quoted.quote.at_machine.minutes();
    text += &format!("TOTAL  {} {currency}, {minutes:.0} min at the machine\n", quoted.quote.total);
    quoted.quote.remarks.iter().for_each(|remark| text += &format!("* {remark}\n"));
    text += &worths(&quoted.cutters, Units { system: *system, both: false });
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
    let mut table =
        Columns::new(["count", "what", "     each", "      sum", "saved against new", "cutters"]);
    for (at, line) in quoted.quote.lines.iter().enumerate() {
        let saved = line.saved.map(amount).unwrap_or_default();
        let count = format!("{:>5}", line.count);
        let numbers = quoted.numbers(at).join(", ");
        table.row([count, line.what.clone(), amount(line.each), amount(line.sum), saved, numbers]);
    }
    for (what, money) in [
        ("for the lot", quoted.quote.per_lot),
        ("to reach the least charge", quoted.quote.to_least_charge),
    ] {
        if money > Money::ZERO {
            let none = String::new;
            table.row([none(), what.to_owned(), none(), amount(money), none(), none()]);
        }
    }
    table.text()
}

fn worths(cutters: &[LotWorth], units: Units) -> String {
    let mut table = Columns::new([
        "cutter",
        "worth it",
        "saves by edge",
        "lives left",
        "comes off",
        "counted by",
    ]);
    for cutter in cutters {
        let worth = cutter.worth.as_ref();
        let word = worth.map_or("not known", |worth| if worth.is_worth { "yes" } else { "no" });
        let saved = worth.map(|worth| worth.saved.to_string()).unwrap_or_default();
        let lives = cutter
            .lives
            .as_ref()
            .map(|lives| format!("{} ({} to {})", lives.expected, lives.least, lives.greatest));
        let counted = cutter.lives.as_ref().map(|lives| lives.from.clone());
        table.row([
            cutter.number.clone(),
            word.to_owned(),
            saved,
            lives.unwrap_or_default(),
            comes_off(&cutter.parts, units),
            counted.unwrap_or_default(),
        ]);
    }
    table.text()
}
