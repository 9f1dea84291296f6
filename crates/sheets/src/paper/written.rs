//! Sheets that are set from what stands on their page of text: end, face, and a corrective grind.
//!
//! The words are those of the text, so that bench and paper never say two things. What paper has
//! beyond them are tables for the set-up, a box for each mark of a feed, and boxes for readings.

use shop::plan::{BallPlan, CorrectivePlan, EndPlan, FacePlan, RegrindPlan};
use shop::record::Cutter;

use super::flow::{BODY, Flow, HEADING, RESULT, SMALL};
use super::setup::{Cell, boxes, fitting, set_up_table, units};
use super::{Imprint, Pages, setup_grind};
use crate::text::{Item, ball_written, corrective_written, describe, end_written, face_written};

/// Width and height of a box for a reading.
const READING_MM: (f64, f64) = (37.0, 10.6);

/// The plan of the end as one page, or as many as it needs.
pub fn end_setup_sheet(plan: &RegrindPlan, end: &EndPlan, imprint: &Imprint) -> Pages {
    let items = end_written(plan, end, units(imprint)).into_items();
    let (cutter, machine) = (&plan.request.cutter, plan.request.machine.name());
    Sheet { name: "THE END", cutter, machine, items: &items, imprint }.pages()
}

/// The plan of a ball as one page, or as many as it needs.
pub fn ball_setup_sheet(plan: &RegrindPlan, ball: &BallPlan, imprint: &Imprint) -> Pages {
    let items = ball_written(plan, ball, units(imprint)).into_items();
    let (cutter, machine) = (&plan.request.cutter, plan.request.machine.name());
    Sheet { name: "THE BALL", cutter, machine, items: &items, imprint }.pages()
}

/// The plan of the face as one page, or as many as it needs.
pub fn face_setup_sheet(plan: &RegrindPlan, face: &FacePlan, imprint: &Imprint) -> Pages {
    let items = face_written(plan, face, units(imprint)).into_items();
    let (cutter, machine) = (&plan.request.cutter, plan.request.machine.name());
    Sheet { name: "THE FACE", cutter, machine, items: &items, imprint }.pages()
}

/// A page that says why a part of the work, named in capitals, is asked for and not planned.
pub fn not_planned_sheet(plan: &RegrindPlan, name: &str, why: &str, imprint: &Imprint) -> Pages {
    let items = [Item::Hanging(String::new(), format!("Not planned: {why}"))];
    let (cutter, machine) = (&plan.request.cutter, plan.request.machine.name());
    Sheet { name, cutter, machine, items: &items, imprint }.pages()
}

/// A corrective grind as one page, or as many as it needs.
pub fn corrective_setup_sheet(corrective: &CorrectivePlan, imprint: &Imprint) -> Pages {
    let items = corrective_written(corrective, units(imprint)).into_items();
    let request = &corrective.plan.request;
    let (cutter, machine) = (&request.cutter, request.machine.name());
    Sheet { name: "CORRECTIVE GRIND", cutter, machine, items: &items, imprint }.pages()
}

/// A sheet and what it is set from.
struct Sheet<'a> {
    name: &'a str,
    cutter: &'a Cutter,
    machine: &'a str,
    items: &'a [Item],
    imprint: &'a Imprint,
}

impl Sheet<'_> {
    fn pages(&self) -> Pages {
        fitting(|shrink| self.write(shrink))
    }

    fn write(&self, shrink: f64) -> Pages {
        let number = self.cutter.number();
        let about = describe(self.cutter, units(self.imprint));
        let title = format!("{} {number}", self.name);
        let description = format!("{} of cutter {number}: {about}.", sentence(self.name));
        let mut flow = Flow::new(self.imprint, title, description, super::setup::CLOSING);
        flow = flow.shrunk(shrink);
        flow.strong(3.3, &format!("{about}, at {}", self.machine));
        let is_part = |item: &Item| matches!(item, Item::Part(_));
        let parts = self.items.chunk_by(|_, next| !is_part(next));
        let mut number = 0;
        for part in parts {
            number += u32::from(part.first().is_some_and(is_part));
            flow.together(|flow| self.part(flow, part, number));
        }
        flow.finish()
    }

    /// A part of the sheet. Lines of a set-up that follow each other are rows of one table.
    fn part(&self, flow: &mut Flow<'_>, items: &[Item], number: u32) {
        for run in items.chunk_by(|one, other| is_line(one) && is_line(other)) {
            if is_line(&run[0]) {
                set_up_table(flow, run.iter().filter_map(line), units(self.imprint));
            } else {
                run.iter().for_each(|item| self.set(flow, item, number));
            }
        }
    }

    fn set(&self, flow: &mut Flow<'_>, item: &Item, number: u32) {
        match item {
            // The head of the paper has what these say.
            Item::Rule(_) | Item::Spread(..) | Item::Setup(_) => {}
            Item::Part(name) => {
                flow.skip(1.0);
                flow.heading(&format!("{number}  {}", sentence(name)), 3.0 * HEADING);
            }
            Item::Hanging(mark, text) if is_mark(mark) => {
                // What is to be done is read at arm's length; a caution or a remark from nearer.
                let is_action = mark.starts_with(|letter: char| letter.is_ascii_digit());
                let size = if is_action { BODY } else { SMALL };
                flow.marked(mark.trim(), size, text);
            }
            Item::Hanging(mark, text) => flow.paragraph(BODY, &format!("{mark}{text}")),
            Item::Marks(grinding) => setup_grind::passes(flow, grinding),
            Item::Steps(steps) => setup_grind::steps(flow, steps),
            Item::Result(figure) => flow.strong(RESULT, figure),
            Item::Boxes(names) => {
                let cells: Vec<Cell> =
                    names.iter().map(|name| Cell::new(name.clone(), 2.6)).collect();
                flow.skip(0.8);
                let sides = flow.sides();
                boxes(flow, &cells, sides, READING_MM);
            }
        }
    }
}

fn is_line(item: &Item) -> bool {
    line(item).is_some()
}

fn line(item: &Item) -> Option<&shop::plan::SetupLine> {
    match item {
        Item::Setup(line) => Some(line),
        _ => None,
    }
}

/// A caution, a remark, or a number in a row.
fn is_mark(mark: &str) -> bool {
    !mark.trim().is_empty() && mark.trim().len() <= 3
}

/// A name in capitals as a heading has it.
fn sentence(name: &str) -> String {
    let mut letters = name.chars();
    let first = letters.next().map(String::from).unwrap_or_default();
    first + &letters.as_str().to_lowercase()
}
