//! Corrective grinds: what they are planned from, and how they were really fed.

use std::sync::Arc;

use geometry::Length;
use shop::book::event::StepDone;
use shop::book::{Event, counting, whole_history};
use shop::plan::Quantity;
use shop::record::{Cutter, ReadingsDraft};

use super::{CutterAt, Desk, Made};
use crate::cli::Failure;
use crate::files::{length_words, readings_text};
use crate::wire::{AfterCheck, Inputs, NamedText};

/// What a corrective grind is planned from: all that the plan before was, the readings, and the
/// faults that are left as they are.
pub(crate) fn again_inputs(
    before: &Made,
    cutter: &Cutter,
    readings: &ReadingsDraft,
    left: Vec<String>,
) -> Inputs {
    let mut inputs = before.inputs.clone();
    let text = readings_text(readings, cutter);
    let readings = NamedText { file: "readings.toml".to_owned(), text };
    inputs.after.push(AfterCheck { readings, left, fed: None });
    inputs
}

impl Desk {
    /// The plan of a cutter that readings are held against: that of a corrective grind with its
    /// feed as the dial really stood.
    pub(crate) async fn held_against(
        &self,
        cutter: &CutterAt,
        number: u64,
    ) -> Result<Arc<Made>, Failure> {
        let made = self.kept(&cutter.subject, number).await?;
        // A later plan clears the steps of the state, so they are taken from the history.
        let history = whole_history(self.book(), &cutter.subject).await?;
        let steps = counting(&history).into_iter().filter_map(|(_, event)| match event {
            Event::StepDone(done) if done.plan == number => Some(done),
            _ => None,
        });
        let fed = last_fed(steps, &made);
        match fed {
            Some(fed) => self.made(with_feed(&made, fed, cutter.state.cutter.system())),
            None => Ok(made),
        }
    }
}

/// Where the dial really stood at the last pass with feed, where that is not as planned.
fn last_fed<'s>(steps: impl Iterator<Item = &'s StepDone>, made: &Made) -> Option<Length> {
    let grinding = &made.corrective.as_ref()?.peripheral()?.grinding;
    let (number, last) =
        (1..).zip(&grinding.passes).filter(|(_, pass)| pass.feed > Length::ZERO).last()?;
    let key = format!("primary: pass {number}");
    let done = steps.filter(|done| done.step == key).last()?;
    match (done.stood.as_ref()?.reading, last.dial.reading) {
        (Quantity::Length(stood), Quantity::Length(planned)) if stood != planned => Some(stood),
        _ => None,
    }
}

fn with_feed(made: &Made, fed: Length, system: geometry::System) -> Inputs {
    let mut inputs = made.inputs.clone();
    if let Some(last) = inputs.after.last_mut() {
        last.fed = Some(length_words(fed, system));
    }
    inputs
}
