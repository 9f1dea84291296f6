//! What was read, beside what the plan foretells and what is allowed.

use geometry::Length;
use shop::check::{Check, Fault, Judgement, Outcome, Quality, ReadingKind, Standing};
use shop::record::{Over, RunoutOf};

use super::super::page::Page;
use super::super::show::{Units, source};
use super::table::{self, Group};
use super::{as_found, seen, words};

pub(super) fn part(page: &mut Page, check: &Check, units: Units) {
    page.part("FOUND");
    table::groups(check).iter().for_each(|group| readings(page, check, group, units));
    if check.outcome != Outcome::Sound {
        edges(page, check, units);
    }
    judgements(page, check, units);
}

fn readings(page: &mut Page, check: &Check, group: &Group<'_>, units: Units) {
    let expected = units.length(group.expected);
    match group.kind {
        ReadingKind::Land(stage) => {
            page.text(&format!("Land {stage}, {expected} expected on every tooth:"));
            table::write(page, check, group, units);
        }
        ReadingKind::Diameter(over) => {
            page.text(&format!("Diameter {}, {expected} expected:", across(over)));
            table::write(page, check, group, units);
        }
        ReadingKind::Height(held) => {
            let unit = units.system.unit();
            page.text(&format!("Indicator on the edges ({unit}), held {held}, alike expected:"));
            table::write(page, check, group, units);
        }
        ReadingKind::Runout(_) | ReadingKind::Drop(_) => single(page, check, group, units),
    }
}

const fn across(over: Over) -> &'static str {
    match over {
        Over::Micrometer => "over a tooth and its opposite",
        Over::FlatAnvils => "over flat anvils, by the tooth on the one",
        Over::VeeAnvil => "in the vee, by the tooth under the spindle",
    }
}

/// Readings that stand by themselves, on one line.
fn single(page: &mut Page, check: &Check, group: &Group<'_>, units: Units) {
    let what = match group.kind {
        ReadingKind::Runout(RunoutOf::Shank) => {
            "Runout of the shank as held for grinding".to_owned()
        }
        ReadingKind::Drop(distance) => {
            let expected = units.length(group.expected);
            format!("Drop {} behind the edge, {expected} expected", units.rough(distance))
        }
        _ => "Runout of the edges in all".to_owned(),
    };
    let figures: Vec<String> = group
        .readings
        .iter()
        .map(|(at, one)| {
            let tooth = one.tooth.map_or_else(String::new, |tooth| format!(" (tooth {tooth})"));
            let place = one
                .from_end
                .map_or_else(String::new, |place| format!(" at {}", units.rough(place)));
            let aside = check.set_aside.iter().any(|aside| aside.reading == *at);
            let aside = if aside { " set aside" } else { "" };
            format!("{}{tooth}{place}{aside}", units.length(one.measured))
        })
        .collect();
    page.text(&format!("{what}: {}.", figures.join(", ")));
}

/// Where each edge stands, at both ends of the flute.
fn edges(page: &mut Page, check: &Check, units: Units) {
    let is_seen = check.judgements.iter().any(|one| one.quality == Quality::Runout);
    if !is_seen {
        return;
    }
    let figures = check.edges.stands.iter().flatten();
    let widest = figures.fold(0.0, |widest: f64, figure| widest.max(figure.half_width));
    page.text(&format!(
        "Edges {}, out (+) or in (-) of the planned circle (radius), ±{}:",
        if check.outcome == Outcome::Unclear { "as most likely" } else { "as found" },
        seen::fine(Length::from_mm(widest), units)
    ));
    let last = check.edges.places.len().saturating_sub(1);
    let ends = check.edges.places.iter().zip(&check.edges.stands).enumerate();
    for (index, (_, stands)) in ends {
        let name = match index {
            0 => "tip",
            index if index == last => "shank end",
            _ => "between",
        };
        let cells: Vec<String> =
            stands.iter().map(|stand| words::signed(stand.length(), units)).collect();
        cells.chunks(8).for_each(|cells| table::line(page, name, cells));
    }
}

/// Widths of the columns of a judgement.
const QUALITY: usize = 20;
const SIZE: usize = 21;
const ALLOWED: usize = 14;

fn judgements(page: &mut Page, check: &Check, units: Units) {
    if check.judgements.is_empty() {
        return;
    }
    // Both systems side by side would leave no room for what follows.
    let units = Units { both: false, ..units };
    page.columns(&[("", QUALITY), ("found", SIZE)], "allowed");
    for one in &check.judgements {
        let (found, allowed) = (figure(check, one, units), allowed(one, units));
        let columns = [(one.quality.name(), QUALITY), (&found, SIZE), (&allowed, ALLOWED)];
        page.columns(&columns, &standing(check, one));
    }
    cuts_at(page, check, units);
}

/// The size of the cut, where the highest edge makes it wider than the lowest would.
fn cuts_at(page: &mut Page, check: &Check, units: Units) {
    if let Some(highest) = as_found::highest(check) {
        let size = words::banded(highest, units);
        page.text(&format!(
            "The highest edge cuts at {size}: that is the size of a slot, and goes on the tag."
        ));
    }
}

/// The figure with a band that is never narrower than what the readings can see.
fn figure(check: &Check, one: &Judgement, units: Units) -> String {
    let length = |fault: Fault| words::banded(seen::with_band(check, fault, one.found), units);
    match one.quality {
        Quality::Runout => length(Fault::Runout),
        Quality::Taper => length(Fault::Taper),
        Quality::Size => length(Fault::Size),
        Quality::Relief => words::banded_angle(seen::with_band(check, Fault::Clearance, one.found)),
    }
}

fn allowed(one: &Judgement, units: Units) -> String {
    let Some(allowed) = &one.allowed else { return "-".to_owned() };
    let (least, greatest) = allowed.value;
    let length = |mm: f64| units.length(Length::from_mm(mm));
    let (middle, half) = (0.5 * (least + greatest), 0.5 * (greatest - least));
    match one.quality {
        Quality::Runout => length(greatest),
        Quality::Taper => format!("±{}", length(greatest)),
        Quality::Size => {
            format!("{} to {}", words::bare(Length::from_mm(least), units), length(greatest))
        }
        Quality::Relief => format!("{middle:.1} ±{half:.1} deg"),
    }
}

fn standing(check: &Check, one: &Judgement) -> String {
    let advice = format!("not seen: the readings cannot tell; {}", one.quality.advice());
    let words = match one.standing {
        Standing::NotSeen => &*advice,
        Standing::Within => "within",
        Standing::LikelyWithin => "likely within",
        Standing::LikelyBeyond => "LIKELY TOO MUCH",
        Standing::Beyond => "TOO MUCH",
        Standing::NotJudged if one.quality != Quality::Size => "not judged: no limit is known",
        Standing::NotJudged if as_found::highest(check).is_some() => "the mean of all edges",
        Standing::NotJudged if as_found::diameter(check).is_some() => "goes on the tag",
        Standing::NotJudged => "too rough for the tag: measure it",
    };
    let cited = one.allowed.as_ref().map_or_else(String::new, |cited| source(&cited.source));
    format!("{words}{cited}")
}

pub(super) fn set_aside(page: &mut Page, check: &Check, units: Units) {
    page.part("SET ASIDE");
    for aside in &check.set_aside {
        let Some(one) = check.observed.get(aside.reading) else { continue };
        let what = words::reading(one.kind, one.tooth, one.from_end, units);
        page.text(&format!(
            "The {what}, reads {}; the others say about {}. Take it again.",
            units.length(one.measured),
            units.length(aside.others_say)
        ));
    }
}
