//! The wheel, its speed and direction, its truing.

use shop::plan::{Peripheral, Truing, TurnDirection, WheelChoice, WheelRefusal};
use shop::record::Wheel;

use super::page::Page;
use super::show::{Units, source};

pub(super) fn part(page: &mut Page, peripheral: &Peripheral, units: Units) {
    choice(page, &peripheral.wheel, &peripheral.direction, units);
}

/// A wheel, its speed and the way it turns.
pub(super) fn choice(page: &mut Page, choice: &WheelChoice, turn: &TurnDirection, units: Units) {
    page.part("WHEEL");
    let (why, cited) = (&choice.why.value, source(&choice.why.source));
    page.text(&format!("{}: {why}{cited}.", describe(&choice.wheel, units)));
    let wanted = choice.recommended_m_per_s.as_ref().map_or_else(String::new, |cited| {
        let (least, greatest) = cited.value;
        let (least, greatest) = (units.surface(least), units.surface(greatest));
        format!("; {least} to {greatest}{}", source(&cited.source))
    });
    let remark = choice.speed_remark.as_ref().map_or_else(String::new, |text| format!("; {text}"));
    page.text(&format!(
        "Spindle {} rpm ({}): {}{wanted}{remark}. Marked {} rpm.",
        choice.speed.rpm,
        choice.speed.belt,
        units.surface(choice.surface_m_per_s),
        choice.wheel.marked_rpm(),
    ));
    for conflict in &choice.conflicts {
        page.text(&format!("But: {}{}.", conflict.value, source(&conflict.source)));
    }
    page.text(&format!("Turn it {}.", turn.words()));
    if let Some(passed) = passed_over(&choice.passed_over) {
        page.text(&format!("Passed over: {passed}."));
    }
}

/// The wheel, its speed and direction, and its truing in a few lines.
pub(crate) fn in_words(peripheral: &Peripheral, units: Units) -> Vec<String> {
    let choice = &peripheral.wheel;
    let mut lines = vec![
        format!(
            "{}. Spindle {} rpm, {}{}; marked {} rpm: never faster.",
            describe(&choice.wheel, units),
            choice.speed.rpm,
            choice.speed.belt,
            choice.speed_remark.as_ref().map_or_else(String::new, |remark| format!(", {remark}")),
            choice.wheel.marked_rpm(),
        ),
        format!("Turn it {}.", peripheral.direction.words()),
    ];
    lines.extend(choice.conflicts.iter().map(|conflict| format!("But: {}.", conflict.value)));
    lines.push(format!("True: {}", truing_words(&peripheral.truing, units)));
    lines
}

/// The wheels passed over for reasons worth a word, those with the same reason together.
fn passed_over(refusals: &[WheelRefusal]) -> Option<String> {
    let mut groups: Vec<(&str, Vec<&str>)> = Vec::new();
    let refused = refusals.iter().filter(|refusal| !refusal.is_minor);
    for refusal in refused {
        match groups.iter_mut().find(|(reason, _)| *reason == refusal.brief) {
            Some((_, wheels)) => wheels.push(&refusal.wheel),
            None => groups.push((&refusal.brief, vec![&refusal.wheel])),
        }
    }
    let words: Vec<String> =
        groups.iter().map(|(reason, wheels)| format!("{} ({reason})", wheels.join(" "))).collect();
    (!words.is_empty()).then(|| words.join("; "))
}

fn describe(wheel: &Wheel, units: Units) -> String {
    format!(
        "{}, {} {}, {} {}, {} bond, {} across",
        wheel.number(),
        wheel.shape(),
        wheel.shape().form().name(),
        wheel.abrasive().name(),
        wheel.grit(),
        wheel.bond(),
        units.nominal(wheel.diameter()),
    )
}

pub(super) fn truing(page: &mut Page, peripheral: &Peripheral, units: Units) {
    truing_of(page, &peripheral.truing, units);
}

/// How a wheel is trued and dressed.
pub(super) fn truing_of(page: &mut Page, truing: &Truing, units: Units) {
    page.part("TRUE");
    page.text(&truing_words(truing, units));
}

fn truing_words(truing: &Truing, units: Units) -> String {
    format!(
        "{}. Leave a face {} wide{}.",
        truing.amounts_and_steps(|length| units.length(length)),
        units.rough(truing.face_width.value),
        source(&truing.face_width.source),
    )
}
