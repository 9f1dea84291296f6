//! What a hand should know of the book before anything is written to it.

use book::Book;
use shop::ShopError;
use shop::book::{AHEAD_S, Moment, Span, Store};

use crate::surroundings::Zone;

/// What is to be said of the place where the book lies, and of the clock.
pub(crate) async fn remarks(
    book: &Book,
    now: Moment,
    zone: &Zone,
) -> Result<Vec<String>, ShopError> {
    let mut remarks = book.remarks().to_vec();
    remarks.extend(of_the_clock(book, now, zone).await?);
    Ok(remarks)
}

/// A book lies still for so many days at most before it is asked whether the clock stands ahead.
const STILL_DAYS: i64 = 731;

/// What is to be said of the clock of this machine, by the entries of the book.
pub(crate) async fn of_the_clock(
    book: &Book,
    now: Moment,
    zone: &Zone,
) -> Result<Option<String>, ShopError> {
    match of_entries_ahead(book, now, zone).await? {
        Some(remark) => Ok(Some(remark)),
        None => of_years_between(book, now, zone).await,
    }
}

/// Years after the last entry, a clock is more likely wrong than a shop at rest.
async fn of_years_between(
    book: &Book,
    now: Moment,
    zone: &Zone,
) -> Result<Option<String>, ShopError> {
    let Some(last) = book.last_written().await? else { return Ok(None) };
    let days = (now.micros() - last.micros()) / 86_400_000_000;
    Ok((days > STILL_DAYS).then(|| {
        format!(
            "The clock of this machine says {}, and the last entry of the book is of {}, {} years \
             before. Where that cannot be, set the date and the time of this machine before you \
             write: what is written keeps the time that the clock says then.",
            zone.minute(now),
            zone.minute(last),
            days / 365
        )
    }))
}

/// A book knows no time but what its writers say, so only entries that stand ahead can show that
/// this machine's clock stands behind, or that another's stood ahead.
async fn of_entries_ahead(
    book: &Book,
    now: Moment,
    zone: &Zone,
) -> Result<Option<String>, ShopError> {
    let ahead = Span { from: now.later(AHEAD_S), until: Moment::LAST, after: None, limit: 1 };
    let first = book.written(&ahead).await?.into_iter().next();
    Ok(first.map(|entry| {
        format!(
            "The clock of this machine says {}, and the book has an entry of {}. One of the two \
             clocks was wrong. Look at the date and the time of this machine, and set them, before \
             you write: what is written keeps the time that the clock says then.",
            zone.minute(now),
            zone.minute(entry.stamp.at)
        )
    }))
}
