//! The check: readings in, what is wrong and what to do about it out.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, Query};
use axum::response::Response;
use geometry::System;
use serde::Deserialize;
use sheets::drawing::{before_after, land_ring, residuals};
use sheets::text::{check_sheet, is_harmless, is_tagged, moved_by};
use shop::ShopError;
use shop::book::event::{Checked as CheckedEntry, Found, Read};
use shop::book::{Entry, Event, PAGE_MAX, Store};
use shop::check::{Check, Checked, Correction, DialChange, Outcome, Question, Worth};
use shop::plan::{PlanStep, Quantity};
use shop::record::{Readings, ReadingsDraft};

use super::again;
use super::plan::cautions;
use super::readings_again::{last_read, with_readings};
use super::readings_form::{form, with_question};
use super::{entering, readings_form, units};
use crate::desk::{CutterAt, Made};
use crate::web::fault::Fault;
use crate::web::form::{Entries, Form};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

#[derive(Template)]
#[template(path = "check.html")]
struct CheckPage {
    frame: Frame,
    id: String,
    number: String,
    form: Form,
    questions: Vec<Question>,
    cautions: Vec<String>,
    has_outcome: bool,
    /// Whether the readings of last time stand in the form.
    is_again: bool,
}

/// One correction as a card.
struct ToDo {
    number: usize,
    fault: String,
    action: String,
    dial: String,
    how: String,
    /// Why the dial is of no use for it, and what is.
    too_coarse: String,
    /// Why it may stay as it is.
    why_not: String,
    /// Whether it belongs into a corrective grind.
    is_ground: bool,
    /// Whether it is in the book that it was done.
    is_entered: bool,
}

#[derive(Template)]
#[template(path = "checked.html")]
struct CheckedPage {
    frame: Frame,
    id: String,
    number: String,
    seen: u64,
    outcome: &'static str,
    is_sound: bool,
    to_do: Vec<ToDo>,
    /// Whether something is to be ground again, and whether that is planned already.
    has_grind: bool,
    is_planned: bool,
    sheet: String,
    ring: String,
    others: Vec<String>,
}

async fn plan_of(visit: &Visit, cutter: &CutterAt) -> Result<(u64, Arc<Made>), Fault> {
    let number = cutter.state.planned.ok_or_else(|| {
        let number = cutter.state.cutter.number();
        Fault::from(ShopError::invalid("plan", format!("{number} has no plan; plan it first")))
    })?;
    Ok((number, visit.desk.held_against(cutter, number).await?))
}

/// What stands in the address of the form of readings.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Sheet {
    /// Not empty where an empty sheet is asked for.
    #[serde(default)]
    empty: String,
}

/// The form of readings, with those of last time in it.
pub(super) async fn show(
    visit: Visit,
    Path(id): Path<String>,
    Query(sheet): Query<Sheet>,
) -> Result<Response, Fault> {
    visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let (_, made) = plan_of(&visit, &cutter).await?;
    let system = visit.system_of(&cutter.state.cutter);
    let empty = form(&id, &made.plan, system, cutter.seen)?;
    let last = last_read(&visit, &cutter).await?.filter(|_| sheet.empty.is_empty());
    let is_again = last.is_some();
    let form = last.map_or(empty.clone(), |read| with_readings(empty, &read.readings));
    let page = page(&visit, &id, &cutter, &made, form, Vec::new());
    drawn(&CheckPage { is_again, ..page })
}

fn page(
    visit: &Visit,
    id: &str,
    cutter: &CutterAt,
    made: &Made,
    form: Form,
    questions: Vec<Question>,
) -> CheckPage {
    let number = cutter.state.cutter.number().to_owned();
    let frame = Frame::new(visit, "tray", format!("Check {number}"));
    CheckPage {
        frame: frame.with_form().in_system(form.system),
        id: id.to_owned(),
        cautions: cautions(&made.plan.cautions, &[PlanStep::Check]),
        has_outcome: cutter.state.checked.is_some(),
        is_again: false,
        number,
        form,
        questions,
    }
}

/// Weighs what was read, and enters both the readings and what they say.
pub(super) async fn weigh(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    cutter.check_here()?;
    let (number, made) = plan_of(&visit, &cutter).await?;
    let seen = entries.seen().unwrap_or(cutter.seen);
    let empty = form(&id, &made.plan, System::Millimetre, seen)?;
    let asked = if entries.has("_asked") { with_question(empty) } else { empty };
    let mut form = asked.fill(&entries);
    if let Some(to) = entries.switch() {
        let page = page(&visit, &id, &cutter, &made, form.switched(to), Vec::new());
        return Ok(units::with(to, drawn(&page)?));
    }
    let Some(readings) = readings_form::read(&mut form, &cutter.state.cutter) else {
        return blamed(&page(&visit, &id, &cutter, &made, form, Vec::new()));
    };
    match checked(&made, &readings).await? {
        Checked::Asked(questions) => {
            let form = if entries.has("_asked") { form } else { with_question(form) };
            blamed(&page(&visit, &id, &cutter, &made, form, questions))
        }
        Checked::Weighed(check) => {
            let read = Read { plan: Some(number), readings: readings.draft() };
            let events = vec![Event::Read(Box::new(read)), Event::Checked(entry(&check, seen + 1))];
            let write = visit.desk.append(by, &cutter.subject, seen, events);
            let entered = entering::enter(&visit, &mut form, cutter.seen, vec![write]).await?;
            if entered.is_written() {
                return Ok(go_on(&format!("/cutters/{id}/checked")));
            }
            entered.back(&page(&visit, &id, &cutter, &made, form, Vec::new()))
        }
    }
}

/// Weighing takes a tenth of a second, so it must not hold up the others.
async fn checked(made: &Arc<Made>, readings: &Readings) -> Result<Checked, Fault> {
    let (made, readings) = (made.clone(), readings.clone());
    let weighed = tokio::task::spawn_blocking(move || made.check(readings)).await;
    Ok(weighed.map_err(|error| Fault::Page(error.to_string()))??)
}

fn entry(check: &Check, read: u64) -> CheckedEntry {
    let found = check.findings.iter().map(|finding| {
        let (size, within) = if finding.fault.is_angle() {
            let angle = |degrees| Some(Quantity::Angle(geometry::Angle::from_degrees(degrees)));
            (angle(finding.size.value), angle(finding.size.half_width))
        } else {
            let length = |length| Some(Quantity::Length(length));
            (length(finding.size.length()), length(finding.size.within()))
        };
        Found { fault: finding.fault.name(), size, within, words: String::new() }
    });
    CheckedEntry {
        read: Some(read),
        program: env!("CARGO_PKG_VERSION").to_owned(),
        outcome: check.outcome.name().to_owned(),
        found: found.collect(),
    }
}

/// The plan that the last readings were held against, and those readings as they stand.
pub(super) async fn checked_readings(
    visit: &Visit,
    cutter: &CutterAt,
) -> Result<Option<(u64, ReadingsDraft)>, Fault> {
    let Some(number) = cutter.state.read else { return Ok(None) };
    let history = visit.desk.book().history(&cutter.subject, number - 1, 1).await?;
    let Some(Event::Read(read)) = history.into_iter().next().map(|entry| entry.event) else {
        return Ok(None);
    };
    let plan = read.plan.or(cutter.state.planned).ok_or(Fault::NoPage)?;
    Ok(Some((plan, ReadingsDraft { looked_again: true, ..read.readings })))
}

/// The last check of a cutter, made again from its readings.
pub(super) async fn last(visit: &Visit, cutter: &CutterAt) -> Result<Option<Box<Check>>, Fault> {
    let Some((plan, draft)) = checked_readings(visit, cutter).await? else { return Ok(None) };
    let made = visit.desk.held_against(cutter, plan).await?;
    let built = draft.build(&cutter.state.cutter);
    let readings = built.map_err(|errors| ShopError::invalid("readings", errors.to_string()))?;
    Ok(match checked(&made, &readings).await? {
        Checked::Weighed(check) => Some(check),
        Checked::Asked(_) => None,
    })
}

/// What the last readings say.
pub(super) async fn outcome(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let check = last(&visit, &cutter).await?.ok_or(Fault::NoPage)?;
    let record = &cutter.state.cutter;
    let frame = Frame::of_cutter(&visit, "tray", format!("Check of {}", record.number()), record);
    let units = frame.units();
    let svg = |scene: Option<sheets::scene::Scene>| scene.map(|scene| scene.to_svg());
    let others = [residuals(&check, frame.system), before_after(&check, frame.system)];
    let entered = entered(&visit, &cutter).await?;
    let numbered = (1..).zip(&check.corrections);
    drawn(&CheckedPage {
        number: record.number().to_owned(),
        seen: cutter.seen,
        outcome: outcome_words(&check),
        is_sound: check.outcome == Outcome::Sound || is_left(&check) || is_tag(&check),
        to_do: numbered.map(|(number, one)| to_do(number, one, &entered)).collect(),
        has_grind: check.corrections.iter().any(again::is_ground),
        is_planned: cutter.state.follows.is_some() && cutter.state.follows == cutter.state.checked,
        sheet: check_sheet(&check, units),
        ring: svg(land_ring(&check, frame.system)).unwrap_or_default(),
        others: others.into_iter().filter_map(svg).collect(),
        frame,
        id,
    })
}

fn outcome_words(check: &Check) -> &'static str {
    match check.outcome {
        Outcome::Sound => "Sound as far as read: nothing to correct",
        Outcome::Named if is_left(check) => "Nothing that must be corrected",
        Outcome::Named if is_tagged(check) => "Nothing to grind again: its size goes on the tag",
        Outcome::Named => "Something is wrong, and the readings say what",
        Outcome::Unclear if is_left(check) => {
            "Nothing that must be corrected; what is in doubt is within what is allowed"
        }
        Outcome::Unclear => {
            "Something is off, and the readings do not tell which of several things"
        }
        Outcome::NotRead => "Nothing was read on this grind",
    }
}

/// Whether another size on the tag is all that is asked for.
fn is_tag(check: &Check) -> bool {
    check.outcome == Outcome::Named && is_tagged(check)
}

/// Whether nothing that was found, or is in doubt, need be corrected.
fn is_left(check: &Check) -> bool {
    let stays = |one: &Correction| matches!(one.worth, Worth::GoodEnough(_));
    match check.outcome {
        Outcome::Unclear => !check.contradicted && is_harmless(check),
        Outcome::Named => check.corrections.iter().all(stays),
        Outcome::Sound | Outcome::NotRead => false,
    }
}

/// The faults for which a correction was entered since the last check.
async fn entered(visit: &Visit, cutter: &CutterAt) -> Result<Vec<String>, Fault> {
    let Some(checked) = cutter.state.checked else { return Ok(Vec::new()) };
    let since = visit.desk.book().history(&cutter.subject, checked, PAGE_MAX).await?;
    let fault = |entry: Entry| match entry.event {
        Event::Corrected(corrected) => Some(corrected.fault),
        _ => None,
    };
    Ok(since.into_iter().filter_map(fault).collect())
}

fn to_do(number: usize, one: &Correction, entered: &[String]) -> ToDo {
    let (too_coarse, why_not) = match &one.worth {
        Worth::Make => (String::new(), String::new()),
        Worth::GoodEnough(why) => (String::new(), why.value.clone()),
        Worth::TooSmall(why) => (why.clone(), String::new()),
    };
    let dial = one.dial.as_ref().filter(|_| one.worth == Worth::Make);
    ToDo {
        is_ground: again::is_ground(one),
        is_entered: entered.contains(&one.fault.name()),
        number,
        fault: one.fault.name(),
        action: one.action.name().to_owned(),
        dial: dial.map(turned).unwrap_or_default(),
        how: one.how.clone(),
        too_coarse,
        why_not,
    }
}

/// Axis, amount and way of a change.
fn turned(change: &DialChange) -> String {
    let to = change.to.as_ref().map(|to| format!(", to {}", sheets::text::reading(to)));
    let by = moved_by(change);
    format!("{} by {by}{} ({})", change.axis, to.unwrap_or_default(), change.way)
}

/// How far an axis was moved: to a mark, or as exactly as an indicator shows where no mark will do.
pub(super) fn moved(one: &Correction) -> Option<Quantity> {
    let is_by_mark = one.worth == Worth::Make;
    one.dial.as_ref().map(|change| if is_by_mark { change.by } else { change.exact })
}

/// Enters that a correction was made.
pub(super) async fn corrected(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let check = last(&visit, &cutter).await?.ok_or(Fault::NoPage)?;
    let place: usize = entries.get("correction").parse().unwrap_or_default();
    let one = place.checked_sub(1).and_then(|at| check.corrections.get(at));
    let one = one.ok_or_else(|| Fault::form("it names no correction of this check"))?;
    let corrected = again::entry(one, cutter.state.checked);
    let seen = entries.seen().unwrap_or(cutter.seen);
    visit.desk.write(by, &cutter.subject, seen, vec![Event::Corrected(corrected)]).await?;
    Ok(go_on(&format!("/cutters/{id}/checked")))
}
