//! The passes on a set-up sheet: each mark of the feed in a box of its own, to be ticked off.

use shop::plan::{GrindPass, Grinding, PassKind, Peripheral, RegrindPlan, first_touch};

use super::flow::{BODY, Flow, MARK, RESULT};
use super::setup::{Cell, boxes, set_up_table};
use crate::text::{
    Units, by_group, changed, clearance_in_words, group_primary, group_secondary, land_rule,
    numbers, reading,
};

/// As many stock passes are written out; of more, the first ones and the last.
const SHOWN_MAX: usize = 8;

/// Width and height of a pass's box.
const BOX_MM: (f64, f64) = (30.0, 11.2);

pub(super) fn primary(flow: &mut Flow<'_>, work: &Peripheral, units: Units) {
    let grinding = &work.grinding;
    let kiss = first_touch(work.kissing_tooth);
    let kiss = format!("Feed from one side only. Kiss {kiss}; dial to zero.");
    let over = format!(
        "No pass over {} of travel. Over-fed: back off to {}, come in again to {}, feel for the \
         kiss anew.",
        units.length(grinding.pass_max.value),
        reading(&grinding.back_off_to),
        reading(&grinding.come_in_to),
    );
    if by_group(work).next().is_some() {
        flow.paragraph(BODY, &format!("{kiss} {over}"));
        for group in by_group(work) {
            flow.paragraph(BODY, &group_primary(group, units));
            set_up_table(flow, std::iter::once(&group.relief_line), units);
            passes(flow, &group.grinding);
        }
        return;
    }
    let each = format!("{kiss} Then a round at each mark of the {}:", dial(grinding));
    flow.paragraph(BODY, &each);
    passes(flow, grinding);
    let words = format!(
        "Teeth {}; last round with no feed: {}. {over}",
        numbers(&grinding.first_round),
        numbers(&grinding.second_round),
    );
    flow.paragraph(BODY, &words);
}

/// The secondaries of teeth that have set-ups of their own.
pub(super) fn group_secondaries(
    flow: &mut Flow<'_>,
    plan: &RegrindPlan,
    work: &Peripheral,
    units: Units,
) {
    for group in by_group(work) {
        flow.paragraph(BODY, &group_secondary(group, units));
        if let Some(grinding) = &group.secondary.grinding {
            let words = clearance_in_words(plan, &group.secondary.stanced);
            flow.strong(BODY, &format!("{words}."));
            set_up_table(flow, changed(&group.secondary, work), units);
            passes(flow, grinding);
        }
    }
}

pub(super) fn secondary(flow: &mut Flow<'_>, work: &Peripheral, units: Units) {
    let secondary = &work.secondary;
    let before = secondary.land_before.map_or_else(String::new, |land| {
        format!("The primary is {} wide now. ", units.length(land))
    });
    match (&secondary.grinding, secondary.land_after) {
        (Some(grinding), Some(land)) => {
            let touch = units.rough(grinding.feed.kiss_behind);
            flow.paragraph(
                BODY,
                &format!(
                    "{before}The wheel first touches {touch} behind the edge; dial to zero there, \
                     then by the {}:",
                    dial(grinding)
                ),
            );
            passes(flow, grinding);
            let rule = land_rule(work, units);
            flow.strong(RESULT, &format!("Stop at a land of {}", units.length(land)));
            if !rule.is_empty() {
                flow.paragraph(BODY, &rule);
            }
        }
        (None, Some(land)) => flow.paragraph(
            BODY,
            &format!(
                "{before}The old secondary leaves a land of {}: leave it.",
                units.length(land)
            ),
        ),
        (_, None) => flow.paragraph(BODY, &format!("{before}No land is left to define: leave it.")),
    }
    secondary.remarks.iter().for_each(|remark| flow.marked("*", super::flow::SMALL, remark));
}

/// The feed's dial and what it counts on.
fn dial(grinding: &Grinding) -> String {
    match grinding.passes.first() {
        Some(pass) => {
            let counts = if pass.dial.on_diameter { "diameter" } else { "radius" };
            format!("{} (dial on {counts})", pass.dial.axis)
        }
        None => "cross feed".to_owned(),
    }
}

pub(super) fn passes(flow: &mut Flow<'_>, grinding: &Grinding) {
    flow.skip(0.8);
    let sides = flow.sides();
    boxes(flow, &cells(grinding), sides, BOX_MM);
}

/// Figures to be set one after another, each in a box with its note.
pub(super) fn steps(flow: &mut Flow<'_>, steps: &[(String, String)]) {
    let cell = |(figure, note): &(String, String)| Cell::new(figure.clone(), MARK).noted(note);
    let cells: Vec<Cell> = steps.iter().map(cell).collect();
    flow.skip(0.8);
    let sides = flow.sides();
    boxes(flow, &cells, sides, BOX_MM);
}

/// What stands in each box.
fn cells(grinding: &Grinding) -> Vec<Cell> {
    let of = |kind: PassKind| grinding.passes.iter().filter(move |pass| pass.kind == kind);
    let mark = |pass: &GrindPass| Cell::new(reading(&pass.dial), MARK);
    let stock: Vec<Cell> = of(PassKind::Stock).map(mark).collect();
    let count = stock.len();
    let mut cells = if count > SHOWN_MAX {
        let so_on = format!("and so on, {count} rounds");
        let last = stock.last().cloned().map(|cell| cell.noted(&so_on));
        stock.into_iter().take(3).chain(last).collect()
    } else {
        stock
    };
    cells.extend(of(PassKind::Finish).map(mark).map(|cell| cell.noted("to finish")));
    let sparks = of(PassKind::SparkOut).map(|_| Cell::new("no feed".to_owned(), MARK));
    cells.extend(sparks.map(|cell| cell.noted("spark out")));
    cells
}
