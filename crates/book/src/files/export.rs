//! Everything out of the book, while others go on writing.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::Path;

use sha2::{Digest, Sha256};
use shop::ShopError;
use shop::book::{Subject, SubjectKind};
use shop::record::Named;

use super::manifest::{self, Part};
use super::{Counted, Tell, line};
use crate::backup::unfinished;
use crate::book::Book;
use crate::engine::{Fault, Work};
use crate::sum::shown;
use crate::{rows, sql, write};

/// What the book is doing, for its messages.
const EXPORT: &str = "be exported";

/// Writes the book as it stands at this moment into a new folder, and tells how many histories are
/// written. What others write meanwhile is left out whole.
///
/// # Errors
/// `Invalid` where the folder is there already, `Store` where it cannot be written.
pub async fn export(book: &Book, folder: &Path, tell: Tell<'_>) -> Result<Counted, ShopError> {
    if folder.exists() {
        let reason = format!("{} is there already; name a new folder", folder.display());
        return Err(ShopError::invalid("folder", reason));
    }
    let part = unfinished(folder);
    let outcome = into_folder(book, &part, tell).await;
    let outcome = outcome.and_then(|counted| Ok(book.undisturbed().map(|()| counted)?));
    let told = |error: io::Error| ShopError::store(EXPORT, error);
    let outcome = outcome.map_err(|fault| fault.told(EXPORT));
    let put = |counted| fs::rename(&part, folder).map_err(told).map(|()| counted);
    // What is half written is worth nothing; that it cannot be taken away changes nothing.
    outcome.and_then(put).inspect_err(|_| drop(fs::remove_dir_all(&part)))
}

async fn into_folder(book: &Book, folder: &Path, tell: Tell<'_>) -> Result<Counted, Fault> {
    let told = |error: io::Error| Fault::Shop(ShopError::store(EXPORT, error));
    fs::create_dir_all(folder).map_err(told)?;
    let mut work = book.engine.look().await?;
    let of = super::subjects(&mut work).await?;
    let (mut counted, mut parts) = (Counted::default(), Vec::new());
    for &kind in SubjectKind::ALL {
        let part = Part { kind, entries: 0, sha256: None };
        let file = File::create(folder.join(part.file())).map_err(told)?;
        let mut out = Out { file: BufWriter::new(file), digest: Sha256::new(), part };
        let before = counted.subjects;
        counted.subjects += out.kind(&mut work, &|done| tell(before + done, of)).await?;
        counted.entries += out.part.entries;
        parts.push(out.finished().map_err(told)?);
    }
    let mut file = File::create(folder.join(manifest::NAME)).map_err(told)?;
    file.write_all(manifest::written(&parts).as_bytes()).map_err(told)?;
    file.sync_all().map_err(told)?;
    Ok(counted)
}

/// One file that is being written.
struct Out {
    file: BufWriter<File>,
    digest: Sha256,
    part: Part,
}

impl Out {
    /// Writes every subject of the kind, and counts them; tells the count as it grows.
    async fn kind(
        &mut self,
        work: &mut Work,
        tell: &(dyn Fn(u64) + Send + Sync),
    ) -> Result<u64, Fault> {
        let (mut last, mut count) = (String::new(), 0);
        loop {
            let values = vec![self.part.kind.name().into(), last.as_str().into()];
            let page = work.rows(sql::SUBJECTS, values).await?;
            let Some(end) = page.last() else { return Ok(count) };
            last = end.text(0)?;
            for row in &page {
                self.subject(work, &rows::subject(row, 0)?).await?;
                count += 1;
                tell(count);
            }
        }
    }

    async fn subject(&mut self, work: &mut Work, subject: &Subject) -> Result<(), Fault> {
        let mut values = write::named(subject);
        values.extend([0_u64.into(), u64::MAX.into()]);
        for row in &work.rows(sql::HISTORY, values).await? {
            let raw = rows::raw(row)?;
            let line = line::written(&raw).map_err(|error| {
                let why = format!("entry {} of {}: {error}", raw.number, raw.subject.id);
                ShopError::store(EXPORT, why)
            })?;
            self.line(&line).map_err(|error| ShopError::store(EXPORT, error))?;
        }
        Ok(())
    }

    fn line(&mut self, line: &str) -> io::Result<()> {
        for bytes in [line.as_bytes(), b"\n"] {
            self.digest.update(bytes);
            self.file.write_all(bytes)?;
        }
        self.part.entries += 1;
        Ok(())
    }

    fn finished(mut self) -> io::Result<Part> {
        self.file.flush()?;
        self.file.get_ref().sync_all()?;
        self.part.sha256 = Some(shown(self.digest));
        Ok(self.part)
    }
}
