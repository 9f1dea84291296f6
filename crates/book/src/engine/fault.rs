//! What can go wrong inside a transaction: the shop's own refusals, and the engine's failures.

use shop::ShopError;

/// A refusal or a failure.
#[derive(Debug)]
pub(crate) enum Fault {
    Shop(ShopError),
    Sql(sqlx::Error),
}

/// Codes of an engine that saw two transactions in each other's way and gave one of them up: a
/// serialization failure and a deadlock of PostgreSQL, a busy file of SQLite in its forms.
const PASSING: [&str; 6] = ["40001", "40P01", "5", "261", "517", "773"];

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
        let code = error.as_database_error().and_then(sqlx::error::DatabaseError::code);
        code.is_some_and(|code| PASSING.contains(&code.as_ref()))
    }

    /// Whether something that may stand once stands already.
    pub(crate) fn is_taken(&self) -> bool {
        let Self::Sql(error) = self else { return false };
        error.as_database_error().is_some_and(sqlx::error::DatabaseError::is_unique_violation)
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
fn words(error: &sqlx::Error) -> String {
    let code = error.as_database_error().and_then(sqlx::error::DatabaseError::code);
    let advice = match code.as_deref() {
        Some("13" | "53100") => "; the disk is full: make room, then try again",
        Some("8" | "1032" | "1288" | "1544") => "; the file or its folder cannot be written to",
        Some("11" | "267" | "523" | "779" | "26") => {
            "; the file is damaged: restore the last backup"
        }
        Some("5" | "261" | "517") => "; another program holds the book: close it, then try again",
        _ => "",
    };
    match error {
        sqlx::Error::PoolTimedOut => "no connection became free in time".to_owned(),
        sqlx::Error::Database(database) => format!("{}{advice}", database.message()),
        _ => format!("{error}{advice}"),
    }
}
