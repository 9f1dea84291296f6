//! `toothrest book pin`: a person's PIN, from the machine that keeps the book.

use std::io::{self, BufRead, IsTerminal};

use book::Book;
use console::Term;
use shop::ShopError;
use shop::book::event::{PersonEntered, PinSet};
use shop::book::{
    Append, Clock, Event, Ids, Initials, Sessions, Stamp, Store, Subject, SubjectKind,
};

use super::args::PinArguments;
use crate::cli::failure::Failure;
use crate::cli::place::BookArguments;
use crate::desk::new_pin_hash;
use crate::surroundings::{NewIds, SystemClock};

/// Asks for the PIN and sets it; whoever is not in the book yet is entered.
pub(super) fn run(place: &BookArguments, asked: &PinArguments) -> Result<String, Failure> {
    let initials = Initials::new(&asked.initials)?;
    let hash = new_pin_hash(&asked_pin(&initials)?)?;
    place.work_or_begin(async |book| {
        let is_new = set(book, &initials, asked.name.as_deref(), hash).await?;
        let entered = if is_new { " They are new in the book." } else { "" };
        Ok(format!("{initials} has a PIN, and is signed out everywhere.{entered}\n"))
    })
}

/// Twice without showing it where somebody sits at a terminal, else the first line that comes in.
fn asked_pin(initials: &Initials) -> Result<String, Failure> {
    let told = |source: io::Error| Failure::Write { what: "the PIN".to_owned(), source };
    let terminal = Term::stderr();
    if !io::stdin().is_terminal() {
        let mut line = String::new();
        io::stdin().lock().read_line(&mut line).map_err(told)?;
        return Ok(line.trim().to_owned());
    }
    let ask = |words: &str| {
        terminal.write_str(words)?;
        terminal.read_secure_line()
    };
    let first = ask(&format!("PIN of {initials}: ")).map_err(told)?;
    let second = ask("Once more: ").map_err(told)?;
    if first.trim() == second.trim() {
        Ok(first.trim().to_owned())
    } else {
        let reason = "the two are not the same; nothing was written";
        Err(ShopError::invalid("pin", reason).into())
    }
}

/// Whether the person was new.
async fn set(
    book: &Book,
    initials: &Initials,
    name: Option<&str>,
    hash: String,
) -> Result<bool, ShopError> {
    let found = book.find(SubjectKind::Person, initials.as_str()).await?;
    let is_new = found.is_none();
    let name = name.unwrap_or(initials.as_str()).to_owned();
    let entered = PersonEntered { initials: initials.to_string(), name };
    let begins = is_new.then_some(Event::PersonEntered(entered));
    let (subject, seen) = match found {
        Some(person) => (person.subject, person.seen),
        None => (Subject::new(SubjectKind::Person, NewIds.next()), 0),
    };
    let events = begins.into_iter().chain([Event::PinSet(PinSet { hash })]).collect();
    let stamp = Stamp { at: SystemClock.now(), by: initials.clone() };
    let person = subject.id.clone();
    book.append(vec![Append { subject, seen, stamp, events }]).await?;
    book.close_sessions_of(&person).await?;
    // Whoever sits at the machine that keeps the book lifts every wait of this person.
    book.forgive(initials, None).await?;
    Ok(is_new)
}
