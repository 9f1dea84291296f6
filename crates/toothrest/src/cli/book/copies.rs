//! `toothrest book check`, `backup`, `restore`, `export` and `import`.

use std::path::Path;
use std::time::Duration;

use book::files::{self, ImportError};
use shop::ShopError;

use super::args::{FolderArguments, FromArguments, ToArguments};
use crate::cli::failure::Failure;
use crate::cli::output::{JsonArguments, told};
use crate::cli::place::{BookArguments, runtime};
use crate::cli::progress::Counted;
use crate::wire;

/// Says what is wrong with the book. Faults are an answer to whoever asked for them, and a failure
/// to whoever looks at the exit code only.
pub(super) fn check(place: &BookArguments, check: &JsonArguments) -> Result<String, Failure> {
    place.read(async |book| {
        let counted = Counted::of("looking through", 0);
        let tell = |done, of| counted.stand_at("looking through", done, of);
        let faults = book.examine(&tell).await?;
        counted.done();
        if check.json {
            let answer = serde_json::to_string_pretty(&wire::check_book(book, &faults))? + "\n";
            return if faults.is_empty() { Ok(answer) } else { Err(Failure::FaultsInJson(answer)) };
        }
        if faults.is_empty() {
            Ok(format!("No fault found in {}.\n", book.place()))
        } else {
            Err(Failure::Faults { book: book.place().to_string(), faults })
        }
    })
}

pub(super) fn backup(place: &BookArguments, backup: &ToArguments) -> Result<String, Failure> {
    place.read(async |book| {
        let counted = Counted::of("copying", 0);
        let tell = |done, of| counted.stand_at("copying", done, of);
        let copied = match book.place().file() {
            Some(file) => growing(book.back_up(&backup.to, &tell), file, &backup.to, &tell).await,
            None => book.back_up(&backup.to, &tell).await,
        };
        counted.done();
        copied?;
        let (place, to) = (book.place(), backup.to.display());
        let sum = match place.file() {
            Some(_) => format!("Its sum is in {to}{}: keep the two together.\n", book::SUM_ENDING),
            None => String::new(),
        };
        let words = format!("Copied {place} to {to}.\n{sum}");
        told(&backup.json, || wire::moved(place.to_string(), to.to_string(), None), words)
    })
}

pub(super) fn restore(place: &BookArguments, restore: &FromArguments) -> Result<String, Failure> {
    let place = place.place()?;
    let from = restore.from.display();
    if !restore.from.exists() {
        let reason = format!("{from} is not there; name a backup");
        return Err(ShopError::invalid("backup", reason).into());
    }
    let bar = Counted::of("restoring", 0);
    let tell = |done, of| bar.stand_at("restoring", done, of);
    let restored = runtime()?.block_on(book::restore(&restore.from, &place, &tell));
    bar.done();
    restored.map_err(unfit)?;
    let words = format!("Restored {place} from {from}.\n");
    told(&restore.json, || wire::moved(place.to_string(), from.to_string(), None), words)
}

pub(super) fn export(place: &BookArguments, export: &FolderArguments) -> Result<String, Failure> {
    place.read(async |book| {
        let bar = Counted::of("exporting", 0);
        let tell = |done, of| bar.stand_at("exporting", done, of);
        let counted = files::export(book, &export.folder, &tell).await;
        bar.done();
        let counted = counted?;
        let (place, folder) = (book.place(), export.folder.display());
        let words = format!("Wrote {} into {folder}.\n", in_words(counted));
        let answer = || wire::moved(place.to_string(), folder.to_string(), Some(counted));
        told(&export.json, answer, words)
    })
}

pub(super) fn import(place: &BookArguments, import: &FolderArguments) -> Result<String, Failure> {
    let bar = Counted::of("importing", 0);
    let tell = |done, of| bar.stand_at("importing", done, of);
    let to = place.place()?;
    let counted = match to.file().filter(|file| !file.exists()) {
        Some(file) => {
            let begun = runtime()?.block_on(book::begin_file(&import.folder, file, &tell));
            begun.map_err(unfit)
        }
        None => {
            place.work(async |book| files::import(book, &import.folder, &tell).await.map_err(unfit))
        }
    };
    bar.done();
    let (counted, folder) = (counted?, import.folder.display());
    let words = format!("Took {} into {to}.\n", in_words(counted));
    told(&import.json, || wire::moved(to.to_string(), folder.to_string(), Some(counted)), words)
}

/// How often the length of a copy is looked at.
const LOOK: Duration = Duration::from_millis(120);

/// Work that writes a copy of a file, of which only the copy itself tells how far it has come: in
/// kilobytes, and nearly, since a copy is a little shorter than its book.
async fn growing<T>(
    work: impl Future<Output = T>,
    of: &Path,
    to: &Path,
    tell: files::Tell<'_>,
) -> T {
    let kilobytes = |path: &Path| path.metadata().map_or(0, |found| found.len() / 1024);
    let (whole, copy) = (kilobytes(of), book::unfinished(to));
    let mut work = std::pin::pin!(work);
    loop {
        match tokio::time::timeout(LOOK, &mut work).await {
            Ok(done) => return done,
            Err(_) => tell(kilobytes(&copy).min(whole), whole),
        }
    }
}

fn in_words(counted: files::Counted) -> String {
    let count = |number: u64, one: &str, many: &str| {
        format!("{number} {}", if number == 1 { one } else { many })
    };
    let entries = count(counted.entries, "entry", "entries");
    format!("{entries} of {}", count(counted.subjects, "history", "histories"))
}

/// An exported folder that does not fit is the input's fault, and the rest the surroundings'.
fn unfit(error: ImportError) -> Failure {
    match error {
        ImportError::Refused(_) => Failure::Unfit(error.to_string()),
        ImportError::Book(error) => error.into(),
    }
}
