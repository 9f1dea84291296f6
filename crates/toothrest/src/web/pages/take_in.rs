//! A list of cutters from a file: looked at first, kept when its columns are what was meant.

use std::collections::BTreeMap;

use askama::Template;
use axum::extract::{FromRequest, Multipart, Request};
use axum::http::StatusCode;
use axum::response::Response;
use exchange::list::{CutterColumn, CutterList, Meaning, Said, read_cutters};
use shop::book::Stamp;

use crate::desk::{not_sharp, numbers_taken, of_list};
use crate::web::fault::Fault;
use crate::web::form::Entries;
use crate::web::hex::{from_hex, hex};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

/// The longest list that a page carries along, in bytes; longer ones go in by the command line.
const LIST_BYTES_MAX: usize = 700_000;

/// Units that can be said for a whole list.
const UNITS: [&str; 4] = ["mm", "in", "thou", "um"];

/// So many cutters and problems are shown.
const SHOWN: usize = 40;

/// The first letters of the names of facts that hold for all.
const ALL: &str = "all.";

/// The first letters of the names of columns that are left out.
const LEFT_OUT: &str = "out.";

#[derive(Template)]
#[template(path = "take_in.html")]
struct TakeInPage {
    frame: Frame,
    /// The bytes of the list in hexadecimal digits, carried along until it is kept.
    bytes: String,
    is_looked_at: bool,
    sheet: String,
    units: Vec<(&'static str, bool)>,
    has_unit: bool,
    tray: String,
    columns: Vec<Column>,
    facts: Vec<Fact>,
    cutters: Vec<(usize, String, String)>,
    count: usize,
    problems: Vec<String>,
    more_problems: usize,
}

/// A column with what it is taken for.
struct Column {
    heading: String,
    meaning: String,
    is_left_out: bool,
}

/// A fact that holds for all, or that nobody gives yet.
struct Fact {
    name: String,
    words: String,
    value: String,
}

/// Asks for the file.
pub(super) async fn show(visit: Visit) -> Result<Response, Fault> {
    visit.writer()?;
    drawn(&empty(&visit))
}

fn empty(visit: &Visit) -> TakeInPage {
    TakeInPage {
        frame: Frame::new(visit, "tray", "Take in a list"),
        bytes: String::new(),
        is_looked_at: false,
        sheet: String::new(),
        units: UNITS.map(|unit| (unit, false)).into(),
        has_unit: false,
        tray: String::new(),
        columns: Vec::new(),
        facts: Vec::new(),
        cutters: Vec::new(),
        count: 0,
        problems: Vec::new(),
        more_problems: 0,
    }
}

/// Takes the file and shows what it is taken for.
pub(super) async fn upload(visit: Visit, request: Request) -> Result<Response, Fault> {
    visit.writer()?;
    let sent = Multipart::from_request(request, &()).await;
    let mut sent = sent.map_err(|rejection| Fault::form(&rejection.body_text()))?;
    let mut bytes = Vec::new();
    while let Some(field) = sent.next_field().await.map_err(|error| unread(&error))? {
        if field.name() == Some("list") {
            bytes = field.bytes().await.map_err(|error| unread(&error))?.to_vec();
        }
    }
    if bytes.len() > LIST_BYTES_MAX {
        return Err(Fault::TooLong);
    }
    shown(&visit, &bytes, &Entries::of(Vec::new())).await
}

fn unread(error: &axum::extract::multipart::MultipartError) -> Fault {
    match error.status() {
        StatusCode::PAYLOAD_TOO_LARGE => Fault::TooLong,
        _ => Fault::form(&error.body_text()),
    }
}

/// Looks again with what was said meanwhile, or keeps the cutters.
pub(super) async fn look(visit: Visit, entries: Entries) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let bytes = from_hex(entries.get("list"))
        .ok_or_else(|| Fault::form("the list that it carries along is not whole"))?;
    if !entries.has("keep") {
        return shown(&visit, &bytes, &entries).await;
    }
    let list = read(&visit, &bytes, &entries).await?;
    if !list.problems.is_empty() {
        return shown(&visit, &bytes, &entries).await;
    }
    let stamp = Stamp { at: visit.desk.now(), by: by.clone() };
    let tray = entries.maybe("tray");
    let writes = of_list(visit.desk.book(), &list, tray.as_deref(), &stamp).await?;
    visit.desk.write_all(writes).await?;
    let stage = if tray.is_some() { "waiting" } else { "on%20the%20shelf" };
    Ok(go_on(&format!("/?stage={stage}")))
}

async fn read(visit: &Visit, bytes: &[u8], entries: &Entries) -> Result<CutterList, Fault> {
    let sheet = entries.maybe("sheet");
    let (bytes, said) = (bytes.to_vec(), said(entries));
    // A workbook takes a while to unpack, so other requests go on beside it.
    let reading = move || read_cutters(&bytes, sheet.as_deref(), &said);
    let read = tokio::task::spawn_blocking(reading).await;
    let mut list = read.map_err(|error| Fault::Page(error.to_string()))?;
    if list.problems.is_empty() {
        list.problems = numbers_taken(visit.desk.book(), &list).await?;
        list.problems.extend(not_sharp(&list, entries.maybe("tray").as_deref()));
    }
    Ok(list)
}

fn said(entries: &Entries) -> Said {
    let told = |column: &CutterColumn| {
        let value = entries.maybe(&format!("{ALL}{}", column.field()))?;
        Some((*column, value))
    };
    let facts: BTreeMap<_, _> = CutterColumn::ALL.iter().filter_map(told).collect();
    let left_out = entries.all(LEFT_OUT).into_iter().map(str::to_owned).collect();
    Said { unit: entries.maybe("unit"), facts, left_out }
}

async fn shown(visit: &Visit, bytes: &[u8], entries: &Entries) -> Result<Response, Fault> {
    let list = read(visit, bytes, entries).await?;
    let cutters = list.cutters.iter().take(SHOWN);
    let cutters = cutters.map(|one| {
        let size = one.cutter.diameter().show_both(one.cutter.system());
        let about =
            format!("{size}, {} teeth, {}", one.cutter.teeth(), one.cutter.material().name());
        (one.line, one.cutter.number().to_owned(), about)
    });
    let page = TakeInPage {
        bytes: hex(bytes),
        is_looked_at: true,
        sheet: entries.get("sheet").to_owned(),
        units: UNITS.map(|unit| (unit, entries.get("unit") == unit)).into(),
        has_unit: entries.has("unit") && !entries.get("unit").is_empty(),
        tray: entries.get("tray").to_owned(),
        columns: list.columns.iter().map(column).collect(),
        facts: facts(&list),
        cutters: cutters.collect(),
        count: list.cutters.len(),
        problems: list.problems.iter().take(SHOWN).map(ToString::to_string).collect(),
        more_problems: list.problems.len().saturating_sub(SHOWN),
        ..empty(visit)
    };
    if list.problems.is_empty() { drawn(&page) } else { blamed(&page) }
}

fn column(one: &exchange::list::MappedColumn) -> Column {
    let meaning = match &one.meaning {
        Meaning::Fact { column, unit: Some(unit), .. } => format!("{}, {unit}", column.words()),
        Meaning::Fact { column, unit: None, .. } => column.words(),
        Meaning::NotKept => "known, and not kept of a cutter".to_owned(),
        Meaning::Unknown => "not known".to_owned(),
        Meaning::LeftOut => "left out".to_owned(),
    };
    let is_left_out = one.meaning == Meaning::LeftOut;
    Column { heading: one.heading.clone(), meaning, is_left_out }
}

/// What was said for all, and what is asked yet.
fn facts(list: &CutterList) -> Vec<Fact> {
    let fact = |column: &CutterColumn, value: &str| Fact {
        name: format!("{ALL}{}", column.field()),
        words: column.words(),
        value: value.to_owned(),
    };
    let said = list.said.iter().map(|(column, value)| fact(column, value));
    let asked = list.asked.iter().filter(|column| !list.said.contains_key(column));
    let hand = CutterColumn::HelixHand;
    let has_hand = list.said.contains_key(&hand)
        || list
            .columns
            .iter()
            .any(|one| matches!(&one.meaning, Meaning::Fact { column, .. } if *column == hand));
    // A helix needs its hand, which no straight tooth has, so no reader asks for it beforehand.
    let hand = (!has_hand && !list.columns.is_empty()).then(|| fact(&hand, ""));
    said.chain(asked.map(|column| fact(column, ""))).chain(hand).collect()
}
