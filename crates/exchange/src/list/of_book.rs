//! The tables of what the book holds: cutters, trays, sizes, and a line for each regrind.

use std::collections::BTreeMap;

use geometry::quantity::System;
use geometry::{Angle, Length};
use shop::book::event::Ground;
use shop::book::{CutterState, Entry, Event, Id, Moment, Stage, TrayState, counting};
use shop::record::{Cutter, CutterDraft, EndForm, Wear};

use super::column::{CutterColumn, Holds};
use super::table::{Table, TableColumn, Value};

/// A cutter of the book.
#[derive(Clone, Debug)]
pub struct CutterRow<'a> {
    /// Its state.
    pub state: &'a CutterState,
    /// The name of the tray it lies in.
    pub tray: Option<&'a str>,
    /// When it was last written to.
    pub last: Moment,
}

/// A tray of the book.
#[derive(Clone, Debug)]
pub struct TrayRow<'a> {
    /// Its state.
    pub state: &'a TrayState,
    /// The numbers of the cutters in it, in the order of work as far as one is kept.
    pub cutters: &'a [String],
}

/// A size that a machine has to be told.
#[derive(Clone, Debug)]
pub struct SizeRow<'a> {
    /// The cutter.
    pub cutter: &'a Cutter,
    /// Where it stands.
    pub stage: Stage,
    /// When that was last written.
    pub last: Moment,
}

/// Cutters with their records, one a line. The headings are those that a list of cutters is read
/// by, so what goes out here can come in elsewhere.
pub fn cutters_table(rows: &[CutterRow<'_>], system: System) -> Table {
    let facts = CutterColumn::ALL.iter().map(|column| heading(*column, system));
    let more = ["stands", "tray", "last written (UTC)"].map(TableColumn::plain);
    let row = |row: &CutterRow<'_>| {
        let draft = row.state.cutter.draft();
        let facts = CutterColumn::ALL.iter().map(|column| fact(*column, &draft, system));
        let (tray, last) = (row.tray.unwrap_or_default(), minute(row.last));
        let more = [row.state.stage.name(), tray, &last].map(Value::words);
        facts.chain(more).collect()
    };
    let columns = facts.chain(more).collect();
    Table { name: "cutters", columns, rows: rows.iter().map(row).collect() }
}

fn heading(column: CutterColumn, system: System) -> TableColumn {
    match column.holds() {
        Holds::Length => TableColumn::length(column.field(), system),
        Holds::Angle => TableColumn::angle(column.field()),
        Holds::Words | Holds::Count | Holds::Angles | Holds::Flag => {
            TableColumn::plain(column.field())
        }
    }
}

fn fact(column: CutterColumn, draft: &CutterDraft, system: System) -> Value {
    use CutterColumn as C;
    let length = |length: Option<Length>| Value::length(length, system);
    let ground = draft.as_ground.as_ref();
    match column {
        C::Number => Value::words(&draft.number),
        C::Diameter => length(Some(draft.diameter)),
        C::Teeth => Value::count(draft.teeth),
        C::Hand => Value::words(draft.hand.name()),
        C::Helix => Value::angle(draft.helix),
        C::HelixHand => Value::words(draft.helix_hand.map_or("", |hand| hand.name())),
        C::Rake => Value::angle(draft.rake),
        C::Material => Value::words(draft.material.name()),
        C::End => Value::words(draft.end.name()),
        C::CornerRadius => length(corner_radius(draft.end)),
        C::Profile => Value::words(draft.profile.name()),
        C::FluteLength => length(Some(draft.flute_length)),
        C::OverallLength => length(Some(draft.overall_length)),
        C::ShankDiameter => length(Some(draft.shank_diameter)),
        C::CoreDiameter => length(draft.core_diameter),
        C::ToothThickness => length(draft.tooth_thickness),
        C::CentreCutting => Value::flag(draft.centre_cutting),
        C::Coating => Value::words(draft.coating.as_deref().unwrap_or_default()),
        C::Work => Value::words(&draft.work),
        C::Regrinds => Value::count(draft.regrinds),
        C::UnequalIndex => draft.unequal_index.map_or_else(|| Value::words(""), Value::flag),
        C::Index => each_tooth(&draft.special.index),
        C::ToothHelix => each_tooth(&draft.special.tooth_helix),
        C::Taper => Value::angle(Some(draft.special.taper).filter(|taper| *taper != Angle::ZERO)),
        C::GroundDiameter => length(ground.map(|ground| ground.diameter)),
        C::GroundPrimary => Value::angle(ground.map(|ground| ground.primary)),
        C::GroundSecondary => Value::angle(ground.map(|ground| ground.secondary)),
        C::GroundLand => length(ground.map(|ground| ground.land)),
    }
}

/// An angle for each tooth in one cell, as it is read again; blank where nobody measured them.
fn each_tooth(angles: &[Angle]) -> Value {
    let shown = angles.iter().map(|angle| {
        let degrees = (angle.degrees() * 1e6).round() / 1e6;
        format!("{degrees} deg")
    });
    Value::words(shown.collect::<Vec<_>>().join("; "))
}

/// The radius of a rounded corner.
pub(crate) const fn corner_radius(end: EndForm) -> Option<Length> {
    match end {
        EndForm::CornerRadius(radius) => Some(radius),
        EndForm::Square | EndForm::Ball => None,
    }
}

/// Open trays, a line for each cutter in one; an empty tray has a line of its own.
pub fn trays_table(rows: &[TrayRow<'_>]) -> Table {
    let columns = ["tray", "whose", "place", "cutter"].map(TableColumn::plain).into();
    let line = |tray: &TrayState, place: Value, cutter: &str| {
        let whose = tray.whose.as_deref().unwrap_or_default();
        vec![Value::words(&tray.name), Value::words(whose), place, Value::words(cutter)]
    };
    let of_tray = |row: &TrayRow<'_>| {
        let numbered = (1_u32..).zip(row.cutters);
        let lines = numbered.map(|(place, cutter)| line(row.state, Value::count(place), cutter));
        let lines: Vec<_> = lines.collect();
        if lines.is_empty() { vec![line(row.state, Value::Blank, "")] } else { lines }
    };
    Table { name: "trays", columns, rows: rows.iter().flat_map(of_tray).collect() }
}

/// What every cutter really measures, for whoever sets a machine by it.
pub fn sizes_table(rows: &[SizeRow<'_>], system: System) -> Table {
    let columns = vec![
        TableColumn::plain("number"),
        TableColumn::length("nominal diameter", system),
        TableColumn::length("diameter as ground", system),
        TableColumn::length("diameter over dull edges", system),
        TableColumn::length("flute length", system),
        TableColumn::plain("regrinds"),
        TableColumn::plain("stands"),
        TableColumn::plain("last written (UTC)"),
    ];
    let row = |row: &SizeRow<'_>| {
        let cutter = row.cutter;
        let dull = cutter.wear().and_then(Wear::measured_diameter);
        vec![
            Value::words(cutter.number()),
            Value::length(cutter.diameter(), system),
            Value::length(cutter.as_ground().map(|ground| ground.diameter), system),
            Value::length(dull, system),
            Value::length(cutter.flute_length(), system),
            Value::count(cutter.regrinds()),
            Value::words(row.stage.name()),
            Value::words(minute(row.last)),
        ]
    };
    Table { name: "sizes", columns, rows: rows.iter().map(row).collect() }
}

/// Every grind that counts, from the histories of cutters; `names` has the numbers of wheels and
/// the names of machines by their ids.
pub fn records_table(
    histories: &[(String, Vec<Entry>)],
    names: &BTreeMap<Id, String>,
    system: System,
) -> Table {
    let columns = vec![
        TableColumn::plain("number"),
        TableColumn::plain("entry"),
        TableColumn::plain("ground (UTC)"),
        TableColumn::plain("by"),
        TableColumn::plain("machine"),
        TableColumn::plain("wheel"),
        TableColumn::length("diameter before", system),
        TableColumn::length("diameter after", system),
        TableColumn::length("dial travel", system),
        TableColumn::plain("passes"),
        TableColumn::number("minutes", 1),
    ];
    let named = |id: &Option<Id>| id.as_ref().and_then(|id| names.get(id)).map_or("", |name| name);
    let line = |number: &str, entry: &Entry, ground: &Ground| {
        vec![
            Value::words(number),
            Value::Number(entry.number as f64),
            Value::words(minute(entry.stamp.at)),
            Value::words(entry.stamp.by.as_str()),
            Value::words(named(&ground.machine)),
            Value::words(named(&ground.wheel)),
            Value::length(ground.diameter_before, system),
            Value::length(ground.diameter_after, system),
            Value::length(ground.travel, system),
            ground.passes.map_or(Value::Blank, Value::count),
            ground.minutes.map_or(Value::Blank, Value::Number),
        ]
    };
    let of_cutter = |(number, history): &(String, Vec<Entry>)| {
        let grinds = counting(history).into_iter().filter_map(|(entry, event)| match event {
            Event::Ground(ground) => Some(line(number, entry, ground)),
            _ => None,
        });
        grinds.collect::<Vec<_>>()
    };
    Table { name: "records", columns, rows: histories.iter().flat_map(of_cutter).collect() }
}

/// Day and minute, as spreadsheets sort them.
fn minute(at: Moment) -> String {
    at.to_string().replace('T', " ").chars().take(16).collect()
}
