//! What can go wrong inside a transaction: the shop's own refusals, and the engine's failures.

use shop::ShopError;
use sqlx::error::DatabaseError;
use sqlx::sqlite::SqliteError;

/// A refusal or a failure.
#[derive(Debug)]
pub(crate) enum Fault {
    Shop(ShopError),
    Sql(sqlx::Error),
}

/// Codes of an engine that saw two transactions in each other's way and gave one of them up: a
/// serialization failure and a deadlock of PostgreSQL, a book of SQLite that is being recovered or
/// has moved on. A file that is plainly busy is not among them: it was waited for already.
const PASSING: [&str; 4] = ["40001", "40P01", "261", "517"];

impl From<ShopError> for Fault {
    fn from(error: ShopError) -> Self {
        Self::Shop(error)
    }
}

impl From<sqlx::Error> for Fault {
    fn from(error: sqlx::Error) -> Self {
        Self::Sql(error)
    }
}

impl Fault {
    /// Whether the same may succeed when it is tried again.
    pub(crate) fn is_passing(&self) -> bool {
        let Self::Sql(error) = self else { return false };
        let code = error.as_database_error().and_then(DatabaseError::code);
        code.is_some_and(|code| PASSING.contains(&code.as_ref()))
    }

    /// Whether something that may stand once stands already.
    pub(crate) fn is_taken(&self) -> bool {
        let Self::Sql(error) = self else { return false };
        error.as_database_error().is_some_and(DatabaseError::is_unique_violation)
    }

    /// Whether it is the place that stands in the way of reading as one usually does: nothing may
    /// be written there, or there is no room.
    pub(crate) fn is_of_the_place(&self) -> bool {
        let Self::Sql(sqlx::Error::Database(error)) = self else { return false };
        let code = error.code().and_then(|code| code.parse().ok());
        code.is_some_and(|code: u32| matches!(code & 0xff, 8 | 10 | 13 | 14))
    }

    /// What it comes to where a file that can be read cannot be opened to be written to: SQLite
    /// then names the files beside it that it cannot make, and not the reason.
    pub(crate) fn of_writing(self) -> Self {
        let Self::Sql(error) = &self else { return self };
        let code = error.as_database_error().and_then(DatabaseError::code);
        if code.is_none_or(|code| code.parse() != Ok(14_u32)) {
            return self;
        }
        Self::Shop(ShopError::store("be opened to be written to", ONLY_READ))
    }

    /// The shop's error, with what was being done.
    pub(crate) fn told(self, action: &str) -> ShopError {
        match self {
            Self::Shop(error) => error,
            Self::Sql(error) => ShopError::store(action, words(&error)),
        }
    }
}

/// The engine's words, and what to do where that is known.
pub(crate) fn words(error: &sqlx::Error) -> String {
    match error {
        sqlx::Error::PoolTimedOut => format!("no connection was to be had in time; {AWAY}"),
        sqlx::Error::PoolClosed => "it is being closed".to_owned(),
        sqlx::Error::Io(away) => format!("{away}; {AWAY}"),
        sqlx::Error::Database(database) => {
            let said = database.message();
            advice(database.as_ref()).map_or(said.to_owned(), |next| format!("{said}; {next}"))
        }
        other => other.to_string(),
    }
}

/// What to do where nobody answers.
const AWAY: &str = "its server or its disk is away, or has too much to do: see that it is there, \
                    then try again";

/// What to do where a file may not be written to.
const ONLY_READ: &str = "it may only be read here: the file and its folder must let themselves be \
                         written to. Give whoever runs this program the right, or restore a copy \
                         to a folder where they have it. To look needs no such right: book look, \
                         find, history, check, export, backup";

/// What to do where the engine says this.
fn advice(error: &dyn DatabaseError) -> Option<&'static str> {
    let code = error.code()?;
    if error.try_downcast_ref::<SqliteError>().is_some() {
        code.parse().ok().and_then(|code: u32| of_sqlite(code & 0xff))
    } else {
        of_postgres(&code)
    }
}

/// By the lower eight bits of SQLite's result codes, which say what kind of failure it is.
const fn of_sqlite(code: u32) -> Option<&'static str> {
    Some(match code {
        5 | 6 => "another program holds the book: close it there, then try again",
        8 => ONLY_READ,
        10 => {
            "its disk has no room or does not work: make room or mend it, then try again. What was \
             acknowledged before is there"
        }
        11 | 26 => {
            "the file is damaged or is no book: keep it as it is, and restore the last backup"
        }
        13 => "the disk is full: make room, then try again. What was acknowledged before is there",
        14 => "the file cannot be opened: see that its folder is there and may be written to",
        _ => return None,
    })
}

/// By the classes and codes in appendix A of PostgreSQL's manual.
fn of_postgres(code: &str) -> Option<&'static str> {
    Some(match code {
        "53100" => {
            "the server's disk is full: make room there, then try again. What was acknowledged \
             before is there"
        }
        "53300" => "the server has too many visitors: close some, or let it take more",
        "42501" => {
            "the server does not let this program do that: have whoever keeps the server give its \
             user the right, or name another user in the book's address. A user who may only read \
             can look: book look, find, history, check, export, backup"
        }
        "25006" => "the server only lets one read: name the one that may be written to",
        "55P03" => "another program holds the book: close it there, then try again",
        "3D000" => "there is no such database: make it on the server, or name another",
        code if code.starts_with("28") => {
            "the server does not let this program in: see the name and the password in the book's \
             address"
        }
        code if code.starts_with("08") || code.starts_with("57P") || code == "55000" => AWAY,
        code if code.starts_with("XX") => {
            "the server's data may be damaged: stop, keep them as they are, and restore the last \
             backup"
        }
        _ => return None,
    })
}
