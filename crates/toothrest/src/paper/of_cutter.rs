//! What is printed of one cutter: its tag, its card, its line of a delivery.

use geometry::{Length, System};
use sheets::drawing::{GroundTo, Life, Tag, TagRadius};
use sheets::paper::{DeliveryLine, LifeLine};
use shop::book::{CutterState, Entry, Event};
use shop::learn::cutter_history;
use shop::plan::judge_cutter;
use shop::record::{Cutter, EndForm, Wear};
use shop::{Ctx, ShopError};
use trade::Tables;

use crate::surroundings::Zone;

/// Why no size of it can be given away, and what to do; nothing where it stands.
pub(crate) fn unsettled(state: &CutterState) -> Option<String> {
    let number = state.cutter.number();
    if state.standing().is_some() {
        return None;
    }
    Some(if !state.is_away() {
        format!("{number}: it is at the bench and its size is not settled; hand it back first")
    } else if state.cutter.wear().is_some() {
        format!("{number}: it is dull, so what it measures is no size to cut by; grind it first")
    } else {
        format!("{number}: it has no size as ground; hand it back first, with what it measures")
    })
}

/// Its tag: the size that it lies ground to, the day of that grind and who did it.
///
/// # Errors
/// That its size is not settled.
pub(crate) fn tag(state: &CutterState, history: &[Entry], zone: &Zone) -> Result<Tag, ShopError> {
    let record = &state.cutter;
    let ground = state.standing().ok_or_else(|| {
        let why = unsettled(state).unwrap_or_default();
        ShopError::invalid("cutter", why)
    })?;
    // What came in by its file was ground before the book knew it: then it is dated by its entry.
    let back = history.iter().rev().find(|entry| leaves_ground(&entry.event));
    let stamp = back.or(history.first()).map(|entry| &entry.stamp);
    let date = stamp.map(|stamp| zone.day(stamp.at)).unwrap_or_default();
    let initials = stamp.map(|stamp| stamp.by.to_string()).unwrap_or_default();
    let radius = match record.end() {
        EndForm::Square => None,
        EndForm::CornerRadius(radius) => {
            Some(TagRadius { ground: radius, nominal: radius, is_ball: false })
        }
        EndForm::Ball => Some(TagRadius {
            ground: ground.diameter / 2.0,
            nominal: record.diameter() / 2.0,
            is_ball: true,
        }),
    };
    Ok(Tag {
        number: record.number().to_owned(),
        nominal: record.diameter(),
        diameter: ground.diameter,
        radius,
        chamfer: record.end_teeth().and_then(|end| end.corner_chamfer),
        taper: record.taper(),
        flute: record.flute_length(),
        overall: record.overall_length(),
        regrind: record.regrinds(),
        date,
        initials,
    })
}

/// Its line of a delivery note.
pub(crate) fn delivered(state: &CutterState, system: System) -> DeliveryLine {
    let record = &state.cutter;
    DeliveryLine {
        number: record.number().to_owned(),
        about: super::about(record, system),
        nominal: record.diameter(),
        ground: state.standing().map(|ground| ground.diameter),
        flute: record.flute_length(),
        overall: record.overall_length(),
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
    (size, if is_ground { since("as last ground", leaves_ground) } else { String::new() })
}

/// Whether a cutter was handed back ground by it; one may go back as it came.
fn leaves_ground(event: &Event) -> bool {
    matches!(event, Event::HandedBack(back) if back.as_ground.is_some())
}

/// The size that it was ground to before the book knew it, where the entry that brought it in says.
pub(crate) fn ground_before(history: &[Entry]) -> Option<Length> {
    history.iter().find_map(|entry| match &entry.event {
        Event::CutterEntered(entered) => Some(entered.cutter.as_ground()?.diameter),
        _ => None,
    })
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
