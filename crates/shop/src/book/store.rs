//! The port behind which the book is kept.

use std::future::Future;

use super::entry::{Append, Entry};
use super::id::Id;
use super::query::{Listed, PAGE_MAX, Query, Span};
use super::state::{Latest, Stage, Summary};
use super::subject::{Subject, SubjectKind};
use crate::error::ShopError;

/// Where histories are kept. Every future may move between threads; which runtime drives it is not
/// said here.
///
/// All methods answer `Store` where the keeping itself fails, and `Invalid` where a page is longer
/// than [`PAGE_MAX`].
pub trait Store: Send + Sync {
    /// Adds entries to one or more histories: all of them or none. What is answered has been
    /// written for good.
    ///
    /// # Errors
    /// `Conflict` where a history has grown since its writer looked; `Invalid` where an entry does
    /// not fit its history, a number is taken, or a subject that is spoken of is not in the book.
    fn append(
        &self,
        writes: Vec<Append>,
    ) -> impl Future<Output = Result<Vec<Entry>, ShopError>> + Send;

    /// Entries of one history in order, from behind the number `after`, `limit` at most. Nothing
    /// where there is no such subject.
    fn history(
        &self,
        of: &Subject,
        after: u64,
        limit: u32,
    ) -> impl Future<Output = Result<Vec<Entry>, ShopError>> + Send;

    /// What a list would show of one subject.
    fn summary(
        &self,
        of: &Subject,
    ) -> impl Future<Output = Result<Option<Summary>, ShopError>> + Send;

    /// The one of this kind that has this number and is not done with.
    fn find(
        &self,
        kind: SubjectKind,
        number: &str,
    ) -> impl Future<Output = Result<Option<Summary>, ShopError>> + Send;

    /// One page of a list.
    fn list(&self, query: &Query) -> impl Future<Output = Result<Listed, ShopError>> + Send;

    /// How many of a kind stand at a stage.
    fn count(
        &self,
        kind: SubjectKind,
        stage: Stage,
    ) -> impl Future<Output = Result<u64, ShopError>> + Send;

    /// What was written in a stretch of time, in order of time.
    fn written(&self, span: &Span) -> impl Future<Output = Result<Vec<Entry>, ShopError>> + Send;

    /// The last entries, whatever their histories, in which this wheel ground a cutter; the latest
    /// first.
    fn ground_with(
        &self,
        wheel: &Id,
        limit: u32,
    ) -> impl Future<Output = Result<Vec<Entry>, ShopError>> + Send;
}

/// The whole history of a subject.
///
/// # Errors
/// `Store` where the keeping fails.
pub async fn whole_history<S: Store>(store: &S, of: &Subject) -> Result<Vec<Entry>, ShopError> {
    let mut whole: Vec<Entry> = Vec::new();
    loop {
        let after = whole.last().map_or(0, |entry| entry.number);
        let page = store.history(of, after, PAGE_MAX).await?;
        let is_last = u32::try_from(page.len()).is_ok_and(|count| count < PAGE_MAX);
        whole.extend(page);
        if is_last {
            return Ok(whole);
        }
    }
}

/// Every row of a list, page by page; the length of a page in the query does not count.
///
/// # Errors
/// `Store` where the keeping fails, `Invalid` where the words of the query are too many.
pub async fn whole_list<S: Store>(store: &S, query: Query) -> Result<Vec<Summary>, ShopError> {
    let mut rows = Vec::new();
    let mut query = Query { limit: PAGE_MAX, ..query };
    loop {
        let page = store.list(&query).await?;
        rows.extend(page.rows);
        if page.next.is_none() {
            return Ok(rows);
        }
        query.after = page.next;
    }
}

/// The latest state of a subject.
///
/// # Errors
/// `NotFound` where it is not in the book, `Store` where the keeping fails.
pub async fn latest<S: Store>(store: &S, of: &Subject) -> Result<Latest, ShopError> {
    let history = whole_history(store, of).await?;
    Latest::of(&history)
        .ok_or_else(|| ShopError::NotFound { what: format!("{} {}", of.kind, of.id) })
}
