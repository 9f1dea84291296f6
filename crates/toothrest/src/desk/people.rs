//! The people who work here: who they are, their PINs, and when they leave.

use shop::ShopError;
use shop::book::event::{PinSet, Retired};
use shop::book::{Event, Id, Initials, PersonState, Sessions, State, Subject, SubjectKind};

use super::pin::new_pin_hash;
use super::tries::{Door, Tried, pin_of, tried};
use super::{Desk, unread};

/// A person with where their history stands.
#[derive(Clone, Debug)]
pub(crate) struct PersonAt {
    pub(crate) subject: Subject,
    pub(crate) seen: u64,
    pub(crate) is_gone: bool,
    pub(crate) state: PersonState,
}

/// What became of a new PIN.
pub(crate) enum NewPin {
    /// It is set, and every session of the person is closed.
    Set,
    /// The PIN so far was wrong.
    Wrong,
    /// Too many wrong tries: wait so many seconds at most.
    Wait(u64),
}

/// The person of that id.
pub(crate) async fn person(desk: &Desk, id: &str) -> Result<PersonAt, ShopError> {
    let subject = Subject::new(SubjectKind::Person, Id::from_text(id)?);
    let latest = desk.latest(&subject).await?;
    match &latest.state {
        Some(State::Person(state)) => Ok(PersonAt {
            subject,
            seen: latest.seen,
            is_gone: latest.retired.is_some(),
            state: state.clone(),
        }),
        _ => Err(unread(&subject)),
    }
}

/// Sets a person's PIN. Where one has to sign in, the PIN so far must be known to whoever sets
/// another: then nobody who is signed in can become somebody else.
pub(crate) async fn set_pin(
    desk: &Desk,
    by: &Initials,
    person: &PersonAt,
    pin: &str,
    so_far: Option<(&str, &Door)>,
) -> Result<NewPin, ShopError> {
    let has_pin = pin_of(desk, &person.subject).await?.is_some();
    if let (Some((so_far, door)), true) = (so_far, has_pin) {
        let initials = Initials::new(&person.state.initials)?;
        match tried(desk, &initials, so_far, door).await? {
            Tried::Right(..) => {}
            Tried::Wrong => return Ok(NewPin::Wrong),
            Tried::Wait(wait_s) => return Ok(NewPin::Wait(wait_s)),
        }
    }
    let pin = pin.to_owned();
    let hash = tokio::task::spawn_blocking(move || new_pin_hash(&pin)).await;
    let hash = hash.map_err(|error| ShopError::store("hash a PIN", error))??;
    desk.write(by, &person.subject, person.seen, vec![Event::PinSet(PinSet { hash })]).await?;
    desk.book().close_sessions_of(&person.subject.id).await?;
    Ok(NewPin::Set)
}

/// A person leaves: they can sign in no longer, and are signed out everywhere.
pub(crate) async fn leave(
    desk: &Desk,
    by: &Initials,
    person: &PersonAt,
    seen: u64,
    why: &str,
) -> Result<(), ShopError> {
    let retired = Event::Retired(Retired { why: why.to_owned() });
    desk.write(by, &person.subject, seen, vec![retired]).await?;
    desk.book().close_sessions_of(&person.subject.id).await?;
    Ok(())
}
