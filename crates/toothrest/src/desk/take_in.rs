//! A list of cutters goes into the book: all of it or nothing.

use exchange::list::{CutterList, ListProblem, ListedCutter};
use shop::ShopError;
use shop::book::event::{CutterEntered, Received, TrayOpened};
use shop::book::{Append, Event, Id, Ids, Stage, Stamp, Store, Subject, SubjectKind};

use crate::surroundings::NewIds;

/// Cutters of the list whose numbers the book has already, as problems at their lines.
pub(crate) async fn numbers_taken<S: Store>(
    book: &S,
    list: &CutterList,
) -> Result<Vec<ListProblem>, ShopError> {
    let mut taken = Vec::new();
    for listed in &list.cutters {
        let number = listed.cutter.number();
        if book.find(SubjectKind::Cutter, number).await?.is_some() {
            taken.push(ListProblem {
                line: Some(listed.line),
                column: "number".to_owned(),
                value: number.to_owned(),
                message: "the book has a cutter of this number".to_owned(),
                right: "take the line out, or give the cutter a number of its own".to_owned(),
            });
        }
    }
    Ok(taken)
}

/// Cutters that stood before or under a regrind where the list was written: on the shelf they would
/// count as sharp, with a size to cut by that nobody ground.
pub(crate) fn not_sharp(list: &CutterList, tray: Option<&str>) -> Vec<ListProblem> {
    if tray.is_some_and(|tray| !tray.trim().is_empty()) {
        return Vec::new();
    }
    let at_work = [Stage::Waiting, Stage::Planned, Stage::Ground, Stage::Checked];
    let problem = |listed: &ListedCutter| {
        let stands = listed.stands.as_ref()?;
        at_work.iter().find(|stage| stage.name() == stands)?;
        Some(ListProblem {
            line: Some(listed.line),
            column: "stands".to_owned(),
            value: stands.clone(),
            message: "it was not sharp there, and on the shelf it would count as sharp".to_owned(),
            right: "name a tray to receive them into, and take sharp ones in by another list"
                .to_owned(),
        })
    };
    list.cutters.iter().filter_map(problem).collect()
}

/// What enters every cutter of a list that has no problem, and receives it where a tray is named:
/// to be written together.
pub(crate) async fn of_list<S: Store>(
    book: &S,
    list: &CutterList,
    tray: Option<&str>,
    stamp: &Stamp,
) -> Result<Vec<Append>, ShopError> {
    let (tray, mut writes) = match tray {
        Some(name) => of_tray(book, name, stamp).await?,
        None => (None, Vec::new()),
    };
    writes.extend(list.cutters.iter().map(|listed| entered(listed, tray.as_ref(), stamp)));
    Ok(writes)
}

fn entered(listed: &ListedCutter, tray: Option<&Id>, stamp: &Stamp) -> Append {
    let cutter = listed.cutter.clone();
    let entered = CutterEntered { cutter, marks: Vec::new() };
    let received = tray
        .map(|tray| Event::Received(Received { tray: Some(tray.clone()), ..Received::default() }));
    let entered = Event::CutterEntered(Box::new(entered));
    let subject = Subject::new(SubjectKind::Cutter, NewIds.next());
    let events = std::iter::once(entered).chain(received).collect();
    Append { subject, seen: 0, stamp: stamp.clone(), events }
}

/// The tray of that name, and what sets it out where there is none.
async fn of_tray<S: Store>(
    book: &S,
    name: &str,
    stamp: &Stamp,
) -> Result<(Option<Id>, Vec<Append>), ShopError> {
    if let Some(known) = book.find(SubjectKind::Tray, name).await? {
        return Ok((Some(known.subject.id), Vec::new()));
    }
    let subject = Subject::new(SubjectKind::Tray, NewIds.next());
    let opened = Event::TrayOpened(TrayOpened { name: name.to_owned(), whose: None });
    let id = subject.id.clone();
    let write = Append { subject, seen: 0, stamp: stamp.clone(), events: vec![opened] };
    Ok((Some(id), vec![write]))
}
