//! The bodies of entries as they are stored: JSON, with a version for each kind, converted by hand.
//!
//! A body that was once written can be read for ever. Where a kind's body changes its meaning, its
//! version grows, [`take_event`] learns to read both, and a sample of the old one stays among the
//! tests. A body that cannot be read, most often of a newer program, becomes [`Foreign`].

mod cutter;
mod fields;
mod house;
mod readings;
mod wheel;
mod work;

use serde_json::Value;
use shop::book::event::Foreign;
use shop::book::{Event, EventKind};
use shop::record::Named;

use fields::{Body, Fields, Taken, Taker, Wrong};

/// The version in which most kinds' bodies are written now.
pub const VERSION: u32 = 1;

/// The version in which a kind's body is written now. Since 2 a cutter's has its end teeth, a plan
/// its set-up, what it foretold and the check it follows, a wheel's size its height, and a cutter
/// that was handed back is shorter; since 3 a cutter's has where its teeth stand and its taper. A
/// body without them reads as it did.
pub const fn version_of(kind: EventKind) -> u32 {
    match kind {
        EventKind::CutterEntered => VERSION + 2,
        EventKind::Planned | EventKind::HandedBack | EventKind::Dressed | EventKind::Measured => {
            VERSION + 1
        }
        _ => VERSION,
    }
}

/// An event as it is stored.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stored {
    /// Its kind's name.
    pub kind: String,
    /// The version of its body.
    pub version: u32,
    /// Its body, JSON.
    pub body: String,
}

/// An event as it is to be stored. What could not be read goes back as it came.
pub fn encode(event: &Event) -> Stored {
    match (event, put_event(event)) {
        (_, Some((kind, version, body))) => {
            Stored { kind: kind.name().to_owned(), version, body: body.to_string() }
        }
        (Event::Foreign(foreign), None) => Stored {
            kind: foreign.kind.clone(),
            version: foreign.version,
            body: foreign.body.clone(),
        },
        (_, None) => Stored { kind: String::new(), version: VERSION, body: "{}".to_owned() },
    }
}

/// The event that is stored so; never an error, for a history must always be readable.
pub fn decode(stored: &Stored) -> Event {
    read(stored).unwrap_or_else(|Wrong(why)| {
        let Stored { kind, version, body } = stored.clone();
        Event::Foreign(Foreign { kind, version, body, why })
    })
}

fn read(stored: &Stored) -> Taken<Event> {
    let value: Value =
        serde_json::from_str(&stored.body).map_err(|error| Wrong(error.to_string()))?;
    take_event(&stored.kind, stored.version, &value)
}

/// What is odd about a body that this program should be able to read, and would itself write
/// otherwise: it cannot be read, or has keys that mean nothing. Bodies of other versions may.
pub(crate) fn oddities(stored: &Stored) -> Vec<String> {
    let Some(kind) = EventKind::from_name(&stored.kind) else { return Vec::new() };
    if stored.version > version_of(kind) {
        return Vec::new();
    }
    let event = match read(stored) {
        Ok(event) => event,
        Err(Wrong(why)) => return vec![format!("it cannot be read: {why}")],
    };
    let (Some((_, version, again)), Ok(body)) = (put_event(&event), stored.body.parse::<Value>())
    else {
        return Vec::new();
    };
    let mut odd = Vec::new();
    if version == stored.version {
        unknown_keys(&body, &again, "", &mut odd);
    }
    odd
}

fn unknown_keys(body: &Value, known: &Value, at: &str, odd: &mut Vec<String>) {
    match (body, known) {
        (Value::Object(body), Value::Object(known)) => {
            for (key, value) in body {
                let path = if at.is_empty() { key.clone() } else { format!("{at}.{key}") };
                match known.get(key) {
                    Some(known) => unknown_keys(value, known, &path, odd),
                    None => odd.push(format!("the key {path:?} means nothing here")),
                }
            }
        }
        (Value::Array(body), Value::Array(known)) => {
            let pairs = body.iter().zip(known).zip(1..);
            pairs.for_each(|((body, known), place)| {
                unknown_keys(body, known, &format!("{at} {place}"), odd);
            });
        }
        _ => {}
    }
}

fn put_event(event: &Event) -> Option<(EventKind, u32, Value)> {
    let body = match event {
        Event::CutterEntered(body) => Fields::of(body.as_ref()),
        Event::Received(body) => Fields::of(body),
        Event::WearSeen(body) => Fields::of(body),
        Event::Planned(body) => Fields::of(body),
        Event::StepDone(body) => Fields::of(body),
        Event::Ground(body) => Fields::of(body),
        Event::Read(body) => Fields::of(body.as_ref()),
        Event::Checked(body) => Fields::of(body),
        Event::Corrected(body) => Fields::of(body),
        Event::HandedBack(body) => Fields::of(body),
        Event::WheelEntered(body) => Fields::of(body.as_ref()),
        Event::Dressed(body) => Fields::of(body),
        Event::Measured(body) => Fields::of(body),
        Event::Inspected(body) => Fields::of(body),
        Event::Mounted(body) => Fields::of(body),
        Event::Shelved => Fields::default().into_value(),
        Event::Written(body) => Fields::of(body),
        Event::TrayOpened(body) => Fields::of(body),
        Event::TrayOrdered(body) => Fields::of(body),
        Event::PersonEntered(body) => Fields::of(body),
        Event::PinSet(body) => Fields::of(body),
        Event::Noted(body) => Fields::of(body),
        Event::Retired(body) => Fields::of(body),
        Event::Amended(body) => Fields::of(body),
        Event::Foreign(_) => return None,
    };
    let kind = event.kind()?;
    Some((kind, version_of(kind), body))
}

fn take_event(kind: &str, version: u32, body: &Value) -> Taken<Event> {
    let known = EventKind::from_name(kind)
        .ok_or_else(|| Wrong(format!("this program does not know the kind {kind:?}")))?;
    let newest = version_of(known);
    if !(1..=newest).contains(&version) {
        return Err(Wrong(format!("this program reads version {newest}, this is {version}")));
    }
    let from = &Taker::of(body)?;
    Ok(match known {
        EventKind::CutterEntered => Event::CutterEntered(Box::new(Body::take(from)?)),
        EventKind::Received => Event::Received(Body::take(from)?),
        EventKind::WearSeen => Event::WearSeen(Body::take(from)?),
        EventKind::Planned => Event::Planned(Body::take(from)?),
        EventKind::StepDone => Event::StepDone(Body::take(from)?),
        EventKind::Ground => Event::Ground(Body::take(from)?),
        EventKind::Read => Event::Read(Box::new(Body::take(from)?)),
        EventKind::Checked => Event::Checked(Body::take(from)?),
        EventKind::Corrected => Event::Corrected(Body::take(from)?),
        EventKind::HandedBack => Event::HandedBack(Body::take(from)?),
        EventKind::WheelEntered => Event::WheelEntered(Box::new(Body::take(from)?)),
        EventKind::Dressed => Event::Dressed(Body::take(from)?),
        EventKind::Measured => Event::Measured(Body::take(from)?),
        EventKind::Inspected => Event::Inspected(Body::take(from)?),
        EventKind::Mounted => Event::Mounted(Body::take(from)?),
        EventKind::Shelved => Event::Shelved,
        EventKind::Written => Event::Written(Body::take(from)?),
        EventKind::TrayOpened => Event::TrayOpened(Body::take(from)?),
        EventKind::TrayOrdered => Event::TrayOrdered(Body::take(from)?),
        EventKind::PersonEntered => Event::PersonEntered(Body::take(from)?),
        EventKind::PinSet => Event::PinSet(Body::take(from)?),
        EventKind::Noted => Event::Noted(Body::take(from)?),
        EventKind::Retired => Event::Retired(Body::take(from)?),
        EventKind::Amended => Event::Amended(Body::take(from)?),
    })
}

/// Whether a body of this kind and version should be readable here.
pub(crate) fn is_known(kind: &str, version: u32) -> bool {
    EventKind::from_name(kind).is_some_and(|kind| version <= version_of(kind))
}
