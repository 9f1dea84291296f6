//! `toothrest book check`, `backup`, `restore`, `export` and `import`.

use book::files::{self, Counted, ImportError};
use shop::ShopError;

use super::args::{FolderArguments, FromArguments, ToArguments};
use crate::cli::failure::Failure;
use crate::cli::output::{JsonArguments, told};
use crate::cli::place::{BookArguments, runtime};
use crate::cli::progress::Busy;
use crate::wire;

/// Says what is wrong with the book. Faults are an answer to whoever asked for them, and a failure
/// to whoever looks at the exit code only.
pub(super) fn check(place: &BookArguments, check: &JsonArguments) -> Result<String, Failure> {
    place.work(async |book| {
        let busy = Busy::with("looking through the book");
        let faults = book.examine().await?;
        drop(busy);
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
    place.work(async |book| {
        let _busy = Busy::with("copying");
        book.back_up(&backup.to).await?;
        let (place, to) = (book.place(), backup.to.display());
        let words = format!("Copied {place} to {to}.\n");
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
    let _busy = Busy::with("restoring");
    runtime()?.block_on(book::restore(&restore.from, &place)).map_err(unfit)?;
    let words = format!("Restored {place} from {from}.\n");
    told(&restore.json, || wire::moved(place.to_string(), from.to_string(), None), words)
}

pub(super) fn export(place: &BookArguments, export: &FolderArguments) -> Result<String, Failure> {
    place.work(async |book| {
        let _busy = Busy::with("exporting");
        let counted = files::export(book, &export.folder).await?;
        let (place, folder) = (book.place(), export.folder.display());
        let words = format!("Wrote {} into {folder}.\n", in_words(counted));
        let answer = || wire::moved(place.to_string(), folder.to_string(), Some(counted));
        told(&export.json, answer, words)
    })
}

pub(super) fn import(place: &BookArguments, import: &FolderArguments) -> Result<String, Failure> {
    place.work_or_begin(async |book| {
        let _busy = Busy::with("importing");
        let counted = files::import(book, &import.folder).await.map_err(unfit)?;
        let (place, folder) = (book.place(), import.folder.display());
        let words = format!("Took {} into {place}.\n", in_words(counted));
        let answer = || wire::moved(place.to_string(), folder.to_string(), Some(counted));
        told(&import.json, answer, words)
    })
}

fn in_words(counted: Counted) -> String {
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
