//! The invented past of the demo shop's cutters.

use geometry::Length;
use shop::ShopError;
use shop::book::event::{CutterEntered, Ground, HandedBack, Planned, Received, WearSeen};
use shop::book::{Append, Event, Id, Initials, Moment, Stamp, Subject, SubjectKind};
use shop::record::{AsGround, Cutter, WearDraft};

use super::{PEOPLE, between};
use crate::desk::Desk;

const MINUTE_S: u64 = 60;
const DAY_S: u64 = 86_400;

/// How old a cutter is, and with what it was ground.
pub(super) struct Age {
    /// Its place in the demo.
    pub(super) place: usize,
    /// The wheel that ground it.
    pub(super) wheel: Option<Id>,
    /// The machine on which it was ground.
    pub(super) machine: Option<Id>,
}

/// What comes off the radius for what the slide of that machine moves, by its plans.
const RADIUS_PER_TRAVEL: f64 = 0.98;

/// What really came off for what should have: that wheel gives a little.
const GIVES: f64 = 0.94;

/// Days between two regrinds of a cutter.
const DAYS_BETWEEN: u64 = 34;

/// Puts a cutter into the book with a regrind for each that its record counts, and lets it arrive
/// today.
pub(super) async fn put(desk: &Desk, cutter: &Cutter, age: &Age) -> Result<(), ShopError> {
    let subject = desk.fresh(SubjectKind::Cutter);
    let now = desk.now();
    let lives = cutter.regrinds();
    let mut seen = 0;
    let entered = entered(cutter)?;
    let begun = now.earlier(DAY_S * (DAYS_BETWEEN * (u64::from(lives) + 1) + place(age)));
    seen = write(desk, &subject, seen, begun, age, vec![entered]).await?;
    for life in 1..=lives {
        let days = DAYS_BETWEEN * u64::from(lives + 1 - life) + place(age);
        let at = now.earlier(DAY_S * days);
        let events = grind(cutter, life, age, seen)?;
        seen = write(desk, &subject, seen, at, age, events).await?;
    }
    let from = ["mill 2", "mill 5", "tool crib"][age.place % 3];
    let received = Event::Received(Received { from: Some(from.to_owned()), ..Received::default() });
    let wear = cutter.wear().cloned().map(|wear| Event::WearSeen(WearSeen { wear }));
    let today = now.earlier(MINUTE_S * (40 + 7 * place(age)));
    let arrived = std::iter::once(received).chain(wear).collect();
    write(desk, &subject, seen, today, age, arrived).await.map(|_| ())
}

fn place(age: &Age) -> u64 {
    u64::try_from(age.place).unwrap_or_default()
}

async fn write(
    desk: &Desk,
    subject: &Subject,
    seen: u64,
    at: Moment,
    age: &Age,
    events: Vec<Event>,
) -> Result<u64, ShopError> {
    let by = Initials::new(PEOPLE[age.place % PEOPLE.len()].0)?;
    let count = events.len() as u64;
    let stamp = Stamp { at, by };
    desk.write_all(vec![Append { subject: subject.clone(), seen, stamp, events }]).await?;
    Ok(seen + count)
}

/// As it was when it was new.
fn entered(cutter: &Cutter) -> Result<Event, ShopError> {
    let mut draft = cutter.draft();
    if draft.regrinds > 0 {
        draft.as_ground = None;
    }
    draft.regrinds = 0;
    let told = |errors: shop::record::RecordErrors| ShopError::invalid("demo", errors.to_string());
    let cutter = draft.build().map_err(told)?;
    Ok(Event::CutterEntered(Box::new(CutterEntered { cutter, marks: Vec::new() })))
}

/// One regrind on the way from its nominal size to the size it was last ground to; its entries come
/// behind the one with the number `seen`.
fn grind(cutter: &Cutter, life: u32, age: &Age, seen: u64) -> Result<Vec<Event>, ShopError> {
    let Some(last) = cutter.as_ground() else { return Ok(vec![Event::HandedBack(back(None))]) };
    let share = |life: u32| f64::from(life) / f64::from(cutter.regrinds().max(1));
    let size = |life: u32| between(cutter.diameter(), last.diameter, share(life));
    let dull = size(life - 1) - Length::from_mm(0.02);
    let wear = WearDraft { measured_diameter: Some(dull), ..WearDraft::default() };
    let wear = wear.build().map_err(|errors| ShopError::invalid("demo", errors.to_string()))?;
    let planned = planned(dull, size(life), age);
    let ground = ground(&planned, seen + 3, dull, size(life), life, age);
    let as_ground = AsGround { diameter: size(life), ..*last };
    Ok(vec![
        Event::Received(Received::default()),
        Event::WearSeen(WearSeen { wear }),
        Event::Planned(planned),
        Event::Ground(ground),
        Event::HandedBack(back(Some(as_ground))),
    ])
}

/// A plan that asked for a little more than came off.
fn planned(dull: Length, size: Length, age: &Age) -> Planned {
    let came_off = (dull - size) / 2.0;
    let stock = came_off * (1.0 / GIVES);
    Planned {
        program: env!("CARGO_PKG_VERSION").to_owned(),
        route: "regrind on the diameter".to_owned(),
        wheel: age.wheel.clone(),
        machine: age.machine.clone(),
        stock: Some(stock),
        diameter_after: Some(size - (stock - came_off) * 2.0),
        travel: Some(stock * (1.0 / RADIUS_PER_TRAVEL)),
        radius_per_travel: Some(RADIUS_PER_TRAVEL),
        ..Planned::default()
    }
}

fn ground(
    planned: &Planned,
    plan: u64,
    before: Length,
    after: Length,
    life: u32,
    age: &Age,
) -> Ground {
    Ground {
        plan: Some(plan),
        wheel: age.wheel.clone(),
        machine: age.machine.clone(),
        travel: planned.travel,
        diameter_before: Some(before),
        diameter_after: Some(after),
        minutes: Some(18.0 + f64::from(life % 5)),
        ..Ground::default()
    }
}

fn back(as_ground: Option<AsGround>) -> HandedBack {
    HandedBack { as_ground, to: Some("tool crib".to_owned()), shorter: None }
}
