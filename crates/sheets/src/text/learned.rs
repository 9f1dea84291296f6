//! What was learned from own grinds, and from where it comes.

use geometry::Length;
use shop::plan::{Peripheral, RegrindPlan, WheelKnown};

use super::page::Page;
use super::show::Units;

/// The sentence on lives left; it is short while there is nothing to tell.
pub(super) fn lives(plan: &RegrindPlan, units: Units) -> String {
    let learned = &plan.stock.per_grind;
    match plan.verdict.lives() {
        None => String::new(),
        Some(_) if learned.own == 0 => " Lives from the table.".to_owned(),
        Some(lives) => format!(
            " Lives {} ({} to {}) at {} a grind: {}.",
            lives.expected,
            lives.least,
            lives.greatest,
            units.length(learned.value),
            lives.from
        ),
    }
}

/// What the cutter's own grinds lead to expect, beside what this plan takes.
pub(super) fn stock(page: &mut Page, plan: &RegrindPlan, units: Units) {
    let Some(expected) = plan.stock.expected else { return };
    let after = plan.peripheral.as_ref().map(|peripheral| peripheral.expected.diameter);
    let taken = after.map_or_else(String::new, |after| {
        format!("; this plan takes {}", units.length(plan.stock.sharp_diameter.value - after))
    });
    page.text(&format!(
        "By its own grinds a wear land like this costs {} from sharp edge to sharp edge{taken}.",
        units.length(expected)
    ));
}

/// What the wheel's own grinds say of the dial, and what it loses.
pub(super) fn feed(page: &mut Page, peripheral: &Peripheral, units: Units) {
    let known = &peripheral.known;
    let mut sentences = Vec::new();
    if known.turns_feed() {
        sentences.push(ratio(peripheral, units));
    }
    sentences.extend(wear(known, units));
    if !sentences.is_empty() {
        page.text(&sentences.join(" "));
    }
    known.remarks.iter().for_each(|remark| page.hanging("* ", remark));
}

fn ratio(peripheral: &Peripheral, units: Units) -> String {
    let (learned, travel) = (&peripheral.known.ratio, peripheral.grinding.travel);
    let further = travel * (1.0 - peripheral.grinding.ratio);
    let way = if further < Length::ZERO { "less far" } else { "further" };
    format!(
        "{} takes off {:.2} ({:.2} to {:.2}) of what it is fed, {}: the dial goes {} {way} than \
         the cutter asks for, and that is in the marks.",
        peripheral.wheel.wheel.number(),
        learned.value,
        learned.least,
        learned.greatest,
        learned.words(),
        units.length(further.abs()),
    )
}

fn wear(known: &WheelKnown, units: Units) -> Option<String> {
    let wear = known.wear.as_ref().filter(|wear| wear.own > 0)?;
    Some(format!(
        "Its face loses {} over a cutter ({}): allow for that before the last pass.",
        units.length(wear.value),
        wear.words()
    ))
}
