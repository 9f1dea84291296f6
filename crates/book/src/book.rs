//! A book, open.

use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::str::FromStr;
use std::time::Duration;

use shop::ShopError;
use sqlx::SqlitePool;
use sqlx::postgres::{PgConnectOptions, PgPoolOptions};
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};

use crate::backup::forget;
use crate::drive;
use crate::engine::{Engine, Fault};
use crate::look::{self, Looking, Seen};
use crate::migrate::{FORM, Stuck, bring_to};
use crate::place::Place;
use crate::{sql, write};

/// How long a writer waits for another program to finish.
pub(crate) const PATIENCE: Duration = Duration::from_secs(10);

/// Connections that read a file at the same time.
pub(crate) const READERS: u32 = 4;

/// Connections to a server.
const TO_SERVER: u32 = 8;

/// Files up to this size are checked whole whenever they are opened.
const CHECKED_BYTES: u64 = 32 << 20;

/// The mark in a file's head by which a book is told from any other file of SQLite: "Toot".
const APPLICATION: i64 = 0x546f_6f74;

/// What the book is doing, for its messages.
pub(crate) const OPEN: &str = "be opened";

/// The shop's book.
#[derive(Clone)]
pub struct Book {
    pub(crate) engine: Engine,
    pub(crate) place: Place,
    remarks: Vec<String>,
    seen: Option<Seen>,
    doubt: Option<String>,
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
        let begun = place.file().filter(|file| !file.exists());
        let engine = match place {
            Place::File(path) => {
                remarks.extend(drive::network_drive(path).map(|drive| network(path, &drive)));
                open_file(path).await.map_err(told)?
            }
            Place::Server(address) => open_server(address).await.map_err(told)?,
        };
        let brought = async {
            brought(&engine, form).await.map_err(Stuck::told)?;
            match form {
                FORM => write::reckon_stale(&engine).await.map(|_| ()),
                _ => Ok(()),
            }
        };
        if let Err(fault) = brought.await {
            engine.close().await;
            // A book that was begun here and got no further, as on a full disk, is none.
            begun.iter().for_each(|file| forget(file));
            return Err(told(fault));
        }
        Ok(Self { engine, place: place.clone(), remarks, seen: None, doubt: None })
    }

    /// Opens a book to look at it: nothing is written there, not even where it may be. Nothing
    /// where no book is.
    ///
    /// # Errors
    /// `Store` where it cannot be reached, is damaged, is no book, or has another form than this
    /// program's.
    pub async fn look(place: &Place) -> Result<Option<Self>, ShopError> {
        Self::looked(place).await.map_err(|fault| in_place(place, fault.told(OPEN)))
    }

    async fn looked(place: &Place) -> Result<Option<Self>, Fault> {
        let (mut remarks, mut seen, mut doubt) = (Vec::new(), None, None);
        let engine = match place {
            Place::File(path) => {
                let length = fs::metadata(path).map(|file| file.len());
                if matches!(&length, Err(error) if error.kind() == io::ErrorKind::NotFound)
                    || length.is_ok_and(|length| length == 0)
                {
                    return Ok(None);
                }
                remarks.extend(drive::network_drive(path).map(|drive| network(path, &drive)));
                let found = look_at_file(path).await?;
                (seen, doubt) = (found.seen, found.doubt);
                Engine::Sqlite { write: found.pool.clone(), read: found.pool }
            }
            Place::Server(address) => {
                reach_server(address, &[("default_transaction_read_only", "on")]).await?
            }
        };
        let place = place.clone();
        match look::has_book(&engine).await {
            Ok(true) => Ok(Some(Self { engine, place, remarks, seen, doubt })),
            outcome => {
                engine.close().await;
                outcome.map(|_| None)
            }
        }
    }

    /// What may be missing of a book that is only looked at.
    pub fn doubt(&self) -> Option<&str> {
        self.doubt.as_deref()
    }

    /// Makes sure that what was read of a book is of one moment.
    ///
    /// # Errors
    /// `Store` where another program wrote to it meanwhile, and could not be told to wait.
    pub fn undisturbed(&self) -> Result<(), ShopError> {
        if self.seen.as_ref().is_none_or(Seen::still_stands) {
            return Ok(());
        }
        let why = "another program wrote to it meanwhile: do it once more";
        Err(in_place(&self.place, ShopError::store("be read whole", why)))
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
    let was_left = has_log(path);
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
    let write = pool(1).connect_with(options(path)).await.map_err(Fault::from);
    let write = if is_fresh { write? } else { write.map_err(Fault::of_writing)? };
    let read = pool(READERS).connect_lazy_with(options(path));
    let engine = Engine::Sqlite { write, read };
    if !is_fresh && (is_small(path) || was_left) {
        check_pages(&engine).await?;
    }
    Ok(engine)
}

/// A file that is no book is left alone: it is looked at without writing to it.
pub(crate) async fn check_kind(path: &Path) -> Result<(), Fault> {
    let pool = look::looking(path).await?.pool;
    let kind = check_mark(&pool).await;
    pool.close().await;
    kind
}

/// The same, and opened to be looked at.
async fn look_at_file(path: &Path) -> Result<Looking, Fault> {
    let is_whole = has_log(path) || ends_with_a_page(path);
    let found = look::looking(path).await?;
    let engine = Engine::Sqlite { write: found.pool.clone(), read: found.pool.clone() };
    let mut sound = check_mark(&found.pool).await;
    if sound.is_ok() && !is_whole {
        sound = Err(damaged("it ends in the middle of a page"));
    } else if sound.is_ok() && is_small(path) {
        sound = check_pages(&engine).await;
    }
    match sound {
        Ok(()) => Ok(found),
        Err(fault) => {
            engine.close().await;
            Err(fault)
        }
    }
}

/// Whether another program left entries beside the file.
fn has_log(path: &Path) -> bool {
    fs::metadata(beside(path, "-wal")).is_ok_and(|log| log.len() > 0)
}

fn is_small(path: &Path) -> bool {
    fs::metadata(path).is_ok_and(|file| file.len() <= CHECKED_BYTES)
}

async fn check_mark(pool: &SqlitePool) -> Result<(), Fault> {
    let mark: Result<i64, _> = sqlx::query_scalar("PRAGMA application_id").fetch_one(pool).await;
    let tables: Result<i64, _> =
        sqlx::query_scalar("SELECT count(*) FROM sqlite_master").fetch_one(pool).await;
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

/// Opens a server's database, unless another program keeps tables of our names there.
async fn open_server(address: &str) -> Result<Engine, Fault> {
    let engine = reach_server(address, &[]).await?;
    let found = engine.rows(sql::OUR_TABLES_ON_SERVER, Vec::new()).await?;
    match found.first() {
        Some(row) if row.whole(0)? == 0 && row.whole(1)? > 0 => Err(look::not_ours()),
        _ => Ok(engine),
    }
}

async fn reach_server(address: &str, settings: &[(&str, &str)]) -> Result<Engine, Fault> {
    let options = PgConnectOptions::from_str(address)?.application_name("toothrest");
    let options = options.options([("lock_timeout", "10s")]).options(settings.iter().copied());
    let pool = PgPoolOptions::new().max_connections(TO_SERVER).acquire_timeout(PATIENCE);
    Ok(Engine::Postgres(pool.connect_with(options).await.map_err(no_postgres)?))
}

/// Whoever answers in another language than PostgreSQL's is another server.
fn no_postgres(error: sqlx::Error) -> Fault {
    let said = error.to_string();
    let is_odd = match &error {
        sqlx::Error::Protocol(_) => true,
        // A server that hangs up without a word may be one that is just being stopped.
        sqlx::Error::Io(io) => {
            io.kind() == io::ErrorKind::UnexpectedEof && !said.contains("got 0 bytes")
        }
        _ => false,
    };
    if !is_odd {
        return error.into();
    }
    let why = format!(
        "what answers there is no PostgreSQL server ({said}): see the host and the port in the \
         book's address"
    );
    Fault::Shop(ShopError::store(OPEN, why))
}

/// Two programs may open a new book at once; the later one finds the steps taken when it tries
/// again. A server has them wait for each other, so what it refuses once it refuses again.
async fn brought(engine: &Engine, form: i64) -> Result<(), Stuck> {
    let is_file = matches!(engine, Engine::Sqlite { .. });
    let mut tries = 0;
    loop {
        match bring_to(engine, form).await {
            Err(Stuck::Failed(_)) if is_file && tries < 3 => tries += 1,
            outcome => return outcome,
        }
    }
}
