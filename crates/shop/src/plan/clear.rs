//! What is done before hands go near the cutter: the wheel off, the cutter clear of it, the spindle
//! still.

use trade::Step;

use super::steps::BenchStep;

/// Before a setting is changed between two grinds, as a sheet has room for it.
pub const DRAW_CLEAR: &str =
    "Wheel off, cutter drawn clear, spindle stopped and still: only then a hand near it";

/// The same where the cross feed must stay where the last pass left it.
pub(super) const DRAW_CLEAR_ALONG: &str = "Cross feed left as it is, cutter drawn clear along \
                                           the table, spindle stopped and still: only then a \
                                           hand near it";

/// What is read before a secondary is ground, and never after.
pub const READ_PRIMARY: &str =
    "read and note every land and the diameter: the secondary takes that width away";

/// The same as a step says it.
const BACK_OFF: &str = "Back the wheel off the tooth and draw the table until the cutter stands \
                        well clear. Stop the spindle and wait until it stands still: only then a \
                        hand near cutter, rest or head";
const DRAW_ALONG: &str = "Leave the cross feed where it stands and draw the table along until the \
                          cutter stands well clear of the wheel. Stop the spindle and wait until \
                          it stands still: only then a hand near cutter, rest or head";

const WHY: &str = "the wheel runs beside the edges, and what is set now is set by hand";

/// The step that draws clear before `part` is changed.
pub(super) fn draw_clear(part: &str) -> BenchStep {
    step(part, BACK_OFF)
}

/// The same, the cross feed left where it is.
pub(super) fn draw_clear_along(part: &str) -> BenchStep {
    step(part, DRAW_ALONG)
}

fn step(part: &str, how: &str) -> BenchStep {
    let title = "draw clear, and stop the wheel";
    let key = format!("{part}: clear");
    BenchStep::plain(&key, title, Step::SetUp, how.to_owned(), WHY.to_owned())
}
