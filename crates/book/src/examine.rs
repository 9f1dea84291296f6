//! The integrity check: what the engine says of its pages, and whether the book agrees with itself.

use shop::ShopError;
use shop::book::{Entry, Latest, Subject, SubjectKind};
use shop::record::Named;

use crate::book::Book;
use crate::engine::{Fault, Work};
use crate::files::{self, Tell};
use crate::{body, rows, sql, sum, write};

/// What the book is doing, for its messages.
const EXAMINE: &str = "be checked";

/// After so many complaints the rest is not looked at.
const COMPLAINTS_MAX: usize = 100;

impl Book {
    /// Looks at the whole book as it stands at this moment, and says what is wrong with it; nothing
    /// where all is well. Entries of a newer program are no fault. Tells how many histories were
    /// looked at.
    ///
    /// # Errors
    /// `Store` where it cannot be read at all.
    pub async fn examine(&self, tell: Tell<'_>) -> Result<Vec<String>, ShopError> {
        self.complaints(tell).await.map_err(|fault| fault.told(EXAMINE))
    }

    async fn complaints(&self, tell: Tell<'_>) -> Result<Vec<String>, Fault> {
        let mut found = self.pages().await?;
        let mut work = self.engine.look().await?;
        let (mut done, of) = (0, files::subjects(&mut work).await?);
        for &kind in SubjectKind::ALL {
            let mut last = String::new();
            while found.len() < COMPLAINTS_MAX {
                let values = vec![kind.name().into(), last.as_str().into()];
                let page = work.rows(sql::SUBJECTS, values).await?;
                let Some(end) = page.last() else { break };
                last = end.text(0)?;
                for row in &page {
                    found.extend(of_subject(&mut work, &rows::subject(row, 0)?).await?);
                    done += 1;
                    tell(done, of);
                }
            }
        }
        found.truncate(COMPLAINTS_MAX);
        Ok(found)
    }

    /// What the sum beside a copy says, and what the engine itself finds. A server looks after its
    /// own pages.
    async fn pages(&self) -> Result<Vec<String>, Fault> {
        let Some(file) = self.place.file() else { return Ok(Vec::new()) };
        let changed = sum::wrong(file).map_err(|error| ShopError::store(EXAMINE, error))?;
        let said = self.engine.rows("PRAGMA integrity_check(20)", Vec::new()).await?;
        let said = said.iter().map(|row| row.text(0)).collect::<Result<Vec<_>, _>>()?;
        let loose = self.engine.rows("PRAGMA foreign_key_check", Vec::new()).await?;
        let loose = loose.iter().map(|row| row.text(0)).collect::<Result<Vec<_>, _>>()?;
        let loose = loose.into_iter().map(|table| format!("a row of {table} hangs in the air"));
        let said = said.into_iter().filter(|said| said != "ok");
        Ok(changed.into_iter().chain(said).chain(loose).collect())
    }
}

async fn of_subject(work: &mut Work, subject: &Subject) -> Result<Vec<String>, Fault> {
    let (entries, odd) = history(work, subject).await?;
    let kept = work.rows(sql::SUMMARY, write::named(subject)).await?;
    let kept = kept.first().map(rows::summary).transpose()?;
    let reckoned = Latest::of(&entries).map(|latest| latest.summary());
    let mut found = Vec::new();
    let Subject { kind, id } = subject;
    found
        .extend(odd.into_iter().map(|(entry, what)| format!("{kind} {id}: entry {entry}: {what}")));
    found.extend(gap(&entries).map(|gap| format!("{kind} {id}: entry {gap} is missing")));
    if kept != reckoned {
        let number = kept.map(|kept| kept.number).unwrap_or_default();
        found.push(format!("{kind} {number} ({id}): its list does not agree with its history"));
    }
    Ok(found)
}

/// The history of a subject, and by entry what is odd about how it is stored.
async fn history(
    work: &mut Work,
    subject: &Subject,
) -> Result<(Vec<Entry>, Vec<(u64, String)>), Fault> {
    let mut values = write::named(subject);
    values.extend([0_u64.into(), u64::MAX.into()]);
    let (mut entries, mut found) = (Vec::new(), Vec::new());
    for row in &work.rows(sql::HISTORY, values).await? {
        let raw = rows::raw(row)?;
        found.extend(body::oddities(&raw.stored).into_iter().map(|what| (raw.number, what)));
        entries.push(raw.into());
    }
    Ok((entries, found))
}

/// The first number that is missing.
fn gap(entries: &[Entry]) -> Option<u64> {
    let numbers = entries.iter().map(|entry| entry.number);
    let gap = numbers.zip(1..).find(|(number, expected)| number != expected);
    gap.map(|(_, expected)| expected)
}
