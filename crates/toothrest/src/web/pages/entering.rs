//! Entering something in the book: written, or given back with what was typed.

use askama::Template;
use axum::response::Response;
use shop::ShopError;
use shop::book::{Append, Event, Subject};

use crate::web::fault::Fault;
use crate::web::form::{Entries, Form};
use crate::web::page::{blamed, overtaken, unanswered};
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
    /// The book does not answer; the form says so.
    Unanswered,
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
            Self::Unanswered => unanswered(page),
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
    let Err(error) = visit.desk.write_all(writes).await else { return Ok(Entered::Written) };
    let (entered, words) = why_not(&error);
    match &error {
        ShopError::Invalid { field, reason } => form.blame_key(field, reason),
        _ => form.problems.push(words),
    }
    if entered == Entered::Overtaken {
        form.seen = now;
    }
    Ok(entered)
}

/// What became of something that the book did not take, and why not, in words.
pub(super) fn why_not(error: &ShopError) -> (Entered, String) {
    match error {
        ShopError::Conflict { .. } => (
            Entered::Overtaken,
            format!(
                "Somebody else wrote first: {error}. Nothing of yours was written, and what you \
                 typed still stands here. Look at what is new, and send it again if it still holds."
            ),
        ),
        ShopError::Store { .. } => (
            Entered::Unanswered,
            format!(
                "{error}. The book did not say that it has this, and what you typed still stands \
                 here. See that its disk or server is there and has room, and send it again: if it \
                 has it after all, it says so and takes nothing twice."
            ),
        ),
        other => (Entered::Refused, format!("{other}. What you typed still stands here.")),
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
