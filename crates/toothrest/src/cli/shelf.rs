//! What a use case takes out of the book: the machine, the tables, the wheels, the cutters.

use book::Book;
use shop::ShopError;
use shop::book::Latest;
use shop::book::event::Planned;
use shop::book::{
    CutterState, DocumentState, Entry, Event, Id, Query, Stage, State, Store, SubjectKind, Summary,
    latest, whole_history, whole_list,
};
use shop::learn::{CutterHistory, cutter_history};
use shop::record::{Machine, Wheel};
use tokio::task::JoinSet;
use trade::{TableError, Tables};

use super::failure::Failure;
use super::progress::Counted;
use crate::files::read_machine;

/// Histories that are read at the same time.
const ABREAST: usize = 4;

/// A cutter with what its history says of its plan.
pub(super) struct Waiting {
    pub(super) id: Id,
    pub(super) state: CutterState,
    /// Its kept plan, where it has one.
    pub(super) planned: Option<Planned>,
    /// Its own grinds.
    pub(super) grinds: CutterHistory,
}

/// The latest text of a paper.
async fn text(book: &Book, row: &Summary) -> Result<DocumentState, ShopError> {
    match latest(book, &row.subject).await?.state {
        Some(State::Document(document)) => Ok(document),
        _ => Err(ShopError::NotFound { what: format!("the text of {}", row.number) }),
    }
}

/// The paper of that name, or the only one of its kind.
pub(super) async fn paper(
    book: &Book,
    kind: SubjectKind,
    name: Option<&str>,
    argument: &'static str,
) -> Result<DocumentState, Failure> {
    Ok(text(book, &paper_row(book, kind, name, argument).await?).await?)
}

async fn paper_row(
    book: &Book,
    kind: SubjectKind,
    name: Option<&str>,
    argument: &'static str,
) -> Result<Summary, Failure> {
    if let Some(name) = name {
        let found = book.find(kind, name).await?;
        return Ok(found.ok_or_else(|| ShopError::NotFound { what: format!("{kind} {name:?}") })?);
    }
    match whole_list(book, Query::of(kind)).await?.as_slice() {
        [only] => Ok(only.clone()),
        [] => {
            let what = format!("a file of kind \"{kind}\" (put one in with \"book keep {kind}\")");
            Err(ShopError::NotFound { what }.into())
        }
        many => {
            let names: Vec<&str> = many.iter().map(|row| row.number.as_str()).collect();
            let message = format!("there are several; name one of {}", names.join(", "));
            Err(Failure::Argument { argument, value: "none".to_owned(), message })
        }
    }
}

/// The machine of that name, or the only one, with its id.
pub(super) async fn machine(book: &Book, name: Option<&str>) -> Result<(Id, Machine), Failure> {
    let row = paper_row(book, SubjectKind::Machine, name, "--machine").await?;
    let paper = text(book, &row).await?;
    Ok((row.subject.id, read_machine(&paper.name, &paper.text)?))
}

/// The trade tables with every table of the shop laid over them.
pub(super) async fn tables(book: &Book) -> Result<Tables, Failure> {
    let unsound = |file: &str| {
        let file = file.to_owned();
        move |error: TableError| Failure::Tables { file, message: error.to_string() }
    };
    let mut tables = Tables::bundled().map_err(unsound("bundled tables"))?.clone();
    for row in whole_list(book, Query::of(SubjectKind::Tables)).await? {
        let paper = text(book, &row).await?;
        tables = tables.with_shop(&paper.text).map_err(unsound(&paper.name))?;
    }
    Ok(tables)
}

/// Every wheel that is in use, each with its id.
pub(super) async fn wheels(book: &Book) -> Result<Vec<(Id, Wheel)>, ShopError> {
    let mut wheels = Vec::new();
    for row in whole_list(book, Query::of(SubjectKind::Wheel)).await? {
        if let Some(State::Wheel(wheel)) = latest(book, &row.subject).await?.state {
            wheels.push((row.subject.id, wheel.wheel));
        }
    }
    Ok(wheels)
}

/// The cutters that wait to be ground, planned or not, in the order of their numbers; of one tray,
/// where one is named.
pub(super) async fn waiting(book: &Book, tray: Option<&Id>) -> Result<Vec<Waiting>, ShopError> {
    let mut found = Vec::new();
    for stage in [Stage::Waiting, Stage::Planned] {
        let (stage, tray) = (Some(stage), tray.cloned());
        found.extend(
            whole_list(book, Query { stage, tray, ..Query::of(SubjectKind::Cutter) }).await?,
        );
    }
    let counted = Counted::of("reading", found.len());
    let share = found.len().div_ceil(ABREAST).max(1);
    let mut readers = JoinSet::new();
    for (place, rows) in found.chunks(share).enumerate() {
        let (book, rows, counted) = (book.clone(), rows.to_vec(), counted.clone());
        readers.spawn(async move { (place, read(&book, &rows, &counted).await) });
    }
    let mut parts = Vec::new();
    while let Some(part) = readers.join_next().await {
        let (place, cutters) = part.map_err(|error| ShopError::store("be read", error))?;
        parts.push((place, cutters?));
    }
    parts.sort_by_key(|(place, _)| *place);
    let mut cutters: Vec<Waiting> = parts.into_iter().flat_map(|(_, cutters)| cutters).collect();
    counted.done();
    cutters.sort_by_cached_key(|cutter| shop::book::key(cutter.state.cutter.number()));
    Ok(cutters)
}

async fn read(book: &Book, rows: &[Summary], counted: &Counted) -> Result<Vec<Waiting>, ShopError> {
    let mut cutters = Vec::with_capacity(rows.len());
    for row in rows {
        let history = whole_history(book, &row.subject).await?;
        cutters.extend(of_history(&row.subject.id, &history));
        counted.one_more();
    }
    Ok(cutters)
}

fn of_history(id: &Id, history: &[Entry]) -> Option<Waiting> {
    let Some(State::Cutter(state)) = Latest::of(history)?.state else { return None };
    let planned = state.planned.and_then(|number| {
        let entry = history.iter().find(|entry| entry.number == number)?;
        match &entry.event {
            Event::Planned(planned) => Some(planned.clone()),
            _ => None,
        }
    });
    let grinds = cutter_history(history).history;
    Some(Waiting { id: id.clone(), state: *state, planned, grinds })
}
