//! Entering something in the book: written, or given back with what was typed.

use askama::Template;
use axum::response::Response;
use shop::ShopError;
use shop::book::{Append, Event, Subject};

use crate::web::fault::Fault;
use crate::web::form::{Entries, Form};
use crate::web::page::{blamed, overtaken};
use crate::web::visit::Visit;

/// What became of a form that was sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Entered {
    /// It stands in the book.
    Written,
    /// Somebody else wrote first; the form says so, and has now seen what that was.
    Overtaken,
    /// The book does not take it; the form says why.
    Refused,
}

impl Entered {
    pub(super) fn is_written(self) -> bool {
        self == Self::Written
    }

    /// The answer that gives the form back, drawn as its page.
    pub(super) fn back(self, page: &impl Template) -> Result<Response, Fault> {
        match self {
            Self::Overtaken => overtaken(page),
            Self::Written | Self::Refused => blamed(page),
        }
    }
}

/// Writes what a form gives. Nothing that was typed is lost where it cannot be written; `now` is
/// the number of the last entry that there is.
pub(super) async fn enter(
    visit: &Visit,
    form: &mut Form,
    now: u64,
    writes: Vec<Append>,
) -> Result<Entered, Fault> {
    match visit.desk.write_all(writes).await {
        Ok(_) => Ok(Entered::Written),
        Err(conflict @ ShopError::Conflict { .. }) => {
            form.overtaken(&conflict, now);
            Ok(Entered::Overtaken)
        }
        Err(ShopError::Invalid { field, reason }) => {
            form.blame_key(&field, &reason);
            Ok(Entered::Refused)
        }
        Err(other) => Err(other.into()),
    }
}

/// Writes one entry from a form that has nothing to give back; `now` is the number of the last
/// entry that there is.
pub(super) async fn put(
    visit: &Visit,
    subject: &Subject,
    now: u64,
    entries: &Entries,
    event: Event,
) -> Result<(), Fault> {
    let seen = entries.seen().unwrap_or(now);
    visit.desk.write(visit.writer()?, subject, seen, vec![event]).await?;
    Ok(())
}
