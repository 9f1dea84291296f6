//! `toothrest book keep`: files go into the book as entries.

use book::Book;
use shop::ShopError;
use shop::book::event::{CutterEntered, Received, TrayOpened, WearSeen, WheelEntered, Written};
use shop::book::{
    Append, DocumentState, Event, Id, Ids, Stamp, State, Store, Subject, SubjectKind, latest,
};
use trade::Tables;

use super::args::{KeepArguments, KeptKind};
use crate::cli::failure::Failure;
use crate::cli::output::told;
use crate::cli::place::BookArguments;
use crate::files::{load, read_cutter, read_machine, read_prices, read_wheels};
use crate::surroundings::NewIds;
use crate::wire;

/// What is to be written, and what it is called.
struct Kept {
    kind: SubjectKind,
    number: String,
    /// The first entries of something that the book does not know.
    begins: Vec<Event>,
    /// The entries of something that it knows already; none where it cannot come twice.
    goes_on: Option<Vec<Event>>,
}

/// What was put into the book.
pub(crate) struct Put {
    pub(crate) kind: SubjectKind,
    pub(crate) number: String,
    /// The last entry that was written; none where the book had it already as it is.
    pub(crate) entry: Option<u64>,
}

impl Put {
    fn in_words(&self) -> String {
        let Self { kind, number, entry } = self;
        match entry {
            Some(entry) => format!("Kept {kind} {number}, entry {entry}.\n"),
            None => format!("{kind} {number} is in the book as it is here.\n"),
        }
    }
}

pub(super) fn run(place: &BookArguments, keep: &KeepArguments) -> Result<String, Failure> {
    let stamp = keep.writer.stamp()?;
    let read = load(&keep.file, |file, text| Ok((file.to_owned(), text.to_owned())))?;
    let mut kept = read_kept(keep, &read.0, &read.1)?;
    place.work_or_begin(async |book| {
        if let (KeptKind::Cutter, Some(name)) = (keep.kind, &keep.tray) {
            let tray = tray(book, name, &stamp).await?;
            kept.iter_mut().for_each(|kept| kept.lies_in(&tray));
        }
        let mut done = Vec::new();
        for kept in kept {
            done.push(put(book, kept, &stamp).await?);
        }
        let words = done.iter().map(Put::in_words).collect();
        told(&keep.json, || wire::kept(book, &done), words)
    })
}

fn read_kept(keep: &KeepArguments, file: &str, text: &str) -> Result<Vec<Kept>, Failure> {
    let stem = || keep.file.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let name = || keep.name.clone().or_else(stem).unwrap_or_default();
    let document = |kind, name| vec![Kept::document(kind, name, text)];
    Ok(match keep.kind {
        KeptKind::Machine => {
            let machine = read_machine(file, text)?;
            document(SubjectKind::Machine, machine.name().to_owned())
        }
        KeptKind::Tables => {
            let unsound = |error: trade::TableError| Failure::Tables {
                file: file.to_owned(),
                message: error.to_string(),
            };
            Tables::bundled().and_then(|tables| tables.with_shop(text)).map_err(unsound)?;
            document(SubjectKind::Tables, name())
        }
        KeptKind::Prices => {
            read_prices(file, text)?;
            document(SubjectKind::Prices, name())
        }
        KeptKind::Wheel => read_wheels(file, text)?.into_iter().map(Kept::wheel).collect(),
        KeptKind::Cutter if keep.shelf => vec![Kept::on_shelf(read_cutter(file, text)?)?],
        KeptKind::Cutter => vec![Kept::cutter(read_cutter(file, text)?)],
    })
}

impl Kept {
    fn document(kind: SubjectKind, number: String, text: &str) -> Self {
        let written = Written { name: number.clone(), text: text.to_owned() };
        let begins = vec![Event::Written(written)];
        Self { kind, number, goes_on: Some(begins.clone()), begins }
    }

    fn wheel(wheel: shop::record::Wheel) -> Self {
        let number = wheel.number().to_owned();
        let entered = WheelEntered { wheel, marks: Vec::new() };
        let begins = vec![Event::WheelEntered(Box::new(entered))];
        Self { kind: SubjectKind::Wheel, number, begins, goes_on: None }
    }

    /// A cutter comes in; one that the book knows comes in again, with the wear of its file.
    fn cutter(cutter: shop::record::Cutter) -> Self {
        let number = cutter.number().to_owned();
        let wear = cutter.wear().cloned().map(|wear| Event::WearSeen(WearSeen { wear }));
        let goes_on: Vec<Event> =
            std::iter::once(Event::Received(Received::default())).chain(wear).collect();
        let entered = CutterEntered { cutter: cutter.without_wear(), marks: Vec::new() };
        let begins = std::iter::once(Event::CutterEntered(Box::new(entered)));
        let begins = begins.chain(goes_on.clone()).collect();
        Self { kind: SubjectKind::Cutter, number, begins, goes_on: Some(goes_on) }
    }

    /// A cutter that is sharp and asks for nothing.
    fn on_shelf(cutter: shop::record::Cutter) -> Result<Self, Failure> {
        let number = cutter.number().to_owned();
        if cutter.wear().is_some() {
            return Err(Failure::Argument {
                argument: "--shelf",
                value: number,
                message: "its file has wear, so it is not sharp; leave --shelf out, and it waits \
                          at the bench"
                    .to_owned(),
            });
        }
        let entered = CutterEntered { cutter, marks: Vec::new() };
        let begins = vec![Event::CutterEntered(Box::new(entered))];
        Ok(Self { kind: SubjectKind::Cutter, number, begins, goes_on: None })
    }

    fn lies_in(&mut self, tray: &Id) {
        let goes_on = self.goes_on.iter_mut().flatten();
        for event in self.begins.iter_mut().chain(goes_on) {
            if let Event::Received(received) = event {
                received.tray = Some(tray.clone());
            }
        }
    }
}

/// The tray of that name, set out where there is none.
async fn tray(book: &Book, name: &str, stamp: &Stamp) -> Result<Id, Failure> {
    if let Some(row) = book.find(SubjectKind::Tray, name).await? {
        return Ok(row.subject.id);
    }
    let subject = Subject::new(SubjectKind::Tray, NewIds.next());
    let id = subject.id.clone();
    let opened = Event::TrayOpened(TrayOpened { name: name.to_owned(), whose: None });
    book.append(vec![Append { subject, seen: 0, stamp: stamp.clone(), events: vec![opened] }])
        .await?;
    Ok(id)
}

async fn put(book: &Book, kept: Kept, stamp: &Stamp) -> Result<Put, Failure> {
    let Kept { kind, number, begins, goes_on } = kept;
    let found = book.find(kind, &number).await?;
    let (subject, seen, events) = match (found, goes_on) {
        (None, _) => (Subject::new(kind, NewIds.next()), 0, begins),
        (Some(_), None) => return Err(ShopError::number_taken(kind, &number).into()),
        (Some(row), Some(_)) if is_same(book, &row.subject, &begins).await? => {
            return Ok(Put { kind, number, entry: None });
        }
        (Some(row), Some(events)) => (row.subject, row.seen, events),
    };
    let append = Append { subject, seen, stamp: stamp.clone(), events };
    let entries = book.append(vec![append]).await?;
    Ok(Put { kind, number, entry: entries.last().map(|entry| entry.number) })
}

/// Whether a paper's latest version is the very text that is to be written.
async fn is_same(book: &Book, subject: &Subject, begins: &[Event]) -> Result<bool, ShopError> {
    let [Event::Written(written)] = begins else { return Ok(false) };
    let state = latest(book, subject).await?.state;
    let Some(State::Document(DocumentState { name, text, .. })) = state else { return Ok(false) };
    Ok((name, text) == (written.name.clone(), written.text.clone()))
}
