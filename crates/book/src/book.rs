//! A book, open.

use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::str::FromStr;
use std::time::Duration;

use shop::ShopError;
use sqlx::postgres::{PgConnectOptions, PgPoolOptions};
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};

use crate::drive;
use crate::engine::{Engine, Fault};
use crate::migrate::{FORM, Stuck, bring_to};
use crate::place::Place;
use crate::{sql, write};

/// How long a writer waits for another program to finish.
const PATIENCE: Duration = Duration::from_secs(10);

/// Connections that read a file at the same time.
const READERS: u32 = 4;

/// Connections to a server.
const TO_SERVER: u32 = 8;

/// Files up to this size are checked whole whenever they are opened.
const CHECKED_BYTES: u64 = 32 << 20;

/// The mark in a file's head by which a book is told from any other file of SQLite: "Toot".
const APPLICATION: i64 = 0x546f_6f74;

/// What the book is doing, for its messages.
const OPEN: &str = "be opened";

/// The shop's book.
#[derive(Clone)]
pub struct Book {
    pub(crate) engine: Engine,
    pub(crate) place: Place,
    remarks: Vec<String>,
}

impl Book {
    /// Opens a book, makes it where it is not there yet, and brings an older one to the present
    /// form.
    ///
    /// # Errors
    /// `Store` where it cannot be reached, is damaged, is no book, or was written by a newer
    /// program.
    pub async fn open(place: &Place) -> Result<Self, ShopError> {
        Self::open_in_form(place, FORM).await
    }

    /// Opens a book in a form; older than the present one only to try out how it is brought on.
    #[doc(hidden)]
    pub async fn open_in_form(place: &Place, form: i64) -> Result<Self, ShopError> {
        let told = |fault: Fault| in_place(place, fault.told(OPEN));
        let mut remarks = Vec::new();
        let engine = match place {
            Place::File(path) => {
                remarks.extend(drive::network_drive(path).map(|drive| network(path, &drive)));
                open_file(path).await.map_err(told)?
            }
            Place::Server(address) => open_server(address).await.map_err(told)?,
        };
        brought(&engine, form).await.map_err(|stuck| told(stuck.told()))?;
        if form == FORM {
            write::reckon_stale(&engine).await.map_err(told)?;
        }
        Ok(Self { engine, place: place.clone(), remarks })
    }

    /// What a hand should know about the place where the book lies.
    pub fn remarks(&self) -> &[String] {
        &self.remarks
    }

    /// Where it lies.
    pub const fn place(&self) -> &Place {
        &self.place
    }

    /// The engine that keeps it.
    pub const fn engine_name(&self) -> &'static str {
        self.engine.name()
    }

    /// Has the engine prepare every statement that this program can send, and counts them.
    #[doc(hidden)]
    pub async fn prepare_all(&self) -> Result<usize, ShopError> {
        let every = sql::every();
        for text in &every {
            let told = |fault: Fault| fault.told(&format!("prepare {text}"));
            self.engine.prepare(text).await.map_err(told)?;
        }
        Ok(every.len())
    }

    /// Waits for what is being done, and closes it. A program that ends without this loses nothing.
    pub async fn close(self) {
        self.engine.close().await;
    }
}

fn in_place(place: &Place, error: ShopError) -> ShopError {
    match error {
        ShopError::Store { action, why } => ShopError::store(action, format!("{place}: {why}")),
        other => other,
    }
}

fn network(path: &Path, drive: &str) -> String {
    format!(
        "{} lies on a network drive ({drive}). One program at a time may use it there, and even \
         then a broken connection can damage it. Keep the book on a disk of this machine, or give \
         several benches a PostgreSQL server.",
        path.display()
    )
}

fn options(path: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(path)
        .create_if_missing(true)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true)
        .busy_timeout(PATIENCE)
}

/// The file that SQLite keeps beside another, by what it adds to its name.
pub(crate) fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

/// Opens a file and looks at it before anything is written to it.
async fn open_file(path: &Path) -> Result<Engine, Fault> {
    let is_fresh = fs::metadata(path).map_or(true, |file| file.len() == 0);
    let was_left = fs::metadata(beside(path, "-wal")).is_ok_and(|log| log.len() > 0);
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        fs::create_dir_all(folder).map_err(|error| ShopError::store(OPEN, error))?;
    }
    if !is_fresh {
        check_kind(path).await?;
    }
    if !is_fresh && !was_left && !ends_with_a_page(path) {
        return Err(damaged("it ends in the middle of a page"));
    }
    let pool = |most| SqlitePoolOptions::new().max_connections(most).acquire_timeout(PATIENCE * 3);
    let write = pool(1).connect_with(options(path)).await?;
    let read = pool(READERS).connect_lazy_with(options(path));
    let engine = Engine::Sqlite { write, read };
    let is_small = fs::metadata(path).is_ok_and(|file| file.len() <= CHECKED_BYTES);
    if !is_fresh && (is_small || was_left) {
        check_pages(&engine).await?;
    }
    Ok(engine)
}

/// A file that is no book is left alone: it is looked at without writing to it.
pub(crate) async fn check_kind(path: &Path) -> Result<(), Fault> {
    let only_look = SqliteConnectOptions::new().filename(path).read_only(true);
    let pool = SqlitePoolOptions::new().max_connections(1).connect_with(only_look).await?;
    let mark: Result<i64, _> = sqlx::query_scalar("PRAGMA application_id").fetch_one(&pool).await;
    let tables: Result<i64, _> =
        sqlx::query_scalar("SELECT count(*) FROM sqlite_master").fetch_one(&pool).await;
    pool.close().await;
    if mark? == APPLICATION || tables? == 0 {
        return Ok(());
    }
    let why = "it is a database of another program; name another file";
    Err(Fault::Shop(ShopError::store(OPEN, why)))
}

/// SQLite's own quick look at every page.
async fn check_pages(engine: &Engine) -> Result<(), Fault> {
    let rows = engine.rows("PRAGMA quick_check(1)", Vec::new()).await?;
    let said = rows.first().map(|row| row.text(0)).transpose()?.unwrap_or_default();
    if said == "ok" {
        return Ok(());
    }
    Err(damaged(&said))
}

fn damaged(said: &str) -> Fault {
    let why = format!("it is damaged ({said}); restore the last backup, and keep this file");
    Fault::Shop(ShopError::store(OPEN, why))
}

/// Whether a file is a whole number of pages, whose size stands in bytes 16 and 17 of its head
/// (SQLite's file format, 1.3.2). The engine takes what is missing of the last page for zeros.
fn ends_with_a_page(path: &Path) -> bool {
    let mut head = [0_u8; 18];
    let Ok(mut file) = fs::File::open(path) else { return true };
    let (Ok(about), Ok(())) = (file.metadata(), file.read_exact(&mut head)) else { return false };
    let page = match u16::from_be_bytes([head[16], head[17]]) {
        1 => 1 << 16,
        size => u64::from(size).max(1),
    };
    about.len().is_multiple_of(page)
}

async fn open_server(address: &str) -> Result<Engine, Fault> {
    let options = PgConnectOptions::from_str(address)?;
    let options = options.application_name("toothrest").options([("lock_timeout", "10s")]);
    let pool = PgPoolOptions::new().max_connections(TO_SERVER).acquire_timeout(PATIENCE);
    Ok(Engine::Postgres(pool.connect_with(options).await?))
}

/// Two programs may open a new book at once; the later one finds the steps taken when it tries
/// again.
async fn brought(engine: &Engine, form: i64) -> Result<(), Stuck> {
    let mut tries = 0;
    loop {
        match bring_to(engine, form).await {
            Err(Stuck::Failed(_)) if tries < 3 => tries += 1,
            outcome => return outcome,
        }
    }
}
