//! Reading the primary before the secondary is ground over it.

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use geometry::System;
use shop::book::Event;
use shop::book::event::{Read, StepDone};
use shop::plan::PlanStep;

use super::grind::{Dot, Work, dots, frame, work};
use super::plan::cautions;
use super::readings_again::{last_read, with_readings};
use super::readings_form::primary_form;
use super::{entering, readings_form, units};
use crate::desk::CutterAt;
use crate::web::fault::Fault;
use crate::web::form::{Entries, Form};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

#[derive(Template)]
#[template(path = "primary_read.html")]
struct ReadPage {
    frame: Frame,
    id: String,
    number: String,
    dots: Vec<Dot>,
    at: usize,
    count: usize,
    title: String,
    how: String,
    why: String,
    form: Form,
    cautions: Vec<String>,
}

/// The step as a page, with what was read so far.
pub(super) async fn page(
    visit: &Visit,
    id: &str,
    cutter: &CutterAt,
    work: &Work,
    at: usize,
) -> Result<Response, Fault> {
    let system = visit.system_of(&cutter.state.cutter);
    let form = primary_form(id, &work.made.plan, system, cutter.seen)?;
    let form = match last_read(visit, cutter).await? {
        Some(read) => with_readings(form, &read.readings),
        None => form,
    };
    drawn(&with_form(visit, id, cutter, work, at, form))
}

fn with_form(
    visit: &Visit,
    id: &str,
    cutter: &CutterAt,
    work: &Work,
    at: usize,
    form: Form,
) -> ReadPage {
    let step = at.checked_sub(1).and_then(|at| work.steps.get(at));
    ReadPage {
        frame: frame(visit, cutter).with_form().in_system(form.system),
        id: id.to_owned(),
        number: cutter.state.cutter.number().to_owned(),
        dots: dots(cutter, work, at),
        at,
        count: work.steps.len(),
        title: step.map(|step| step.title.clone()).unwrap_or_default(),
        how: step.map(|step| step.how.clone()).unwrap_or_default(),
        why: step.map(|step| step.why.clone()).unwrap_or_default(),
        cautions: cautions(&work.made.plan.cautions, &[PlanStep::Check]),
        form,
    }
}

/// Keeps what was read with the grind, and says that the step is done.
pub(super) async fn done(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    cutter.check_here()?;
    let work = work(&visit, &cutter).await?;
    let place = work.steps.iter().position(shop::plan::BenchStep::reads_primary);
    let at = 1 + place.ok_or_else(|| {
        shop::ShopError::invalid("step", "the plan has no such step; it was planned anew")
    })?;
    let seen = entries.seen().unwrap_or(cutter.seen);
    let empty = primary_form(&id, &work.made.plan, System::Millimetre, seen)?;
    let mut form = empty.fill(&entries);
    if let Some(to) = entries.switch() {
        let page = with_form(&visit, &id, &cutter, &work, at, form.switched(to));
        return Ok(units::with(to, drawn(&page)?));
    }
    let step = work.steps[at - 1].key.clone();
    let done = StepDone { plan: work.plan, step, stood: None, words: None };
    let mut events = vec![Event::StepDone(done)];
    let is_cell = |name: &str| name.contains(".teeth[");
    if form.fields().any(|field| is_cell(&field.name) && !field.value.trim().is_empty()) {
        let Some(readings) = readings_form::read(&mut form, &cutter.state.cutter) else {
            return blamed(&with_form(&visit, &id, &cutter, &work, at, form));
        };
        let (plan, readings) = (Some(work.plan), readings.draft());
        events.insert(0, Event::Read(Box::new(Read { plan, readings })));
    }
    let write = visit.desk.append(by, &cutter.subject, seen, events);
    let entered = entering::enter(&visit, &mut form, cutter.seen, vec![write]).await?;
    if !entered.is_written() {
        return entered.back(&with_form(&visit, &id, &cutter, &work, at, form));
    }
    Ok(go_on(&format!("/cutters/{id}/grind?step={}", at + 1)))
}
