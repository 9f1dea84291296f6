//! The shapes of the answers. A key is a promise; `openapi.json` says the same in its own words.

use std::collections::BTreeMap;

use geometry::{Angle, Length};
use serde::Serialize;
use shop::book::event::Ground;
use shop::book::{CutterState, Entry, Event, Id, Summary, counting};
use shop::record::{EndForm, Hand, Wear};

/// Version of the shapes; it grows when a key changes its meaning or goes away.
const SCHEMA: u32 = 1;

#[derive(Serialize)]
pub(super) struct ErrorAnswer {
    /// What is wrong and what would be right.
    pub(super) error: String,
}

#[derive(Serialize)]
pub(super) struct CuttersAnswer {
    schema: u32,
    cutters: Vec<CutterLine>,
    next: Option<String>,
}

#[derive(Serialize)]
struct CutterLine {
    id: String,
    number: String,
    about: String,
    stage: &'static str,
    size_mm: Option<f64>,
    last_written: String,
    last_by: String,
}

#[derive(Serialize)]
pub(super) struct CutterAnswer {
    schema: u32,
    cutter: CutterLine,
    teeth: u32,
    hand: &'static str,
    material: &'static str,
    end: &'static str,
    corner_radius_mm: Option<f64>,
    taper_deg: f64,
    helix_deg: f64,
    helix_hand: Option<&'static str>,
    overall_length_mm: f64,
    shank_diameter_mm: f64,
    size: SizeLine,
}

#[derive(Serialize)]
pub(super) struct SizesAnswer {
    schema: u32,
    sizes: Vec<SizeLine>,
    next: Option<String>,
}

#[derive(Serialize)]
struct SizeLine {
    number: String,
    hand: &'static str,
    nominal_mm: f64,
    ground_mm: Option<f64>,
    dull_mm: Option<f64>,
    flute_length_mm: f64,
    regrinds: u32,
    stage: &'static str,
    last_written: String,
}

#[derive(Serialize)]
pub(super) struct RecordsAnswer {
    schema: u32,
    number: String,
    grinds: Vec<GrindLine>,
}

#[derive(Serialize)]
struct GrindLine {
    entry: u64,
    at: String,
    by: String,
    machine: Option<String>,
    wheel: Option<String>,
    diameter_before_mm: Option<f64>,
    diameter_after_mm: Option<f64>,
    travel_mm: Option<f64>,
    passes: Option<u32>,
    minutes: Option<f64>,
}

pub(super) fn cutters_answer(listed: &shop::book::Listed, next: Option<String>) -> CuttersAnswer {
    CuttersAnswer { schema: SCHEMA, cutters: listed.rows.iter().map(line).collect(), next }
}

fn line(row: &Summary) -> CutterLine {
    CutterLine {
        id: row.subject.id.to_string(),
        number: row.number.clone(),
        about: row.about.clone(),
        stage: row.stage.name(),
        size_mm: row.size.map(mm),
        last_written: row.last.at.to_string(),
        last_by: row.last.by.to_string(),
    }
}

pub(super) fn cutter_answer(row: &Summary, state: &CutterState) -> CutterAnswer {
    let cutter = &state.cutter;
    CutterAnswer {
        schema: SCHEMA,
        cutter: line(row),
        teeth: cutter.teeth(),
        hand: cutter.hand().name(),
        material: cutter.material().name(),
        end: cutter.end().name(),
        corner_radius_mm: match cutter.end() {
            EndForm::CornerRadius(radius) => Some(mm(radius)),
            EndForm::Square | EndForm::Ball => None,
        },
        taper_deg: degrees(cutter.taper()),
        helix_deg: degrees(cutter.helix()),
        helix_hand: cutter.helix_hand().map(Hand::name),
        overall_length_mm: mm(cutter.overall_length()),
        shank_diameter_mm: mm(cutter.shank_diameter()),
        size: size(row, state),
    }
}

/// Radians and back leave a hair.
fn degrees(angle: Angle) -> f64 {
    (angle.degrees() * 1e9).round() / 1e9
}

pub(super) fn sizes_answer(rows: &[(Summary, CutterState)], next: Option<String>) -> SizesAnswer {
    let sizes = rows.iter().map(|(row, state)| size(row, state)).collect();
    SizesAnswer { schema: SCHEMA, sizes, next }
}

fn size(row: &Summary, state: &CutterState) -> SizeLine {
    let cutter = &state.cutter;
    SizeLine {
        number: row.number.clone(),
        hand: cutter.hand().name(),
        nominal_mm: mm(cutter.diameter()),
        ground_mm: cutter.as_ground().map(|ground| mm(ground.diameter)),
        dull_mm: cutter.wear().and_then(Wear::measured_diameter).map(mm),
        flute_length_mm: mm(cutter.flute_length()),
        regrinds: cutter.regrinds(),
        stage: row.stage.name(),
        last_written: row.last.at.to_string(),
    }
}

pub(super) fn records_answer(
    number: &str,
    history: &[Entry],
    names: &BTreeMap<Id, String>,
) -> RecordsAnswer {
    let grinds = counting(history).into_iter().filter_map(|(entry, event)| match event {
        Event::Ground(ground) => Some(grind(entry, ground, names)),
        _ => None,
    });
    RecordsAnswer { schema: SCHEMA, number: number.to_owned(), grinds: grinds.collect() }
}

fn grind(entry: &Entry, ground: &Ground, names: &BTreeMap<Id, String>) -> GrindLine {
    let named = |id: &Option<Id>| id.as_ref().and_then(|id| names.get(id)).cloned();
    GrindLine {
        entry: entry.number,
        at: entry.stamp.at.to_string(),
        by: entry.stamp.by.to_string(),
        machine: named(&ground.machine),
        wheel: named(&ground.wheel),
        diameter_before_mm: ground.diameter_before.map(mm),
        diameter_after_mm: ground.diameter_after.map(mm),
        travel_mm: ground.travel.map(mm),
        passes: ground.passes,
        minutes: ground.minutes,
    }
}

/// Millimetres, without the noise of a conversion.
fn mm(length: Length) -> f64 {
    (length.mm() * 1e5).round() / 1e5
}
