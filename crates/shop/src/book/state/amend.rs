//! Which entries count once the later ones have spoken.

use super::fold::Latest;
use crate::book::entry::Entry;
use crate::book::event::{Amended, Event, EventKind};

/// An entry as it counts.
pub(super) struct Counted<'a> {
    pub(super) number: u64,
    /// What counts here; nothing where it was struck out.
    pub(super) event: Option<&'a Event>,
}

/// Every entry as it counts, in order; and what is wrong with amendments, by entry.
pub(super) fn counted(entries: &[Entry]) -> (Vec<Counted<'_>>, Vec<(u64, String)>) {
    let mut counted: Vec<Counted<'_>> = entries.iter().map(Counted::plain).collect();
    let mut wrong = Vec::new();
    for entry in entries {
        if let Event::Amended(amended) = &entry.event {
            match place(entries, entry.number, amended) {
                Ok(place) => counted[place].event = amended.instead.as_deref(),
                Err(what) => wrong.push((entry.number, what)),
            }
        }
    }
    (counted, wrong)
}

impl<'a> Counted<'a> {
    const fn plain(entry: &'a Entry) -> Self {
        Self { number: entry.number, event: Some(&entry.event) }
    }
}

/// The entries that count, in order, each with what counts in it: what was amended as amended, what
/// was struck out or does not fit not at all.
pub fn counting(entries: &[Entry]) -> Vec<(&Entry, &Event)> {
    let remarks = Latest::of(entries).map(|latest| latest.remarks).unwrap_or_default();
    let fits = |number: u64| remarks.iter().all(|remark| remark.entry != number);
    let (counted, _) = counted(entries);
    let here = entries.iter().zip(counted).filter(|(entry, _)| fits(entry.number));
    here.filter_map(|(entry, counted)| Some((entry, counted.event?))).collect()
}

/// Where the amended entry stands.
fn place(entries: &[Entry], number: u64, amended: &Amended) -> Result<usize, String> {
    let earlier = entries.iter().position(|entry| entry.number == amended.entry);
    let place = earlier.filter(|_| amended.entry < number).ok_or_else(|| {
        format!("entry {} does not stand before it; name an earlier one", amended.entry)
    })?;
    let target = &entries[place].event;
    match (target.kind(), &amended.instead) {
        (_, _) if matches!(target, Event::Amended(_)) => {
            Err("an amendment cannot be amended; amend the entry that it amends again".to_owned())
        }
        (_, None) if place == 0 => {
            Err("a history's first entry cannot be struck out; say it is done with".to_owned())
        }
        (kind, Some(instead)) if kind.is_none() || instead.kind() != kind => {
            let named = kind.map_or("unknown", EventKind::name);
            Err(format!("entry {} says \"{named}\"; write the same kind instead", amended.entry))
        }
        _ => Ok(place),
    }
}
