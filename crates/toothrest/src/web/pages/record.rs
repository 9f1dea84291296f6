//! The record of a cutter: every entry of its history, in words.

use std::collections::BTreeSet;

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use sheets::text::Units;
use shop::book::event::{Amended, Mounted, WheelSize};
use shop::book::{
    Entry, Event, EventKind, Id, Latest, Remark, Store, Subject, SubjectKind, whole_history,
};

use super::entering;
use super::wheels::{form_words, grain_words};
use crate::web::fault::Fault;
use crate::web::form::Entries;
use crate::web::page::{Frame, drawn, go_on};
use crate::web::visit::Visit;

/// One entry as a line.
pub(super) struct Line {
    pub(super) number: u64,
    pub(super) at: String,
    pub(super) by: String,
    pub(super) what: String,
    pub(super) words: String,
    /// Whether a later entry says that it counts no longer.
    pub(super) is_struck: bool,
    /// Whether it may be struck out.
    pub(super) can_strike: bool,
}

/// Entries as lines, the latest first.
pub(super) async fn lines(
    visit: &Visit,
    entries: &[Entry],
    units: Units,
) -> Result<Vec<Line>, Fault> {
    let amended: BTreeSet<u64> = entries.iter().filter_map(amends).collect();
    let mut lines = Vec::new();
    for entry in entries.iter().rev() {
        let other = other_of(visit, &entry.event).await?;
        lines.push(Line {
            number: entry.number,
            at: visit.zone.minute(entry.stamp.at),
            by: entry.stamp.by.to_string(),
            what: entry.event.kind().map_or("something newer", EventKind::name).to_owned(),
            words: words(&entry.event, units, &other),
            is_struck: amended.contains(&entry.number),
            can_strike: entry.number > 1
                && !amended.contains(&entry.number)
                && !matches!(entry.event, Event::Amended(_) | Event::Foreign(_)),
        });
    }
    Ok(lines)
}

/// The number of the wheel or the name of the machine that an entry speaks of.
async fn other_of(visit: &Visit, event: &Event) -> Result<String, Fault> {
    match (event, event.wheel_used()) {
        (_, Some(wheel)) => name_of(visit, SubjectKind::Wheel, wheel).await,
        (Event::Mounted(Mounted { machine: Some(machine) }), _) => {
            name_of(visit, SubjectKind::Machine, machine).await
        }
        _ => Ok(String::new()),
    }
}

/// The number of the entry that this one amends.
pub(super) fn amends(entry: &Entry) -> Option<u64> {
    match &entry.event {
        Event::Amended(amended) => Some(amended.entry),
        _ => None,
    }
}

/// The number by which people know something.
pub(super) async fn name_of(visit: &Visit, kind: SubjectKind, id: &Id) -> Result<String, Fault> {
    let summary = visit.desk.book().summary(&Subject::new(kind, id.clone())).await?;
    Ok(summary.map(|summary| summary.number).unwrap_or_default())
}

/// What an entry says, in one line.
fn words(event: &Event, units: Units, other: &str) -> String {
    let with =
        |what: &str, text: &Option<String>| text.as_ref().map(|text| format!("{what}{text}"));
    match event {
        Event::CutterEntered(entered) => sheets::text::describe(&entered.cutter, units),
        Event::Received(received) => {
            joined(vec![with("from ", &received.from), with("wanted: ", &received.wanted)])
        }
        Event::WearSeen(seen) => {
            let size = seen.wear.measured_diameter().map(|size| units.length(size));
            let worst =
                seen.wear.teeth().iter().map(|tooth| tooth.wear_land).reduce(geometry::Length::max);
            let worst = worst.map(|land| format!("worst land {}", units.length(land)));
            joined(vec![size, worst])
        }
        Event::Planned(planned) => {
            let size = planned.diameter_after.map(|size| format!("to {}", units.length(size)));
            let after = planned.follows.map(|check| format!("after the check of entry {check}"));
            joined(vec![Some(planned.route.clone()), size, after])
        }
        Event::StepDone(done) => {
            let stood = done
                .stood
                .as_ref()
                .map(|stood| format!("{} stood at {}", stood.axis, units.amount(stood.reading)));
            joined(vec![Some(done.step.clone()), stood, done.words.clone()])
        }
        Event::Ground(ground) => {
            let size = ground.diameter_after.map(|size| format!("to {}", units.length(size)));
            let travel = ground.travel.map(|travel| format!("{} of dial", units.length(travel)));
            let wheel = Some(other).filter(|wheel| !wheel.is_empty());
            joined(vec![size, travel, wheel.map(|wheel| format!("with {wheel}"))])
        }
        Event::Checked(checked) => {
            let found = checked.found.iter().map(|found| found.fault.clone());
            joined(std::iter::once(Some(checked.outcome.clone())).chain(found.map(Some)).collect())
        }
        Event::Corrected(corrected) => format!("{}: {}", corrected.fault, corrected.words),
        Event::HandedBack(back) => {
            let size = back.as_ground.map(|ground| units.length(ground.diameter));
            let unground = size.is_none().then(|| "unground".to_owned());
            let shorter = back.shorter.map(|by| format!("shorter by {}", units.length(by)));
            joined(vec![size, unground, shorter, with("to ", &back.to)])
        }
        Event::Noted(noted) => noted.words.clone(),
        Event::Retired(retired) => retired.why.clone(),
        Event::Amended(amended) => format!("entry {}: {}", amended.entry, amended.why),
        Event::Foreign(foreign) => format!("{} ({})", foreign.kind, foreign.why),
        of_the_house => wheel_words(of_the_house, units, other),
    }
}

/// What an entry of a wheel or of a paper says, in one line.
fn wheel_words(event: &Event, units: Units, other: &str) -> String {
    let size = |size: &WheelSize| {
        let length = |what: &str, length: Option<geometry::Length>| {
            length.map(|length| format!("{what} {}", units.length(length)))
        };
        let corner = length("corner radius", size.corner_radius);
        let (diameter, face) = (length("diameter", size.diameter), length("face", size.face_width));
        joined(vec![diameter, length("height", size.depth), face, corner])
    };
    match event {
        Event::WheelEntered(entered) => {
            let wheel = &entered.wheel;
            let diameter = units.length(wheel.diameter());
            format!("{}, {}, {diameter}", form_words(wheel), grain_words(wheel))
        }
        Event::Dressed(dressed) => {
            let taken = dressed.taken.map(|taken| format!("{} taken off", units.length(taken)));
            joined(vec![taken, Some(size(&dressed.size)), Some(dressed.words.clone())])
        }
        Event::Measured(measured) => size(&measured.size),
        Event::Inspected(inspected) => {
            let done = |what: &str, is_done: bool| is_done.then(|| what.to_owned());
            let ways = [done("by eye", inspected.looked), done("by ringing it", inspected.rung)];
            joined(ways.into_iter().chain([Some(inspected.words.clone())]).collect())
        }
        Event::Mounted(_) if !other.is_empty() => format!("on {other}"),
        Event::Written(written) => {
            format!("{}, {} lines", written.name, written.text.lines().count())
        }
        _ => String::new(),
    }
}

fn joined(parts: Vec<Option<String>>) -> String {
    parts.into_iter().flatten().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
}

#[derive(Template)]
#[template(path = "record.html")]
struct RecordPage {
    frame: Frame,
    id: String,
    number: String,
    about: String,
    seen: u64,
    lines: Vec<Line>,
    wrong: Vec<String>,
}

/// Shows the whole record.
pub(super) async fn show(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let heading = format!("Record of {}", record.number());
    let frame = Frame::of_cutter(&visit, "tray", heading, record);
    let history = whole_history(visit.desk.book(), &cutter.subject).await?;
    let lines = lines(&visit, &history, frame.units()).await?;
    let latest = visit.desk.latest(&cutter.subject).await?;
    drawn(&RecordPage {
        number: record.number().to_owned(),
        about: sheets::text::describe(record, frame.units()),
        seen: cutter.seen,
        wrong: wrong(&latest),
        frame,
        id,
        lines,
    })
}

/// Strikes out an entry that was wrong.
pub(super) async fn strike(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    entering::put(&visit, &cutter.subject, cutter.seen, &entries, struck_out(&entries)?).await?;
    Ok(go_on(&format!("/cutters/{id}/record")))
}

/// The entry that strikes out another one.
pub(super) fn struck_out(entries: &Entries) -> Result<Event, Fault> {
    let entry = entries.get("entry").parse().map_err(|_| Fault::form("it names no entry"))?;
    let why = entries.maybe("why").unwrap_or_else(|| "entered by mistake".to_owned());
    Ok(Event::Amended(Amended { entry, why, instead: None }))
}

/// What is wrong with a history, entry by entry.
pub(super) fn wrong(latest: &Latest) -> Vec<String> {
    let told = |remark: &Remark| format!("entry {}: {}", remark.entry, remark.what);
    latest.remarks.iter().map(told).collect()
}
