//! `toothrest book token`: a token for another program, from the machine that keeps the book.

use book::Book;
use shop::ShopError;
use shop::book::event::PersonEntered;
use shop::book::{
    Append, Clock, Event, Id, Ids, Initials, Sessions, Stamp, State, Store, Subject, SubjectKind,
    latest,
};

use super::args::TokenArguments;
use crate::cli::failure::Failure;
use crate::cli::output::told;
use crate::cli::place::BookArguments;
use crate::desk::make_token;
use crate::surroundings::{NewIds, SystemClock};
use crate::wire;

pub(super) fn run(place: &BookArguments, asked: &TokenArguments) -> Result<String, Failure> {
    let initials = Initials::new(&asked.initials)?;
    if asked.withdraw {
        return place.work(async |book| {
            let count = withdraw(book, &initials).await?;
            let words = format!("Withdrawn from {initials}: {count}.\n");
            told(&asked.json, || wire::withdrawn(initials.to_string(), count), words)
        });
    }
    place.work_or_begin(async |book| {
        let holder = holder(book, &initials, asked.name.as_deref()).await?;
        let token = make_token(book, &holder, SystemClock.now(), asked.days).await?;
        let days = asked.days;
        let words = format!(
            "{token}\nThis is the token of {initials}. It is shown once and holds for {days} days; \
             send it as \"Authorization: Bearer …\".\n"
        );
        told(&asked.json, || wire::token(initials.to_string(), &token, days), words)
    })
}

async fn withdraw(book: &Book, initials: &Initials) -> Result<u64, ShopError> {
    let found = book.find(SubjectKind::Person, initials.as_str()).await?;
    let missing = || ShopError::NotFound { what: format!("a program with initials {initials}") };
    let holder = found.ok_or_else(missing)?;
    check_program(book, &holder.subject, initials).await?;
    book.close_sessions_of(&holder.subject.id).await
}

/// Refuses initials of somebody who signs in: a token and a sign-in would end each other.
async fn check_program(book: &Book, who: &Subject, initials: &Initials) -> Result<(), ShopError> {
    match latest(book, who).await?.state {
        Some(State::Person(person)) if person.pin.is_some() => {
            let reason = format!(
                "{initials} is a person who signs in; give the program initials of its own"
            );
            Err(ShopError::invalid("initials", reason))
        }
        _ => Ok(()),
    }
}

/// The program, entered as people are where it is new: whatever reads has a name in the book.
async fn holder(book: &Book, initials: &Initials, name: Option<&str>) -> Result<Id, ShopError> {
    if let Some(known) = book.find(SubjectKind::Person, initials.as_str()).await? {
        check_program(book, &known.subject, initials).await?;
        return Ok(known.subject.id);
    }
    let Some(name) = name else {
        let reason = format!("{initials} is new in the book; write --name and what it is called");
        return Err(ShopError::invalid("name", reason));
    };
    let subject = Subject::new(SubjectKind::Person, NewIds.next());
    let entered = PersonEntered { initials: initials.to_string(), name: name.to_owned() };
    let stamp = Stamp { at: SystemClock.now(), by: initials.clone() };
    let id = subject.id.clone();
    let events = vec![Event::PersonEntered(entered)];
    book.append(vec![Append { subject, seen: 0, stamp, events }]).await?;
    Ok(id)
}
