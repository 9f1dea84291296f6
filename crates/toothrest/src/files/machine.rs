//! Machine files: `[machine]`, `[spindle]`, `[[axis]]`, `[work_holding]` and `[rest]`.

use shop::record::{Coolant, Machine, MachineDraft};

use super::axis::axis_draft;
use super::holding::{holding_draft, rest_draft};
use super::problem::FileProblems;
use super::reading::Reading;
use super::spindle::spindle_draft;
use super::syntax::below;

/// Reads a machine file.
///
/// # Errors
/// Everything wrong with the file.
pub fn read_machine(file: &str, text: &str) -> Result<Machine, FileProblems> {
    let reading = Reading::open(file, text);
    let top = reading.top();
    let section = top.section("machine");
    let name = section.need("name");
    let coolant = section.choose("coolant", "a way of grinding", Coolant::Dry);
    let extraction = section.need("extraction");
    section.close();
    let spindle = spindle_draft(top.section("spindle"));
    let axes: Vec<_> = top.sections("axis").into_iter().map(axis_draft).collect();
    let holding = holding_draft(top.section("work_holding"));
    let rest = rest_draft(top.section("rest"));
    top.close();

    let spindle = reading.settle(spindle.build(), |field| below("spindle", field));
    let holding = reading.settle(holding.build(), |field| below("work_holding", field));
    let rest = reading.settle(rest.build(), |field| below("rest", field));
    let count = axes.len();
    let build = |(index, axis): (usize, shop::record::AxisDraft)| {
        reading.settle(axis.build(), |field| below(&format!("axis[{index}]"), field))
    };
    let axes: Vec<_> = axes.into_iter().enumerate().filter_map(build).collect();
    let whole = (axes.len() == count).then_some(()).and(spindle.zip(holding).zip(rest));
    let machine = whole.and_then(|((spindle, holding), rest)| {
        let draft = MachineDraft { name, spindle, axes, holding, rest, coolant, extraction };
        reading.settle(draft.build(), machine_path)
    });
    reading.finish(machine)
}

/// The list of axes stands beside the section of the machine itself.
fn machine_path(field: &str) -> String {
    if field.starts_with("axis") { field.to_owned() } else { below("machine", field) }
}
