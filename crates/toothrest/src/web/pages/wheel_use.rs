//! What a wheel has ground, and what its grinds say of the next one.

use std::collections::BTreeSet;

use geometry::Length;
use sheets::text::Units;
use shop::book::event::Ground;
use shop::book::{Entry, Event, Id, Store, Subject, SubjectKind, whole_history};
use shop::learn::{Learned, WheelGrind, WheelHistory, dial_to_stock, wheel_wear};
use shop::record::Machine;
use shop::{Ctx, ShopError};

use super::cutter::Figure;
use super::record::name_of;
use crate::desk::WheelAt;
use crate::files::read_machine;
use crate::web::fault::Fault;
use crate::web::visit::Visit;

/// So many grinds are shown and learned from.
const GRINDS: u32 = 40;

/// One cutter that the wheel ground.
pub(super) struct Use {
    pub(super) id: String,
    pub(super) number: String,
    pub(super) at: String,
    pub(super) size: String,
    pub(super) travel: String,
}

/// The last grinds with this wheel.
pub(super) async fn grinds(visit: &Visit, wheel: &WheelAt) -> Result<Vec<Entry>, Fault> {
    Ok(visit.desk.book().ground_with(&wheel.subject.id, GRINDS).await?)
}

/// The grinds as rows.
pub(super) async fn uses(visit: &Visit, grinds: &[Entry], units: Units) -> Result<Vec<Use>, Fault> {
    let mut uses = Vec::new();
    for entry in grinds {
        let Event::Ground(ground) = &entry.event else { continue };
        let shown = |length: Option<Length>| length.map(|length| units.length(length));
        let id = &entry.subject.id;
        uses.push(Use {
            id: id.to_string(),
            number: name_of(visit, SubjectKind::Cutter, id).await?,
            at: visit.zone.day(entry.stamp.at),
            size: shown(ground.diameter_after).unwrap_or_default(),
            travel: shown(ground.travel).unwrap_or_default(),
        });
    }
    Ok(uses)
}

/// What the wheel's own grinds say, as figures.
pub(super) async fn learned(
    visit: &Visit,
    wheel: &WheelAt,
    grinds: &[Entry],
    units: Units,
) -> Result<Vec<Figure>, Fault> {
    let tables = visit.desk.tables().await?;
    let ctx = Ctx { tables: &tables };
    let history = history_of(visit, wheel, grinds).await?;
    let ratio = dial_to_stock(&ctx, &history)?;
    let wear = wheel_wear(&ctx, wheel.state.wheel.abrasive(), &history)?;
    Ok(vec![ratio_figure(&ratio), wear_figure(&wear, units)])
}

fn ratio_figure(ratio: &Learned<f64>) -> Figure {
    let band = format!("{:.2} to {:.2}; {}", ratio.least, ratio.greatest, ratio.words());
    Figure::new("comes off for 1 on the dial", format!("{:.2}", ratio.value), band)
}

fn wear_figure(wear: &Learned<Length>, units: Units) -> Figure {
    let least = wear.least.max(Length::ZERO);
    let band = format!("{} to {}", units.length(least), units.length(wear.greatest));
    let words = format!("{band}; {}", wear.words());
    Figure::new("its face loses over a cutter", units.length(wear.value), words)
}

/// The wheel's history as one learns from it, out of its own entries and those of the cutters that
/// it ground.
async fn history_of(
    visit: &Visit,
    wheel: &WheelAt,
    grinds: &[Entry],
) -> Result<WheelHistory, Fault> {
    let cutters: BTreeSet<&Id> = grinds.iter().map(|entry| &entry.subject.id).collect();
    let mut taken = Vec::new();
    for id in cutters {
        let subject = Subject::new(SubjectKind::Cutter, id.clone());
        let history = whole_history(visit.desk.book(), &subject).await?;
        let number = name_of(visit, SubjectKind::Cutter, id).await?;
        for (entry, ground) in grounds(&history, &wheel.subject.id) {
            let machine = machine_of(visit, ground).await?;
            taken.extend(machine.and_then(|machine| grind(&number, entry, ground, &machine)));
        }
    }
    // A grind that contradicts itself says nothing; the others still do.
    taken.retain(|grind| WheelHistory::new(vec![grind.clone()]).is_ok());
    Ok(WheelHistory::new(taken)?)
}

/// The grinds with a wheel that count: what was struck out or amended says nothing here.
fn grounds<'e>(history: &'e [Entry], wheel: &Id) -> Vec<(u64, &'e Ground)> {
    let amended: BTreeSet<u64> = history.iter().filter_map(super::record::amends).collect();
    let of = |entry: &'e Entry| match &entry.event {
        Event::Ground(ground) if ground.wheel.as_ref() == Some(wheel) => {
            Some((entry.number, ground))
        }
        _ => None,
    };
    history.iter().filter_map(of).filter(|(number, _)| !amended.contains(number)).collect()
}

/// The machine of a grind: without it nobody knows whether the dial counts on the diameter.
async fn machine_of(visit: &Visit, ground: &Ground) -> Result<Option<Machine>, Fault> {
    let Some(id) = &ground.machine else { return Ok(None) };
    match visit.desk.document(SubjectKind::Machine, id.as_str()).await {
        Ok(paper) => Ok(read_machine(&paper.state.name, &paper.state.text).ok()),
        Err(ShopError::NotFound { .. }) => Ok(None),
        Err(other) => Err(other.into()),
    }
}

/// What came off the radius, from the dull edges on, for what the slide was fed.
fn grind(number: &str, entry: u64, ground: &Ground, machine: &Machine) -> Option<WheelGrind> {
    let fed = machine.cross_feed().travel(ground.travel?);
    let came_off = (ground.diameter_before? - ground.diameter_after?) / 2.0;
    let entry = format!("{number}, entry {entry}");
    let (fed, came_off) = (Some(fed), Some(came_off));
    Some(WheelGrind { entry, fed, came_off, face_lost: None, cutters: 1 })
}
