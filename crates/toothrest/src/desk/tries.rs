//! Trying a PIN: how often, and what became of it.

use shop::ShopError;
use shop::book::{
    AttemptsOf, FailedAttempt, Initials, Sessions, State, Store, Subject, SubjectKind,
};

use super::Desk;
use super::pin::pin_fits;

/// After so many wrong PINs for one person the next try must wait.
const FREE_TRIES: u64 = 5;

/// After so many wrong PINs from one place, whoever they were for, the next try must wait. A whole
/// shop may share a tablet, so it is more.
const FREE_TRIES_OF_PEER: u64 = 20;

/// Wrong PINs are counted over this time, in seconds.
const COUNTED_S: u64 = 15 * 60;

/// What became of a try.
pub(super) enum Tried {
    /// The PIN is this person's.
    Right(Subject),
    /// Initials and PIN do not belong together.
    Wrong,
    /// Too many wrong tries: wait so many seconds at most.
    Wait(u64),
}

/// Compares initials and PIN with the book. One try at a time, so that many at once are counted
/// like many in a row.
pub(super) async fn tried(
    desk: &Desk,
    initials: &Initials,
    pin: &str,
    peer: &str,
) -> Result<Tried, ShopError> {
    let _turn = desk.tries.lock().await;
    let (book, now) = (desk.book(), desk.now());
    let since = now.earlier(COUNTED_S);
    book.forget_old(now, since).await?;
    let failed = book.failures_since(AttemptsOf::Initials(initials), since).await?;
    let from_there = book.failures_since(AttemptsOf::Peer(peer), since).await?;
    if failed >= FREE_TRIES || from_there >= FREE_TRIES_OF_PEER {
        return Ok(Tried::Wait(COUNTED_S));
    }
    let person = book.find(SubjectKind::Person, initials.as_str()).await?;
    let hash = match &person {
        Some(person) => pin_of(desk, &person.subject).await?,
        None => None,
    };
    let fits = pin_fits(pin.to_owned(), hash).await?;
    if let Some(person) = person.filter(|_| fits) {
        book.forgive(initials).await?;
        return Ok(Tried::Right(person.subject));
    }
    let attempt = FailedAttempt { initials: initials.clone(), peer: peer.to_owned(), at: now };
    book.note_failure(&attempt).await?;
    Ok(Tried::Wrong)
}

/// The hash of a person's PIN, where one was set.
pub(super) async fn pin_of(desk: &Desk, person: &Subject) -> Result<Option<String>, ShopError> {
    let latest = desk.latest(person).await?;
    Ok(match &latest.state {
        Some(State::Person(person)) => person.pin.clone(),
        _ => None,
    })
}
