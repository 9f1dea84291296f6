//! A study as pictures: how each result spreads, and what causes it.

mod causes;
mod spread;

pub use causes::causes_view;
pub use spread::spread_view;

use shop::study::Study;

/// What is told below the heading of either picture.
fn note(study: &Study) -> String {
    format!(
        "{} at {}: {} teeth, every setting as far off as a hand is",
        study.request.plan.request.cutter.number(),
        study.request.plan.request.machine.name(),
        study.request.samples
    )
}
