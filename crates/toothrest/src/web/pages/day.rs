//! The work of a day: what came in, what was planned, ground, checked and handed back, and by whom.

use std::collections::{BTreeMap, BTreeSet};

use askama::Template;
use axum::extract::{Path, Query};
use axum::response::Response;
use serde::Deserialize;
use sheets::drawing::{Day, DayCutter, DayStep, DayStepKind, day_view};
use shop::book::{
    Entry, Event, EventKind, PAGE_MAX, Span, Stage, Store, Subject, SubjectKind, whole_history,
};

use super::record::amends;
use crate::desk::CutterAt;
use crate::surroundings::LocalDay;
use crate::web::fault::Fault;
use crate::web::page::{Frame, drawn, go_on};
use crate::web::visit::Visit;

/// Kinds of step.
const STEPS: usize = DayStepKind::ALL.len();

/// The picture shows so many cutters at most; the table shows all.
const DRAWN_MAX: usize = 60;

/// The date that was chosen.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Chosen {
    #[serde(default)]
    date: String,
}

/// What was done on one cutter.
struct Row {
    path: String,
    number: String,
    about: String,
    /// Time and initials, by kind of step.
    steps: [Vec<String>; STEPS],
}

/// Something else that was written.
struct Other {
    at: String,
    by: String,
    kind: &'static str,
    number: String,
    what: &'static str,
}

#[derive(Template)]
#[template(path = "day.html")]
struct DayPage {
    frame: Frame,
    day: LocalDay,
    totals: Vec<(&'static str, usize)>,
    picture: String,
    is_picture_cut: bool,
    /// Whether a cutter went back.
    has_back: bool,
    rows: Vec<Row>,
    others: Vec<Other>,
}

/// A subject on which something was done that day.
struct Done {
    number: String,
    about: String,
    entries: Vec<Entry>,
}

/// Today, or the day that was chosen.
pub(super) async fn today(visit: Visit, Query(chosen): Query<Chosen>) -> Result<Response, Fault> {
    if !chosen.date.is_empty() {
        let day = visit.zone.local_day(chosen.date.trim()).ok_or(Fault::NoPage)?;
        return Ok(go_on(&format!("/day/{}", day.date)));
    }
    let today = visit.zone.day(visit.desk.now());
    show(visit, Path(today)).await
}

/// Shows one day.
pub(super) async fn show(visit: Visit, Path(date): Path<String>) -> Result<Response, Fault> {
    let day = visit.zone.local_day(&date).ok_or(Fault::NoPage)?;
    let done = done(&visit, written(&visit, &day).await?).await?;
    let drawing = drawing(&visit, &day, &done);
    let is_picture_cut = drawing.cutters.len() > DRAWN_MAX;
    let totals = totals(&drawing);
    let shown = drawing.cutters.into_iter().take(DRAWN_MAX).collect();
    let picture = Day { cutters: shown, ..drawing };
    let picture =
        if picture.cutters.is_empty() { String::new() } else { day_view(&picture).to_svg() };
    let frame = Frame::new(&visit, "day", format!("The work of {date}"));
    let (rows, others) = (rows(&visit, &done), others(&visit, &done));
    let has_back = !handed_back(&visit, &done).await?.is_empty();
    drawn(&DayPage { frame, day, totals, picture, is_picture_cut, has_back, rows, others })
}

/// Every entry of a day.
async fn written(visit: &Visit, day: &LocalDay) -> Result<Vec<Entry>, Fault> {
    let mut all: Vec<Entry> = Vec::new();
    loop {
        let after = all.last().map(|last| (last.stamp.at, last.subject.id.clone(), last.number));
        let span = Span { from: day.from, until: day.until, after, limit: PAGE_MAX };
        let page = visit.desk.book().written(&span).await?;
        let is_last = page.len() < PAGE_MAX as usize;
        all.extend(page);
        if is_last {
            return Ok(all);
        }
    }
}

/// The cutters that were handed back on a day and are not here again since.
pub(super) async fn back_on(visit: &Visit, day: &LocalDay) -> Result<Vec<CutterAt>, Fault> {
    handed_back(visit, &done(visit, written(visit, day).await?).await?).await
}

async fn handed_back(visit: &Visit, done: &[(Subject, Done)]) -> Result<Vec<CutterAt>, Fault> {
    let is_back = |entry: &Entry| matches!(entry.event, Event::HandedBack(_));
    let mut back = Vec::new();
    for (subject, done) in done {
        if done.entries.iter().any(is_back) {
            let cutter = visit.desk.cutter(subject.id.as_str()).await?;
            back.extend(Some(cutter).filter(|cutter| cutter.state.stage == Stage::Back));
        }
    }
    Ok(back)
}

/// The entries by subject, without those that were struck out or put right since.
async fn done(visit: &Visit, entries: Vec<Entry>) -> Result<Vec<(Subject, Done)>, Fault> {
    let mut order: Vec<Subject> = Vec::new();
    let mut by_subject: BTreeMap<Subject, Vec<Entry>> = BTreeMap::new();
    for entry in entries {
        let of = by_subject.entry(entry.subject.clone()).or_default();
        if of.is_empty() {
            order.push(entry.subject.clone());
        }
        of.push(entry);
    }
    let mut all = Vec::new();
    for subject in order {
        let mut entries = by_subject.remove(&subject).unwrap_or_default();
        let history = whole_history(visit.desk.book(), &subject).await?;
        let struck: BTreeSet<u64> = history.iter().filter_map(amends).collect();
        entries.retain(|entry| !struck.contains(&entry.number));
        let latest = visit.desk.latest(&subject).await?.summary();
        all.push((subject, Done { number: latest.number, about: latest.about, entries }));
    }
    Ok(all)
}

/// The step that an entry stands for.
const fn step(event: &Event) -> Option<DayStepKind> {
    match event {
        Event::Received(_) => Some(DayStepKind::Received),
        Event::Planned(_) => Some(DayStepKind::Planned),
        Event::Ground(_) => Some(DayStepKind::Ground),
        Event::Checked(_) => Some(DayStepKind::Checked),
        Event::HandedBack(_) => Some(DayStepKind::HandedBack),
        _ => None,
    }
}

fn drawing(visit: &Visit, day: &LocalDay, done: &[(Subject, Done)]) -> Day {
    let of_entry = |entry: &Entry| {
        let minute = visit.zone.minute_of_day(entry.stamp.at);
        Some(DayStep { kind: step(&entry.event)?, minute, by: entry.stamp.by.to_string() })
    };
    let cutter = |(_, done): &(Subject, Done)| {
        let steps: Vec<DayStep> = done.entries.iter().filter_map(of_entry).collect();
        (!steps.is_empty()).then(|| DayCutter { number: done.number.clone(), steps })
    };
    Day { date: day.date.clone(), cutters: done.iter().filter_map(cutter).collect() }
}

fn totals(day: &Day) -> Vec<(&'static str, usize)> {
    let steps = || day.cutters.iter().flat_map(|cutter| &cutter.steps);
    let of = |kind: &DayStepKind| (kind.name(), steps().filter(|step| step.kind == *kind).count());
    DayStepKind::ALL.iter().map(of).collect()
}

fn rows(visit: &Visit, done: &[(Subject, Done)]) -> Vec<Row> {
    let row = |(subject, done): &(Subject, Done)| {
        let mut steps: [Vec<String>; STEPS] = Default::default();
        for entry in &done.entries {
            let kind = step(&entry.event)
                .and_then(|kind| DayStepKind::ALL.iter().position(|other| *other == kind));
            let words = || format!("{} {}", clock(visit, entry), entry.stamp.by);
            if let Some(slot) = kind.and_then(|kind| steps.get_mut(kind)) {
                slot.push(words());
            }
        }
        let path = format!("/cutters/{}", subject.id);
        let is_worked_on = steps.iter().any(|step| !step.is_empty());
        let Done { number, about, .. } = done;
        is_worked_on.then(|| Row { path, number: number.clone(), about: about.clone(), steps })
    };
    done.iter().filter_map(row).collect()
}

/// Hour and minute by the clock on the wall.
fn clock(visit: &Visit, entry: &Entry) -> String {
    let minute = visit.zone.minute_of_day(entry.stamp.at);
    format!("{}:{:02}", minute / 60, minute % 60)
}

/// Whatever else was written that day.
fn others(visit: &Visit, done: &[(Subject, Done)]) -> Vec<Other> {
    let other = |subject: &Subject, done: &Done, entry: &Entry| Other {
        at: clock(visit, entry),
        by: entry.stamp.by.to_string(),
        kind: subject.kind.name(),
        number: done.number.clone(),
        what: entry.event.kind().map_or("something newer", EventKind::name),
    };
    let is_other = |subject: &Subject, entry: &Entry| {
        subject.kind != SubjectKind::Cutter || step(&entry.event).is_none()
    };
    let all = done.iter().flat_map(|(subject, done)| {
        let others = done.entries.iter().filter(move |entry| is_other(subject, entry));
        others.map(move |entry| other(subject, done, entry))
    });
    all.collect()
}
