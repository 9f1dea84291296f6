//! What the record shall say for the next regrind.

use geometry::Length;
use shop::check::{Check, Outcome};

use super::super::page::Page;
use super::super::show::{Units, source};
use super::as_found::AsFound;
use super::next;
use super::seen::capitalise;

pub(super) fn part(page: &mut Page, check: &Check, units: Units) {
    page.part("NEXT TIME");
    clearance(page, check);
    if let Some(found) = AsFound::of(check) {
        match check.outcome {
            Outcome::NotRead => page.text(&open(&found)),
            _ => record(page, check, &found, units),
        }
    }
}

fn clearance(page: &mut Page, check: &Check) {
    if let Some(next) = &check.next_clearance {
        page.text(&format!(
            "Relief {} instead of {}{}: {}.",
            next.next.value.show(),
            next.now.show(),
            source(&next.next.source),
            next.remark
        ));
    } else if !check.request.readings.signs().is_empty() {
        page.text("The signs of wear ask for no other relief than this plan gives already.");
    }
}

/// What can be written down where nothing was measured.
fn open(found: &AsFound) -> String {
    let next = found.next_primary.map_or_else(String::new, |next| {
        format!("write next_primary = \"{}\" under [as_ground] in its file; ", next.show())
    });
    let mut text = format!("{next}the rest of [as_ground] waits for readings.");
    capitalise(&mut text);
    text
}

/// The lines for the cutter's file.
fn record(page: &mut Page, check: &Check, found: &AsFound, units: Units) {
    let cutter = &check.request.plan.request.cutter;
    let when = match (next::is_tagged(check), check.outcome) {
        (false, _) => "If it is left as it is, ",
        (_, Outcome::Unclear) => "As far as it is known, ",
        _ => "",
    };
    let mut text = format!(
        "{when}its file gets these lines; regrinds = {}, and its wear is taken out{}.",
        cutter.regrinds() + 1,
        shorter(check, units)
    );
    capitalise(&mut text);
    page.text(&text);
    lines(found, units).iter().for_each(|line| page.text(line));
    let planned = planned(found);
    page.hanging(
        "* ",
        &format!("Not known from the readings, so as planned: {}.", planned.join(", ")),
    );
}

/// An end that was cut back makes the cutter shorter.
fn shorter(check: &Check, units: Units) -> String {
    let back = check.request.plan.verdict.cut_back;
    if back <= Length::ZERO {
        return String::new();
    }
    let cutter = &check.request.plan.request.cutter;
    let shown = |length: Length| (length - back).show(units.system);
    format!(
        "; cut back, it has flute_length = \"{}\" and overall_length = \"{}\"",
        shown(cutter.flute_length()),
        shown(cutter.overall_length())
    )
}

fn lines(found: &AsFound, units: Units) -> Vec<String> {
    let length = |length: Length| length.show(units.system);
    let mut lines = vec![
        "[as_ground]".to_owned(),
        format!("diameter = \"{}\"", length(found.diameter)),
        format!("primary = \"{}\"", found.primary.show()),
        format!("secondary = \"{}\"", found.secondary.show()),
        format!("land = \"{}\"", length(found.land)),
    ];
    lines.extend(found.next_primary.map(|next| format!("next_primary = \"{}\"", next.show())));
    lines
}

fn planned(found: &AsFound) -> Vec<&'static str> {
    let [diameter, primary, land] = found.was_read;
    let names = ["diameter", "primary", "secondary", "land"];
    let not_read =
        [diameter, primary, false, land].into_iter().zip(names).filter(|(was_read, _)| !was_read);
    not_read.map(|(_, name)| name).collect()
}
