//! A rounded corner in words: its set-up, its feed, what is left round it, and its pivot's proof.

use geometry::Length;
use shop::plan::{DRAW_CLEAR, RoundGrind, RoundRelief, pivot_readings};

use super::page::Page;
use super::show::Units;
use super::{end, grind};

/// The set-up and the feed of the primary.
pub(super) fn primary(page: &mut Page, round: &RoundGrind, units: Units) {
    page.text(&format!(
        "Radius {}, relief {}: {}. Swung about an upright pivot below its middle:",
        units.length(round.round.radius),
        end::angle(&round.relief),
        made(&round.relief_made),
    ));
    round.lines.iter().for_each(|line| page.setup(line));
    round.remarks.iter().for_each(|remark| page.hanging("* ", remark));
    page.text(&format!(
        "Swing to {} from the end, kiss the tooth that stands out farthest, dial to zero. Then a \
         round of the teeth at each, swinging from stop to stop on every one: {}.{}",
        round.touch.show(),
        grind::passes(&round.grinding, units),
        left_over(round, units),
    ));
    page.marks(&round.grinding);
    page.text(&left(round, units));
    page.text(&clear(round, units));
}

/// What the wheel really leaves of a relief.
fn made(relief: &RoundRelief) -> String {
    format!("as set {} halfway, at the edge {}", relief.as_set.show(), relief.at_edge.show())
}

/// What the dial's marks leave of the radius, where that is worth a word.
fn left_over(round: &RoundGrind, units: Units) -> String {
    let way = round.left_over;
    if way.abs() < Length::from_um(1.0) {
        return String::new();
    }
    let how = if way > Length::ZERO { "large" } else { "small" };
    format!(" The marks leave the radius {} {how}.", units.length(way.abs()))
}

/// What is left at the end, halfway, and at the periphery.
fn left(round: &RoundGrind, units: Units) -> String {
    let at = |degrees: f64| {
        round.places.iter().find(|place| (place.swing.degrees() - degrees).abs() < 0.01)
    };
    let reliefs = [(0.0, "at the end"), (45.0, "halfway"), (90.0, "at the periphery")];
    let reliefs = reliefs
        .into_iter()
        .filter_map(|(degrees, word)| Some(format!("{} {word}", at(degrees)?.relief.show())));
    let form = round.worst_form();
    let form = if form < Length::from_um(0.5) {
        "It runs true to its circle".to_owned()
    } else {
        format!("It misses its circle by up to {}", units.length(form))
    };
    let rest = round.rest_miss.map_or_else(String::new, |per| {
        let off = Length::from_thou(5.0);
        format!(
            "; a rest {} off the wheel's corner, along the cutter, costs it {} at the periphery",
            units.length(off),
            units.length(off * per)
        )
    });
    let reliefs: Vec<String> = reliefs.collect();
    format!("Leaves relief {} over the land. {form}{rest}.", reliefs.join(", "))
}

/// What the wheel comes near.
fn clear(round: &RoundGrind, units: Units) -> String {
    let start = if round.stops_short() {
        format!("Start the swing {} from the end. ", round.from.show())
    } else {
        String::new()
    };
    let gap = match round.gap {
        None => "There is no other tooth to cut.".to_owned(),
        Some((_, gap)) if gap < Length::ZERO => {
            format!("It takes {} off another tooth near the centre.", units.length(gap.abs()))
        }
        Some((_, gap)) => format!("It clears the other teeth by {}.", units.length(gap)),
    };
    format!("{start}{gap}")
}

/// The secondary behind it.
pub(super) fn secondary(page: &mut Page, round: &RoundGrind, units: Units) {
    page.hanging("! ", &format!("{DRAW_CLEAR}."));
    round.behind_lines.iter().for_each(|line| page.setup(line));
    let wider = round.land_per_feed.map_or_else(String::new, |per| {
        let step = Length::from_thou(0.5);
        format!(" {} less feed leaves it {} wider.", units.length(step), units.length(step * per))
    });
    page.text(&format!(
        "Secondary {}: {}. Nothing but the relief is moved. The same swing; kiss the back of the \
         land, then feed until the land reads {} halfway.{wider}",
        end::angle(&round.secondary),
        made(&round.secondary_made),
        units.length(round.land),
    ));
    page.result(format!("Stop at a land of {} halfway", units.length(round.land)));
}

/// What to read afterwards, and what a reading asks for.
pub(super) fn proof(page: &mut Page, round: &RoundGrind, units: Units) {
    page.text(&format!(
        "Hold the round against a gauge of {}. Or let an indicator stand still in front of the \
         pivot, on the land at the edge, zero halfway: over the round it must stand still. Run it \
         off the round at either stop: what it rises or falls there the pivot misses, one for one \
         ({} of it halfway).",
        units.length(round.round.radius),
        "0.71",
    ));
    for reading in pivot_readings() {
        page.hanging(
            "* ",
            &format!("{}: rises: {}; falls: {}.", reading.at, reading.rises, reading.falls),
        );
    }
}
