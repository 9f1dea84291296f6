//! Values that are bound to a statement, and rows that it answers, alike for both engines.

use sqlx::Row as _;
use sqlx::postgres::PgRow;
use sqlx::sqlite::SqliteRow;

/// A value that is bound to a statement.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Value {
    Text(String),
    MaybeText(Option<String>),
    Whole(i64),
    MaybeReal(Option<f64>),
}

impl From<&str> for Value {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Value {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<i64> for Value {
    fn from(whole: i64) -> Self {
        Self::Whole(whole)
    }
}

impl From<u32> for Value {
    fn from(whole: u32) -> Self {
        Self::Whole(i64::from(whole))
    }
}

impl From<u64> for Value {
    /// Numbers of entries never come near the bound.
    fn from(whole: u64) -> Self {
        Self::Whole(i64::try_from(whole).unwrap_or(i64::MAX))
    }
}

/// A row that a statement answers.
pub(crate) enum Row {
    Sqlite(SqliteRow),
    Postgres(PgRow),
}

impl Row {
    pub(crate) fn text(&self, column: usize) -> Result<String, sqlx::Error> {
        match self {
            Self::Sqlite(row) => row.try_get(column),
            Self::Postgres(row) => row.try_get(column),
        }
    }

    pub(crate) fn maybe_text(&self, column: usize) -> Result<Option<String>, sqlx::Error> {
        match self {
            Self::Sqlite(row) => row.try_get(column),
            Self::Postgres(row) => row.try_get(column),
        }
    }

    pub(crate) fn whole(&self, column: usize) -> Result<i64, sqlx::Error> {
        match self {
            Self::Sqlite(row) => row.try_get(column),
            Self::Postgres(row) => row.try_get(column),
        }
    }

    /// A count or the number of an entry; what is below nothing becomes nothing.
    pub(crate) fn number(&self, column: usize) -> Result<u64, sqlx::Error> {
        Ok(u64::try_from(self.whole(column)?).unwrap_or_default())
    }

    pub(crate) fn maybe_real(&self, column: usize) -> Result<Option<f64>, sqlx::Error> {
        match self {
            Self::Sqlite(row) => row.try_get(column),
            Self::Postgres(row) => row.try_get(column),
        }
    }
}
