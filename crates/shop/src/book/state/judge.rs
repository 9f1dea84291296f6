//! Whether entries may be added to a history.

use super::fold::Latest;
use crate::book::entry::{Append, Entry};
use crate::book::event::Event;
use crate::error::ShopError;

/// Most entries that one writer adds to one history at once.
const EVENTS_MAX: usize = 100;

/// Judges entries that somebody wants to add to a history which has not changed since they looked,
/// and gives the state afterwards.
///
/// # Errors
/// `Invalid` where there is nothing to add or too much, where an event is unsound, does not fit the
/// history, or takes the ground from under an entry that fitted before.
pub fn judge(history: &[Entry], append: &Append) -> Result<Latest, ShopError> {
    let count = append.events.len();
    if !(1..=EVENTS_MAX).contains(&count) {
        let reason = format!("{count} entries at once; write 1 to {EVENTS_MAX}");
        return Err(ShopError::invalid("entries", reason));
    }
    append.events.iter().try_for_each(Event::check)?;
    let whole: Vec<Entry> = history.iter().cloned().chain(append.entries()).collect();
    let before = Latest::of(history).map_or_else(Vec::new, |latest| latest.remarks);
    let after = Latest::of(&whole)
        .ok_or_else(|| ShopError::invalid("entries", "nothing to write; write at least one"))?;
    let known = |entry| before.iter().any(|remark| remark.entry == entry);
    match after.remarks.iter().find(|remark| !known(remark.entry)) {
        None => Ok(after),
        Some(remark) if remark.entry > append.seen => {
            Err(ShopError::invalid(format!("entry {}", remark.entry), remark.what.clone()))
        }
        Some(remark) => {
            let reason = format!("with this it would fit no longer: {}", remark.what);
            Err(ShopError::invalid(format!("entry {}", remark.entry), reason))
        }
    }
}
