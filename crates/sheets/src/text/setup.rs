//! The set-up, line by line.

use geometry::quantity::System;
use geometry::{Angle, Length};
use shop::plan::{Held, Peripheral, RegrindPlan, SetupLine, Stanced};

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
    peripheral.setup.iter().for_each(|line| write(page, line, units));
    let has_rest = Held::on(&plan.request.machine).has_rest();
    page.text(&sensitivity(stanced, has_rest, units));
}

/// One line: what, the mark, how closely, and how with its reason.
pub(super) fn write(page: &mut Page, line: &SetupLine, units: Units) {
    let value = line.value.map(|value| units.amount(value)).unwrap_or_default();
    let mark = match &line.dial {
        Some(dial) => format!("{} {}", dial.axis, reading(dial)),
        None => value,
    };
    let tolerance = match line.tolerance {
        Some(tolerance) => format!("±{}", units.tolerance(tolerance)),
        None => String::new(),
    };
    let words = format!("{}: {}", line.how, line.why);
    let item = (line.item.name(), ITEM);
    let (mark, tolerance) = ((mark.as_str(), MARK), (tolerance.as_str(), TOLERANCE));
    match (mark.0.is_empty(), tolerance.0.is_empty()) {
        (true, true) => page.columns(&[item], &words),
        (true, false) => page.columns(&[item, tolerance], &words),
        (false, true) => page.columns(&[item, (mark.0, NARROW)], &words),
        (false, false) => page.columns(&[item, mark, tolerance], &words),
    }
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
