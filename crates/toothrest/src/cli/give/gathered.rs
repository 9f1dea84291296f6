//! What is gathered out of the book, or out of files, to be given.

use std::collections::BTreeMap;
use std::path::PathBuf;

use exchange::asset::Outlook;
use shop::book::{
    CutterState, Entry, Id, Latest, Query, State, Store, Subject, SubjectKind, Summary, latest,
    whole_history, whole_list,
};
use shop::learn::{CutterHistory, cutter_history};
use shop::plan::judge_cutter;
use shop::record::Cutter;
use shop::{Ctx, ShopError};
use trade::Tables;

use super::args::CutterArguments;
use crate::cli::failure::Failure;
use crate::cli::progress::Counted;
use crate::files::{FileProblems, load, read_cutter};

/// A cutter of the book with its history.
pub(super) struct Gathered {
    pub(super) subject: Subject,
    pub(super) latest: Latest,
    pub(super) state: CutterState,
    pub(super) history: Vec<Entry>,
}

/// The cutters of these numbers, in their order; all that are not done with where none is named.
pub(super) async fn cutters<S: Store>(
    book: &S,
    numbers: &[String],
) -> Result<Vec<Gathered>, ShopError> {
    of_numbers(book, numbers, false).await
}

/// As [`cutters`], and a number of none that is kept is that of the one done with last.
pub(super) async fn cutters_and_gone<S: Store>(
    book: &S,
    numbers: &[String],
) -> Result<Vec<Gathered>, ShopError> {
    of_numbers(book, numbers, true).await
}

async fn of_numbers<S: Store>(
    book: &S,
    numbers: &[String],
    and_gone: bool,
) -> Result<Vec<Gathered>, ShopError> {
    if numbers.is_empty() {
        return of_rows(book, whole_list(book, Query::of(SubjectKind::Cutter)).await?).await;
    }
    let mut rows: Vec<Summary> = Vec::new();
    for number in numbers {
        let found = match book.find(SubjectKind::Cutter, number).await? {
            None if and_gone => gone(book, number).await?,
            found => found,
        };
        let what = || ShopError::NotFound { what: format!("cutter {number:?}") };
        rows.push(found.ok_or_else(what)?);
    }
    of_rows(book, rows).await
}

/// The cutter of a number that was done with last.
async fn gone<S: Store>(book: &S, number: &str) -> Result<Option<Summary>, ShopError> {
    let words = number.to_owned();
    let all = Query { live_only: false, words, ..Query::of(SubjectKind::Cutter) };
    let rows = whole_list(book, all).await?.into_iter();
    // An id is the greater the later it was made.
    let same = rows.filter(|row| row.number == number);
    Ok(same.max_by(|one, other| one.subject.id.cmp(&other.subject.id)))
}

async fn of_rows<S: Store>(book: &S, rows: Vec<Summary>) -> Result<Vec<Gathered>, ShopError> {
    let counted = Counted::of("reading", rows.len());
    let mut gathered = Vec::with_capacity(rows.len());
    for row in rows {
        gathered.extend(of_row(book, row).await?);
        counted.one_more();
    }
    counted.done();
    Ok(gathered)
}

/// A cutter whose first entry this program cannot read is passed over, as lists show it.
async fn of_row<S: Store>(book: &S, row: Summary) -> Result<Option<Gathered>, ShopError> {
    let history = whole_history(book, &row.subject).await?;
    let Some(latest) = Latest::of(&history) else { return Ok(None) };
    let Some(State::Cutter(state)) = latest.state.clone() else { return Ok(None) };
    Ok(Some(Gathered { subject: row.subject, latest, state: *state, history }))
}

/// Cutters out of files where any are named, else out of the book.
pub(super) fn records(asked: &CutterArguments) -> Result<Vec<Cutter>, Failure> {
    if !asked.cutter.is_empty() {
        return of_files(&asked.cutter);
    }
    asked.book.read(async |book| {
        let all = cutters(book, &asked.numbers).await?;
        Ok(all.into_iter().map(|one| one.state.cutter).collect())
    })
}

/// Cutters out of files; everything that is wrong with any of them is said at once.
pub(super) fn of_files(files: &[PathBuf]) -> Result<Vec<Cutter>, Failure> {
    let mut problems: Vec<FileProblems> = Vec::new();
    let read = files
        .iter()
        .filter_map(|file| load(file, read_cutter).map_err(|found| problems.push(found)).ok());
    let cutters: Vec<Cutter> = read.collect();
    if problems.is_empty() { Ok(cutters) } else { Err(Failure::Files(problems)) }
}

/// The numbers of wheels and the names of machines, by their ids; those done with too, since old
/// grinds speak of them.
pub(crate) async fn wheel_and_machine_names<S: Store>(
    book: &S,
) -> Result<BTreeMap<Id, String>, ShopError> {
    let mut names = BTreeMap::new();
    for kind in [SubjectKind::Wheel, SubjectKind::Machine] {
        let all = Query { live_only: false, ..Query::of(kind) };
        let rows = whole_list(book, all).await?;
        names.extend(rows.into_iter().map(|row| (row.subject.id, row.number)));
    }
    Ok(names)
}

/// The names of open trays, by their ids.
pub(super) async fn tray_names<S: Store>(book: &S) -> Result<BTreeMap<Id, String>, ShopError> {
    let rows = whole_list(book, Query::of(SubjectKind::Tray)).await?;
    Ok(rows.into_iter().map(|row| (row.subject.id, row.number)).collect())
}

/// What is expected of a cutter yet; nothing where it cannot be judged.
pub(super) fn outlook(tables: &Tables, cutter: &Cutter, history: &[Entry]) -> Outlook {
    let known: CutterHistory = cutter_history(history).history;
    let Ok(judged) = judge_cutter(&Ctx { tables }, cutter, &known) else {
        return Outlook::default();
    };
    Outlook {
        lives_left: judged.lives().map(|lives| lives.expected),
        smallest: judged.verdict.smallest.map(|smallest| smallest.value),
    }
}

/// The latest state of every tray that is open, with the numbers of the cutters in it.
pub(super) async fn trays<S: Store>(
    book: &S,
) -> Result<Vec<(shop::book::TrayState, Vec<String>)>, ShopError> {
    let mut trays = Vec::new();
    for row in whole_list(book, Query::of(SubjectKind::Tray)).await? {
        let latest = latest(book, &row.subject).await?;
        let Some(State::Tray(state)) = latest.state else { continue };
        let tray = Some(row.subject.id.clone());
        let held = whole_list(book, Query { tray, ..Query::of(SubjectKind::Cutter) }).await?;
        let place = |row: &Summary| {
            let known = state.order.iter().position(|id| *id == row.subject.id);
            known.unwrap_or(usize::MAX)
        };
        let mut held: Vec<_> = held.into_iter().map(|row| (place(&row), row.number)).collect();
        // Cutters that came later stand behind the order, by their numbers as they were listed.
        held.sort_by_key(|(place, _)| *place);
        trays.push((state, held.into_iter().map(|(_, number)| number).collect()));
    }
    Ok(trays)
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use shop::book::event::{CutterEntered, Retired};
    use shop::book::{Append, Event, Initials, MemoryBook, Moment, Stamp};

    use super::*;

    /// Two cutters that had one number one after the other, both done with.
    async fn two_gone() -> MemoryBook {
        let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/cutters");
        let cutter = load(&examples.join("k-149-hopeless.toml"), read_cutter).unwrap();
        let book = MemoryBook::new();
        for (bits, why) in [(1, "worn out"), (2, "broken")] {
            let entered = CutterEntered { cutter: cutter.clone(), marks: Vec::new() };
            let subject = Subject::new(SubjectKind::Cutter, Id::from_bits(bits));
            let at = Moment::from_micros(1_764_057_600_000_000).unwrap();
            let stamp = Stamp { at, by: Initials::new("AB").unwrap() };
            let events = vec![
                Event::CutterEntered(Box::new(entered)),
                Event::Retired(Retired { why: why.to_owned() }),
            ];
            book.append(vec![Append { subject, seen: 0, stamp, events }]).await.unwrap();
        }
        book
    }

    #[tokio::test]
    async fn a_number_that_is_done_with_is_that_of_the_last() {
        let book = two_gone().await;
        let found = cutters_and_gone(&book, &["K-149".to_owned()]).await.unwrap();
        let why: Vec<_> = found.iter().map(|one| one.latest.retired).collect();
        assert_eq!(found.len(), 1, "{why:?}");
        assert_eq!(found[0].subject.id, Id::from_bits(2));
        assert!(found[0].latest.retired.is_some());
        assert!(cutters(&book, &["K-149".to_owned()]).await.is_err());
        assert!(cutters_and_gone(&book, &["K-14".to_owned()]).await.is_err());
        assert!(cutters_and_gone(&book, &[]).await.unwrap().is_empty());
    }
}
