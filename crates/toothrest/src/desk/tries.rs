//! Trying a PIN: how often, and what became of it.
//!
//! Wrong PINs make the next try wait, longer each time, and whoever makes them waits: the browser
//! or the place that they come from. So guessing is hopeless, and nobody elsewhere can keep a
//! person from their own bench. A browser at which somebody signed in before is known by a mark,
//! and is counted by itself whatever goes on around it.

use shop::ShopError;
use shop::book::{
    AttemptsOf, FailedAttempt, Failures, Initials, Moment, Sessions, State, Store, Subject,
    SubjectKind,
};

use super::Desk;
use super::mark;
use super::pin::pin_fits;

/// After so many wrong PINs for one person from one place, the next try from there must wait.
const FREE_TRIES: u64 = 5;

/// After so many wrong PINs from one place, whoever they were for. A whole shop may share a tablet,
/// so it is more.
const FREE_TRIES_OF_PEER: u64 = 20;

/// After so many wrong PINs for one person from anywhere, tries from places where that person never
/// signed in must wait. One place alone is stopped long before, so somebody tries from many.
const FREE_TRIES_OF_PERSON: u64 = 50;

/// Wrong PINs are counted over this time, in seconds.
const COUNTED_S: u64 = 24 * 3_600;

/// Sessions that are over and wrong PINs are deleted this long afterwards, in seconds: a bench with
/// a clock that is a day or a week fast takes nothing from the others on the same book. Own choice,
/// no source.
const KEPT_S: u64 = 60 * 24 * 3_600;

/// The first wait, in seconds; each further wrong PIN doubles it.
const FIRST_WAIT_S: u64 = 30;

/// The longest wait, in seconds.
const LONGEST_WAIT_S: u64 = 3_600;

/// Where a try comes from.
#[derive(Clone, Debug, Default)]
pub(crate) struct Door {
    /// As the network names it.
    pub(crate) peer: String,
    /// Whether that is the machine which keeps the book.
    pub(crate) is_here: bool,
    /// The marks that the browser got when people signed in at it.
    pub(crate) marks: Vec<String>,
}

/// What became of a try.
pub(super) enum Tried {
    /// The PIN is this person's, and this is its hash.
    Right(Subject, String),
    /// Initials and PIN do not belong together.
    Wrong,
    /// Too many wrong tries: wait so many seconds.
    Wait(u64),
}

/// Compares initials and PIN with the book. One try at a time, so that many at once are counted
/// like many in a row.
pub(super) async fn tried(
    desk: &Desk,
    initials: &Initials,
    pin: &str,
    door: &Door,
) -> Result<Tried, ShopError> {
    let _turn = desk.tries.lock().await;
    let (book, now) = (desk.book(), desk.now());
    book.forget_old(now.earlier(KEPT_S)).await?;
    let person = book.find(SubjectKind::Person, initials.as_str()).await?;
    let hash = match &person {
        Some(person) => pin_of(desk, &person.subject).await?,
        None => None,
    };
    let known = hash.as_deref().and_then(|hash| mark::known(&door.marks, initials, hash));
    let wait_s = wait_s(desk, initials, door, known.as_deref(), now).await?;
    if wait_s > 0 {
        return Ok(Tried::Wait(wait_s));
    }
    let fits = pin_fits(pin.to_owned(), hash.clone()).await?;
    let from = known.unwrap_or_else(|| door.peer.clone());
    if let (true, Some(person), Some(hash)) = (fits, person, hash) {
        book.forgive(initials, Some(&from)).await?;
        return Ok(Tried::Right(person.subject, hash));
    }
    book.note_failure(&FailedAttempt { initials: initials.clone(), peer: from, at: now }).await?;
    Ok(Tried::Wrong)
}

/// How long the next try must wait: the longest wait of all that it is counted under.
async fn wait_s(
    desk: &Desk,
    initials: &Initials,
    door: &Door,
    known: Option<&str>,
    now: Moment,
) -> Result<u64, ShopError> {
    let (book, since) = (desk.book(), now.earlier(COUNTED_S));
    let peer = known.unwrap_or(&door.peer);
    let mut asked = vec![(AttemptsOf::Both { initials, peer }, FREE_TRIES)];
    if known.is_none() {
        asked.push((AttemptsOf::Peer(peer), FREE_TRIES_OF_PEER));
    }
    if known.is_none() && !door.is_here {
        asked.push((AttemptsOf::Initials(initials), FREE_TRIES_OF_PERSON));
    }
    let mut longest_s = 0;
    for (of, free) in asked {
        let failures = book.failures_since(of, since, now).await?;
        longest_s = longest_s.max(left_s(failures, free, now));
    }
    Ok(longest_s)
}

/// What is left of a wait: it grows with every wrong PIN beyond the free ones.
fn left_s(failures: Failures, free: u64, now: Moment) -> u64 {
    let (Some(over), Some(last)) = (failures.count.checked_sub(free), failures.last) else {
        return 0;
    };
    let doubled = u32::try_from(over).ok().and_then(|over| 2_u64.checked_pow(over));
    let wait_s = doubled.map_or(LONGEST_WAIT_S, |by| FIRST_WAIT_S.saturating_mul(by));
    let over = last.later(wait_s.min(LONGEST_WAIT_S));
    let left_us = u64::try_from(over.micros() - now.micros()).unwrap_or_default();
    left_us.div_ceil(1_000_000)
}

/// The hash of a person's PIN, where one was set.
pub(super) async fn pin_of(desk: &Desk, person: &Subject) -> Result<Option<String>, ShopError> {
    let latest = desk.latest(person).await?;
    Ok(match &latest.state {
        Some(State::Person(person)) => person.pin.clone(),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Counted out beforehand: a PIN of four digits has 10 000 values. From one place a person's
    /// PIN can be tried at most 5 times at once, then after waits that double from half a minute to
    /// an hour: 35 tries or fewer in a day, so that half of them take more than four months.
    #[test]
    fn waits_grow_until_guessing_is_hopeless() {
        let mut now = Moment::from_micros(1_700_000_000_000_000).unwrap();
        let (began, mut failures) = (now, Failures::default());
        let mut waits = Vec::new();
        while now.micros() - began.micros() < 24 * 3_600 * 1_000_000 {
            let wait = left_s(failures, FREE_TRIES, now);
            waits.push(wait);
            now = now.later(wait);
            assert_eq!(left_s(failures, FREE_TRIES, now), 0, "the wait is over when it says so");
            failures = Failures { count: failures.count + 1, last: Some(now) };
        }
        assert_eq!(&waits[..10], [0, 0, 0, 0, 0, 30, 60, 120, 240, 480]);
        assert_eq!(waits.iter().max(), Some(&3_600));
        assert!(waits.len() <= 35, "{}", waits.len());
        assert!(10_000 / 2 / waits.len() > 120, "days for half of all PINs");
    }
}
