//! What is printed of one cutter: its tag, its card, its line of a delivery.

use geometry::{Length, System};
use sheets::drawing::{GroundTo, Life, Tag, TagRadius};
use sheets::paper::{DeliveryLine, LifeLine};
use shop::Ctx;
use shop::book::{Entry, Event};
use shop::learn::cutter_history;
use shop::plan::judge_cutter;
use shop::record::{Cutter, EndForm, Wear};
use trade::Tables;

use crate::surroundings::Zone;

/// Its tag; none where it was never ground here.
pub(crate) fn tag(record: &Cutter, date: String, initials: &str) -> Option<Tag> {
    let ground = record.as_ground()?;
    let radius = match record.end() {
        EndForm::Square => None,
        EndForm::CornerRadius(radius) => Some(TagRadius { ground: radius, nominal: radius }),
        EndForm::Ball => {
            Some(TagRadius { ground: ground.diameter / 2.0, nominal: record.diameter() / 2.0 })
        }
    };
    Some(Tag {
        number: record.number().to_owned(),
        nominal: record.diameter(),
        diameter: ground.diameter,
        radius,
        flute: record.flute_length(),
        regrind: record.regrinds(),
        date,
        initials: initials.to_owned(),
    })
}

/// Its line of a delivery note.
pub(crate) fn delivered(record: &Cutter, system: System) -> DeliveryLine {
    DeliveryLine {
        number: record.number().to_owned(),
        about: super::about(record, system),
        nominal: record.diameter(),
        ground: record.as_ground().map(|ground| ground.diameter),
        flute: record.flute_length(),
        regrind: record.regrinds(),
    }
}

/// The life that is left in it; none where no source gives a smallest useful size.
pub(crate) fn life(
    tables: &Tables,
    record: &Cutter,
    history: &[Entry],
    zone: &Zone,
) -> Option<Life> {
    let own = cutter_history(history).history;
    let judged = judge_cutter(&Ctx { tables }, record, &own).ok()?;
    let smallest = judged.verdict.smallest.as_ref()?;
    let ground = history.iter().filter_map(|entry| match &entry.event {
        Event::HandedBack(back) => {
            Some(GroundTo { diameter: back.as_ground?.diameter, when: zone.day(entry.stamp.at) })
        }
        _ => None,
    });
    let lives = judged.lives();
    let (now, now_is) = now(record, history, zone);
    let range =
        lives.as_ref().map_or((0, 0, 0), |lives| (lives.least, lives.expected, lives.greatest));
    Some(Life {
        cutter: record.number().to_owned(),
        nominal: record.diameter(),
        ground: ground.collect(),
        now,
        now_is,
        counted_from: judged.stock.sharp_diameter.value,
        smallest: smallest.value,
        per_grind: judged.stock.per_grind.value,
        least: range.0,
        expected: range.1,
        greatest: range.2,
    })
}

/// The last known size, and what it is since when.
fn now(record: &Cutter, history: &[Entry], zone: &Zone) -> (Length, String) {
    let since = |what: &str, is_it: fn(&Event) -> bool| {
        let last = history.iter().rev().find(|entry| is_it(&entry.event));
        let day = last.map(|entry| format!(" {}", zone.day(entry.stamp.at))).unwrap_or_default();
        format!("{what}{day}")
    };
    let size = record.known_diameter();
    if record.wear().and_then(Wear::measured_diameter).is_some() {
        return (size, since("over dull edges, seen", |event| matches!(event, Event::WearSeen(_))));
    }
    let is_ground = record.as_ground().is_some();
    let handed = |event: &Event| matches!(event, Event::HandedBack(_));
    (size, if is_ground { since("as last ground", handed) } else { String::new() })
}

/// The size that an entry left on the cutter, as it counts after all that was put right since.
fn left(history: &[Entry], entry: &Entry) -> Option<Length> {
    let amended = history.iter().rev().find_map(|other| match &other.event {
        Event::Amended(amended) if amended.entry == entry.number => Some(amended),
        _ => None,
    });
    let counts = amended.map_or(Some(&entry.event), |amended| amended.instead.as_deref());
    match counts {
        Some(Event::HandedBack(back)) => back.as_ground.map(|ground| ground.diameter),
        _ => None,
    }
}

/// One line of the card of a history: what happened, and the words for it.
pub(crate) fn card_line(
    history: &[Entry],
    entry: &Entry,
    (what, words): (String, String),
    zone: &Zone,
) -> LifeLine {
    let left = left(history, entry);
    LifeLine {
        entry: entry.number.to_string(),
        date: zone.minute(entry.stamp.at),
        who: entry.stamp.by.to_string(),
        what,
        words,
        left,
    }
}
