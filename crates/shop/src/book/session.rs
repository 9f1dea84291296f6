//! Who is signed in, and who tried in vain.
//!
//! None of this is history: it is forgotten when its time is over, and no export carries it.

use std::fmt;
use std::future::Future;

use super::id::Id;
use super::moment::Moment;
use super::stamp::Initials;
use super::text;
use crate::error::ShopError;

/// Bytes of a hash of a token.
const HASH_BYTES: usize = 32;

/// How far ahead of a clock, in seconds, a time may stand that was written a while ago: two
/// machines that write to one book never agree quite. What stands further ahead is not believed:
/// its clock was put back since, or this one is behind. Nothing is deleted for it, since whoever
/// asks cannot know which of two clocks is right. Own choice, no source.
pub const AHEAD_S: u64 = 300;

/// The hash of the token by which a browser is known: 32 bytes as hexadecimal digits in lower
/// case. The token itself is kept nowhere, so that whoever reads the book cannot sign in with it.
#[derive(Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct TokenHash(String);

impl TokenHash {
    /// The hash with these bytes, as SHA-256 gives them.
    pub fn from_bytes(bytes: [u8; HASH_BYTES]) -> Self {
        Self(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
    }

    /// The hash that is written so.
    ///
    /// # Errors
    /// `Invalid` where it is anything but 64 hexadecimal digits in lower case.
    pub fn from_text(text: &str) -> Result<Self, ShopError> {
        let digit = |byte: u8| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte);
        if text.len() == 2 * HASH_BYTES && text.bytes().all(digit) {
            Ok(Self(text.to_owned()))
        } else {
            Err(ShopError::invalid("token", "its hash is not 64 hexadecimal digits"))
        }
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// A hash in a log would help nobody.
impl fmt::Debug for TokenHash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("TokenHash(..)")
    }
}

/// A person who is signed in on one browser.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Session {
    /// The hash of the browser's token.
    pub token: TokenHash,
    /// The person's subject.
    pub person: Id,
    /// When they signed in.
    pub made_at: Moment,
    /// When they were last seen.
    pub last_seen: Moment,
    /// From when on it holds no longer.
    pub expires_at: Moment,
}

impl Session {
    /// Checks that its times follow each other.
    ///
    /// # Errors
    /// `Invalid` where it was seen before it was made, or is over before that.
    pub fn check(&self) -> Result<(), ShopError> {
        if self.made_at <= self.last_seen && self.last_seen < self.expires_at {
            Ok(())
        } else {
            let reason = "it must be made, then seen, then over; set the clock";
            Err(ShopError::invalid("session", reason))
        }
    }
}

/// Somebody gave the wrong secret.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FailedAttempt {
    /// The initials that were given, whether or not there is such a person.
    pub initials: Initials,
    /// From where, as the network names it.
    pub peer: String,
    /// When.
    pub at: Moment,
}

/// Whose failed attempts are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AttemptsOf<'a> {
    /// Those that gave these initials, in capitals or small letters.
    Initials(&'a Initials),
    /// Those that came from there.
    Peer(&'a str),
    /// Those that gave these initials and came from there.
    Both {
        /// The initials.
        initials: &'a Initials,
        /// From where.
        peer: &'a str,
    },
}

/// How many attempts failed, and when the last one did.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Failures {
    /// So many.
    pub count: u64,
    /// When the last of them failed; none where none did.
    pub last: Option<Moment>,
}

impl FailedAttempt {
    /// Checks that the name of the peer is one short line.
    ///
    /// # Errors
    /// `Invalid` where it is not.
    pub fn check(&self) -> Result<(), ShopError> {
        text::name("peer", &self.peer)
    }
}

/// Initials made comparable.
pub fn initials_key(initials: &Initials) -> String {
    text::key(initials.as_str())
}

/// Where sessions are kept, beside the histories.
///
/// All methods answer `Store` where the keeping itself fails.
pub trait Sessions: Send + Sync {
    /// Opens a session.
    ///
    /// # Errors
    /// `Invalid` where its times do not follow each other, its token is in use, or its person is
    /// not in the book.
    fn open_session(&self, session: Session) -> impl Future<Output = Result<(), ShopError>> + Send;

    /// The session of a token, if it holds at this moment: it is not over, and was not last seen
    /// further ahead of it than [`AHEAD_S`], so that nobody stays signed in by a clock that was put
    /// back. Whether its person still works here is for the caller to ask.
    fn find_session(
        &self,
        token: &TokenHash,
        at: Moment,
    ) -> impl Future<Output = Result<Option<Session>, ShopError>> + Send;

    /// Notes that a person was seen, and until when the session holds from now on; whether there is
    /// such a session that holds at `at`. A time before the one that is noted changes nothing.
    fn see_session(
        &self,
        token: &TokenHash,
        at: Moment,
        expires_at: Moment,
    ) -> impl Future<Output = Result<bool, ShopError>> + Send;

    /// Closes a session; whether there was one.
    fn close_session(
        &self,
        token: &TokenHash,
    ) -> impl Future<Output = Result<bool, ShopError>> + Send;

    /// Closes every session of a person, and counts them.
    fn close_sessions_of(&self, person: &Id)
    -> impl Future<Output = Result<u64, ShopError>> + Send;

    /// Notes that somebody gave the wrong secret.
    ///
    /// # Errors
    /// `Invalid` where the peer's name is no short line.
    fn note_failure(
        &self,
        attempt: &FailedAttempt,
    ) -> impl Future<Output = Result<(), ShopError>> + Send;

    /// The attempts that failed since a moment, it counted in, up to [`AHEAD_S`] after `now`:
    /// nobody waits for a clock that was put back to catch up.
    fn failures_since(
        &self,
        of: AttemptsOf<'_>,
        since: Moment,
        now: Moment,
    ) -> impl Future<Output = Result<Failures, ShopError>> + Send;

    /// Forgets failed attempts that gave these initials: those from one place once their owner has
    /// signed in there, all of them where none is named.
    fn forgive(
        &self,
        initials: &Initials,
        peer: Option<&str>,
    ) -> impl Future<Output = Result<(), ShopError>> + Send;

    /// Forgets sessions that were over at `before` and attempts from before it; counts both
    /// together. Several machines share a book and their clocks disagree, so a caller goes by a
    /// moment well behind its own clock: what is over is not read anyway.
    fn forget_old(&self, before: Moment) -> impl Future<Output = Result<u64, ShopError>> + Send;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hash_is_64_digits() {
        let hash = TokenHash::from_bytes([0xAB; 32]);
        assert_eq!(hash.as_str(), "ab".repeat(32));
        assert_eq!(TokenHash::from_text(hash.as_str()).unwrap(), hash);
        for text in ["", "ab", &"AB".repeat(32), &"é".repeat(32), &"ab".repeat(33)] {
            assert!(TokenHash::from_text(text).is_err(), "{text:?}");
        }
        assert!(!format!("{hash:?}").contains("ab"), "a hash stays out of logs");
    }
}
