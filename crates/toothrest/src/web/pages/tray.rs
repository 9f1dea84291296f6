//! The tray: what waits, and what each is worth.

use std::sync::Arc;

use askama::Template;
use axum::extract::Query;
use axum::response::Response;
use serde::Deserialize;
use sheets::text::describe;
use shop::Ctx;
use shop::book::{Cursor, Id, Moment, Query as Asked, Stage, Store, SubjectKind, Summary};
use shop::learn::CutterHistory;
use shop::plan::{Route, Verdict, judge_cutter};
use shop::record::Named;
use trade::Tables;

use crate::desk::{Benches, CutterAt, KeptOrder, ORDER_OF_WORK};
use crate::web::fault::Fault;
use crate::web::page::{Frame, drawn, escaped_query};
use crate::web::visit::Visit;

/// So many cutters stand on one page.
const ROWS: u32 = 40;

/// Which part of the tray.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Which {
    #[serde(default)]
    stage: String,
    #[serde(default)]
    after: String,
    #[serde(default)]
    tray: String,
}

/// One cutter of the tray.
struct Row {
    id: String,
    number: String,
    about: String,
    size: String,
    verdict: String,
    is_flagged: bool,
    /// Why it cannot be ground on any machine here; empty where it can.
    not_here: String,
    next: (&'static str, String),
    last: String,
    /// Its place in the order of work that was kept.
    place: Option<usize>,
}

/// A stage with the number of cutters there.
struct Tab {
    name: &'static str,
    label: &'static str,
    count: u64,
    is_now: bool,
}

#[derive(Template)]
#[template(path = "tray.html")]
struct TrayPage {
    frame: Frame,
    tabs: Vec<Tab>,
    rows: Vec<Row>,
    next: String,
    is_new_book: bool,
    /// The trays that are set out: id, name, whether it is the one that is looked at.
    trays: Vec<(String, String, bool)>,
    tray: String,
}

/// The stages of cutters on the bench, with the word on their tab.
const TABS: [(Stage, &str); 5] = [
    (Stage::Waiting, "waiting"),
    (Stage::Planned, "planned"),
    (Stage::Ground, "ground"),
    (Stage::Checked, "checked"),
    (Stage::Back, "handed back"),
];

/// Shows the tray.
pub(super) async fn show(visit: Visit, Query(which): Query<Which>) -> Result<Response, Fault> {
    let stage = Stage::from_name(&which.stage).unwrap_or(Stage::Waiting);
    let mut tabs = Vec::new();
    for (of, label) in TABS {
        let count = visit.desk.count(of).await?;
        tabs.push(Tab { name: of.name(), label, count, is_now: of == stage });
    }
    let query = Asked {
        stage: Some(stage),
        after: cursor(&which.after),
        limit: ROWS,
        tray: Id::from_text(&which.tray).ok(),
        ..Asked::of(SubjectKind::Cutter)
    };
    let listed = visit.desk.book().list(&query).await?;
    let tables = visit.desk.tables().await?;
    let benches = visit.desk.benches().await?;
    let kept = visit.desk.kept_order().await?;
    let mut rows = Vec::new();
    for summary in &listed.rows {
        rows.push(row(&visit, summary, (&tables, &benches), &kept).await?);
    }
    let next = listed.next.as_ref().map(place).unwrap_or_default();
    let is_new_book = tabs.iter().all(|tab| tab.count == 0);
    let frame = Frame::new(&visit, "tray", "The tray");
    let trays = trays(&visit, &which.tray).await?;
    drawn(&TrayPage { frame, tabs, rows, next, is_new_book, trays, tray: which.tray })
}

async fn trays(visit: &Visit, now: &str) -> Result<Vec<(String, String, bool)>, Fault> {
    let trays = visit.desk.all(SubjectKind::Tray).await?.into_iter();
    let trays = trays.filter(|tray| tray.number != ORDER_OF_WORK);
    let trays = trays.map(|tray| (tray.subject.id.to_string(), tray.number));
    Ok(trays.map(|(id, name)| (id.clone(), name, id == now)).collect())
}

async fn row(
    visit: &Visit,
    summary: &Summary,
    (tables, benches): (&Arc<Tables>, &Benches),
    kept: &KeptOrder,
) -> Result<Row, Fault> {
    let place = kept.places.get(&summary.subject.id).copied();
    let latest = visit.desk.latest_at(summary).await?;
    let id = summary.subject.id.to_string();
    let last = format!("{}, {}", summary.last.by, visit.zone.day(summary.last.at));
    let Some(cutter) = CutterAt::of(&latest) else {
        return Ok(Row { place, ..unread(summary, id, last) });
    };
    let record = &cutter.state.cutter;
    let units = sheets::text::Units { system: visit.system_of(record), both: false };
    let (verdict, is_flagged) = verdict_words(tables, &cutter);
    Ok(Row {
        number: record.number().to_owned(),
        about: describe(record, units),
        size: summary.size.map(|size| units.length(size)).unwrap_or_default(),
        not_here: not_here(&visit.machine, benches, &cutter, is_flagged),
        verdict,
        is_flagged,
        next: next_step(&cutter, &id, is_flagged),
        last,
        place: place.filter(|_| is_to_grind(cutter.state.stage)),
        id,
    })
}

fn unread(summary: &Summary, id: String, last: String) -> Row {
    Row {
        number: summary.number.clone(),
        about: summary.about.clone(),
        size: String::new(),
        verdict: "cannot be read by this program".to_owned(),
        is_flagged: true,
        not_here: String::new(),
        next: ("look", format!("/cutters/{id}")),
        last,
        place: None,
        id,
    }
}

/// Why a cutter that waits and is worth grinding cannot be ground with what stands here.
pub(super) fn not_here(
    beside: &str,
    benches: &Benches,
    cutter: &CutterAt,
    is_flagged: bool,
) -> String {
    let is_asked = cutter.state.stage == Stage::Waiting
        && !is_flagged
        && !cutter.is_gone
        && cutter.state.cutter.wear().is_some();
    let why = is_asked.then(|| benches.against(cutter, beside)).flatten();
    why.unwrap_or_default()
}

/// An order speaks of what is still to be ground.
const fn is_to_grind(stage: Stage) -> bool {
    matches!(stage, Stage::Waiting | Stage::Planned)
}

/// What to do next with a cutter, and where.
pub(super) fn next_step(
    cutter: &CutterAt,
    id: &str,
    will_not_clean_up: bool,
) -> (&'static str, String) {
    let at = |page: &str| format!("/cutters/{id}/{page}");
    let is_seen = cutter.state.cutter.wear().is_some();
    match cutter.state.stage {
        Stage::Waiting | Stage::Planned if will_not_clean_up && is_seen && !cutter.is_gone => {
            ("decide", at("plan"))
        }
        _ if cutter.is_gone => ("look", format!("/cutters/{id}")),
        Stage::Waiting if cutter.state.cutter.wear().is_none() => ("look at its wear", at("wear")),
        Stage::Waiting => ("plan", at("plan")),
        Stage::Planned => ("grind", at("grind")),
        Stage::Ground => ("check", at("check")),
        Stage::Checked => ("hand back", at("back")),
        _ => ("receive", at("receive")),
    }
}

/// The verdict in a few words, and whether it stands out: the cutter will not clean up.
pub(super) fn verdict_words(tables: &Tables, cutter: &CutterAt) -> (String, bool) {
    if cutter.state.cutter.wear().is_none() {
        return ("wear not looked at yet".to_owned(), false);
    }
    match judged(tables, cutter, &CutterHistory::default()) {
        Ok(verdict) => {
            let beside = [Route::EndOnly, Route::Face].contains(&verdict.route);
            let grinds = verdict.route.grinds_periphery() || beside;
            (verdict.route.name().to_owned(), !grinds)
        }
        Err(why) => (why, true),
    }
}

/// The verdict on a cutter alone.
pub(super) fn judged(
    tables: &Tables,
    cutter: &CutterAt,
    known: &CutterHistory,
) -> Result<Verdict, String> {
    let judged = judge_cutter(&Ctx { tables }, &cutter.state.cutter, known);
    judged.map(|judged| judged.verdict).map_err(|error| error.to_string())
}

/// Where a page ended, as it stands in an address.
fn place(cursor: &Cursor) -> String {
    escaped_query(&place_words(cursor))
}

/// The same, as it reads.
pub(in crate::web) fn place_words(cursor: &Cursor) -> String {
    format!("{} {} {}", cursor.id, cursor.at.micros(), cursor.number_key)
}

pub(in crate::web) fn cursor(text: &str) -> Option<Cursor> {
    let mut parts = text.splitn(3, ' ');
    let id = Id::from_text(parts.next()?).ok()?;
    let at = Moment::from_micros(parts.next()?.parse().ok()?).ok()?;
    Some(Cursor { id, at, number_key: parts.next()?.to_owned() })
}
