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

/// A book knows no time but what its writers say, so only entries that stand ahead can show that
/// this machine's clock stands behind, or that another's stood ahead.
async fn of_the_clock(book: &Book, now: Moment, zone: &Zone) -> Result<Option<String>, ShopError> {
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
