//! A lot of dull cutters: what each asks for, a quote for all, and which are worth it.

use geometry::Length;

use super::grind::{GrindWork, WheelUse};
use super::money::Money;
use super::prices::Prices;
use super::quote::{LotLine, Quote, quote};
use super::worth::{Worth, WorthQuestion, worth};
use crate::context::Ctx;
use crate::error::ShopError;
use crate::learn::{CutterHistory, Lives};
use crate::plan::{GroundPart, Judged, PartStock, Route, end_wanted, ground_parts, judge_cutter};
use crate::record::{Cutter, EndForm};

/// A cutter of the lot.
#[derive(Clone, Copy, Debug)]
pub struct LotCutter<'a> {
    /// The cutter with its wear.
    pub cutter: &'a Cutter,
    /// The number of the wheel that will grind it, where that is known.
    pub wheel: Option<&'a str>,
    /// Its own grinds, as far as they are known: lives and stock are counted by them first.
    pub history: &'a CutterHistory,
    /// Whether its plan grinds the end beside the periphery.
    pub end_asked: bool,
}

/// What is said of one cutter of the lot.
#[derive(Clone, Debug, PartialEq)]
pub struct LotWorth {
    /// Its number.
    pub number: String,
    /// The place of its line in the quote.
    pub line: usize,
    /// The parts that are ground, with what comes off each from the dull edges.
    pub parts: Vec<PartStock>,
    /// Lives left, this regrind counted; none where no source gives a smallest useful size.
    pub lives: Option<Lives>,
    /// Whether it is worth it; none where the price of a new one or the lives are not known.
    pub worth: Option<Worth>,
}

/// A cutter that is not ground.
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

impl LotQuote {
    /// The numbers of the cutters on a line of the quote.
    pub fn numbers(&self, line: usize) -> Vec<&str> {
        let on = self.cutters.iter().filter(|one| one.line == line);
        on.map(|one| one.number.as_str()).collect()
    }
}

/// What one cutter asks for.
struct Piece {
    number: String,
    what: String,
    teeth: u32,
    parts: Vec<PartStock>,
    /// Work that belongs to it and is in no price.
    not_priced: Option<String>,
    wheel: Option<String>,
    wheel_use: WheelUse,
    new_price: Option<Money>,
    lives: Option<Lives>,
}

/// Cutters of one kind that are ground with one wheel, and so in one set-up.
struct Kind {
    pieces: Vec<usize>,
}

/// Quotes for a lot of dull cutters: those alike in size, teeth, material, wheel and the parts that
/// are ground stand on one line and share its set-ups, at the mean of their stocks. Whether one is
/// worth it is asked at the price that is quoted, with the lives that its own history and the
/// tables give.
///
/// # Errors
/// `Invalid` where the prices have no line for a wheel; `Refused` where not one of the cutters is
/// ground.
pub fn quote_lot(
    ctx: &Ctx<'_>,
    prices: &Prices,
    cutters: &[LotCutter<'_>],
) -> Result<LotQuote, ShopError> {
    let (mut pieces, mut not_ground) = (Vec::new(), Vec::new());
    for lot in cutters {
        match ground(ctx, lot)? {
            Ok((judged, parts)) => pieces.push(piece(prices, lot, &judged, parts)?),
            Err(why) => not_ground.push(NotGround { number: lot.cutter.number().to_owned(), why }),
        }
    }
    if let (true, Some(first)) = (pieces.is_empty(), not_ground.first()) {
        let why = format!("{}: {}", first.number, first.why);
        return Err(ShopError::refused("a lot needs a cutter that can be ground", why));
    }
    let kinds = kinds(&pieces);
    let lines: Vec<LotLine> = kinds.iter().filter_map(|kind| line(kind, &pieces)).collect();
    let mut quote = quote(&prices.rates, &lines, &prices.terms)?;
    quote.remarks.extend(pieces.iter().filter_map(|piece| piece.not_priced.clone()));
    let cutters = pieces.iter().enumerate();
    let cutters = cutters.map(|(at, piece)| told(prices, &quote, &kinds, at, piece));
    let cutters: Vec<LotWorth> = cutters.collect::<Result<_, _>>()?;
    if prices.edge_share != 1.0 && cutters.iter().any(|one| one.worth.is_some()) {
        let percent = 100.0 * prices.edge_share;
        quote.remarks.push(format!(
            "whether it is worth it counts a reground edge as {percent:.0} % of a new one"
        ));
    }
    Ok(LotQuote { cutters, quote, not_ground })
}

/// A cutter that is ground, with the parts of it; else why it is not.
type Ground = Result<(Judged, Vec<PartStock>), String>;

fn ground(ctx: &Ctx<'_>, lot: &LotCutter<'_>) -> Result<Ground, ShopError> {
    let judged = judge_cutter(ctx, lot.cutter, lot.history);
    let judged = judged.and_then(|judged| {
        let parts = ground_parts(ctx, lot.cutter, &judged, lot.end_asked)?;
        Ok((judged, parts))
    });
    match judged {
        Ok((judged, parts)) if parts.is_empty() => Ok(Err(judged.verdict.in_words())),
        Ok(ground) => Ok(Ok(ground)),
        Err(error @ ShopError::Invalid { .. }) => Ok(Err(error.to_string())),
        Err(error) => Err(error),
    }
}

fn piece(
    prices: &Prices,
    lot: &LotCutter<'_>,
    judged: &Judged,
    parts: Vec<PartStock>,
) -> Result<Piece, ShopError> {
    let cutter = lot.cutter;
    let wheel_use = prices.wheel_use(lot.wheel).ok_or_else(|| {
        let wheel = lot.wheel.unwrap_or("of no number");
        let reason = format!("no line for wheel {wheel}, and none without a number for all others");
        ShopError::invalid("wheel", reason)
    })?;
    Ok(Piece {
        number: cutter.number().to_owned(),
        what: what(cutter, &parts),
        teeth: cutter.teeth(),
        not_priced: not_priced(lot, judged, &parts),
        parts,
        wheel: lot.wheel.map(str::to_owned),
        wheel_use,
        new_price: prices.new_price(cutter),
        lives: judged.lives(),
    })
}

fn what(cutter: &Cutter, parts: &[PartStock]) -> String {
    let diameter = cutter.diameter().show_both(cutter.system());
    let parts: Vec<&str> = parts.iter().map(|part| part.part.name()).collect();
    let (teeth, material) = (cutter.teeth(), cutter.material().name());
    format!("{diameter}, {teeth} teeth, {material}: {}", parts.join(", "))
}

/// Work that belongs to the regrind and is in no price: what is not planned unless it is asked for,
/// and what the rates say nothing of.
fn not_priced(lot: &LotCutter<'_>, judged: &Judged, parts: &[PartStock]) -> Option<String> {
    let (cutter, number) = (lot.cutter, lot.cutter.number());
    let has_end = parts.iter().any(|part| part.part == GroundPart::End);
    if judged.verdict.route == Route::CutBack {
        return Some(format!("{number}: cutting it off and gashing it anew are not in its price"));
    }
    if has_end && cutter.end() != EndForm::Ball {
        return Some(format!(
            "{number}: gash and chamfer, where it needs them, are not in its price"
        ));
    }
    let why = end_wanted(cutter, judged.verdict.route, cutter.system()).filter(|_| !has_end)?;
    Some(format!("{number}: {why}, and its end is not in this price: ask for the end too"))
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
    let new = pieces.iter().map(|piece| piece.new_price).sum::<Option<Money>>();
    let work = GrindWork {
        teeth: first.teeth,
        parts: first.parts.iter().map(|part| mean(part.part, &pieces)).collect(),
        setup_shared_by: count,
        wheel: first.wheel_use,
    };
    let new_price = new.map(|sum| sum / f64::from(count));
    Some(LotLine { what: first.what.clone(), count, work, new_price })
}

/// What comes off one part of pieces that are ground alike, in the mean.
fn mean(part: GroundPart, pieces: &[&Piece]) -> PartStock {
    let parts = pieces.iter().flat_map(|piece| &piece.parts);
    let off: Vec<Length> = parts.filter(|one| one.part == part).map(|one| one.off).collect();
    let sum = off.iter().fold(Length::ZERO, |sum, one| sum + *one);
    PartStock { part, off: sum / off.len().max(1) as f64 }
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
        parts: piece.parts.clone(),
        lives: piece.lives.clone(),
        worth: worth.transpose()?,
    })
}
