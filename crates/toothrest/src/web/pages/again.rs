//! The corrective grind: planned from a check at one tap, and given up as easily.

use axum::extract::Path;
use axum::response::Response;
use shop::ShopError;
use shop::book::Event;
use shop::book::event::{Amended, Corrected, Planned};
use shop::check::{Action, Check, Correction, Worth};
use shop::plan::CorrectivePlan;

use super::check::{checked_readings, last, moved};
use crate::desk::{again_inputs, kept_inputs};
use crate::web::fault::Fault;
use crate::web::form::Entries;
use crate::web::page::go_on;
use crate::web::visit::Visit;

/// Whether a correction is ground, and so belongs into a corrective grind.
pub(super) fn is_ground(one: &Correction) -> bool {
    match &one.worth {
        Worth::Make => one.action != Action::TagSize,
        Worth::TooSmall(_) => one.action == Action::Swivel,
        Worth::GoodEnough(_) => false,
    }
}

/// The faults that the hand leaves as they are.
fn left(check: &Check, entries: &Entries) -> Vec<String> {
    let numbered = (1..).zip(&check.corrections);
    let is_left = |(number, _): &(usize, &Correction)| entries.has(&format!("leave_{number}"));
    numbered.filter(is_left).map(|(_, one)| one.fault.name()).collect()
}

/// Plans the corrective grind after the last check, and goes on to its first step.
pub(super) async fn plan(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    cutter.check_here()?;
    let check = last(&visit, &cutter).await?.ok_or(Fault::NoPage)?;
    let follows = cutter.state.checked.ok_or(Fault::NoPage)?;
    let (number, readings) = checked_readings(&visit, &cutter).await?.ok_or(Fault::NoPage)?;
    let before = visit.desk.held_against(&cutter, number).await?;
    if !before.groups().is_empty() {
        let reason = "its teeth are set up in groups, and a corrective grind would set all of them \
                      alike; carry each correction out on its own group, by hand";
        return Err(ShopError::invalid("plan", reason).into());
    }
    let record = &cutter.state.cutter;
    let inputs = again_inputs(&before, record, &readings, left(&check, &entries));
    let desk = visit.desk.clone();
    let made = tokio::task::spawn_blocking(move || desk.made(inputs)).await;
    let made = made.map_err(|error| Fault::Page(error.to_string()))??;
    let kept = visit.desk.planned(&cutter.subject, number).await?;
    let planned = Planned {
        program: env!("CARGO_PKG_VERSION").to_owned(),
        inputs: kept_inputs(&made.inputs),
        wheel: kept.wheel,
        machine: kept.machine,
        follows: Some(follows),
        ..Planned::of(&made.plan)
    };
    let seen = entries.seen().unwrap_or(cutter.seen);
    visit.desk.write(by, &cutter.subject, seen, vec![Event::Planned(planned)]).await?;
    Ok(go_on(&format!("/cutters/{id}/grind")))
}

/// Gives the corrective grind up before anything of it was done.
pub(super) async fn undo(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let state = &cutter.state;
    let entry = state.planned.filter(|_| state.follows.is_some()).ok_or(Fault::NoPage)?;
    if cutter.has_begun() || state.ground.is_some_and(|ground| ground > entry) {
        let reason = "some of its steps are done; undo those first";
        return Err(ShopError::invalid("plan", reason).into());
    }
    let why = "not ground again".to_owned();
    let event = Event::Amended(Amended { entry, why, instead: None });
    let seen = entries.seen().unwrap_or(cutter.seen);
    visit.desk.write(by, &cutter.subject, seen, vec![event]).await?;
    Ok(go_on(&format!("/cutters/{id}/checked")))
}

/// What the book keeps of the corrections that a corrective grind carried out.
pub(super) fn corrections(corrective: &CorrectivePlan, follows: Option<u64>) -> Vec<Event> {
    let made = corrective.chosen.iter().filter(|one| one.carried.is_made());
    made.map(|one| &one.correction).map(|one| Event::Corrected(entry(one, follows))).collect()
}

/// A correction as the book keeps it.
pub(super) fn entry(one: &Correction, check: Option<u64>) -> Corrected {
    Corrected {
        check,
        fault: one.fault.name(),
        axis: one.dial.as_ref().map(|change| change.axis.clone()),
        by: moved(one),
        words: one.how.clone(),
    }
}
