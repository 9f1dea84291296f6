//! Looking at the wear.

use axum::extract::Path;
use axum::response::Response;
use geometry::System;
use shop::book::Event;
use shop::book::event::WearSeen;
use shop::record::{Cutter, Named, Wear, WearSign};

use super::cutter_form::CutterForm;
use super::{entering, units};
use crate::files::{cutter_text, read_wear};
use crate::web::fault::Fault;
use crate::web::form::{Choice, Entries, Field, Form, Group, Kind};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

/// What is read of each tooth: key, heading.
const COLUMNS: [(&str, &str); 6] = [
    ("wear_land", "Wear land"),
    ("chip_depth", "Chip depth"),
    ("chip_from_end", "Chip reaches up"),
    ("corner_wear", "Corner gone"),
    ("wear_from_end", "Wear reaches up"),
    ("runout", "Stands in by"),
];

pub(super) fn form(id: &str, cutter: &Cutter, system: System, seen: u64) -> Form {
    let signs = WearSign::ALL.iter().map(|sign| Choice::plain(sign.name())).collect();
    let whole = vec![
        Field::length("wear.measured_diameter", "Diameter over the dull edges")
            .hint("by micrometer, near the middle of the flute"),
        Field::length("wear.shank_runout", "Runout of the shank")
            .hint("full swing, in the fixture"),
        Field::new(Kind::Several(signs), "wear.signs", "What you see"),
    ];
    let teeth = Group::new("Tooth by tooth", tooth_fields(cutter.teeth()))
        .above(numbers(cutter.teeth()))
        .words(
            "Tooth 1 is the marked one: where none is marked, mark one with ink and keep to it \
             until the cutter goes back. Count from it in the direction of grinding. Leave open \
             what you did not look at; the worst tooth decides.",
        )
        .table(columns(), (1..=cutter.teeth()).map(|tooth| format!("tooth {tooth}")).collect());
    Form::new(format!("/cutters/{id}/wear"), "That is how it looks")
        .shown_in(system)
        .having_seen(seen)
        .group(Group::new("", whole))
        .group(teeth)
}

fn key(tooth: u32, name: &str) -> String {
    format!("wear.tooth[{}].{name}", tooth - 1)
}

/// The numbers of the teeth, which the rows do not carry themselves.
fn numbers(teeth: u32) -> Vec<Field> {
    (1..=teeth).map(|tooth| Field::hidden(key(tooth, "tooth"), tooth.to_string())).collect()
}

fn tooth_fields(teeth: u32) -> Vec<Field> {
    let row = |tooth: u32| {
        COLUMNS.iter().map(move |(name, heading)| {
            Field::length(key(tooth, name), format!("tooth {tooth}, {}", heading.to_lowercase()))
        })
    };
    (1..=teeth).flat_map(row).collect()
}

fn columns() -> Vec<String> {
    COLUMNS.iter().map(|(_, heading)| (*heading).to_owned()).collect()
}

fn page(visit: &Visit, cutter: &Cutter, form: Form) -> CutterForm {
    let heading = format!("Wear of {}", cutter.number());
    let frame = Frame::new(visit, "tray", &heading).with_form().in_system(form.system);
    let words = sheets::text::describe(cutter, frame.units());
    CutterForm { frame, heading, words, form }
}

/// Shows what was seen, to be looked at again.
pub(super) async fn show(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let form = form(&id, record, visit.system_of(record), cutter.seen);
    let form = form.load(&by_tooth(record));
    drawn(&page(&visit, record, form))
}

/// The record's text with a row for every tooth, so that each stands in its own.
pub(super) fn by_tooth(cutter: &Cutter) -> String {
    let text = cutter_text(cutter);
    let Ok(mut whole) = text.parse::<toml::Table>() else { return text };
    let wear = whole.get_mut("wear").and_then(toml::Value::as_table_mut);
    let Some(teeth) = wear.and_then(|wear| wear.get_mut("tooth")?.as_array_mut()) else {
        return text;
    };
    let seen = std::mem::take(teeth);
    let of = |number: i64| {
        let is = |tooth: &&toml::Value| {
            tooth.get("tooth").and_then(toml::Value::as_integer) == Some(number)
        };
        seen.iter().find(is).cloned().unwrap_or_else(|| toml::Value::Table(toml::Table::new()))
    };
    *teeth = (1..=i64::from(cutter.teeth())).map(of).collect();
    toml::to_string(&whole).unwrap_or(text)
}

/// Enters what was seen.
pub(super) async fn see(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let record = cutter.state.cutter.clone();
    let seen = entries.seen().unwrap_or(cutter.seen);
    let mut form = form(&id, &record, System::Millimetre, seen).fill(&entries);
    if let Some(to) = entries.switch() {
        return Ok(units::with(to, drawn(&page(&visit, &record, form.switched(to)))?));
    }
    let Some(wear) = read(&mut form, &record) else {
        return blamed(&page(&visit, &record, form));
    };
    let event = Event::WearSeen(WearSeen { wear });
    let write = visit.desk.append(by, &cutter.subject, seen, vec![event]);
    let entered = entering::enter(&visit, &mut form, cutter.seen, vec![write]).await?;
    if entered.is_written() {
        return Ok(go_on(&format!("/cutters/{id}/plan")));
    }
    entered.back(&page(&visit, &record, form))
}

/// What was seen, as a form gives it; where there is nothing, the form says why.
pub(super) fn read(form: &mut Form, cutter: &Cutter) -> Option<Wear> {
    let text = match form.toml() {
        text if text.contains("[wear]") || text.contains("[[wear") => text,
        _ => "[wear]\n".to_owned(),
    };
    match read_wear("this form", &text, cutter) {
        Ok(worn) => worn.wear().cloned(),
        Err(problems) => {
            form.blame(&problems);
            None
        }
    }
}
