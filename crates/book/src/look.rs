//! A book that is opened to be looked at: nothing is begun, brought on or written there, not a
//! byte, and nothing is left beside it.

use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::time::{Duration, UNIX_EPOCH};

use shop::ShopError;
use sqlx::SqlitePool;
use sqlx::sqlite::{SqliteConnectOptions, SqlitePoolOptions};

use crate::book::{OPEN, PATIENCE, READERS, beside};
use crate::engine::{Engine, Fault};
use crate::migrate::{FORM, Stuck, is_first_step};
use crate::sql;

/// What stands in byte 18 of the head of a file whose last entries stand in a log beside it
/// (SQLite's file format, 1.3.3).
const WITH_LOG: u8 = 2;

/// How a file is read.
pub(crate) struct Looking {
    pub(crate) pool: SqlitePool,
    /// What it looked like before, where other programs cannot be told that it is read.
    pub(crate) seen: Option<Seen>,
    /// What may be missing of it.
    pub(crate) doubt: Option<String>,
}

/// A file that is read without a word to other programs, as it was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Seen {
    path: PathBuf,
    length: u64,
    /// Since 1970.
    changed: Option<Duration>,
}

impl Seen {
    fn of(path: &Path) -> Self {
        let found = fs::metadata(path).ok();
        let length = found.as_ref().map_or(0, fs::Metadata::len);
        let changed = found.and_then(|found| found.modified().ok());
        let changed = changed.and_then(|at| at.duration_since(UNIX_EPOCH).ok());
        Self { path: path.to_owned(), length, changed }
    }

    /// Whether nobody has written to it since.
    pub(crate) fn still_stands(&self) -> bool {
        *self == Self::of(&self.path)
    }
}

/// Opens a file for reading. Other programs are told that it is read, so that they wait; a file
/// that nobody has open, or that lies where no word can be left for them, is read as it stands.
pub(crate) async fn looking(path: &Path) -> Result<Looking, Fault> {
    let plain = SqliteConnectOptions::new().filename(path).read_only(true).busy_timeout(PATIENCE);
    let seen = Some(Seen::of(path));
    if is_left_alone(path) {
        let pool = tried(plain.immutable(true)).await?;
        return Ok(Looking { pool, seen, doubt: None });
    }
    match tried(plain.clone()).await {
        Err(fault) if fault.is_of_the_place() => {
            let pool = tried(plain.immutable(true)).await?;
            Ok(Looking { pool, seen, doubt: cut_off(path) })
        }
        shared => Ok(Looking { pool: shared?, seen: None, doubt: None }),
    }
}

async fn tried(options: SqliteConnectOptions) -> Result<SqlitePool, Fault> {
    let pool = SqlitePoolOptions::new().max_connections(READERS).acquire_timeout(PATIENCE * 3);
    let pool = pool.connect_with(options).await?;
    let count = sqlx::query_scalar::<_, i64>("SELECT count(*) FROM sqlite_master");
    match count.fetch_one(&pool).await {
        Ok(_) => Ok(pool),
        Err(error) => {
            pool.close().await;
            Err(error.into())
        }
    }
}

/// Whether a file keeps a log of its last entries and none is there, so that nobody has it open.
fn is_left_alone(path: &Path) -> bool {
    let mut head = [0_u8; 19];
    let read = fs::File::open(path).and_then(|mut file| file.read_exact(&mut head));
    read.is_ok() && head[18] == WITH_LOG && !beside(path, "-wal").exists()
}

/// What is to be said where the log beside a file cannot be read.
fn cut_off(path: &Path) -> Option<String> {
    let log = beside(path, "-wal");
    fs::metadata(&log).is_ok_and(|log| log.len() > 0).then(|| {
        format!(
            "{} is read without {}, which cannot be opened here: what was entered last may be \
             missing. Copy the two together to a folder where you may write, and look there.",
            path.display(),
            log.display()
        )
    })
}

/// Whether a book is there, in the form that this program reads.
pub(crate) async fn has_book(engine: &Engine) -> Result<bool, Fault> {
    let tables = match engine {
        Engine::Sqlite { .. } => sql::OUR_TABLES_IN_FILE,
        Engine::Postgres(_) => sql::OUR_TABLES_ON_SERVER,
    };
    let found = engine.rows(tables, Vec::new()).await?;
    let Some(found) = found.first() else { return Ok(false) };
    let (has_steps, has_others) = (found.whole(0)? > 0, found.whole(1)? > 0);
    if !has_steps {
        return if has_others { Err(not_ours()) } else { Ok(false) };
    }
    let steps = engine.rows(sql::STEPS, Vec::new()).await?;
    let Some(last) = steps.last() else { return Ok(false) };
    let first = steps.first().map(|step| step.text(1)).transpose()?.unwrap_or_default();
    if !is_first_step(&first) {
        return Err(not_ours());
    }
    match last.whole(0)? {
        FORM => Ok(true),
        form if form > FORM => Err(Stuck::Newer(form).told()),
        form => Err(older(form)),
    }
}

/// A database in which another program keeps tables of the same names.
pub(crate) fn not_ours() -> Fault {
    let why = "there are tables of another program in it, with names that the book needs: make a \
               database of its own for the book, and name that";
    Fault::Shop(ShopError::store(OPEN, why))
}

fn older(form: i64) -> Fault {
    let why = format!(
        "it has form {form} of an older program, and looking changes nothing: bring it to form \
         {FORM} first, by opening it with \"toothrest serve\", or restore a copy of it to a new \
         place and look there"
    );
    Fault::Shop(ShopError::store(OPEN, why))
}
