//! Who is signed in, kept beside the histories and forgotten in time.

use shop::ShopError;
use shop::book::{
    AHEAD_S, AttemptsOf, FailedAttempt, Failures, Id, Initials, Moment, Session, Sessions, Subject,
    SubjectKind, TokenHash, initials_key,
};

use crate::book::Book;
use crate::engine::{Fault, Row, Value};
use crate::{sql, write};

/// What the book is doing, for its messages.
const SIGN_IN: &str = "keep sessions";

impl Book {
    /// Runs one statement by itself and says how many rows it changed.
    async fn change(&self, text: &str, values: Vec<Value>) -> Result<u64, ShopError> {
        let changed = async {
            let mut work = self.engine.begin().await?;
            let changed = work.run(text, values).await?;
            work.commit().await.map(|()| changed)
        };
        changed.await.map_err(|fault: Fault| fault.told(SIGN_IN))
    }

    async fn opened(&self, session: &Session) -> Result<(), Fault> {
        let person = Subject::new(SubjectKind::Person, session.person.clone());
        let mut work = self.engine.begin().await?;
        if work.rows(sql::IS_THERE, write::named(&person)).await?.is_empty() {
            return Err(Fault::Shop(ShopError::not_in_book(&person)));
        }
        match work.run(sql::OPEN_SESSION, columns(session)).await {
            Err(fault) if fault.is_taken() => Err(Fault::Shop(ShopError::token_taken())),
            Err(fault) => Err(fault),
            Ok(_) => work.commit().await,
        }
    }
}

fn columns(session: &Session) -> Vec<Value> {
    vec![
        session.token.as_str().into(),
        session.person.as_str().into(),
        session.made_at.micros().into(),
        session.last_seen.micros().into(),
        session.expires_at.micros().into(),
    ]
}

fn session(row: &Row) -> Result<Session, Fault> {
    Ok(Session {
        token: TokenHash::from_text(&row.text(0)?)?,
        person: Id::from_text(&row.text(1)?)?,
        made_at: Moment::from_micros(row.whole(2)?)?,
        last_seen: Moment::from_micros(row.whole(3)?)?,
        expires_at: Moment::from_micros(row.whole(4)?)?,
    })
}

/// A name of a peer that may stand in a statement of either engine.
fn plain(peer: &str) -> String {
    peer.replace('\0', " ")
}

fn failures(row: &Row) -> Result<Failures, Fault> {
    let count = row.number(0)?;
    let last = if count > 0 { Some(Moment::from_micros(row.whole(1)?)?) } else { None };
    Ok(Failures { count, last })
}

impl Sessions for Book {
    async fn open_session(&self, session: Session) -> Result<(), ShopError> {
        session.check()?;
        self.opened(&session).await.map_err(|fault| fault.told(SIGN_IN))
    }

    async fn find_session(
        &self,
        token: &TokenHash,
        at: Moment,
    ) -> Result<Option<Session>, ShopError> {
        let ahead = at.later(AHEAD_S).micros();
        let values = vec![token.as_str().into(), at.micros().into(), ahead.into()];
        let found = self.engine.rows(sql::FIND_SESSION, values).await;
        let found = found.and_then(|rows| rows.first().map(session).transpose());
        found.map_err(|fault| fault.told(SIGN_IN))
    }

    async fn see_session(
        &self,
        token: &TokenHash,
        at: Moment,
        expires_at: Moment,
    ) -> Result<bool, ShopError> {
        let values = vec![token.as_str().into(), at.micros().into(), expires_at.micros().into()];
        Ok(self.change(sql::SEE_SESSION, values).await? > 0)
    }

    async fn close_session(&self, token: &TokenHash) -> Result<bool, ShopError> {
        Ok(self.change(sql::CLOSE_SESSION, vec![token.as_str().into()]).await? > 0)
    }

    async fn close_sessions_of(&self, person: &Id) -> Result<u64, ShopError> {
        self.change(sql::CLOSE_SESSIONS_OF, vec![person.as_str().into()]).await
    }

    async fn note_failure(&self, attempt: &FailedAttempt) -> Result<(), ShopError> {
        attempt.check()?;
        let values = vec![
            initials_key(&attempt.initials).into(),
            attempt.peer.as_str().into(),
            attempt.at.micros().into(),
        ];
        self.change(sql::NOTE_ATTEMPT, values).await.map(|_| ())
    }

    async fn failures_since(
        &self,
        of: AttemptsOf<'_>,
        since: Moment,
        now: Moment,
    ) -> Result<Failures, ShopError> {
        let (text, mut values) = match of {
            AttemptsOf::Initials(initials) => {
                (sql::ATTEMPTS_BY_INITIALS, vec![initials_key(initials).into()])
            }
            AttemptsOf::Peer(peer) => (sql::ATTEMPTS_BY_PEER, vec![plain(peer).into()]),
            AttemptsOf::Both { initials, peer } => {
                let values = vec![initials_key(initials).into(), plain(peer).into()];
                (sql::ATTEMPTS_BY_BOTH, values)
            }
        };
        values.extend([since.micros().into(), now.later(AHEAD_S).micros().into()]);
        let found = self.engine.rows(text, values).await;
        let found = found.and_then(|rows| rows.first().map(failures).transpose());
        Ok(found.map_err(|fault| fault.told(SIGN_IN))?.unwrap_or_default())
    }

    async fn forgive(&self, initials: &Initials, peer: Option<&str>) -> Result<(), ShopError> {
        let whose = initials_key(initials).into();
        let changed = match peer {
            Some(peer) => {
                self.change(sql::FORGIVE_ATTEMPTS_FROM, vec![whose, plain(peer).into()]).await
            }
            None => self.change(sql::FORGIVE_ATTEMPTS, vec![whose]).await,
        };
        changed.map(|_| ())
    }

    async fn forget_old(&self, before: Moment) -> Result<u64, ShopError> {
        let sessions = self.change(sql::DROP_SESSIONS, vec![before.micros().into()]).await?;
        let attempts = self.change(sql::DROP_ATTEMPTS, vec![before.micros().into()]).await?;
        Ok(sessions + attempts)
    }
}
