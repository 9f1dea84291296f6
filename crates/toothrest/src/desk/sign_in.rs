//! Signing in: initials and a PIN, where others than this machine can reach the bench.

use sha2::{Digest, Sha256};
use shop::ShopError;
use shop::book::{Initials, Moment, Session, Sessions, Subject, SubjectKind, TokenHash};

use super::Desk;
use super::mark;
use super::tries::{Door, Tried, tried};

/// How long a session holds after it was last used: a shift, in seconds.
pub(crate) const SESSION_S: u64 = 12 * 3_600;

/// What became of a try.
pub(crate) enum SignIn {
    /// A session is open.
    Open {
        /// Its token.
        token: String,
        /// The mark by which the browser is known from now on.
        mark: String,
    },
    /// Initials and PIN do not belong together.
    Wrong,
    /// Too many wrong tries: wait so many seconds.
    Wait(u64),
}

/// Compares initials and PIN with the book, and opens a session.
pub(crate) async fn sign_in(
    desk: &Desk,
    initials: &Initials,
    pin: &str,
    door: &Door,
) -> Result<SignIn, ShopError> {
    match tried(desk, initials, pin, door).await? {
        Tried::Right(person, hash) => {
            let token = open(desk, person, desk.now()).await?;
            Ok(SignIn::Open { token, mark: mark::fresh(initials, &hash)? })
        }
        Tried::Wrong => Ok(SignIn::Wrong),
        Tried::Wait(wait_s) => Ok(SignIn::Wait(wait_s)),
    }
}

async fn open(desk: &Desk, person: Subject, now: Moment) -> Result<String, ShopError> {
    let token = token()?;
    let session = Session {
        token: hashed(&token),
        person: person.id,
        made_at: now,
        last_seen: now,
        expires_at: now.later(SESSION_S),
    };
    desk.book().open_session(session).await?;
    Ok(token)
}

/// 32 random bytes as hexadecimal digits.
pub(super) fn token() -> Result<String, ShopError> {
    let mut bytes = [0; 32];
    getrandom::fill(&mut bytes).map_err(|error| ShopError::store("open a session", error))?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

fn hashed(token: &str) -> TokenHash {
    TokenHash::from_bytes(Sha256::digest(token.as_bytes()).into())
}

/// Whoever a session belongs to; nobody where it is over.
pub(crate) async fn person_of(desk: &Desk, token: &str) -> Result<Option<Initials>, ShopError> {
    let now = desk.now();
    let token = hashed(token);
    let Some(session) = desk.book().find_session(&token, now).await? else { return Ok(None) };
    let subject = Subject::new(SubjectKind::Person, session.person.clone());
    let latest = desk.latest(&subject).await?;
    if latest.retired.is_some() {
        desk.book().close_session(&token).await?;
        return Ok(None);
    }
    // Not at every request: the book need not be written to for each picture.
    if now.micros() - session.last_seen.micros() > 60_000_000 {
        desk.book().see_session(&token, now, now.later(SESSION_S)).await?;
    }
    Initials::new(latest.number()).map(Some)
}

/// Ends a session.
pub(crate) async fn sign_out(desk: &Desk, token: &str) -> Result<(), ShopError> {
    desk.book().close_session(&hashed(token)).await.map(|_| ())
}
