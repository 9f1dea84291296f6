//! Signing in: initials and a PIN, where others than this machine can reach the bench.

use argon2::Argon2;
use argon2::PasswordHash;
use argon2::password_hash::{PasswordHasher, PasswordVerifier};
use sha2::{Digest, Sha256};
use shop::ShopError;
use shop::book::{
    AttemptsOf, FailedAttempt, Initials, Moment, Session, Sessions, State, Store, Subject,
    SubjectKind, TokenHash,
};

use super::Desk;

/// How long a session holds after it was last used: a shift, in seconds.
pub(crate) const SESSION_S: u64 = 12 * 3_600;

/// After so many wrong PINs for one person the next try must wait.
const FREE_TRIES: u64 = 5;

/// Wrong PINs are counted over this time, in seconds.
const COUNTED_S: u64 = 15 * 60;

/// Shortest and longest PIN, in characters.
const PIN_CHARACTERS: (usize, usize) = (4, 64);

/// What became of a try.
pub(crate) enum SignIn {
    /// The token of the new session.
    Open(String),
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
) -> Result<SignIn, ShopError> {
    let book = desk.book();
    let now = desk.now();
    let since = back(now, COUNTED_S);
    book.forget_old(now, since).await?;
    let failed = book.failures_since(AttemptsOf::Initials(initials), since).await?;
    if failed >= FREE_TRIES {
        return Ok(SignIn::Wait(COUNTED_S));
    }
    let person = book.find(SubjectKind::Person, initials.as_str()).await?;
    let hash = match &person {
        Some(person) => pin_of(desk, &person.subject).await?,
        None => None,
    };
    let fits = fits(pin.to_owned(), hash).await?;
    match person.filter(|_| fits) {
        Some(person) => {
            book.forgive(initials).await?;
            open(desk, person.subject, now).await.map(SignIn::Open)
        }
        None => {
            let peer = "bench".to_owned();
            let attempt = FailedAttempt { initials: initials.clone(), peer, at: now };
            book.note_failure(&attempt).await?;
            Ok(SignIn::Wrong)
        }
    }
}

async fn pin_of(desk: &Desk, subject: &Subject) -> Result<Option<String>, ShopError> {
    let latest = desk.latest(subject).await?;
    Ok(match &latest.state {
        Some(State::Person(person)) => person.pin.clone(),
        _ => None,
    })
}

/// Whether a PIN has this hash. Somebody without a PIN is hashed for as long as anybody else, so
/// that the time tells nothing. Hashing is slow on purpose and runs beside the other requests.
async fn fits(pin: String, hash: Option<String>) -> Result<bool, ShopError> {
    let compared = tokio::task::spawn_blocking(move || {
        let Some(hash) = hash else {
            return pin_hash(&pin).is_ok_and(|hash| hash.is_empty());
        };
        let parsed = PasswordHash::new(&hash);
        parsed.is_ok_and(|hash| Argon2::default().verify_password(pin.as_bytes(), &hash).is_ok())
    });
    compared.await.map_err(|error| ShopError::store("compare a PIN", error))
}

async fn open(desk: &Desk, person: Subject, now: Moment) -> Result<String, ShopError> {
    let token = token()?;
    let session = Session {
        token: hashed(&token),
        person: person.id,
        made_at: now,
        last_seen: now,
        expires_at: forward(now, SESSION_S),
    };
    desk.book().open_session(session).await?;
    Ok(token)
}

/// 32 random bytes as hexadecimal digits.
fn token() -> Result<String, ShopError> {
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
        desk.book().see_session(&token, now, forward(now, SESSION_S)).await?;
    }
    Initials::new(latest.number()).map(Some)
}

/// Ends a session.
pub(crate) async fn sign_out(desk: &Desk, token: &str) -> Result<(), ShopError> {
    desk.book().close_session(&hashed(token)).await.map(|_| ())
}

/// The hash of a PIN, as the book keeps it: Argon2id with a salt of its own (RFC 9106).
///
/// # Errors
/// `Invalid` where the PIN is too short or too long.
pub(crate) fn pin_hash(pin: &str) -> Result<String, ShopError> {
    let (least, most) = PIN_CHARACTERS;
    if !(least..=most).contains(&pin.chars().count()) {
        let reason = format!("write {least} to {most} characters");
        return Err(ShopError::invalid("pin", reason));
    }
    let hash = Argon2::default().hash_password(pin.as_bytes());
    let hash = hash.map_err(|error| ShopError::store("hash a PIN", error))?;
    Ok(hash.to_string())
}

fn forward(from: Moment, seconds: u64) -> Moment {
    let micros = i64::try_from(seconds).unwrap_or_default().saturating_mul(1_000_000);
    Moment::from_micros(from.micros().saturating_add(micros)).unwrap_or(Moment::LAST)
}

fn back(from: Moment, seconds: u64) -> Moment {
    let micros = i64::try_from(seconds).unwrap_or_default().saturating_mul(1_000_000);
    Moment::from_micros(from.micros().saturating_sub(micros)).unwrap_or(Moment::EPOCH)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hash_holds_for_its_pin_alone() {
        let hash = pin_hash("2718").unwrap();
        assert!(hash.starts_with("$argon2id$"), "{hash}");
        let parsed = PasswordHash::new(&hash).unwrap();
        let fits = |pin: &str| Argon2::default().verify_password(pin.as_bytes(), &parsed).is_ok();
        assert!(fits("2718") && !fits("2719") && !fits(""));
        assert_ne!(hash, pin_hash("2718").unwrap(), "each has a salt of its own");
        assert!(pin_hash("123").is_err() && pin_hash(&"1".repeat(65)).is_err());
    }
}
