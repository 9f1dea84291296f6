//! Grinding: one step a screen, the next mark in large figures, and what the dial really stood at.

use std::sync::Arc;

use askama::Template;
use axum::extract::{Path, Query};
use axum::response::Response;
use geometry::{Length, System};
use serde::Deserialize;
use sheets::text::{Units, moved_by, reading as reading_words};
use shop::book::event::{Amended, DialStood, Ground, StepDone};
use shop::book::{Event, Store};
use shop::plan::{
    BenchStep, DialMark, PlanStep, Quantity, is_end_step, system_of, without_finished_end,
};

use super::entering;
use super::plan::{cautions, quantity};
use crate::desk::{BY_FACE, BY_GROUPS, CutterAt, Made};
use crate::web::fault::Fault;
use crate::web::form::Entries;
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

/// Which step is looked at, counted from 1; the first that is not done where none is named.
#[derive(Debug, Default, Deserialize)]
pub(super) struct At {
    step: Option<usize>,
}

/// A step on the row of steps.
pub(super) struct Dot {
    pub(super) number: usize,
    pub(super) title: String,
    pub(super) is_done: bool,
    pub(super) is_now: bool,
}

#[derive(Template)]
#[template(path = "grind.html")]
struct GrindPage {
    frame: Frame,
    id: String,
    number: String,
    seen: u64,
    dots: Vec<Dot>,
    at: usize,
    count: usize,
    step: BenchStep,
    mark: String,
    axis: String,
    grows: String,
    on_diameter: bool,
    value: String,
    /// What that amount is, where it is no mark of a dial.
    figure: &'static str,
    within: String,
    dial: String,
    dial_unit: &'static str,
    dial_system: &'static str,
    stood: String,
    done_entry: u64,
    is_done: bool,
    cautions: Vec<String>,
    left: usize,
    /// Whether this corrective grind may still be given up.
    may_give_up: bool,
    problem: String,
    /// Whether the problem is only a doubt, which the hand may overrule.
    has_doubt: bool,
}

#[derive(Template)]
#[template(path = "ground.html")]
struct GroundPage {
    frame: Frame,
    id: String,
    number: String,
    seen: u64,
    left: Vec<(usize, String)>,
    rows: Vec<(String, String, String)>,
    expected: String,
    unit: &'static str,
    /// What was typed, and what is wrong with it.
    diameter: String,
    problem: String,
    /// Whether the problem is only a doubt, which the hand may overrule.
    has_doubt: bool,
}

/// The plan that is being ground, with its steps.
pub(super) struct Work {
    pub(super) made: Arc<Made>,
    pub(super) plan: u64,
    pub(super) steps: Vec<BenchStep>,
}

pub(super) async fn work(visit: &Visit, cutter: &CutterAt) -> Result<Work, Fault> {
    let plan = cutter.state.planned.ok_or_else(|| no_plan(cutter))?;
    let made = visit.desk.kept(&cutter.subject, plan).await?;
    let steps = open_steps(cutter, &made);
    if steps.is_empty() {
        return Err(no_plan(cutter));
    }
    Ok(Work { made, plan, steps })
}

/// The steps that there are to do; behind a corrective grind without those of the parts of the end
/// that the plan before it had finished.
fn open_steps(cutter: &CutterAt, made: &Made) -> Vec<BenchStep> {
    let state = &cutter.state;
    let before = |key: &str| {
        state.steps.iter().any(|(_, done)| done.step == key && Some(done.plan) != state.planned)
    };
    match state.follows {
        Some(_) => without_finished_end(made.steps(), before),
        None => made.steps(),
    }
}

fn no_plan(cutter: &CutterAt) -> Fault {
    let number = cutter.state.cutter.number();
    let reason = format!("{number} has no plan that grinds; plan it first");
    shop::ShopError::invalid("plan", reason).into()
}

/// The entry that says that a step is done.
fn done_of<'a>(cutter: &'a CutterAt, step: &BenchStep) -> Option<&'a (u64, StepDone)> {
    cutter.state.steps.iter().rev().find(|(_, done)| done.step == step.key)
}

/// Shows a step; behind the last one, what there is to finish with.
pub(super) async fn show(
    visit: Visit,
    Path(id): Path<String>,
    Query(at): Query<At>,
) -> Result<Response, Fault> {
    visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let work = work(&visit, &cutter).await?;
    let open = work.steps.iter().position(|step| done_of(&cutter, step).is_none());
    let count = work.steps.len();
    let at = at.step.unwrap_or_else(|| open.map_or(count + 1, |at| at + 1));
    match at.checked_sub(1).and_then(|at| work.steps.get(at)) {
        Some(step) if step.reads_primary() && work.made.plan.is_weighed() => {
            super::primary_read::page(&visit, &id, &cutter, &work, at).await
        }
        Some(step) => drawn(&step_page(&visit, &id, &cutter, &work, step, at)),
        None => drawn(&ground_page(&visit, &id, &cutter, &work)),
    }
}

pub(super) fn frame(visit: &Visit, cutter: &CutterAt) -> Frame {
    let record = &cutter.state.cutter;
    Frame::of_cutter(visit, "tray", format!("Grind {}", record.number()), record)
}

fn step_page(
    visit: &Visit,
    id: &str,
    cutter: &CutterAt,
    work: &Work,
    step: &BenchStep,
    at: usize,
) -> GrindPage {
    let frame = frame(visit, cutter);
    let units = frame.units();
    let done = done_of(cutter, step);
    let stood = done.and_then(|(_, done)| done.stood.as_ref());
    let dial = step.dial.as_ref();
    let dial_system = dial.map_or(frame.system, |dial| match dial.finest {
        Quantity::Length(finest) => system_of(finest),
        Quantity::Angle(_) => frame.system,
    });
    let is_angle = dial.is_some_and(|dial| matches!(dial.reading, Quantity::Angle(_)));
    GrindPage {
        number: cutter.state.cutter.number().to_owned(),
        seen: cutter.seen,
        dots: dots(cutter, work, at),
        count: work.steps.len(),
        mark: dial.map(reading_words).unwrap_or_default(),
        axis: dial.map(|dial| dial.axis.clone()).unwrap_or_default(),
        grows: dial.map(|dial| dial.positive.clone()).unwrap_or_default(),
        on_diameter: dial.is_some_and(|dial| dial.on_diameter),
        value: amount(step, units),
        figure: if step.change.is_some() { "move by" } else { step.figure },
        within: step
            .tolerance
            .map(|within| format!("±{}", units.tolerance(within)))
            .unwrap_or_default(),
        dial: super::scale::dial_picture(&work.made.plan, step),
        dial_unit: if is_angle { "deg" } else { crate::web::form::system_name(dial_system) },
        dial_system: crate::web::form::system_name(dial_system),
        stood: stood.map(|stood| shown(stood.reading, dial_system)).unwrap_or_default(),
        done_entry: done.map_or(0, |(entry, _)| *entry),
        is_done: done.is_some(),
        cautions: cautions_of(&work.made, step),
        left: work.steps.iter().filter(|step| done_of(cutter, step).is_none()).count(),
        may_give_up: cutter.state.follows.is_some() && !cutter.has_begun(),
        problem: String::new(),
        has_doubt: false,
        step: step.clone(),
        id: id.to_owned(),
        frame,
        at,
    }
}

/// How far to move a dial, or a true amount.
fn amount(step: &BenchStep, units: Units) -> String {
    let moved = step.change.as_ref().map(moved_by);
    moved.or_else(|| step.value.map(|value| units.amount(value))).unwrap_or_default()
}

/// The cautions of a step: those of the end's own plan where the step is at the end, and all of a
/// work that is done in one step from its sheet.
fn cautions_of(made: &Made, step: &BenchStep) -> Vec<String> {
    const BY_SHEET: [PlanStep; 5] =
        [PlanStep::Wheel, PlanStep::True, PlanStep::SetUp, PlanStep::Grind, PlanStep::Check];
    let of_plan = &made.plan.cautions;
    match (step.key.as_str(), made.beside.end.planned(), made.beside.face.planned()) {
        (BY_FACE, _, Some(face)) => cautions(&face.cautions, &BY_SHEET),
        (BY_GROUPS, ..) => cautions(of_plan, &BY_SHEET),
        (key, Some(end), _) if is_end_step(key) => cautions(&end.cautions, &[step.of]),
        (key, ..) if is_end_step(key) => {
            let ball = made.beside.ball.planned().map(|ball| &ball.cautions);
            cautions(ball.unwrap_or(of_plan), &[step.of])
        }
        _ => cautions(of_plan, &[step.of]),
    }
}

fn shown(quantity: Quantity, system: System) -> String {
    sheets::text::Units { system, both: false }.amount(quantity)
}

pub(super) fn dots(cutter: &CutterAt, work: &Work, at: usize) -> Vec<Dot> {
    let dot = |(place, step): (usize, &BenchStep)| Dot {
        number: place + 1,
        title: step.title.clone(),
        is_done: done_of(cutter, step).is_some(),
        is_now: place + 1 == at,
    };
    work.steps.iter().enumerate().map(dot).collect()
}

fn ground_page(visit: &Visit, id: &str, cutter: &CutterAt, work: &Work) -> GroundPage {
    let frame = frame(visit, cutter);
    let numbered = || work.steps.iter().enumerate().map(|(at, step)| (at + 1, step));
    let left = numbered().filter(|(_, step)| done_of(cutter, step).is_none());
    let row = |(_, step): (usize, &BenchStep)| {
        let dial = step.dial.as_ref().filter(|_| step.is_read())?;
        let stood = done_of(cutter, step).and_then(|(_, done)| done.stood.as_ref());
        let stood = stood.map(|stood| shown(stood.reading, dial_system(dial, frame.system)));
        Some((step.title.clone(), super::plan::marked(dial), stood.unwrap_or_default()))
    };
    let periphery = work.made.plan.peripheral.as_ref().map(|work| work.expected.diameter);
    let face = work.made.beside.face.planned().map(|face| face.expected.diameter);
    let expected = periphery.or(face);
    GroundPage {
        number: cutter.state.cutter.number().to_owned(),
        seen: cutter.seen,
        left: left.map(|(at, step)| (at, step.title.clone())).collect(),
        rows: numbered().filter_map(row).collect(),
        expected: expected.map(|size| frame.units().length(size)).unwrap_or_default(),
        unit: frame.system_name(),
        diameter: String::new(),
        problem: String::new(),
        has_doubt: false,
        id: id.to_owned(),
        frame,
    }
}

fn dial_system(dial: &shop::plan::DialMark, system: System) -> System {
    match dial.finest {
        Quantity::Length(finest) => system_of(finest),
        Quantity::Angle(_) => system,
    }
}

/// Says that a step is done, with what its dial stood at.
pub(super) async fn done(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    cutter.check_here()?;
    let work = work(&visit, &cutter).await?;
    let key = entries.get("step");
    let place = work.steps.iter().position(|step| step.key == key);
    let place = place.ok_or_else(|| {
        shop::ShopError::invalid("step", "the plan has no such step; it was planned anew")
    })?;
    let step = &work.steps[place];
    let stood = match stood(step, &entries) {
        Ok(stood) => stood,
        Err(problem) => {
            let page = step_page(&visit, &id, &cutter, &work, step, place + 1);
            let has_doubt = entries.has("stood") && problem.contains(LOOK);
            let stood = entries.get("stood").to_owned();
            return blamed(&GrindPage { problem, has_doubt, stood, ..page });
        }
    };
    let event = Event::StepDone(StepDone {
        plan: work.plan,
        step: step.key.clone(),
        stood,
        words: entries.maybe("words"),
    });
    let seen = entries.seen().unwrap_or(cutter.seen);
    if let Err(error) = visit.desk.write(by, &cutter.subject, seen, vec![event]).await {
        let (entered, problem) = entering::why_not(&error);
        let page = step_page(&visit, &id, &cutter, &work, step, place + 1);
        let stood = entries.get("stood").to_owned();
        return entered.back(&GrindPage { problem, stood, ..page });
    }
    Ok(go_on(&format!("/cutters/{id}/grind?step={}", place + 2)))
}

fn stood(step: &BenchStep, entries: &Entries) -> Result<Option<DialStood>, String> {
    let typed = entries.get("stood");
    let dial = step.dial.as_ref().filter(|_| step.is_read() && !typed.is_empty());
    let Some(dial) = dial else { return Ok(None) };
    let system = entries.shown_in().unwrap_or(System::Millimetre);
    let reading = quantity(typed, dial.reading, system).map_err(|fault| fault.words())?;
    if is_far_off(step, dial, reading) && !entries.has("sure") {
        let (mark, stood) = (reading_words(dial), shown(reading, system));
        return Err(format!("{stood} is far from {mark}. {LOOK}"));
    }
    Ok(Some(DialStood { axis: dial.axis.clone(), reading }))
}

/// What is asked of a reading far from its mark.
const LOOK: &str = "Look at the dial again.";

/// A reading this many of the dial's smallest steps, or of the setting's tolerances, from the mark
/// is more likely a slip of the hand (own choice, no source).
const FAR_STEPS: f64 = 10.0;
const FAR_TOLERANCES: f64 = 5.0;

fn is_far_off(step: &BenchStep, dial: &DialMark, reading: Quantity) -> bool {
    let plain = |quantity: Quantity| match quantity {
        Quantity::Length(length) => length.mm(),
        Quantity::Angle(angle) => angle.degrees(),
    };
    let off = (plain(reading) - plain(dial.reading)).abs();
    let within = step.tolerance.map_or(0.0, plain) * FAR_TOLERANCES;
    off > within.max(plain(dial.finest) * FAR_STEPS)
}

/// Takes the last step back.
pub(super) async fn undo(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let entry: u64 = entries.get("entry").parse().unwrap_or_default();
    let named = cutter.state.steps.iter().find(|(number, _)| *number == entry);
    let (entry, done) = named.or_else(|| cutter.steps_of_plan().last()).ok_or_else(|| {
        shop::ShopError::invalid("step", "no step of this plan is done, so none can be undone")
    })?;
    let event = Event::Amended(Amended { entry: *entry, why: "undone".to_owned(), instead: None });
    let seen = entries.seen().unwrap_or(cutter.seen);
    let work = work(&visit, &cutter).await?;
    let place = work.steps.iter().position(|step| step.key == done.step).unwrap_or_default();
    visit.desk.write(by, &cutter.subject, seen, vec![event]).await?;
    Ok(go_on(&format!("/cutters/{id}/grind?step={}", place + 1)))
}

/// Says that the cutter is ground.
pub(super) async fn finish(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    cutter.check_here()?;
    let work = work(&visit, &cutter).await?;
    let not_yet = |problem: String| GroundPage {
        problem,
        diameter: entries.get("diameter").to_owned(),
        ..ground_page(&visit, &id, &cutter, &work)
    };
    let diameter_after = match measured(&cutter, &entries) {
        Ok(size) => size,
        Err(fault) => return blamed(&not_yet(fault.words())),
    };
    if let Some(problem) = size_doubt(&visit, &cutter, &work, diameter_after)
        && !entries.has("sure")
    {
        return blamed(&GroundPage { has_doubt: true, ..not_yet(problem) });
    }
    let planned = visit.desk.planned(&cutter.subject, work.plan).await?;
    // What was done to the end before a corrective grind stands with the grind before.
    let done = || cutter.steps_of_plan().map(|(_, done)| done);
    let dials = done().filter_map(|done| done.stood.clone()).collect();
    let passes = done().filter(|done| done.step.contains(": pass ")).count();
    let dull = work.made.plan.stock.dull_diameter;
    let ground = Ground {
        plan: Some(work.plan),
        wheel: planned.wheel,
        machine: planned.machine,
        dials,
        travel: travel(&cutter, &work).or(planned.travel),
        passes: u32::try_from(passes).ok().filter(|passes| *passes > 0),
        diameter_before: work.made.corrective.is_none().then_some(dull),
        diameter_after,
        minutes: minutes(&visit, &cutter).await?,
    };
    let seen = entries.seen().unwrap_or(cutter.seen);
    let corrective = work.made.corrective.as_ref();
    let mut events = corrective.map_or_else(Vec::new, |corrective| {
        super::again::corrections(corrective, cutter.state.follows)
    });
    events.push(Event::Ground(ground));
    if let Err(error) = visit.desk.write(by, &cutter.subject, seen, events).await {
        let (entered, problem) = entering::why_not(&error);
        return entered.back(&not_yet(problem));
    }
    // What is checked is the periphery, where its readings can be weighed; else it is handed back.
    let plan = &work.made.plan;
    let next = if plan.peripheral.is_some() && plan.is_weighed() { "check" } else { "back" };
    Ok(go_on(&format!("/cutters/{id}/{next}")))
}

/// The size over the new edges, where the hand measured it.
fn measured(cutter: &CutterAt, entries: &Entries) -> Result<Option<Length>, Fault> {
    let typed = entries.get("diameter");
    if typed.is_empty() {
        return Ok(None);
    }
    let record = &cutter.state.cutter;
    let system = entries.shown_in().unwrap_or_else(|| record.system());
    match quantity(typed, Quantity::Length(record.diameter()), system)? {
        Quantity::Length(size) if size > Length::ZERO && size <= record.diameter() * 1.02 => {
            Ok(Some(size))
        }
        _ => {
            let reason = format!("{typed} is no size of {}; measure it again", record.number());
            Err(shop::ShopError::invalid("diameter", reason).into())
        }
    }
}

/// Why the size that was typed can hardly be meant.
fn size_doubt(
    visit: &Visit,
    cutter: &CutterAt,
    work: &Work,
    size: Option<Length>,
) -> Option<String> {
    let system = visit.system_of(&cutter.state.cutter);
    let doubt = work.made.sizes_left()?.doubt(size?, system)?;
    Some(format!("Diameter over the new edges: {doubt}"))
}

/// How far the primary's last pass with feed really stood.
fn travel(cutter: &CutterAt, work: &Work) -> Option<Length> {
    let passes = work.steps.iter().rev();
    let mut passes = passes.filter(|step| step.key.starts_with("primary: pass"));
    let stood = passes.find_map(|step| done_of(cutter, step)?.1.stood.clone())?;
    match stood.reading {
        Quantity::Length(length) => Some(length),
        Quantity::Angle(_) => None,
    }
}

/// Minutes since the first step was done.
async fn minutes(visit: &Visit, cutter: &CutterAt) -> Result<Option<f64>, Fault> {
    let Some((first, _)) = cutter.steps_of_plan().next() else { return Ok(None) };
    let entry = visit.desk.book().history(&cutter.subject, first - 1, 1).await?;
    let began = entry.first().map(|entry| entry.stamp.at.micros());
    let spent = began.map(|began| (visit.desk.now().micros() - began) as f64 / 60e6);
    Ok(spent.filter(|minutes| (0.0..=600.0).contains(minutes)).map(|minutes| minutes.round()))
}
