//! Copies of a book, taken while it is in use, and the way back.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use shop::ShopError;
use shop::book::{Moment, Sessions};

use crate::book::{Book, beside, check_kind};
use crate::engine::{Engine, Fault, Value};
use crate::files::{self, ImportError};
use crate::place::Place;
use crate::sum;

/// What the book is doing, for its messages.
const BACK_UP: &str = "be backed up";
const RESTORE: &str = "be restored";

impl Book {
    /// Copies the book as it stands at this moment, while others go on writing: a file into one new
    /// file with its sum beside it, a server's book into a new folder as [`files::export`] writes
    /// it. The latter tells how many histories are written; the engine of a file says nothing on
    /// its way, and [`unfinished`] names what it writes.
    ///
    /// # Errors
    /// `Invalid` where the target is there already, `Store` where it cannot be written.
    pub async fn back_up(&self, to: &Path, tell: files::Tell<'_>) -> Result<(), ShopError> {
        match &self.engine {
            Engine::Sqlite { .. } => self.copy_file(to).await,
            Engine::Postgres(_) => files::export(self, to, tell).await.map(|_| ()),
        }
    }

    async fn copy_file(&self, to: &Path) -> Result<(), ShopError> {
        check_new(to)?;
        let unfinished = unfinished(to);
        drop(fs::remove_file(&unfinished));
        let text = unfinished.to_str().ok_or_else(|| {
            ShopError::invalid("file", "its name is no plain text; name another file")
        })?;
        let copied = self.engine.rows("VACUUM INTO $1", vec![Value::from(text)]).await;
        copied.map_err(|fault| fault.told(BACK_UP))?;
        if let Err(disturbed) = self.undisturbed() {
            drop(fs::remove_file(&unfinished));
            return Err(disturbed);
        }
        let with_sum = || {
            let sum = sum::of_file(&unfinished)?;
            settled(&unfinished, to)?;
            sum::write(to, &sum)
        };
        with_sum().map_err(|error| ShopError::store(BACK_UP, error))
    }
}

/// Where a copy lies until it is whole.
pub fn unfinished(to: &Path) -> PathBuf {
    beside(to, ".part")
}

/// Brings a backup back to a place where no book is: a file of SQLite to a file, an exported folder
/// to either engine.
///
/// # Errors
/// `Book` where a book lies there already or the backup is damaged; `Refused` where an exported
/// folder does not fit.
pub async fn restore(from: &Path, place: &Place, tell: files::Tell<'_>) -> Result<(), ImportError> {
    if from.is_dir() {
        return restore_folder(from, place, tell).await;
    }
    let Some(to) = place.file() else {
        let reason = "a file of SQLite cannot be restored to a server; open it, export it, and \
                      restore the folder";
        return Err(ShopError::invalid("book", reason).into());
    };
    check_new(to)?;
    let told = |fault: Fault| fault.told(RESTORE);
    check_kind(from).await.map_err(told)?;
    let wrong = sum::wrong(from).map_err(|error| ShopError::store(RESTORE, error))?;
    if let Some(wrong) = wrong {
        return Err(ShopError::store(RESTORE, format!("the backup is damaged: {wrong}")).into());
    }
    let unfinished = unfinished(to);
    let copy = || {
        to.parent().map_or(Ok(()), fs::create_dir_all)?;
        fs::copy(from, &unfinished).map(|_| ())
    };
    copy().map_err(|error| ShopError::store(RESTORE, error))?;
    let found = whole_file(&unfinished, tell).await?;
    if let Some(first) = found.first() {
        drop(fs::remove_file(&unfinished));
        return Err(ShopError::store(RESTORE, format!("the backup is damaged: {first}")).into());
    }
    settled(&unfinished, to).map_err(|error| ShopError::store(RESTORE, error).into())
}

async fn restore_folder(
    from: &Path,
    place: &Place,
    tell: files::Tell<'_>,
) -> Result<(), ImportError> {
    if let Some(to) = place.file() {
        check_new(to)?;
    }
    let book = Book::open(place).await?;
    let outcome = files::import(&book, from, tell).await;
    book.close().await;
    outcome.map(|_| ())
}

/// Opens a copy, looks at all of it, and signs everybody out: who is signed in is no history.
async fn whole_file(file: &Path, tell: files::Tell<'_>) -> Result<Vec<String>, ShopError> {
    let book = Book::open(&Place::File(file.to_owned())).await?;
    let found = match book.forget_old(Moment::LAST).await {
        Ok(_) => book.examine(tell).await,
        Err(error) => Err(error),
    };
    book.close().await;
    for ending in ["-wal", "-shm"] {
        drop(fs::remove_file(beside(file, ending)));
    }
    found
}

fn check_new(to: &Path) -> Result<(), ShopError> {
    let taken = [to.to_owned(), beside(to, "-wal")].into_iter().find(|path| path.exists());
    match taken {
        Some(path) => {
            let reason = format!("{} is there already; move it away first", path.display());
            Err(ShopError::invalid("file", reason))
        }
        None => Ok(()),
    }
}

/// Makes sure that a file has reached the disk before it gets its name.
fn settled(unfinished: &Path, to: &Path) -> io::Result<()> {
    File::open(unfinished)?.sync_all()?;
    fs::rename(unfinished, to)?;
    match to.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        Some(folder) if cfg!(unix) => File::open(folder)?.sync_all(),
        _ => Ok(()),
    }
}
