//! The set-up, line by line.

use geometry::quantity::System;
use geometry::{Angle, Length};
use shop::plan::{Peripheral, RegrindPlan, SetupLine, Stanced};

use super::page::Page;
use super::show::{Units, reading, source};

const ITEM: usize = 13;
const MARK: usize = 27;
const TOLERANCE: usize = 11;

/// Width of a mark that has no tolerance beside it.
const NARROW: usize = 12;

pub(super) fn part(page: &mut Page, plan: &RegrindPlan, peripheral: &Peripheral, units: Units) {
    let (wanted, stanced) = (&plan.wanted, &peripheral.stanced);
    page.part("SET UP");
    page.text(&format!(
        "{} {} relief {}{}: as set {}, at the edge {}; the dials' marks cost {}.",
        wanted.primary.value.show(),
        peripheral.kind.name(),
        stanced
            .target
            .over
            .map_or("at the edge".to_owned(), |over| { format!("over {}", units.length(over)) }),
        source(&wanted.primary.source),
        stanced.relief.show(),
        stanced.edge_relief.show(),
        stanced.cost_of_snapping().show(),
    ));
    peripheral.setup.iter().for_each(|line| page.setup(line));
    page.text(&sensitivity(stanced, units));
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
fn sensitivity(stanced: &Stanced, units: Units) -> String {
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
        per_length(found.per_rest_height_mm, "rest height"),
        per_length(found.per_inset_mm, "rest along"),
        per_length(found.per_axis_height_mm, "wheel height"),
        found.per_lean_degree.and_then(|per| {
            let cost = Angle::from_degrees(per * 0.25);
            matters(cost).then(|| format!("0.25 deg of head is {}", cost.abs().show()))
        }),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    format!("Relief here: {}.", parts.join(", "))
}

/// Whether a cost is worth a word.
fn matters(cost: Angle) -> bool {
    cost.degrees().abs() >= 0.05
}
