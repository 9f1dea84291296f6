//! Tokens with which other programs read from the bench: made once, kept as hashes, withdrawn.
//!
//! A token lies beside the sessions and belongs to somebody in the book as they do, but its hash is
//! of other words, so that none can sign in with a token and none can read with a session.

use book::Book;
use sha2::{Digest, Sha256};
use shop::ShopError;
use shop::book::{Id, Initials, Moment, Session, Sessions, Subject, SubjectKind, TokenHash};

use super::Desk;
use super::sign_in::token;

const DAY_S: u64 = 86_400;

/// The hash under which the book keeps a token.
pub(crate) fn token_hash(token: &str) -> TokenHash {
    TokenHash::from_bytes(Sha256::digest(format!("reads by token {token}").as_bytes()).into())
}

/// Makes a token for a program that stands in the book, and gives it away for the only time.
pub(crate) async fn make_token(
    book: &Book,
    holder: &Id,
    now: Moment,
    days: u32,
) -> Result<String, ShopError> {
    let token = token()?;
    let session = Session {
        token: token_hash(&token),
        person: holder.clone(),
        made_at: now,
        last_seen: now,
        expires_at: now.later(u64::from(days) * DAY_S),
    };
    book.open_session(session).await?;
    Ok(token)
}

/// Whoever a token belongs to; nobody where it was withdrawn, is over, or its holder is done with.
pub(crate) async fn token_holder(
    desk: &Desk,
    hash: &TokenHash,
) -> Result<Option<Initials>, ShopError> {
    let Some(session) = desk.book().find_session(hash, desk.now()).await? else { return Ok(None) };
    let subject = Subject::new(SubjectKind::Person, session.person);
    let latest = desk.latest(&subject).await?;
    if latest.retired.is_some() {
        return Ok(None);
    }
    Initials::new(latest.number()).map(Some)
}
