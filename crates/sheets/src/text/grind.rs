//! From the kiss to size, and the secondary.

use shop::plan::{Grinding, PassKind, Peripheral, SetupLine};

use super::learned;
use super::page::Page;
use super::show::{Units, reading, source};

pub(super) fn part(page: &mut Page, peripheral: &Peripheral, units: Units) {
    let grinding = &peripheral.grinding;
    page.part("GRIND");
    page.text(&format!(
        "Feed from one side only. Kiss {}, dial to zero. Then, a round of the teeth \
         at each: {}.",
        match peripheral.kissing_tooth {
            Some(tooth) => format!("tooth {tooth}, which the wheel meets first"),
            None => "the highest tooth".to_owned(),
        },
        passes(grinding, units)
    ));
    page.text(&format!(
        "Teeth {}; last round with no feed, from the opposite tooth: {}. No pass over {} of \
         travel{}.",
        numbers(&grinding.first_round),
        numbers(&grinding.second_round),
        units.length(grinding.pass_max.value),
        source(&grinding.pass_max.source),
    ));
    learned::feed(page, peripheral, units);
    page.text(&format!(
        "Over-fed: back the dial off to {}, past the backlash, come in again to {}, feel for the \
         kiss anew; every tooth then follows the deepest.",
        reading(&grinding.back_off_to),
        reading(&grinding.come_in_to),
    ));
}

pub(super) fn passes(grinding: &Grinding, units: Units) -> String {
    let on_diameter = grinding.passes.iter().any(|pass| pass.dial.on_diameter);
    let counts = if on_diameter { "diameter" } else { "radius" };
    let axis = grinding.passes.first().map_or("cross feed", |pass| pass.dial.axis.as_str());
    format!(
        "{axis} to {} (dial on {counts}; {} of travel)",
        marks(grinding).join(", "),
        units.length(grinding.travel)
    )
}

/// The marks of the passes; a long row of like passes by its first two and its last.
fn marks(grinding: &Grinding) -> Vec<String> {
    let stock: Vec<String> = grinding
        .passes
        .iter()
        .filter(|pass| pass.kind == PassKind::Stock)
        .map(|pass| reading(&pass.dial))
        .collect();
    let mut marks = match stock.as_slice() {
        [first, second, .., last] if stock.len() > SHOWN_MAX => {
            vec![
                first.clone(),
                second.clone(),
                format!("and so on to {last} ({} rounds)", stock.len()),
            ]
        }
        _ => stock,
    };
    for pass in &grinding.passes {
        match pass.kind {
            PassKind::Stock => {}
            PassKind::Finish => marks.push(format!("{} to finish", reading(&pass.dial))),
            PassKind::SparkOut => marks.push("then no feed to spark out".to_owned()),
        }
    }
    marks
}

/// As many stock passes are written out.
const SHOWN_MAX: usize = 5;

/// Numbers of teeth in a row.
pub(crate) fn numbers(teeth: &[u32]) -> String {
    let words: Vec<String> = teeth.iter().map(u32::to_string).collect();
    words.join(" ")
}

pub(super) fn secondary(page: &mut Page, peripheral: &Peripheral, units: Units) {
    let secondary = &peripheral.secondary;
    page.part("SECONDARY");
    let changed = |line: &&SetupLine| {
        let same = |other: &SetupLine| {
            (other.item, other.value, &other.dial, &other.how)
                == (line.item, line.value, &line.dial, &line.how)
        };
        !peripheral.setup.iter().any(same)
    };
    let lines = secondary.lines.iter().filter(changed);
    lines.for_each(|line| page.setup(line));
    let before = secondary.land_before.map_or_else(String::new, |land| {
        format!("The primary is {} wide now. ", units.length(land))
    });
    secondary.remarks.iter().for_each(|remark| page.hanging("* ", remark));
    match (&secondary.grinding, secondary.land_after) {
        (Some(grinding), Some(land)) => {
            page.text(&format!(
                "{before}At the new setting the wheel first touches {} behind the edge; dial to \
                 zero there, then {}, and stop when the land reads {}. {}",
                units.rough(grinding.feed.kiss_behind),
                passes(grinding, units),
                units.length(land),
                land_rule(peripheral, units),
            ));
            page.marks(grinding);
        }
        (None, Some(land)) => page.text(&format!(
            "{before}The old secondary already leaves a land of {}: leave it.",
            units.length(land)
        )),
        (_, None) => page.text(&format!("{before}No land is left to define: leave it.")),
    }
}

/// What a smaller feed does to the land.
pub(crate) fn land_rule(peripheral: &Peripheral, units: Units) -> String {
    let Some(per) = peripheral.secondary.land_per_feed else {
        return String::new();
    };
    let step = geometry::Length::from_thou(0.5);
    let wider = step * (per * peripheral.grinding.ratio);
    format!("{} less feed leaves it {} wider.", units.length(step), units.length(wider))
}
