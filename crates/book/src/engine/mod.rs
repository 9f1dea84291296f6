//! Two engines behind one face: a pool of either, a transaction of either. Statements are text with
//! `$1` placeholders, which serve both.

mod fault;
mod value;

pub(crate) use fault::{Fault, words};
pub(crate) use value::{Row, Value};

use sqlx::{
    AssertSqlSafe, Executor, PgPool, Postgres, SqlSafeStr, Sqlite, SqlitePool, Transaction,
};

/// Pools of connections.
#[derive(Clone)]
pub(crate) enum Engine {
    /// One connection writes, so that writers of one program queue up instead of waiting for the
    /// file's lock; the others read.
    Sqlite { write: SqlitePool, read: SqlitePool },
    /// Rows are locked by the server.
    Postgres(PgPool),
}

/// A transaction. Dropped without a commit, it has done nothing.
pub(crate) enum Work {
    Sqlite(Transaction<'static, Sqlite>),
    Postgres(Transaction<'static, Postgres>),
}

/// Binds values to a statement of either engine.
macro_rules! bound {
    ($sql:expr, $values:expr) => {{
        let mut query = sqlx::query(AssertSqlSafe($sql.to_owned()));
        for value in $values {
            query = match value {
                Value::Text(text) => query.bind(text),
                Value::MaybeText(text) => query.bind(text),
                Value::Whole(whole) => query.bind(whole),
                Value::MaybeReal(real) => query.bind(real),
            };
        }
        query
    }};
}

impl Engine {
    /// The name people know it by.
    pub(crate) const fn name(&self) -> &'static str {
        match self {
            Self::Sqlite { .. } => "SQLite",
            Self::Postgres(_) => "PostgreSQL",
        }
    }

    /// Reads rows outside a transaction.
    pub(crate) async fn rows(&self, sql: &str, values: Vec<Value>) -> Result<Vec<Row>, Fault> {
        Ok(match self {
            Self::Sqlite { read, .. } => {
                let rows = bound!(sql, values).fetch_all(read).await?;
                rows.into_iter().map(Row::Sqlite).collect()
            }
            Self::Postgres(pool) => {
                let rows = bound!(sql, values).fetch_all(pool).await?;
                rows.into_iter().map(Row::Postgres).collect()
            }
        })
    }

    /// Begins a transaction that writes.
    pub(crate) async fn begin(&self) -> Result<Work, Fault> {
        Ok(match self {
            Self::Sqlite { write, .. } => Work::Sqlite(begin_writing(write).await?),
            Self::Postgres(pool) => Work::Postgres(pool.begin().await?),
        })
    }

    /// Begins a transaction that sees the book as it is now, whatever is written meanwhile.
    pub(crate) async fn look(&self) -> Result<Work, Fault> {
        Ok(match self {
            Self::Sqlite { read, .. } => Work::Sqlite(read.begin().await?),
            Self::Postgres(pool) => {
                let still = "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY";
                Work::Postgres(pool.begin_with(still).await?)
            }
        })
    }

    /// Has the engine prepare a statement without running it.
    pub(crate) async fn prepare(&self, sql: &str) -> Result<(), Fault> {
        let text = AssertSqlSafe(sql.to_owned()).into_sql_str();
        match self {
            Self::Sqlite { write, .. } => write.prepare(text).await.map(|_| ())?,
            Self::Postgres(pool) => pool.prepare(text).await.map(|_| ())?,
        }
        Ok(())
    }

    /// Waits until every connection is given back, and closes them.
    pub(crate) async fn close(&self) {
        match self {
            Self::Sqlite { write, read } => {
                read.close().await;
                write.close().await;
            }
            Self::Postgres(pool) => pool.close().await,
        }
    }
}

/// A full disk ends a transaction by itself, and the driver goes on counting it as open: such a
/// connection would refuse every later write, so it is put away for a new one.
async fn begin_writing(pool: &SqlitePool) -> Result<Transaction<'static, Sqlite>, sqlx::Error> {
    const BEGIN: &str = "BEGIN IMMEDIATE";
    match pool.begin_with(BEGIN).await {
        Err(sqlx::Error::InvalidSavePointStatement) => {
            drop(pool.acquire().await?.close().await);
            pool.begin_with(BEGIN).await
        }
        begun => begun,
    }
}

impl Work {
    /// Reads rows.
    pub(crate) async fn rows(&mut self, sql: &str, values: Vec<Value>) -> Result<Vec<Row>, Fault> {
        Ok(match self {
            Self::Sqlite(work) => {
                let rows = bound!(sql, values).fetch_all(&mut **work).await?;
                rows.into_iter().map(Row::Sqlite).collect()
            }
            Self::Postgres(work) => {
                let rows = bound!(sql, values).fetch_all(&mut **work).await?;
                rows.into_iter().map(Row::Postgres).collect()
            }
        })
    }

    /// Runs a statement and says how many rows it changed.
    pub(crate) async fn run(&mut self, sql: &str, values: Vec<Value>) -> Result<u64, Fault> {
        Ok(match self {
            Self::Sqlite(work) => bound!(sql, values).execute(&mut **work).await?.rows_affected(),
            Self::Postgres(work) => bound!(sql, values).execute(&mut **work).await?.rows_affected(),
        })
    }

    /// Makes it last. What is answered here has reached the disk.
    pub(crate) async fn commit(self) -> Result<(), Fault> {
        match self {
            Self::Sqlite(work) => work.commit().await?,
            Self::Postgres(work) => work.commit().await?,
        }
        Ok(())
    }
}
