//! Sheets as files for the printer.

use axum::extract::{Path, Query};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use geometry::System;
use serde::Deserialize;
use sheets::label::tags;
use sheets::paper::{
    DeliveryNote, Imprint, LifeCard, Pages, QuoteSheet, TrayList, delivery_note, life_card,
    quote_sheet, tray_list,
};
use shop::book::whole_history;
use shop::cost::{LotCutter, quote_lot};
use shop::learn::cutter_history;
use shop::{Ctx, ShopError};

use super::record;
use crate::cli::Failure;
use crate::paper;
use crate::web::fault::Fault;
use crate::web::page::Frame;
use crate::web::visit::Visit;

/// Pages as a file of that name. A long list takes a while, so other requests go on beside it.
async fn file(what: &str, number: &str, pages: Pages) -> Result<Response, Fault> {
    let written = tokio::task::spawn_blocking(move || pages.to_pdf()).await;
    let failed = |error: &dyn std::fmt::Display| Fault::Page(error.to_string());
    let bytes = written.map_err(|error| failed(&error))?.map_err(|error| failed(&error))?;
    let name = paper::file_name(what, number);
    let headers = [
        (CONTENT_TYPE, "application/pdf".to_owned()),
        (CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\"")),
    ];
    Ok((headers, bytes).into_response())
}

fn imprint(visit: &Visit, record: &str, revision: String, system: System) -> Imprint {
    let today = visit.zone.day(visit.desk.now());
    paper::imprint(None, record, revision, today, system)
}

/// The set-up sheet of the plan that stands.
pub(super) async fn setup(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let plan = cutter.state.planned.ok_or(Fault::NoPage)?;
    let made = visit.desk.kept(&cutter.subject, plan).await?;
    let system = visit.system_of(record);
    let imprint = imprint(&visit, record.number(), paper::of_entry(plan), system);
    let pages = paper::set_up(&made.plan, &made.beside, made.corrective.as_ref(), &imprint);
    file("set-up", record.number(), pages).await
}

/// The record card of a cutter.
pub(super) async fn card(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let frame = Frame::of_cutter(&visit, "tray", "", record);
    let history = whole_history(visit.desk.book(), &cutter.subject).await?;
    let mut told = record::lines(&visit, &history, frame.units()).await?;
    told.reverse();
    let lines = told.into_iter().zip(&history).map(|(line, entry)| {
        let struck = if line.is_struck { "STRUCK OUT " } else { "" };
        let words = (format!("{struck}{}", line.what), line.words);
        paper::card_line(&history, entry, words, &visit.zone)
    });
    let about = format!("{}; {}", paper::about(record, frame.system), cutter.state.stage);
    let tables = visit.desk.tables().await?;
    let card = LifeCard {
        kind: "cutter".to_owned(),
        number: record.number().to_owned(),
        about,
        life: paper::life(&tables, record, &history, &visit.zone),
        regrinds: record.regrinds(),
        before: paper::ground_before(&history),
        lines: lines.collect(),
    };
    let revision = paper::of_entry(cutter.seen);
    let imprint = imprint(&visit, record.number(), revision, frame.system);
    file("record", record.number(), life_card(&card, &imprint)).await
}

/// On which labels a tag is to be printed.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Labels {
    #[serde(default)]
    on: String,
    #[serde(default)]
    first: String,
}

/// The tag of a cutter as a label.
pub(super) async fn tag(
    visit: Visit,
    Path(id): Path<String>,
    Query(labels): Query<Labels>,
) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let history = whole_history(visit.desk.book(), &cutter.subject).await?;
    let tag = paper::tag(&cutter.state, &history, &visit.zone)?;
    let stock = paper::stock(&labels.on).ok_or(Fault::NoPage)?;
    let stock = stock.map_err(|problems| Fault::Work(Failure::Files(vec![problems])))?;
    let first = match labels.first.trim() {
        "" => 1,
        number => number.parse().unwrap_or(0),
    };
    let pages = tags(&[tag], visit.system_of(record), &stock, first)
        .map_err(|error| ShopError::invalid("labels", error.to_string()))?;
    file("tag", record.number(), pages).await
}

/// The order of work that was worked out last.
pub(super) async fn tray(visit: Visit) -> Result<Response, Fault> {
    let worked = visit.desk.worked_out().ok_or(Fault::NoPage)?;
    let mut about = Vec::with_capacity(worked.cutters.len());
    let mut system = visit.units;
    for id in &worked.cutters {
        let cutter = visit.desk.cutter(id.as_str()).await?;
        let record = &cutter.state.cutter;
        let system = *system.get_or_insert_with(|| record.system());
        about.push(paper::about(record, system));
    }
    let list = TrayList {
        name: crate::desk::ORDER_OF_WORK,
        machine: &worked.machine,
        jobs: &worked.jobs,
        about: &about,
        order: &worked.order,
    };
    let revision = format!("worked out {}", visit.zone.minute(worked.at));
    let system = system.unwrap_or(System::Millimetre);
    let imprint = imprint(&visit, crate::desk::ORDER_OF_WORK, revision, system);
    file("tray", "order-of-work", tray_list(&list, &imprint)).await
}

/// The quote for one cutter, as for a lot of one.
pub(super) async fn quote(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let prices = visit.desk.prices().await?.ok_or(Fault::NoPage)?;
    let tables = visit.desk.tables().await?;
    let entries = whole_history(visit.desk.book(), &cutter.subject).await?;
    let known = cutter_history(&entries).history;
    let end_asked = visit.desk.plans_end(&cutter).await?;
    let lot = [LotCutter { cutter: record, wheel: None, history: &known, end_asked }];
    let quoted = quote_lot(&Ctx { tables: &tables }, &prices, &lot)?;
    let name = format!("cutter {}", record.number());
    let sheet = QuoteSheet { lot: &name, currency: &prices.currency, quoted: &quoted };
    let system = visit.system_of(record);
    let imprint = imprint(&visit, record.number(), paper::of_entry(cutter.seen), system);
    file("quote", record.number(), quote_sheet(&sheet, &imprint)).await
}

/// The delivery note of what was handed back on a day.
pub(super) async fn note(visit: Visit, Path(date): Path<String>) -> Result<Response, Fault> {
    let day = visit.zone.local_day(&date).ok_or(Fault::NoPage)?;
    let back = super::day::back_on(&visit, &day).await?;
    let first = back.first().ok_or(Fault::NoPage)?.state.cutter.system();
    let system = visit.units.unwrap_or(first);
    let lines = back.iter().map(|cutter| paper::delivered(&cutter.state, system)).collect();
    let note = DeliveryNote { lot: day.date.clone(), to: None, lines };
    let entries: u64 = back.iter().map(|cutter| cutter.seen).sum();
    let revision = format!("revision {entries} (entries of its cutters)");
    let imprint = imprint(&visit, &day.date, revision, system);
    file("delivery-note", &day.date, delivery_note(&note, &imprint)).await
}
