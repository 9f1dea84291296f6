//! Receiving: a cutter that the book knows, or a new one.

use askama::Template;
use axum::extract::{Path, Query};
use axum::response::Response;
use geometry::System;
use serde::Deserialize;
use shop::book::event::{Received, TrayOpened};
use shop::book::{Append, Event, Id, Initials, Order, Query as Asked, Store, SubjectKind, Summary};

use sheets::text::{Units, describe};
use shop::record::Cutter;

use super::cutter_form::{self, CutterForm};
use super::{entering, units};
use crate::desk::CutterAt;
use crate::web::fault::Fault;
use crate::web::form::{Entries, Field, Form, Group};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

/// So many cutters are offered as patterns.
const OFFERED: u32 = 12;

/// What was typed or scanned.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Sought {
    #[serde(default)]
    number: String,
    #[serde(default)]
    like: String,
}

#[derive(Template)]
#[template(path = "receive.html")]
struct ReceivePage {
    frame: Frame,
    number: String,
    found: Vec<Summary>,
    patterns: Vec<(String, String, String)>,
}

/// Asks for the number, and offers what the book has.
pub(super) async fn show(visit: Visit, Query(sought): Query<Sought>) -> Result<Response, Fault> {
    visit.writer()?;
    let number = scanned(&sought.number);
    let book = visit.desk.book();
    if let Some(known) = book.find(SubjectKind::Cutter, &number).await? {
        return Ok(go_on(&format!("/cutters/{}/receive", known.subject.id)));
    }
    let of_words = |words: &str| Asked {
        words: words.to_owned(),
        limit: OFFERED,
        order: Order::LatestFirst,
        ..Asked::of(SubjectKind::Cutter)
    };
    let found = if number.is_empty() {
        Vec::new()
    } else {
        book.list(&of_words(&number)).await.map(|listed| listed.rows).unwrap_or_default()
    };
    let mut patterns = Vec::new();
    for summary in book.list(&of_words("")).await?.rows {
        let latest = visit.desk.latest_at(&summary).await?;
        let Some(cutter) = CutterAt::of(&latest) else { continue };
        let record = &cutter.state.cutter;
        let units = Units { system: visit.system_of(record), both: false };
        let id = summary.subject.id.to_string();
        patterns.push((id, summary.number, describe(record, units)));
    }
    let frame = Frame::new(&visit, "tray", "Receive a cutter");
    drawn(&ReceivePage { frame, number, found, patterns })
}

/// The number on a tag: a scanner may give the whole address of the cutter's page.
pub(super) fn scanned(text: &str) -> String {
    let last = text.trim().rsplit('/').next().unwrap_or_default();
    last.trim().to_owned()
}

/// The form of a new cutter, like another one where one was chosen.
pub(super) async fn form(visit: Visit, Query(sought): Query<Sought>) -> Result<Response, Fault> {
    visit.writer()?;
    let mut form = open(visit.system());
    if !sought.like.is_empty() {
        let like = visit.desk.cutter(&sought.like).await?;
        let record = &like.state.cutter;
        let system = visit.system_of(record);
        form = cutter_form::filled(open(system), record, &[]);
        forget(&mut form);
    }
    if let Some(field) = form.field("cutter.number") {
        sought.number.trim().clone_into(&mut field.value);
    }
    drawn(&page(&visit, form))
}

/// A new cutter shares the make of its pattern, not its life.
fn forget(form: &mut Form) {
    let of_its_life = ["as_ground.", "cutter.regrinds"];
    for field in form.fields_mut() {
        if of_its_life.iter().any(|start| field.name.starts_with(start)) {
            field.value.clear();
        }
    }
}

fn open(system: System) -> Form {
    cutter_form::form("/receive/new", "Receive it", system).group(arrival())
}

fn arrival() -> Group {
    Group::new(
        "Arrival",
        vec![
            Field::text("_from", "From").hint("a machine, a customer, a drawer"),
            Field::text("_tray", "Tray").hint("its name, such as blue; a new name sets one out"),
            Field::text("_wanted", "Wanted").hint("what they asked for, in their words"),
        ],
    )
}

fn page(visit: &Visit, form: Form) -> CutterForm {
    let frame = Frame::new(visit, "tray", "A new cutter").with_form().in_system(form.system);
    let words = "Lift it by the shank or in a rag: dull edges cut.";
    CutterForm { frame, heading: "A new cutter".to_owned(), words: words.to_owned(), form }
}

/// Enters a new cutter and receives it.
pub(super) async fn enter(visit: Visit, entries: Entries) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let form = cutter_form::asked_again(open(System::Millimetre), &entries);
    let mut form = form.fill(&entries);
    if let Some(to) = entries.switch() {
        return Ok(units::with(to, drawn(&page(&visit, form.switched(to)))?));
    }
    let Some(entered) = cutter_form::read(&mut form) else {
        return blamed(&page(&visit, form));
    };
    if cutter_form::asks_after_teeth(&visit, &mut form, &entered.cutter, &entries).await? {
        return blamed(&page(&visit, form));
    }
    let number = entered.cutter.number().to_owned();
    if visit.desk.book().find(SubjectKind::Cutter, &number).await?.is_some() {
        let words = format!("{number:?} is in the book already; receive it by its number");
        form.blame_key("cutter.number", &words);
        return blamed(&page(&visit, form));
    }
    let subject = visit.desk.fresh(SubjectKind::Cutter);
    let (tray, mut writes) = tray(&visit, by, &entries).await?;
    let arrived = Event::Received(received(&entries, tray));
    let events = vec![Event::CutterEntered(Box::new(entered)), arrived];
    writes.push(visit.desk.append(by, &subject, 0, events));
    let written = entering::enter(&visit, &mut form, 0, writes).await?;
    if written.is_written() {
        return Ok(go_on(&format!("/cutters/{}/wear", subject.id)));
    }
    written.back(&page(&visit, form))
}

fn received(entries: &Entries, tray: Option<Id>) -> Received {
    Received { tray, from: entries.maybe("_from"), wanted: entries.maybe("_wanted") }
}

/// The tray of that name, and what must be written to set it out where there is none yet.
async fn tray(
    visit: &Visit,
    by: &Initials,
    entries: &Entries,
) -> Result<(Option<Id>, Vec<Append>), Fault> {
    let Some(name) = entries.maybe("_tray") else { return Ok((None, Vec::new())) };
    if let Some(known) = visit.desk.book().find(SubjectKind::Tray, &name).await? {
        return Ok((Some(known.subject.id), Vec::new()));
    }
    let subject = visit.desk.fresh(SubjectKind::Tray);
    let opened = Event::TrayOpened(TrayOpened { name, whose: entries.maybe("_from") });
    let write = visit.desk.append(by, &subject, 0, vec![opened]);
    Ok((Some(subject.id), vec![write]))
}

fn again_form(id: &str, system: System, seen: u64) -> Form {
    Form::new(format!("/cutters/{id}/receive"), "It is here")
        .shown_in(system)
        .having_seen(seen)
        .group(arrival())
}

/// Asks from where a known cutter came.
pub(super) async fn again(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let form = again_form(&id, visit.system_of(record), cutter.seen);
    drawn(&again_page(&visit, record, form))
}

fn again_page(visit: &Visit, record: &Cutter, form: Form) -> CutterForm {
    let heading = format!("Receive {}", record.number());
    let frame = Frame::new(visit, "tray", &heading).with_form().in_system(form.system);
    let words = describe(record, frame.units());
    CutterForm { frame, heading, words, form }
}

/// Receives a known cutter.
pub(super) async fn receive(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let seen = entries.seen().unwrap_or(cutter.seen);
    let record = &cutter.state.cutter;
    let mut form = again_form(&id, visit.system_of(record), seen).fill(&entries);
    if let Some(to) = entries.switch() {
        return Ok(units::with(to, drawn(&again_page(&visit, record, form.switched(to)))?));
    }
    let (tray, mut writes) = tray(&visit, by, &entries).await?;
    let arrived = Event::Received(received(&entries, tray));
    writes.push(visit.desk.append(by, &cutter.subject, seen, vec![arrived]));
    let written = entering::enter(&visit, &mut form, cutter.seen, writes).await?;
    if written.is_written() {
        return Ok(go_on(&format!("/cutters/{id}/wear")));
    }
    written.back(&again_page(&visit, record, form))
}
