//! Steps from every older form of the book to the present one, for both engines.

use std::future::Future;
use std::pin::Pin;

use sqlx::error::BoxDynError;
use sqlx::migrate::{MigrateError, Migration, MigrationSource, MigrationType, Migrator};

use crate::engine::{Engine, Fault, words};

/// The form in which this program keeps the book.
pub const FORM: i64 = 3;

/// The rules by which columns are reckoned from histories. Whoever changes what a summary says
/// raises this, and every book is reckoned again when it is next opened.
pub(crate) const RULES: i64 = 1;

/// A step: its number, what it is about, its text.
type Step = (i64, &'static str, &'static str);

const SQLITE: [Step; 3] = [
    (1, "histories", include_str!("migrations/sqlite/1_histories.sql")),
    (2, "lists", include_str!("migrations/sqlite/2_lists.sql")),
    (3, "sessions", include_str!("migrations/sqlite/3_sessions.sql")),
];

const POSTGRES: [Step; 3] = [
    (1, "histories", include_str!("migrations/postgres/1_histories.sql")),
    (2, "lists", include_str!("migrations/postgres/2_lists.sql")),
    (3, "sessions", include_str!("migrations/postgres/3_sessions.sql")),
];

/// The steps of one engine, compiled into the program.
#[derive(Debug)]
struct Embedded(&'static [Step]);

impl MigrationSource<'static> for Embedded {
    fn resolve(
        self,
    ) -> Pin<Box<dyn Future<Output = Result<Vec<Migration>, BoxDynError>> + Send + 'static>> {
        let steps = self.0.iter().map(|&(version, about, text)| {
            use sqlx::SqlSafeStr as _;
            let sql = text.into_sql_str();
            Migration::new(version, about.into(), MigrationType::Simple, sql, false)
        });
        let steps: Vec<Migration> = steps.collect();
        Box::pin(async move { Ok(steps) })
    }
}

/// Whether the first step that was taken somewhere is ours.
pub(crate) fn is_first_step(about: &str) -> bool {
    SQLITE[0].1 == about
}

/// Why the book cannot be brought to the present form.
#[derive(Debug)]
pub(crate) enum Stuck {
    /// It has a form that this program does not know.
    Newer(i64),
    /// Something else.
    Failed(String),
}

impl From<MigrateError> for Stuck {
    fn from(error: MigrateError) -> Self {
        match error {
            MigrateError::VersionMissing(form) | MigrateError::VersionTooNew(form, _) => {
                Self::Newer(form)
            }
            MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => {
                Self::Failed(words(&error))
            }
            other => Self::Failed(other.to_string()),
        }
    }
}

/// Brings the book to a form: the present one, but for tests of older ones.
pub(crate) async fn bring_to(engine: &Engine, form: i64) -> Result<(), Stuck> {
    match engine {
        Engine::Sqlite { write, .. } => {
            Migrator::new(Embedded(&SQLITE)).await?.run_to(form, write).await?;
        }
        Engine::Postgres(pool) => {
            let steps = Migrator::new(Embedded(&POSTGRES)).await?;
            let mut connection = pool.acquire().await.map_err(MigrateError::Execute)?;
            let brought = steps.run_direct(Some(form), &mut *connection, false).await;
            if brought.is_err() {
                // It still holds the lock under which steps are taken.
                drop(connection.close().await);
            }
            brought?;
        }
    }
    Ok(())
}

impl Stuck {
    pub(crate) fn told(self) -> Fault {
        let why = match self {
            Self::Newer(form) => format!(
                "it was written by a newer program, in form {form}; this one knows form {FORM}: \
                 use the newer program"
            ),
            Self::Failed(why) => why,
        };
        Fault::Shop(shop::ShopError::store("be brought to its present form", why))
    }
}
