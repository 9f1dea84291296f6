//! Every statement. Nothing that a user wrote is ever part of one.

use shop::book::{Cursor, Id, Moment, Order, Query, Stage, SubjectKind};

use crate::engine::Value;

/// The columns of a summary, in the order in which rows are read.
macro_rules! summary_columns {
    () => {
        "s.id, s.kind, s.last, s.first_at, s.last_at, s.last_by, s.number, s.about, s.stage, \
         s.tray, s.size_mm"
    };
}

/// The columns of an entry, in the order in which rows are read.
macro_rules! entry_columns {
    () => {
        "s.id, s.kind, e.number, e.written_at, e.written_by, e.kind, e.version, e.body"
    };
}

pub(crate) const ADD_SUBJECT: &str = "INSERT INTO subject (id, kind, last, first_at, last_at, \
     last_by, number, number_key, about, \
     stage, live, tray, size_mm, reckoned) \
     VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14) \
     ON CONFLICT (id) DO NOTHING";

/// The one place where two writers meet: only one of them finds the number that it saw last, and
/// the row is locked until that one is done.
pub(crate) const TAKE_SUBJECT: &str =
    "UPDATE subject SET last = $3 WHERE id = $1 AND kind = $2 AND last = $4";

pub(crate) const RECKON_SUBJECT: &str = "UPDATE subject SET last = $3, first_at = $4, last_at = \
     $5, last_by = $6, number = $7, \
     number_key = $8, about = $9, stage = $10, live = $11, tray = $12, size_mm = $13, \
     reckoned = $14 WHERE id = $1 AND kind = $2";

pub(crate) const ADD_ENTRY: &str = "INSERT INTO entry (subject, number, written_at, written_by, \
     kind, version, body) \
     VALUES ($1, $2, $3, $4, $5, $6, $7)";

pub(crate) const ADD_GROUND_WITH: &str = "INSERT INTO ground_with (wheel, written_at, subject, \
     number) VALUES ($1, $2, $3, $4) \
     ON CONFLICT (subject, number) DO NOTHING";

pub(crate) const DROP_WORDS: &str = "DELETE FROM word WHERE subject = $1";

pub(crate) const ADD_WORD: &str =
    "INSERT INTO word (kind, word, subject) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING";

/// Whether the table of steps is there, and how many other tables with our names are.
pub(crate) const OUR_TABLES_IN_FILE: &str = "SELECT count(*) FILTER (WHERE name = \
     '_sqlx_migrations'), count(*) FILTER (WHERE name IN ('subject', 'entry')) \
     FROM sqlite_master WHERE type = 'table'";

/// The same on a server, as its search path has them.
pub(crate) const OUR_TABLES_ON_SERVER: &str = "SELECT count(to_regclass('_sqlx_migrations')), \
     count(to_regclass('subject')) + count(to_regclass('entry'))";

/// The steps by which a book came to its form.
pub(crate) const STEPS: &str = "SELECT version, description FROM _sqlx_migrations \
     ORDER BY version";

/// When the last entry was written, by the clock of whoever wrote it.
pub(crate) const LAST_WRITTEN: &str =
    "SELECT e.written_at FROM entry e ORDER BY e.written_at DESC LIMIT 1";

pub(crate) const IS_THERE: &str = "SELECT s.last FROM subject s WHERE s.id = $1 AND s.kind = $2";

pub(crate) const STALE: &str =
    "SELECT s.id, s.kind FROM subject s WHERE s.reckoned < $1 ORDER BY s.id LIMIT 100";

pub(crate) const SUBJECTS: &str = "SELECT s.id, s.kind, s.last FROM subject s WHERE s.kind = $1 \
     AND s.id > $2 \
     ORDER BY s.id LIMIT 500";

pub(crate) const SUMMARY: &str =
    concat!("SELECT ", summary_columns!(), " FROM subject s WHERE s.id = $1 AND s.kind = $2");

pub(crate) const FIND: &str = concat!(
    "SELECT ",
    summary_columns!(),
    " FROM subject s WHERE s.kind = $1 AND s.number_key = $2 AND s.live = 1"
);

pub(crate) const COUNT: &str = "SELECT count(*) FROM subject s WHERE s.kind = $1 AND s.stage = $2";

/// How many subjects there are in all.
pub(crate) const COUNT_ALL: &str = "SELECT count(*) FROM subject s";

pub(crate) const HISTORY: &str = concat!(
    "SELECT ",
    entry_columns!(),
    " FROM entry e JOIN subject s ON s.id = e.subject \
     WHERE e.subject = $1 AND s.kind = $2 AND e.number > $3 ORDER BY e.number LIMIT $4"
);

pub(crate) const WRITTEN: &str = concat!(
    "SELECT ",
    entry_columns!(),
    " FROM entry e JOIN subject s ON s.id = e.subject \
     WHERE e.written_at >= $1 AND e.written_at < $2 \
     AND (e.written_at, e.subject, e.number) > ($3, $4, $5) \
     ORDER BY e.written_at, e.subject, e.number LIMIT $6"
);

pub(crate) const GROUND_WITH: &str = concat!(
    "SELECT ",
    entry_columns!(),
    " FROM ground_with g JOIN entry e ON e.subject = g.subject AND e.number = g.number \
     JOIN subject s ON s.id = e.subject WHERE g.wheel = $1 \
     ORDER BY g.written_at DESC, g.subject DESC, g.number DESC LIMIT $2"
);

/// How many words begin so, as far as it matters.
pub(crate) const WORD_IS_COMMON: &str = "SELECT count(*) FROM (SELECT 1 FROM word w WHERE w.kind \
     = $1 AND w.word >= $2 \
     AND w.word < $3 LIMIT $4) AS found";

/// The words from which on a list is walked instead of looked up.
pub(crate) const COMMON_FROM: i64 = 1000;

/// The last character there is: behind it no word begins with what stands before it.
pub(crate) const LAST_CHARACTER: char = '\u{10FFFF}';

pub(crate) const OPEN_SESSION: &str = "INSERT INTO session (token, person, made_at, last_seen, \
     expires_at) VALUES ($1, $2, $3, $4, $5)";

pub(crate) const FIND_SESSION: &str = "SELECT x.token, x.person, x.made_at, x.last_seen, \
     x.expires_at FROM session x WHERE x.token = $1 AND x.expires_at > $2 AND x.last_seen <= $3";

/// Whoever looks later has seen it later, whichever is written first.
pub(crate) const SEE_SESSION: &str = "UPDATE session SET \
     last_seen = CASE WHEN last_seen > $2 THEN last_seen ELSE $2 END, \
     expires_at = CASE WHEN expires_at > $3 THEN expires_at ELSE $3 END \
     WHERE token = $1 AND expires_at > $2";

pub(crate) const CLOSE_SESSION: &str = "DELETE FROM session WHERE token = $1";

pub(crate) const CLOSE_SESSIONS_OF: &str = "DELETE FROM session WHERE person = $1";

pub(crate) const DROP_SESSIONS: &str = "DELETE FROM session WHERE expires_at <= $1";

pub(crate) const NOTE_ATTEMPT: &str =
    "INSERT INTO attempt (initials, peer, made_at) VALUES ($1, $2, $3)";

pub(crate) const ATTEMPTS_BY_INITIALS: &str = "SELECT count(*), max(a.made_at) FROM attempt a \
     WHERE a.initials = $1 AND a.made_at >= $2 AND a.made_at <= $3";

pub(crate) const ATTEMPTS_BY_PEER: &str = "SELECT count(*), max(a.made_at) FROM attempt a \
     WHERE a.peer = $1 AND a.made_at >= $2 AND a.made_at <= $3";

pub(crate) const ATTEMPTS_BY_BOTH: &str = "SELECT count(*), max(a.made_at) FROM attempt a \
     WHERE a.initials = $1 AND a.peer = $2 AND a.made_at >= $3 AND a.made_at <= $4";

pub(crate) const FORGIVE_ATTEMPTS: &str = "DELETE FROM attempt WHERE initials = $1";

pub(crate) const FORGIVE_ATTEMPTS_FROM: &str =
    "DELETE FROM attempt WHERE initials = $1 AND peer = $2";

pub(crate) const DROP_ATTEMPTS: &str = "DELETE FROM attempt WHERE made_at < $1";

/// A statement in the making, with its values.
struct Text {
    sql: String,
    values: Vec<Value>,
}

impl Text {
    fn bind(&mut self, value: impl Into<Value>) -> String {
        self.values.push(value.into());
        format!("${}", self.values.len())
    }
}

/// The statement of a list and its values. A word that is rare is looked up and leads to its few
/// subjects; a common one is asked of each subject in turn, for the page is soon full. Which way is
/// taken is said by the joins, since an engine that knows nothing of the words would rather follow
/// the order that is asked for, through the whole book.
pub(crate) fn list(query: &Query, words: &[(String, bool)]) -> (String, Vec<Value>) {
    let rare = words.iter().position(|(_, is_common)| !is_common);
    let mut text = Text { sql: String::new(), values: vec![query.kind.name().into()] };
    text.sql += concat!("SELECT ", summary_columns!(), " FROM ");
    match rare.and_then(|rare| words.get(rare)) {
        Some((word, _)) => text.look_up(word),
        None => text.sql += "subject s WHERE s.kind = $1",
    }
    if let Some(stage) = query.stage {
        let stage = text.bind(stage.name());
        text.sql += &format!(" AND s.stage = {stage}");
    }
    if let Some(tray) = &query.tray {
        let tray = text.bind(tray.as_str());
        text.sql += &format!(" AND s.tray = {tray}");
    }
    if query.live_only {
        text.sql += " AND s.live = 1";
    }
    let others = words.iter().enumerate().filter(|(at, _)| Some(*at) != rare);
    others.for_each(|(_, (word, _))| text.ask_for(word));
    text.turn_page(query);
    (text.sql, text.values)
}

impl Text {
    /// The bounds between which all words begin so.
    fn bounds(&mut self, word: &str) -> String {
        let (from, to) = (self.bind(word), self.bind(format!("{word}{LAST_CHARACTER}")));
        format!("w.word >= {from} AND w.word < {to}")
    }

    fn look_up(&mut self, word: &str) {
        let bounds = self.bounds(word);
        self.sql += &format!(
            "(SELECT DISTINCT w.subject AS id FROM word w WHERE w.kind = $1 AND {bounds}) f \
             CROSS JOIN subject s WHERE s.id = f.id AND s.kind = $1"
        );
    }

    fn ask_for(&mut self, word: &str) {
        let bounds = self.bounds(word);
        self.sql +=
            &format!(" AND EXISTS (SELECT 1 FROM word w WHERE w.subject = s.id AND {bounds})");
    }

    fn turn_page(&mut self, query: &Query) {
        if let Some(after) = &query.after {
            let id = self.bind(after.id.as_str());
            let behind = match query.order {
                Order::ByNumber => {
                    let key = self.bind(after.number_key.clone());
                    format!(" AND (s.number_key, s.id) > ({key}, {id})")
                }
                Order::LatestFirst => {
                    let at = self.bind(after.at.micros());
                    format!(" AND s.last_at <= {at} AND (s.last_at < {at} OR s.id > {id})")
                }
            };
            self.sql += &behind;
        }
        let limit = self.bind(query.limit + 1);
        let order = match query.order {
            Order::ByNumber => "s.number_key, s.id",
            Order::LatestFirst => "s.last_at DESC, s.id",
        };
        self.sql += &format!(" ORDER BY {order} LIMIT {limit}");
    }
}

/// Every statement that this program can send, for whoever wants to have them all prepared.
pub(crate) fn every() -> Vec<String> {
    let mut every: Vec<String> = FIXED.iter().map(|text| (*text).to_owned()).collect();
    let words = |is_common| vec![("a".to_owned(), is_common), ("b".to_owned(), true)];
    for query in every_query() {
        for words in [Vec::new(), words(false), words(true)] {
            every.push(list(&query, &words).0);
        }
    }
    every
}

/// One query for each form of a list.
fn every_query() -> Vec<Query> {
    let plain = Query::of(SubjectKind::Cutter);
    let end = Cursor { number_key: String::new(), at: Moment::EPOCH, id: Id::from_bits(0) };
    let mut queries = vec![plain.clone(), Query { live_only: false, ..plain }];
    let mut twice = |change: &dyn Fn(&mut Query)| {
        let mut changed = queries.clone();
        changed.iter_mut().for_each(change);
        queries.extend(changed);
    };
    twice(&|query| query.stage = Some(Stage::Waiting));
    twice(&|query| query.tray = Some(Id::from_bits(1)));
    twice(&|query| query.order = Order::LatestFirst);
    twice(&|query| query.after = Some(end.clone()));
    queries
}

const FIXED: [&str; 33] = [
    STEPS,
    LAST_WRITTEN,
    ADD_SUBJECT,
    TAKE_SUBJECT,
    RECKON_SUBJECT,
    ADD_ENTRY,
    ADD_GROUND_WITH,
    DROP_WORDS,
    ADD_WORD,
    IS_THERE,
    STALE,
    SUBJECTS,
    SUMMARY,
    FIND,
    COUNT,
    COUNT_ALL,
    WORD_IS_COMMON,
    HISTORY,
    WRITTEN,
    GROUND_WITH,
    OPEN_SESSION,
    FIND_SESSION,
    SEE_SESSION,
    CLOSE_SESSION,
    CLOSE_SESSIONS_OF,
    DROP_SESSIONS,
    NOTE_ATTEMPT,
    ATTEMPTS_BY_INITIALS,
    ATTEMPTS_BY_PEER,
    ATTEMPTS_BY_BOTH,
    FORGIVE_ATTEMPTS,
    FORGIVE_ATTEMPTS_FROM,
    DROP_ATTEMPTS,
];
