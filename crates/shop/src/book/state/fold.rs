//! The fold itself: from entries to a state, one entry at a time.

use super::Stage;
use super::amend::{Counted, counted};
use super::cutter::{CutterState, named_entries};
use super::wheel::WheelState;
use crate::book::entry::Entry;
use crate::book::event::{Event, EventKind};
use crate::book::id::Id;
use crate::book::moment::Moment;
use crate::book::stamp::Stamp;
use crate::book::subject::Subject;

/// A paper as its history leaves it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DocumentState {
    /// What the shop calls it.
    pub name: String,
    /// The text of its latest version.
    pub text: String,
    /// The number of the entry that holds that version.
    pub version: u64,
}

/// A tray as its history leaves it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TrayState {
    /// What the shop calls it.
    pub name: String,
    /// Whose cutters lie in it.
    pub whose: Option<String>,
    /// The order in which they will be ground; cutters that came later stand behind it.
    pub order: Vec<Id>,
}

/// A person as the history leaves it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PersonState {
    /// Initials.
    pub initials: String,
    /// The name in full.
    pub name: String,
    /// The hash of the secret, if one was chosen.
    pub pin: Option<String>,
}

/// What kind of thing it is, and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub enum State {
    /// A cutter.
    Cutter(Box<CutterState>),
    /// A wheel.
    Wheel(Box<WheelState>),
    /// A machine's file, the shop's tables, a list of prices.
    Document(DocumentState),
    /// A tray.
    Tray(TrayState),
    /// A person.
    Person(PersonState),
}

/// An entry that counts for nothing, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// The entry's number.
    pub entry: u64,
    /// Why it does not count.
    pub what: String,
}

/// The latest state of a subject.
#[derive(Clone, Debug, PartialEq)]
pub struct Latest {
    /// Of what.
    pub subject: Subject,
    /// The number of its last entry: what a writer has seen who has seen this.
    pub seen: u64,
    /// When its history began.
    pub first: Moment,
    /// Who wrote last, and when.
    pub last: Stamp,
    /// The state; none where the first entry cannot be read.
    pub state: Option<State>,
    /// The number of the entry that says it is done with.
    pub retired: Option<u64>,
    /// Entries that do not fit and therefore do not count.
    pub remarks: Vec<Remark>,
}

impl Latest {
    /// Folds a whole history; none where there is not one entry. Entries that do not fit are left
    /// out and remarked, for a history is never refused to whoever wants to read it.
    pub fn of(entries: &[Entry]) -> Option<Self> {
        let (first, last) = (entries.first()?, entries.last()?);
        let (counted, wrong) = counted(entries);
        let mut latest = Self {
            subject: first.subject.clone(),
            seen: last.number,
            first: first.stamp.at,
            last: last.stamp.clone(),
            state: None,
            retired: None,
            remarks: Vec::new(),
        };
        for (place, here) in counted.iter().enumerate() {
            let Some(event) = here.event else { continue };
            let fits = latest.step(&counted[..place], here.number, event);
            latest.remarks.extend(fits.err().map(|what| Remark { entry: here.number, what }));
        }
        latest.remarks.extend(wrong.into_iter().map(|(entry, what)| Remark { entry, what }));
        latest.remarks.sort_by_key(|remark| remark.entry);
        Some(latest)
    }

    /// Where it stands.
    pub fn stage(&self) -> Stage {
        match &self.state {
            _ if self.retired.is_some() => Stage::Gone,
            Some(State::Cutter(cutter)) => cutter.stage,
            Some(State::Wheel(wheel)) => wheel.stage,
            _ => Stage::Current,
        }
    }

    fn step(&mut self, before: &[Counted<'_>], number: u64, event: &Event) -> Result<(), String> {
        let Some(kind) = event.kind() else {
            return Err("this program cannot read it".to_owned());
        };
        self.check_place(kind, before.is_empty())?;
        check_named(before, event)?;
        if before.is_empty() {
            self.state = begun(number, event);
            return Ok(());
        }
        if kind == EventKind::Retired {
            self.retired = Some(number);
        }
        self.state.as_mut().map_or(Ok(()), |state| state.apply(number, event))
    }

    fn check_place(&self, kind: EventKind, is_first: bool) -> Result<(), String> {
        let subject = self.subject.kind;
        if !kind.befalls(subject) {
            return Err(format!("\"{kind}\" is nothing that happens to a {subject}"));
        }
        if is_first && !kind.begins() {
            return Err(format!(
                "a history cannot begin with \"{kind}\"; enter the {subject} first"
            ));
        }
        if !is_first && kind.begins() && kind != EventKind::Written {
            return Err(format!("\"{kind}\" begins a history; amend entry 1 instead"));
        }
        match self.retired {
            Some(number) if !matches!(kind, EventKind::Noted | EventKind::Amended) => Err(format!(
                "the {subject} is done with since entry {number}; strike that entry out first"
            )),
            _ => Ok(()),
        }
    }
}

/// Entries that are named by number must stand before, and be what they are named as.
fn check_named(before: &[Counted<'_>], event: &Event) -> Result<(), String> {
    let Some((number, kind)) = named_entries(event) else { return Ok(()) };
    let named = before.iter().find(|entry| entry.number == number).and_then(|entry| entry.event);
    if named.and_then(Event::kind) == Some(kind) {
        Ok(())
    } else {
        Err(format!("entry {number} before it is not \"{kind}\"; name one that is"))
    }
}

/// The state that a history begins with.
fn begun(number: u64, event: &Event) -> Option<State> {
    Some(match event {
        Event::CutterEntered(entered) => State::Cutter(Box::new(CutterState::new(entered))),
        Event::WheelEntered(entered) => State::Wheel(Box::new(WheelState::new(entered))),
        Event::Written(written) => State::Document(DocumentState {
            name: written.name.clone(),
            text: written.text.clone(),
            version: number,
        }),
        Event::TrayOpened(tray) => State::Tray(TrayState {
            name: tray.name.clone(),
            whose: tray.whose.clone(),
            order: Vec::new(),
        }),
        Event::PersonEntered(person) => State::Person(PersonState {
            initials: person.initials.clone(),
            name: person.name.clone(),
            pin: None,
        }),
        _ => return None,
    })
}

impl State {
    fn apply(&mut self, number: u64, event: &Event) -> Result<(), String> {
        match (self, event) {
            (Self::Cutter(cutter), event) => cutter.apply(number, event)?,
            (Self::Wheel(wheel), event) => wheel.apply(number, event)?,
            (Self::Document(document), Event::Written(written)) => {
                let (name, text) = (written.name.clone(), written.text.clone());
                *document = DocumentState { name, text, version: number };
            }
            (Self::Tray(tray), Event::TrayOrdered(order)) => tray.order.clone_from(&order.cutters),
            (Self::Person(person), Event::PinSet(pin)) => person.pin = Some(pin.hash.clone()),
            _ => {}
        }
        Ok(())
    }
}
