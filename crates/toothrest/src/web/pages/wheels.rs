//! The rack: every wheel, its size now, and where it is.

use askama::Template;
use axum::extract::Query;
use axum::response::Response;
use geometry::System;
use serde::Deserialize;
use sheets::text::Units;
use shop::book::{
    Id, Moment, PAGE_MAX, Query as Asked, Stage, Store, Subject, SubjectKind, Summary,
};
use shop::record::Wheel;

use super::record::name_of;
use crate::desk::WheelAt;
use crate::web::fault::Fault;
use crate::web::page::{Frame, drawn};
use crate::web::visit::Visit;

/// Which part of a list: what is in use, or what is done with.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Which {
    #[serde(default)]
    gone: String,
}

impl Which {
    pub(super) fn is_gone(&self) -> bool {
        !self.gone.is_empty()
    }

    /// The rows of a kind that this asks for.
    pub(super) fn query(&self, kind: SubjectKind) -> Asked {
        let stage = self.is_gone().then_some(Stage::Gone);
        Asked { stage, live_only: !self.is_gone(), limit: PAGE_MAX, ..Asked::of(kind) }
    }
}

/// One wheel of the rack.
struct Row {
    id: String,
    number: String,
    form: String,
    grain: String,
    size: String,
    face: String,
    mark: String,
    place: String,
    dressings: String,
    looked: String,
}

#[derive(Template)]
#[template(path = "wheels.html")]
struct WheelsPage {
    frame: Frame,
    rows: Vec<Row>,
    is_gone: bool,
}

/// Shows the rack.
pub(super) async fn show(visit: Visit, Query(which): Query<Which>) -> Result<Response, Fault> {
    let listed = visit.desk.book().list(&which.query(SubjectKind::Wheel)).await?;
    let title = if which.is_gone() { "Wheels that are done with" } else { "The rack" };
    let frame = Frame::new(&visit, "wheels", title);
    let mut rows = Vec::new();
    for summary in &listed.rows {
        rows.push(row(&visit, summary).await?);
    }
    drawn(&WheelsPage { frame, rows, is_gone: which.is_gone() })
}

async fn row(visit: &Visit, summary: &Summary) -> Result<Row, Fault> {
    let latest = visit.desk.latest_at(summary).await?;
    let Some(wheel) = WheelAt::of(&latest) else { return Ok(unread(summary)) };
    let record = &wheel.state.wheel;
    let units = Units { system: system_of(visit, record), both: false };
    Ok(Row {
        id: summary.subject.id.to_string(),
        number: record.number().to_owned(),
        form: form_words(record),
        grain: grain_words(record),
        size: units.length(record.diameter()),
        face: units.length(record.face_width()),
        mark: mark_words(record),
        place: place_words(visit, &wheel).await?,
        dressings: wheel.state.dressings.to_string(),
        looked: looked_words(visit, &wheel).await?,
    })
}

fn unread(summary: &Summary) -> Row {
    Row {
        id: summary.subject.id.to_string(),
        number: summary.number.clone(),
        form: "cannot be read by this program".to_owned(),
        grain: String::new(),
        size: String::new(),
        face: String::new(),
        mark: String::new(),
        place: summary.stage.name().to_owned(),
        dressings: String::new(),
        looked: String::new(),
    }
}

/// The system that a page on this wheel is shown in: that of its making, unless the hand has
/// chosen one.
pub(super) fn system_of(visit: &Visit, wheel: &Wheel) -> System {
    // The bore does not wear, so it still stands in the system of its making.
    let is_in_inches = wheel.bore().show_fraction(64).is_some();
    let own = if is_in_inches { System::Inch } else { System::Millimetre };
    visit.units.unwrap_or(own)
}

/// The form with the symbol that it is marked with.
pub(super) fn form_words(wheel: &Wheel) -> String {
    format!("{}, {}", wheel.shape().form().name(), wheel.shape())
}

/// Grain, grit, grade and bond.
pub(super) fn grain_words(wheel: &Wheel) -> String {
    let grade = wheel.grade().map(|grade| format!(" {grade}")).unwrap_or_default();
    let content = wheel.concentration().map(|content| format!(" C{content}")).unwrap_or_default();
    let (abrasive, grit, bond) = (wheel.abrasive().name(), wheel.grit(), wheel.bond());
    format!("{abrasive} {grit}{grade}{content}, {bond}")
}

/// The speed that its maker marked on it.
pub(super) fn mark_words(wheel: &Wheel) -> String {
    format!("{} rpm", wheel.marked_rpm())
}

/// Where a wheel is, in words.
pub(super) async fn place_words(visit: &Visit, wheel: &WheelAt) -> Result<String, Fault> {
    if wheel.is_gone {
        return Ok(Stage::Gone.name().to_owned());
    }
    Ok(match &wheel.state.machine {
        Some(machine) => format!("on {}", name_of(visit, SubjectKind::Machine, machine).await?),
        None => wheel.state.stage.name().to_owned(),
    })
}

/// When it was last looked at, in words.
pub(super) async fn looked_words(visit: &Visit, wheel: &WheelAt) -> Result<String, Fault> {
    let Some(number) = wheel.state.inspected else { return Ok("not written down".to_owned()) };
    let at = moment_of(visit, &wheel.subject, number).await?;
    Ok(at.map(|at| visit.zone.day(at)).unwrap_or_default())
}

async fn moment_of(visit: &Visit, of: &Subject, number: u64) -> Result<Option<Moment>, Fault> {
    let entries = visit.desk.book().history(of, number.saturating_sub(1), 1).await?;
    Ok(entries.first().map(|entry| entry.stamp.at))
}

/// The wheels that are mounted on a machine, by id and number.
pub(super) async fn mounted_on(
    visit: &Visit,
    machine: &Id,
) -> Result<Vec<(String, String)>, Fault> {
    let wheels = visit.desk.wheels().await?.into_iter();
    let there = wheels.filter(|wheel| wheel.state.machine.as_ref() == Some(machine));
    let named = |wheel: WheelAt| (wheel.subject.id.to_string(), wheel.state.wheel.number().into());
    Ok(there.map(named).collect())
}
