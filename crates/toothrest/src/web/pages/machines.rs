//! The machines of the shop as a list.

use askama::Template;
use axum::extract::Query;
use axum::response::Response;
use shop::book::{Store, SubjectKind, Summary};
use shop::record::{Fixture, Machine};

use super::wheels::Which;
use crate::desk::DocumentAt;
use crate::files::{FileProblems, read_machine};
use crate::web::fault::Fault;
use crate::web::page::{Frame, drawn};
use crate::web::visit::Visit;

/// One machine of the list.
struct Row {
    id: String,
    name: String,
    about: String,
    speeds: String,
    last: String,
}

#[derive(Template)]
#[template(path = "machines.html")]
struct MachinesPage {
    frame: Frame,
    rows: Vec<Row>,
    is_gone: bool,
}

/// Shows the machines.
pub(super) async fn show(visit: Visit, Query(which): Query<Which>) -> Result<Response, Fault> {
    let listed = visit.desk.book().list(&which.query(SubjectKind::Machine)).await?;
    let mut rows = Vec::new();
    for summary in &listed.rows {
        rows.push(row(&visit, summary).await?);
    }
    let title = if which.is_gone() { "Machines that are done with" } else { "Machines" };
    let frame = Frame::new(&visit, "machines", title);
    drawn(&MachinesPage { frame, rows, is_gone: which.is_gone() })
}

async fn row(visit: &Visit, summary: &Summary) -> Result<Row, Fault> {
    let latest = visit.desk.latest_at(summary).await?;
    let machine = DocumentAt::of(&latest).and_then(|paper| machine_of(&paper).ok());
    let unread = || "its file cannot be read by this program".to_owned();
    Ok(Row {
        id: summary.subject.id.to_string(),
        name: summary.number.clone(),
        about: machine.as_ref().map_or_else(unread, about),
        speeds: machine.as_ref().map(speeds).unwrap_or_default(),
        last: format!("{}, {}", summary.last.by, visit.zone.day(summary.last.at)),
    })
}

/// The machine that a paper describes.
pub(super) fn machine_of(paper: &DocumentAt) -> Result<Machine, FileProblems> {
    read_machine(&paper.state.name, &paper.state.text)
}

/// What carries the work, how it is ground, and what sets relief.
pub(super) fn about(machine: &Machine) -> String {
    let relief: Vec<_> = machine.relief_axes().map(|axis| axis.name()).collect();
    let drawn_off = if machine.extraction() { ", drawn off" } else { ", nothing drawn off" };
    let holds = match machine.holding().fixture() {
        Fixture::AirSpindle { psi } => format!("air spindle at {psi} psi"),
        fixture => fixture.name().to_owned(),
    };
    format!("{holds}, {}{drawn_off}; relief by {}", machine.coolant(), relief.join(" or "))
}

fn speeds(machine: &Machine) -> String {
    let speeds = machine.spindle().speeds().iter().map(|speed| speed.rpm.to_string());
    format!("{} rpm", speeds.collect::<Vec<_>>().join(", "))
}
