//! Sessions of a book that is kept in memory.

use std::collections::BTreeMap;

use super::id::Id;
use super::memory::MemoryBook;
use super::moment::Moment;
use super::session::{
    AHEAD_S, AttemptsOf, FailedAttempt, Failures, Session, Sessions, TokenHash, initials_key,
};
use super::stamp::Initials;
use super::subject::{Subject, SubjectKind};
use crate::error::ShopError;

/// Who is signed in and who tried in vain.
#[derive(Default)]
pub(super) struct Desk {
    sessions: BTreeMap<TokenHash, Session>,
    failed: Vec<FailedAttempt>,
}

/// Whether a session is believed at a moment.
fn holds(session: &Session, at: Moment) -> bool {
    at < session.expires_at && session.last_seen <= at.later(AHEAD_S)
}

fn count(before: usize, after: usize) -> u64 {
    u64::try_from(before.saturating_sub(after)).unwrap_or(u64::MAX)
}

impl AttemptsOf<'_> {
    fn has(&self, attempt: &FailedAttempt) -> bool {
        match self {
            Self::Initials(initials) => initials_key(initials) == initials_key(&attempt.initials),
            Self::Peer(peer) => *peer == attempt.peer,
            Self::Both { initials, peer } => {
                Self::Initials(initials).has(attempt) && Self::Peer(peer).has(attempt)
            }
        }
    }
}

impl Sessions for MemoryBook {
    async fn open_session(&self, session: Session) -> Result<(), ShopError> {
        session.check()?;
        let person = Subject::new(SubjectKind::Person, session.person.clone());
        if !self.holds(&person) {
            return Err(ShopError::not_in_book(&person));
        }
        let mut desk = self.desk();
        if desk.sessions.contains_key(&session.token) {
            return Err(ShopError::token_taken());
        }
        desk.sessions.insert(session.token.clone(), session);
        Ok(())
    }

    async fn find_session(
        &self,
        token: &TokenHash,
        at: Moment,
    ) -> Result<Option<Session>, ShopError> {
        let desk = self.desk();
        Ok(desk.sessions.get(token).filter(|session| holds(session, at)).cloned())
    }

    async fn see_session(
        &self,
        token: &TokenHash,
        at: Moment,
        expires_at: Moment,
    ) -> Result<bool, ShopError> {
        let mut desk = self.desk();
        let held = desk.sessions.get_mut(token).filter(|session| at < session.expires_at);
        Ok(held.is_some_and(|session| {
            session.last_seen = session.last_seen.max(at);
            session.expires_at = session.expires_at.max(expires_at);
            true
        }))
    }

    async fn close_session(&self, token: &TokenHash) -> Result<bool, ShopError> {
        Ok(self.desk().sessions.remove(token).is_some())
    }

    async fn close_sessions_of(&self, person: &Id) -> Result<u64, ShopError> {
        let mut desk = self.desk();
        let before = desk.sessions.len();
        desk.sessions.retain(|_, session| session.person != *person);
        Ok(count(before, desk.sessions.len()))
    }

    async fn note_failure(&self, attempt: &FailedAttempt) -> Result<(), ShopError> {
        attempt.check()?;
        self.desk().failed.push(attempt.clone());
        Ok(())
    }

    async fn failures_since(
        &self,
        of: AttemptsOf<'_>,
        since: Moment,
        now: Moment,
    ) -> Result<Failures, ShopError> {
        let desk = self.desk();
        let counted = since..=now.later(AHEAD_S);
        let fits = |attempt: &&FailedAttempt| counted.contains(&attempt.at) && of.has(attempt);
        let found = || desk.failed.iter().filter(fits);
        let last = found().map(|attempt| attempt.at).max();
        Ok(Failures { count: count(found().count(), 0), last })
    }

    async fn forgive(&self, initials: &Initials, peer: Option<&str>) -> Result<(), ShopError> {
        let all = AttemptsOf::Initials(initials);
        let of = peer.map_or(all, |peer| AttemptsOf::Both { initials, peer });
        self.desk().failed.retain(|attempt| !of.has(attempt));
        Ok(())
    }

    async fn forget_old(&self, before: Moment) -> Result<u64, ShopError> {
        let mut desk = self.desk();
        let kept = desk.sessions.len() + desk.failed.len();
        desk.sessions.retain(|_, session| before < session.expires_at);
        desk.failed.retain(|attempt| before <= attempt.at);
        Ok(count(kept, desk.sessions.len() + desk.failed.len()))
    }
}
