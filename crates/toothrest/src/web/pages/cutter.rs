//! One cutter: how it looks, what it is worth, and what was done to it.

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use sheets::text::{Units, describe};
use shop::book::event::{Noted, Retired};
use shop::book::{Entry, Event, Stage, whole_history};
use shop::learn::{CutterHistory, cutter_history};
use shop::plan::RouteView;
use shop::record::Cutter;

use super::entering;
use super::record::{Line, lines};
use super::tray::{next_step, not_here, verdict_words};
use crate::desk::CutterAt;
use crate::web::fault::Fault;
use crate::web::form::Entries;
use crate::web::page::{Frame, drawn, go_on};
use crate::web::visit::Visit;

/// So much of a history stands on the cutter's own page.
const SHOWN: usize = 8;

/// A figure with what it is.
pub(super) struct Figure {
    pub(super) what: String,
    pub(super) value: String,
    pub(super) more: String,
}

impl Figure {
    pub(super) fn new(
        what: impl Into<String>,
        value: impl Into<String>,
        more: impl Into<String>,
    ) -> Self {
        Self { what: what.into(), value: value.into(), more: more.into() }
    }
}

#[derive(Template)]
#[template(path = "cutter.html")]
struct CutterPage {
    frame: Frame,
    id: String,
    number: String,
    about: String,
    stage: &'static str,
    is_gone: bool,
    seen: u64,
    verdict: String,
    /// Why it cannot be ground on any machine here; empty where it can.
    not_here: String,
    is_flagged: bool,
    routes: Vec<Route>,
    figures: Vec<Figure>,
    marks: Vec<String>,
    picture: String,
    life: String,
    next: (&'static str, String),
    has_plan: bool,
    history: Vec<Line>,
    has_more: bool,
}

/// One route with what it would leave.
struct Route {
    name: &'static str,
    is_chosen: bool,
    size: String,
    lives: String,
    reason: String,
}

/// Shows a cutter.
pub(super) async fn show(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let frame = Frame::of_cutter(&visit, "tray", record.number(), record);
    let units = frame.units();
    let tables = visit.desk.tables().await?;
    let (verdict, is_flagged) = verdict_words(&tables, &cutter);
    // A cutter that will not clean up has no lives left, however far its size is from the least.
    let life = if is_flagged {
        String::new()
    } else {
        super::scale::life_picture(&visit, &cutter, frame.system).await?
    };
    let whole = whole_history(visit.desk.book(), &cutter.subject).await?;
    let known = cutter_history(&whole).history;
    let history: Vec<Entry> = last_of(&whole);
    let has_more = cutter.seen > history.len() as u64;
    drawn(&CutterPage {
        number: record.number().to_owned(),
        about: describe(record, units),
        stage: if cutter.is_gone { Stage::Gone.name() } else { cutter.state.stage.name() },
        is_gone: cutter.is_gone,
        seen: cutter.seen,
        routes: routes(&tables, &cutter, &known, units),
        figures: figures(record, units),
        marks: cutter.state.marks.clone(),
        picture: super::scale::cutter_picture(record, frame.system),
        life,
        next: next_step(&cutter, &id, is_flagged),
        has_plan: cutter.state.planned.is_some(),
        history: lines(&visit, &history, units).await?,
        not_here: match cutter.state.stage {
            Stage::Waiting => {
                not_here(&visit.machine, visit.desk.benches().await?.as_ref(), &cutter, is_flagged)
            }
            _ => String::new(),
        },
        verdict,
        is_flagged,
        has_more,
        frame,
        id,
    })
}

/// The last entries of a history; the steps of grinding are told together by the entry that ends
/// them.
fn last_of(history: &[Entry]) -> Vec<Entry> {
    let is_told = |entry: &&Entry| !matches!(entry.event, Event::StepDone(_));
    let told: Vec<&Entry> = history.iter().filter(is_told).collect();
    told[told.len().saturating_sub(SHOWN)..].iter().map(|entry| (*entry).clone()).collect()
}

fn routes(
    tables: &trade::Tables,
    cutter: &CutterAt,
    known: &CutterHistory,
    units: Units,
) -> Vec<Route> {
    if cutter.state.cutter.wear().is_none() {
        return Vec::new();
    }
    let Ok(verdict) = super::tray::judged(tables, cutter, known) else { return Vec::new() };
    let route = |view: &RouteView| Route {
        name: view.route.short_name(),
        is_chosen: view.route == verdict.route,
        size: view.diameter_after.map(|size| units.length(size)).unwrap_or_default(),
        lives: view.lives_left.map(|lives| lives.to_string()).unwrap_or_default(),
        reason: if view.possible { view.reason.clone() } else { format!("no: {}", view.reason) },
    };
    verdict.routes.iter().map(route).collect()
}

fn figures(cutter: &Cutter, units: Units) -> Vec<Figure> {
    let mut figures = vec![Figure::new("nominal", units.nominal(cutter.diameter()), "")];
    if let Some(ground) = cutter.as_ground() {
        let lost = units.length(cutter.diameter() - ground.diameter);
        let size = units.length(ground.diameter);
        figures.push(Figure::new("as last ground", size, format!("{lost} under nominal")));
        let angles = format!("{} / {}", ground.primary.show(), ground.secondary.show());
        let land = format!("land {}", units.length(ground.land));
        figures.push(Figure::new("primary / secondary", angles, land));
    }
    if let Some(measured) = cutter.wear().and_then(shop::record::Wear::measured_diameter) {
        figures.push(Figure::new("over dull edges", units.length(measured), "measured"));
    }
    let flute = units.nominal(cutter.flute_length());
    figures.push(Figure::new(
        "flute",
        flute,
        format!("of {}", units.nominal(cutter.overall_length())),
    ));
    figures.push(Figure::new("regrinds so far", cutter.regrinds().to_string(), ""));
    figures
}

/// Notes something in a cutter's history.
pub(super) async fn note(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let words = entries.get("words").to_owned();
    if words.is_empty() {
        return Ok(go_on(&format!("/cutters/{id}")));
    }
    written(&visit, &id, &entries, Event::Noted(Noted { words })).await
}

/// Says that a cutter is done with.
pub(super) async fn retire(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let why = entries.maybe("why").unwrap_or_else(|| "scrapped".to_owned());
    written(&visit, &id, &entries, Event::Retired(Retired { why })).await
}

async fn written(
    visit: &Visit,
    id: &str,
    entries: &Entries,
    event: Event,
) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(id).await?;
    entering::put(visit, &cutter.subject, cutter.seen, entries, event).await?;
    Ok(go_on(&format!("/cutters/{id}")))
}
