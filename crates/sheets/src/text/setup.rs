//! The set-up, line by line.

use geometry::quantity::System;
use geometry::{Angle, Length};
use shop::plan::{Held, Peripheral, RegrindPlan, Room, RoomFound, SetupLine, Stanced};

use super::page::Page;
use super::show::{Units, reading, source};

const ITEM: usize = 13;
const MARK: usize = 27;
const TOLERANCE: usize = 11;

/// Width of a mark that has no tolerance beside it.
const NARROW: usize = 12;

pub(super) fn part(page: &mut Page, plan: &RegrindPlan, peripheral: &Peripheral, units: Units) {
    let stanced = &peripheral.stanced;
    page.part("SET UP");
    let cost = stanced.cost_of_snapping().show();
    page.text(&format!("{}; the dials' marks cost {cost}.", relief(plan, peripheral, units)));
    peripheral.setup.iter().for_each(|line| page.setup(line));
    let has_rest = Held::on(&plan.request.machine).has_rest();
    let sensitivity = sensitivity(stanced, has_rest, units);
    page.text(&format!("{sensitivity} {}", room(&peripheral.room, units)));
    let tight = tight(&peripheral.room, units);
    if !tight.is_empty() {
        page.hanging("! ", &format!("{}.", tight.join(". ")));
    }
}

/// The relief that is wanted, and what the settings make of it.
pub(crate) fn relief(plan: &RegrindPlan, peripheral: &Peripheral, units: Units) -> String {
    let (wanted, stanced) = (&plan.wanted, &peripheral.stanced);
    // On a taper the relief is wanted half way up, and set at the tip.
    let at_tip = (stanced.target.relief != wanted.primary.value)
        .then(|| format!(" half way up, so {} at the tip", stanced.target.relief.show()));
    format!(
        "{} {} relief {}{}{}: {}",
        wanted.primary.value.show(),
        peripheral.kind.name(),
        over(stanced, units),
        source(&wanted.primary.source),
        at_tip.unwrap_or_default(),
        made(stanced),
    )
}

/// The secondary clearance that is wanted, and what its settings make of it.
pub(crate) fn clearance(plan: &RegrindPlan, stanced: &Stanced) -> String {
    let (wanted, at_tip) = (plan.wanted.secondary.value, stanced.target.relief);
    let at_tip = (at_tip != wanted).then(|| format!(" ({} at the tip)", at_tip.show()));
    let at_tip = at_tip.unwrap_or_default();
    format!("{} secondary{at_tip}: {}", wanted.show(), made(stanced))
}

/// The distance over which a relief is meant.
fn over(stanced: &Stanced, units: Units) -> String {
    let over = stanced.target.over;
    over.map_or("at the edge".to_owned(), |over| format!("over {}", units.length(over)))
}

fn made(stanced: &Stanced) -> String {
    format!("as set {}, at the edge {}", stanced.relief.show(), stanced.edge_relief.show())
}

/// What the wheel comes nearer to than it should, and what could not be looked at, each in words.
pub fn tight(rooms: &[Room], units: Units) -> Vec<String> {
    let is_blind = |room: &Room| matches!(room.found, RoomFound::NotChecked { .. });
    let tight = rooms.iter().filter(|room| room.is_tight() || is_blind(room));
    tight.map(|room| room.words(|length| units.rough(length))).collect()
}

/// How near the wheel comes to what it must not grind, in few words, so that the sheet stays one
/// page: the least distance, and what there is to heed.
pub fn room(rooms: &[Room], units: Units) -> String {
    let show = |length: Length| units.rough(length);
    let gaps = rooms.iter().filter_map(|room| Some((room.gap()?, room.beside.name())));
    let least = gaps.min_by(|a, b| a.0.mm().total_cmp(&b.0.mm()));
    let least = least.map(|(gap, name)| format!("{name} {} free", show(gap)));
    let heed = rooms.iter().filter_map(|room| match &room.found {
        RoomFound::MayBegin { .. } => Some(room.words(show)),
        RoomFound::HoldAtMost { held, .. } if *held > Length::ZERO => {
            Some(format!("hold at most {} of the shank", show(*held)))
        }
        // A finger is set by a feeler anyway; how far back it must end stands in the answer. What
        // is never clear or was not looked at, and a head that must stand behind the cutter, are
        // told below.
        RoomFound::Gap { .. } | RoomFound::SetBack { .. } | RoomFound::HoldAtMost { .. } => None,
        RoomFound::Free | RoomFound::Never | RoomFound::NotChecked { .. } => None,
    });
    let parts: Vec<String> = least.into_iter().chain(heed).collect();
    let words = if parts.is_empty() { "see below".to_owned() } else { parts.join("; ") };
    format!("Room: {words}.")
}

/// One line: what, the mark and how closely, each with the width of its column; then how, and why.
pub(super) fn cells(line: &SetupLine, units: Units) -> (Vec<(String, usize)>, String) {
    let value = line.value.map(|value| units.amount(value)).unwrap_or_default();
    let mark = match &line.dial {
        Some(dial) => format!("{} {}", dial.axis, reading(dial)),
        None => value,
    };
    let tolerance = match line.tolerance {
        Some(tolerance) => format!("±{}", units.tolerance(tolerance)),
        None => String::new(),
    };
    let room = if tolerance.is_empty() { NARROW } else { MARK };
    let cells = [(line.item.name().to_owned(), ITEM), (mark, room), (tolerance, TOLERANCE)];
    let written = cells.into_iter().filter(|(text, _)| !text.is_empty()).collect();
    (written, format!("{}: {}", line.how, line.why))
}

/// What small errors cost, in the unit of the sheet.
fn sensitivity(stanced: &Stanced, has_rest: bool, units: Units) -> String {
    let found = &stanced.sensitivities;
    let step = match units.system {
        System::Inch => Length::from_thou(1.0),
        System::Millimetre => Length::from_mm(0.02),
    };
    let per_length = |per_mm: Option<f64>, what: &str| {
        let cost = Angle::from_degrees(per_mm? * step.mm());
        matters(cost).then(|| format!("{} of {what} is {}", units.rough(step), cost.abs().show()))
    };
    let parts = [
        per_length(found.per_rest_height_mm.filter(|_| has_rest), "rest height"),
        per_length(found.per_inset_mm.filter(|_| has_rest), "rest along"),
        per_length(found.per_axis_height_mm, "wheel height"),
        found.per_lean_degree.and_then(|per| {
            let cost = Angle::from_degrees(per * 0.25);
            matters(cost).then(|| format!("0.25 deg of head is {}", cost.abs().show()))
        }),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    if parts.is_empty() {
        return "Relief here hangs on the relief's own dial alone.".to_owned();
    }
    format!("Relief here: {}.", parts.join(", "))
}

/// Whether a cost is worth a word.
fn matters(cost: Angle) -> bool {
    cost.degrees().abs() >= 0.05
}
