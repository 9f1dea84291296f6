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
        let text = unfinished.to_str().ok_or_else(|| {
            ShopError::invalid("file", "its name is no plain text; name another file")
        })?;
        let copied = self.engine.rows("VACUUM INTO $1", vec![Value::from(text)]).await;
        let copied = copied.map_err(|fault| fault.told(BACK_UP));
        let with_sum = || {
            let sum = sum::of_file(&unfinished)?;
            settled(&unfinished, to)?;
            sum::write(to, &sum)
        };
        let outcome = copied
            .and_then(|_| self.undisturbed())
            .and_then(|()| with_sum().map_err(|error| ShopError::store(BACK_UP, error)));
        forget(&unfinished);
        outcome
    }
}

/// Where a copy lies until it is whole: a name that no other program has, and nobody's own file.
pub fn unfinished(to: &Path) -> PathBuf {
    beside(to, &format!(".{}.part", std::process::id()))
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
    let outcome = match copy() {
        Ok(()) => whole_file(&unfinished, tell).await,
        Err(error) => Err(ShopError::store(RESTORE, error)),
    };
    let settle = |found: Vec<String>| match found.first() {
        Some(first) => Err(ShopError::store(RESTORE, format!("the backup is damaged: {first}"))),
        None => settled(&unfinished, to).map_err(|error| ShopError::store(RESTORE, error)),
    };
    let outcome = outcome.and_then(settle);
    forget(&unfinished);
    Ok(outcome?)
}

async fn restore_folder(
    from: &Path,
    place: &Place,
    tell: files::Tell<'_>,
) -> Result<(), ImportError> {
    if let Some(to) = place.file() {
        return begin_file(from, to, tell).await.map(|_| ());
    }
    filled(from, place, tell).await.map(|_| ())
}

/// Begins a book in a file with what an exported folder holds, and tells how much that was. The
/// file gets its name once all of it is read, so that a folder that does not fit leaves no book.
///
/// # Errors
/// `Book` where something lies there already; `Refused` where the folder does not fit.
pub async fn begin_file(
    from: &Path,
    to: &Path,
    tell: files::Tell<'_>,
) -> Result<files::Counted, ImportError> {
    check_new(to)?;
    let unfinished = unfinished(to);
    let outcome = filled(from, &Place::File(unfinished.clone()), tell).await;
    let settle = || {
        check_new(to)?;
        settled(&unfinished, to).map_err(|error| ShopError::store(RESTORE, error))
    };
    let outcome = outcome.and_then(|counted| Ok(settle().map(|()| counted)?));
    forget(&unfinished);
    outcome
}

async fn filled(
    from: &Path,
    place: &Place,
    tell: files::Tell<'_>,
) -> Result<files::Counted, ImportError> {
    let book = Book::open(place).await?;
    let outcome = files::import(&book, from, tell).await;
    book.close().await;
    outcome
}

/// Takes a file of SQLite away with what stands beside it, where it is there.
pub(crate) fn forget(file: &Path) {
    drop(fs::remove_file(file));
    for ending in ["-wal", "-shm", "-journal"] {
        drop(fs::remove_file(beside(file, ending)));
    }
}

/// Opens a copy, looks at all of it, and signs everybody out: who is signed in is no history.
async fn whole_file(file: &Path, tell: files::Tell<'_>) -> Result<Vec<String>, ShopError> {
    let book = Book::open(&Place::File(file.to_owned())).await?;
    let found = match book.forget_old(Moment::LAST).await {
        Ok(_) => book.examine(tell).await,
        Err(error) => Err(error),
    };
    book.close().await;
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
