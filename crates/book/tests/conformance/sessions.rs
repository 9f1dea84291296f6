//! Who is signed in, and who tried in vain.

use shop::ShopError;
use shop::book::{
    AttemptsOf, FailedAttempt, Failures, Id, Initials, Moment, Session, Sessions, Store, Subject,
    SubjectKind, TokenHash,
};

use crate::Twice;
use crate::common::samples::person_entered;
use crate::common::{stamp, subject, write};

fn at(second: i64) -> Moment {
    stamp("AB", second * 1_000_000).at
}

fn token(byte: u8) -> TokenHash {
    TokenHash::from_bytes([byte; 32])
}

fn initials(text: &str) -> Initials {
    Initials::new(text).unwrap()
}

async fn person<S: Store>(book: &S, initials: &str) -> Subject {
    let person = subject(SubjectKind::Person);
    book.append(vec![write(&person, 0, vec![person_entered(initials)])]).await.unwrap();
    person
}

/// A session that holds for a minute.
fn session(byte: u8, person: &Id) -> Session {
    Session {
        token: token(byte),
        person: person.clone(),
        made_at: at(0),
        last_seen: at(0),
        expires_at: at(60),
    }
}

pub(crate) async fn a_session_holds_until_it_is_over_or_closed<S: Store + Sessions>(
    books: Twice<S>,
) {
    let Twice { one, other } = books;
    let (ab, cd) = (person(&*one, "AB").await.id, person(&*one, "CD").await.id);
    for (byte, person) in [(1, &ab), (2, &ab), (3, &ab), (4, &cd)] {
        one.open_session(session(byte, person)).await.unwrap();
    }
    assert_eq!(other.find_session(&token(1), at(0)).await.unwrap(), Some(session(1, &ab)));
    assert_eq!(other.find_session(&token(1), at(59)).await.unwrap(), Some(session(1, &ab)));
    assert_eq!(other.find_session(&token(1), at(60)).await.unwrap(), None, "it is over");
    assert_eq!(other.find_session(&token(9), at(0)).await.unwrap(), None, "nobody's token");

    assert!(other.close_session(&token(1)).await.unwrap());
    assert!(!one.close_session(&token(1)).await.unwrap(), "closed before");
    assert_eq!(one.find_session(&token(1), at(0)).await.unwrap(), None);
    assert_eq!(one.close_sessions_of(&ab).await.unwrap(), 2);
    assert_eq!(other.find_session(&token(3), at(0)).await.unwrap(), None);
    assert_eq!(other.find_session(&token(4), at(0)).await.unwrap(), Some(session(4, &cd)));
}

pub(crate) async fn a_session_that_was_seen_holds_longer<S: Store + Sessions>(books: Twice<S>) {
    let Twice { one, other } = books;
    let ab = person(&*one, "AB").await.id;
    one.open_session(session(1, &ab)).await.unwrap();
    assert!(one.see_session(&token(1), at(30), at(90)).await.unwrap());
    assert!(other.see_session(&token(1), at(20), at(80)).await.unwrap(), "a late word");
    let seen = Session { last_seen: at(30), expires_at: at(90), ..session(1, &ab) };
    assert_eq!(other.find_session(&token(1), at(89)).await.unwrap(), Some(seen));
    assert!(!one.see_session(&token(1), at(90), at(150)).await.unwrap(), "it was over");
    assert!(!one.see_session(&token(2), at(1), at(150)).await.unwrap(), "there is none");

    assert_eq!(one.forget_old(at(89)).await.unwrap(), 0);
    assert_eq!(one.forget_old(at(90)).await.unwrap(), 1);
    assert_eq!(other.find_session(&token(1), at(0)).await.unwrap(), None);
}

pub(crate) async fn an_unsound_session_is_not_opened<S: Store + Sessions>(books: Twice<S>) {
    let Twice { one, other } = books;
    let ab = person(&*one, "AB").await;
    let cutter = subject(SubjectKind::Cutter);
    one.append(vec![write(&cutter, 0, vec![crate::common::samples::cutter_entered("S-1")])])
        .await
        .unwrap();
    one.open_session(session(1, &ab.id)).await.unwrap();
    let wrong = [
        session(1, &ab.id),
        session(2, &subject(SubjectKind::Person).id),
        session(3, &cutter.id),
        Session { last_seen: at(-1), ..session(4, &ab.id) },
        Session { expires_at: at(0), ..session(5, &ab.id) },
    ];
    for session in wrong {
        let refused = other.open_session(session.clone()).await;
        assert!(matches!(refused, Err(ShopError::Invalid { .. })), "{session:?}: {refused:?}");
    }
    assert_eq!(one.close_sessions_of(&ab.id).await.unwrap(), 1);
}

pub(crate) async fn failed_attempts_are_counted_and_forgotten<S: Store + Sessions>(
    books: Twice<S>,
) {
    let Twice { one, other } = books;
    let tries = [("AB", "10.0.0.7", 1), ("ab", "10.0.0.8", 2), ("CD", "10.0.0.7", 3)];
    for (who, peer, second) in tries {
        let attempt =
            FailedAttempt { initials: initials(who), peer: peer.to_owned(), at: at(second) };
        one.note_failure(&attempt).await.unwrap();
    }
    let (ab, cd) = (initials("Ab"), initials("CD"));
    let both = |peer| AttemptsOf::Both { initials: &ab, peer };
    for (of, since, count, last) in [
        (AttemptsOf::Initials(&ab), 0, 2, Some(2)),
        (AttemptsOf::Initials(&ab), 2, 1, Some(2)),
        (AttemptsOf::Initials(&ab), 3, 0, None),
        (AttemptsOf::Peer("10.0.0.7"), 0, 2, Some(3)),
        (AttemptsOf::Peer("10.0.0.9"), 0, 0, None),
        (AttemptsOf::Peer("a\0b"), 0, 0, None),
        (both("10.0.0.7"), 0, 1, Some(1)),
        (both("10.0.0.8"), 0, 1, Some(2)),
        (both("10.0.0.9"), 0, 0, None),
    ] {
        let found = other.failures_since(of, at(since), at(4)).await.unwrap();
        assert_eq!(found, Failures { count, last: last.map(at) }, "{of:?} since {since}");
    }
    let count = async |of| one.failures_since(of, at(0), at(4)).await.unwrap().count;
    let odd = FailedAttempt { initials: cd.clone(), peer: "a\nb".to_owned(), at: at(4) };
    assert!(matches!(one.note_failure(&odd).await, Err(ShopError::Invalid { .. })));

    other.forgive(&ab, Some("10.0.0.8")).await.unwrap();
    assert_eq!(count(AttemptsOf::Initials(&ab)).await, 1, "only those from there");
    other.forgive(&ab, None).await.unwrap();
    assert_eq!(count(AttemptsOf::Initials(&ab)).await, 0);
    assert_eq!(count(AttemptsOf::Initials(&cd)).await, 1);
    assert_eq!(other.forget_old(at(3)).await.unwrap(), 0, "it is counted in");
    assert_eq!(other.forget_old(at(4)).await.unwrap(), 1);
    assert_eq!(count(AttemptsOf::Peer("10.0.0.7")).await, 0);
}

/// The clock was a year ahead and was put back: nobody waits a year, or stays signed in for one.
/// Nor is anything deleted for it: the clock that asks may itself be the wrong one of several.
pub(crate) async fn a_clock_that_was_put_back_is_not_waited_for<S: Store + Sessions>(
    books: Twice<S>,
) {
    let Twice { one, other } = books;
    let ab = person(&*one, "AB").await.id;
    let year_s = 365 * 24 * 3_600;
    for ahead in [0, 299, year_s] {
        let attempt =
            FailedAttempt { initials: initials("AB"), peer: "tablet".to_owned(), at: at(ahead) };
        one.note_failure(&attempt).await.unwrap();
    }
    let (made_at, expires_at) = (at(year_s), at(year_s + 60));
    let of_then = Session { made_at, last_seen: made_at, expires_at, ..session(1, &ab) };
    one.open_session(of_then).await.unwrap();
    one.open_session(session(2, &ab)).await.unwrap();
    let of = AttemptsOf::Peer("tablet");
    let left = one.failures_since(of, at(0), at(0)).await.unwrap();
    assert_eq!(left, Failures { count: 2, last: Some(at(299)) }, "two clocks never agree quite");
    assert_eq!(other.forget_old(at(0)).await.unwrap(), 0, "the clock that asks may be behind");
    let then = one.failures_since(of, at(0), made_at).await.unwrap();
    assert_eq!(then.count, 3, "a clock that was right all along still counts them");
    assert_eq!(one.find_session(&token(1), at(0)).await.unwrap(), None);
    assert!(one.find_session(&token(1), made_at).await.unwrap().is_some(), "by the other clock");
    assert_eq!(one.find_session(&token(2), at(0)).await.unwrap(), Some(session(2, &ab)));
}
