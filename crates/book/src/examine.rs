//! The integrity check: what the engine says of its pages, and whether the book agrees with itself.

use shop::ShopError;
use shop::book::{Entry, Latest, Subject, SubjectKind};
use shop::record::Named;

use crate::book::Book;
use crate::engine::{Engine, Fault, Work};
use crate::files::{self, Tell};
use crate::{rows, sql, write};

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

    /// What the engine itself finds. A server looks after its own pages.
    async fn pages(&self) -> Result<Vec<String>, Fault> {
        let Engine::Sqlite { .. } = &self.engine else { return Ok(Vec::new()) };
        let said = self.engine.rows("PRAGMA integrity_check(20)", Vec::new()).await?;
        let said = said.iter().map(|row| row.text(0)).collect::<Result<Vec<_>, _>>()?;
        let loose = self.engine.rows("PRAGMA foreign_key_check", Vec::new()).await?;
        let loose = loose.iter().map(|row| row.text(0)).collect::<Result<Vec<_>, _>>()?;
        let loose = loose.into_iter().map(|table| format!("a row of {table} hangs in the air"));
        Ok(said.into_iter().filter(|said| said != "ok").chain(loose).collect())
    }
}

async fn of_subject(work: &mut Work, subject: &Subject) -> Result<Vec<String>, Fault> {
    let entries = write::history_of(work, subject, u64::MAX).await?;
    let kept = work.rows(sql::SUMMARY, write::named(subject)).await?;
    let kept = kept.first().map(rows::summary).transpose()?;
    let reckoned = Latest::of(&entries).map(|latest| latest.summary());
    let mut found = Vec::new();
    let Subject { kind, id } = subject;
    found.extend(gap(&entries).map(|gap| format!("{kind} {id}: entry {gap} is missing")));
    if kept != reckoned {
        let number = kept.map(|kept| kept.number).unwrap_or_default();
        found.push(format!("{kind} {number} ({id}): its list does not agree with its history"));
    }
    Ok(found)
}

/// The first number that is missing.
fn gap(entries: &[Entry]) -> Option<u64> {
    let numbers = entries.iter().map(|entry| entry.number);
    let gap = numbers.zip(1..).find(|(number, expected)| number != expected);
    gap.map(|(_, expected)| expected)
}
