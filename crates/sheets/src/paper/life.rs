//! The record card: a cutter's life, or the history of anything else, entry by entry.

use geometry::Length;

use super::flow::{BODY, Flow, SMALL};
use super::table::{Column, Holds, table};
use super::{Imprint, Pages};
use crate::drawing::{Life, life_scale};
use crate::text::Units;

/// A history as a card.
#[derive(Clone, Debug, PartialEq)]
pub struct LifeCard {
    /// What it is the history of, such as "cutter".
    pub kind: String,
    /// Its number or name.
    pub number: String,
    /// What it is and where it stands, in a few words.
    pub about: String,
    /// The life of a cutter that has been measured.
    pub life: Option<Life>,
    /// How often a cutter has been reground, with what was ground before the book knew it.
    pub regrinds: u32,
    /// The size that it was last ground to before the first entry, where that is known.
    pub before: Option<Length>,
    /// Its entries, the oldest first.
    pub lines: Vec<LifeLine>,
}

/// One entry.
#[derive(Clone, Debug, PartialEq)]
pub struct LifeLine {
    /// Its number; empty for an entry of another history.
    pub entry: String,
    /// When it was.
    pub date: String,
    /// Who wrote it.
    pub who: String,
    /// What happened.
    pub what: String,
    /// More of it in words.
    pub words: String,
    /// The size that a regrind left, where this was one.
    pub left: Option<Length>,
}

/// Columns of the sizes.
const SIZES: [Column; 6] = [
    Column::new("regrind", 14.0, 3.2),
    Column::new("date", 40.0, 3.2),
    Column::new("who", 16.0, 3.2),
    Column::new("diameter left", 40.0, 3.8).holding(Holds::Figures),
    Column::new("off since the last", 40.0, 3.2).holding(Holds::Figures),
    Column::new("under nominal", 40.0, 3.2).holding(Holds::Figures),
];

/// Columns of the entries.
const ENTRIES: [Column; 5] = [
    Column::new("entry", 12.0, SMALL).holding(Holds::Figures),
    Column::new("date", 31.0, SMALL),
    Column::new("who", 12.0, SMALL),
    Column::new("what", 30.0, SMALL).holding(Holds::Bold),
    Column::new("", 100.0, SMALL),
];

/// The card: the sizes as a picture and a table, then every entry.
pub fn life_card(card: &LifeCard, imprint: &Imprint) -> Pages {
    let title = format!("RECORD CARD {} {}", card.kind, card.number);
    let description = format!("Record card of {} {}: {}.", card.kind, card.number, card.about);
    let closing = "Nothing is ever taken out of a record; what is struck out counts no longer.";
    let mut flow = Flow::new(imprint, title, description, closing);
    if !card.about.is_empty() {
        flow.paragraph(3.4, &card.about);
    }
    if let Some(life) = &card.life {
        flow.skip(1.5);
        flow.picture(&life_scale(life, imprint.system));
        flow.skip(1.5);
    }
    let sizes = sizes(card, imprint);
    if !sizes.is_empty() {
        flow.heading("Sizes", 16.0);
        table(&mut flow, &SIZES, &sizes);
        flow.skip(2.0);
    }
    flow.heading("Entries", 16.0);
    if card.lines.is_empty() {
        flow.paragraph(BODY, "There is none yet.");
    }
    let rows: Vec<Vec<String>> = card.lines.iter().map(entry).collect();
    table(&mut flow, &ENTRIES, &rows);
    flow.finish()
}

fn entry(line: &LifeLine) -> Vec<String> {
    [&line.entry, &line.date, &line.who, &line.what, &line.words].map(String::clone).to_vec()
}

/// The sizes that the regrinds left, one row each.
fn sizes(card: &LifeCard, imprint: &Imprint) -> Vec<Vec<String>> {
    let units = Units { system: imprint.system, both: false };
    let nominal = card.life.as_ref().map(|life| life.nominal);
    let mut before = card.before.or(nominal);
    let known = card.lines.iter().filter(|line| line.left.is_some()).count();
    let earlier = (card.regrinds as usize).saturating_sub(known);
    let mut rows = Vec::new();
    for line in &card.lines {
        let Some(left) = line.left else { continue };
        let off =
            |from: Option<Length>| from.map(|from| units.length(from - left)).unwrap_or_default();
        let (since, under) = (off(before), off(nominal));
        let count = (earlier + rows.len() + 1).to_string();
        let (date, who) = (line.date.clone(), line.who.clone());
        rows.push(vec![count, date, who, units.length(left), since, under]);
        before = Some(left);
    }
    rows
}
