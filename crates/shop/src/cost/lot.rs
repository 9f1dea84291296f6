//! A lot of dull cutters: what each asks for, a quote for all, and which are worth it.

use geometry::Length;
use geometry::quantity::System;

use super::grind::{GrindWork, WheelUse};
use super::money::Money;
use super::prices::Prices;
use super::quote::{LotLine, Quote, quote};
use super::worth::{Worth, WorthQuestion, worth};
use crate::context::Ctx;
use crate::error::ShopError;
use crate::learn::{CutterHistory, Lives};
use crate::plan::{Judged, judge_cutter};
use crate::record::Cutter;

/// Surfaces that are ground on each tooth: primary and secondary.
pub(super) const SURFACES: u32 = 2;

/// A cutter of the lot.
#[derive(Clone, Copy, Debug)]
pub struct LotCutter<'a> {
    /// The cutter with its wear.
    pub cutter: &'a Cutter,
    /// The number of the wheel that will grind it, where that is known.
    pub wheel: Option<&'a str>,
    /// Its own grinds, as far as they are known: lives and stock are counted by them first.
    pub history: &'a CutterHistory,
}

/// What is said of one cutter of the lot.
#[derive(Clone, Debug, PartialEq)]
pub struct LotWorth {
    /// Its number.
    pub number: String,
    /// The place of its line in the quote.
    pub line: usize,
    /// Stock off the diameter, from the dull edges.
    pub stock: Length,
    /// Lives left, this regrind counted; none where no source gives a smallest useful size.
    pub lives: Option<Lives>,
    /// Whether it is worth it; none where the price of a new one or the lives are not known.
    pub worth: Option<Worth>,
}

/// A cutter that is not ground on its periphery.
#[derive(Clone, Debug, PartialEq)]
pub struct NotGround {
    /// Its number.
    pub number: String,
    /// The verdict, or what is wrong.
    pub why: String,
}

/// A quote for a lot of cutters.
#[derive(Clone, Debug, PartialEq)]
pub struct LotQuote {
    /// The quote.
    pub quote: Quote,
    /// The cutters in it, in the order in which they were given.
    pub cutters: Vec<LotWorth>,
    /// The others.
    pub not_ground: Vec<NotGround>,
}

/// What one cutter asks for.
struct Piece {
    number: String,
    what: String,
    teeth: u32,
    stock: Length,
    wheel: Option<String>,
    wheel_use: WheelUse,
    new_price: Option<Money>,
    lives: Option<Lives>,
}

/// Cutters of one kind that are ground with one wheel, and so in one set-up.
struct Kind {
    pieces: Vec<usize>,
}

/// Quotes for a lot of dull cutters: those alike in size, teeth, material and wheel stand on one
/// line and share a set-up, at the mean of their stocks. Whether one is worth it is asked at the
/// price that is quoted, with the lives that its own history and the tables give.
///
/// # Errors
/// `Invalid` where the prices have no line for a wheel; `Refused` where not one of the cutters is
/// ground on its periphery.
pub fn quote_lot(
    ctx: &Ctx<'_>,
    prices: &Prices,
    cutters: &[LotCutter<'_>],
) -> Result<LotQuote, ShopError> {
    let (mut pieces, mut not_ground) = (Vec::new(), Vec::new());
    for lot in cutters {
        match ground(ctx, lot)? {
            Ok(judged) => pieces.push(piece(prices, lot, &judged)?),
            Err(why) => not_ground.push(NotGround { number: lot.cutter.number().to_owned(), why }),
        }
    }
    if let (true, Some(first)) = (pieces.is_empty(), not_ground.first()) {
        let why = format!("{}: {}", first.number, first.why);
        return Err(ShopError::refused("a lot needs a cutter that can be ground", why));
    }
    let kinds = kinds(&pieces);
    let lines: Vec<LotLine> = kinds.iter().filter_map(|kind| line(kind, &pieces)).collect();
    let quote = quote(&prices.rates, &lines, &prices.terms)?;
    let cutters = pieces.iter().enumerate();
    let cutters = cutters.map(|(at, piece)| told(prices, &quote, &kinds, at, piece));
    Ok(LotQuote { cutters: cutters.collect::<Result<_, _>>()?, quote, not_ground })
}

/// What a cutter that is ground on its periphery is worth, else why it is not.
fn ground(ctx: &Ctx<'_>, lot: &LotCutter<'_>) -> Result<Result<Judged, String>, ShopError> {
    match judge_cutter(ctx, lot.cutter, lot.history) {
        Ok(judged) if judged.verdict.route.grinds_periphery() => Ok(Ok(judged)),
        Ok(judged) => Ok(Err(judged.verdict.in_words())),
        Err(error @ ShopError::Invalid { .. }) => Ok(Err(error.to_string())),
        Err(error) => Err(error),
    }
}

fn piece(prices: &Prices, lot: &LotCutter<'_>, judged: &Judged) -> Result<Piece, ShopError> {
    let Judged { stock, verdict, .. } = judged;
    let cutter = lot.cutter;
    let after = verdict.chosen().and_then(|view| view.diameter_after);
    let off = stock.dull_diameter - after.unwrap_or(stock.clean_diameter);
    let wheel_use = prices.wheel_use(lot.wheel).ok_or_else(|| {
        let wheel = lot.wheel.unwrap_or("of no number");
        let reason = format!("no line for wheel {wheel}, and none without a number for all others");
        ShopError::invalid("wheel", reason)
    })?;
    Ok(Piece {
        number: cutter.number().to_owned(),
        what: what(cutter),
        teeth: cutter.teeth(),
        stock: off.max(Length::ZERO),
        wheel: lot.wheel.map(str::to_owned),
        wheel_use,
        new_price: prices.new_price(cutter),
        lives: judged.lives(),
    })
}

fn what(cutter: &Cutter) -> String {
    let diameter = cutter.diameter().show_both(System::Millimetre);
    format!("{diameter}, {} teeth, {}", cutter.teeth(), cutter.material().name())
}

/// The kinds in the order in which the first of each was given.
fn kinds(pieces: &[Piece]) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    for (at, piece) in pieces.iter().enumerate() {
        let alike = |kind: &&mut Kind| {
            let first = kind.pieces.first().and_then(|first| pieces.get(*first));
            first.is_some_and(|first| (&first.what, &first.wheel) == (&piece.what, &piece.wheel))
        };
        match kinds.iter_mut().find(alike) {
            Some(kind) => kind.pieces.push(at),
            None => kinds.push(Kind { pieces: vec![at] }),
        }
    }
    kinds
}

fn line(kind: &Kind, pieces: &[Piece]) -> Option<LotLine> {
    let pieces: Vec<&Piece> = kind.pieces.iter().filter_map(|at| pieces.get(*at)).collect();
    let first = pieces.first()?;
    let count = u32::try_from(pieces.len()).ok()?;
    let stock = pieces.iter().map(|piece| piece.stock).fold(Length::ZERO, |sum, one| sum + one);
    let new = pieces.iter().map(|piece| piece.new_price).sum::<Option<Money>>();
    let work = GrindWork {
        teeth: first.teeth,
        surfaces: SURFACES,
        stock: stock / f64::from(count),
        setup_shared_by: count,
        wheel: first.wheel_use,
    };
    let new_price = new.map(|sum| sum / f64::from(count));
    Some(LotLine { what: first.what.clone(), count, work, new_price })
}

fn told(
    prices: &Prices,
    quote: &Quote,
    kinds: &[Kind],
    at: usize,
    piece: &Piece,
) -> Result<LotWorth, ShopError> {
    let line = kinds.iter().position(|kind| kind.pieces.contains(&at)).unwrap_or_default();
    let each = quote.lines.get(line).map(|line| line.each);
    let asked = each.zip(piece.new_price).zip(piece.lives.as_ref());
    let worth = asked.map(|((grind, new_price), lives)| {
        worth(&WorthQuestion { grind, new_price, edge_share: prices.edge_share }, lives)
    });
    Ok(LotWorth {
        number: piece.number.clone(),
        line,
        stock: piece.stock,
        lives: piece.lives.clone(),
        worth: worth.transpose()?,
    })
}
