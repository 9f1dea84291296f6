//! Handing back: the size, the tag, the record.

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use geometry::System;
use shop::book::event::HandedBack;
use shop::book::{Event, Stage};
use shop::check::Check;
use shop::plan::{Peripheral, PlanStep};
use shop::record::{AsGround, Cutter};

use super::cutter::Figure;
use super::plan::cautions;
use super::units;
use crate::desk::CutterAt;
use crate::files::{cutter_text, read_cutter};
use crate::paper;
use crate::web::fault::Fault;
use crate::web::form::{Entries, Field, Form, Group};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

#[derive(Template)]
#[template(path = "back.html")]
struct BackPage {
    frame: Frame,
    number: String,
    form: Form,
    from: String,
    cautions: Vec<String>,
}

#[derive(Template)]
#[template(path = "tag.html")]
struct TagPage {
    frame: Frame,
    id: String,
    number: String,
    is_back: bool,
    picture: String,
    figures: Vec<Figure>,
    /// Names of the labels that the bench knows, and what they are.
    labels: Vec<(&'static str, &'static str)>,
}

fn empty(id: &str, system: System, seen: u64) -> Form {
    let ground = vec![
        Field::length("as_ground.diameter", "Diameter over the new edges").needed(),
        Field::angle("as_ground.primary", "Primary relief").needed(),
        Field::angle("as_ground.secondary", "Secondary clearance").needed(),
        Field::length("as_ground.land", "Land").needed(),
        Field::angle("as_ground.next_primary", "Primary to give next time")
            .hint("only where its wear asks for another"),
    ];
    let to = vec![Field::text("_to", "To").hint("a machine, a customer, a drawer")];
    Form::new(format!("/cutters/{id}/back"), "Hand it back with its tag")
        .shown_in(system)
        .having_seen(seen)
        .group(Group::new("", ground))
        .group(Group::new("", to))
}

/// Shows what goes on the tag, as far as plan and check know it.
pub(super) async fn show(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    let system = visit.system_of(&cutter.state.cutter);
    let mut form = empty(&id, system, cutter.seen);
    let mut from = "enter what it measures".to_owned();
    if let Some(plan) = cutter.state.planned {
        let made = visit.desk.kept(&cutter.subject, plan).await?;
        if let Some(work) = &made.plan.peripheral {
            let check = super::check::last(&visit, &cutter).await?;
            from = put(&mut form, work, check.as_deref(), system);
        }
    }
    drawn(&page(&visit, &cutter, form, from).await?)
}

/// Puts in what is known; says where the size comes from.
fn put(form: &mut Form, work: &Peripheral, check: Option<&Check>, system: System) -> String {
    let found = check.and_then(|check| check.cuts_at.as_ref());
    let diameter = found.map_or(work.expected.diameter, |found| found.length());
    let next = check.and_then(|check| check.next_clearance.as_ref());
    let angle = |angle: geometry::Angle| format!("{:.2} deg", angle.degrees());
    let values = [
        ("as_ground.diameter", rounded(diameter, system)),
        ("as_ground.primary", angle(work.stanced.relief)),
        ("as_ground.secondary", angle(work.secondary.stanced.relief)),
        ("as_ground.land", rounded(work.expected.land, system)),
        ("as_ground.next_primary", next.map(|next| angle(next.next.value)).unwrap_or_default()),
    ];
    for (name, value) in values {
        if let Some(field) = form.field(name) {
            field.value = value;
        }
    }
    if found.is_some() {
        "the size is what the readings say it cuts at".to_owned()
    } else {
        "the size is what the plan expects: measure it before it goes on the tag".to_owned()
    }
}

/// A length to the step that a micrometer reads.
fn rounded(length: geometry::Length, system: System) -> String {
    let step = match system {
        System::Inch => geometry::Length::from_inches(0.0001),
        System::Millimetre => geometry::Length::from_mm(0.001),
    };
    length.show_to(system, step).to_string()
}

async fn page(
    visit: &Visit,
    cutter: &CutterAt,
    form: Form,
    from: String,
) -> Result<BackPage, Fault> {
    let record = &cutter.state.cutter;
    let frame = Frame::new(visit, "tray", format!("Hand back {}", record.number()));
    let cautions = match cutter.state.planned {
        Some(plan) => {
            cautions(&visit.desk.kept(&cutter.subject, plan).await?.plan, &[PlanStep::HandBack])
        }
        None => Vec::new(),
    };
    Ok(BackPage {
        frame: frame.with_form().in_system(form.system),
        number: record.number().to_owned(),
        form,
        from,
        cautions,
    })
}

/// Enters that it left the bench.
pub(super) async fn hand_back(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let cutter = visit.desk.cutter(&id).await?;
    cutter.check_here()?;
    let seen = entries.seen().unwrap_or(cutter.seen);
    let to = entries.maybe("_to");
    if entries.has("_unground") {
        let event = Event::HandedBack(HandedBack { as_ground: None, to });
        visit.desk.write(by, &cutter.subject, seen, vec![event]).await?;
        return Ok(go_on(&format!("/cutters/{id}")));
    }
    let mut form = empty(&id, System::Millimetre, seen).fill(&entries);
    if let Some(to) = entries.switch() {
        let page = page(&visit, &cutter, form.switched(to), String::new()).await?;
        return Ok(units::with(to, drawn(&page)?));
    }
    match as_ground(&cutter.state.cutter, &form) {
        Ok(ground) if has_grown(&cutter.state.cutter, &ground) => {
            let words =
                "more than it had when it came in, and a grind adds no metal; measure again";
            form.blame_key("as_ground.diameter", words);
            blamed(&page(&visit, &cutter, form, String::new()).await?)
        }
        Ok(ground) => {
            let event = Event::HandedBack(HandedBack { as_ground: Some(ground), to });
            visit.desk.write(by, &cutter.subject, seen, vec![event]).await?;
            Ok(go_on(&format!("/cutters/{id}/tag")))
        }
        Err(problems) => {
            form.blame(&problems);
            blamed(&page(&visit, &cutter, form, String::new()).await?)
        }
    }
}

/// What two readings of one size may differ by, in mm (own choice, no source).
const READINGS_DIFFER_MM: f64 = 0.02;

/// Whether the new size is above the one measured over the dull edges.
fn has_grown(cutter: &Cutter, ground: &AsGround) -> bool {
    let before = cutter.wear().and_then(shop::record::Wear::measured_diameter);
    let least = geometry::Length::from_mm(READINGS_DIFFER_MM);
    before.is_some_and(|before| ground.diameter > before + least)
}

/// What was ground, sound for this cutter.
fn as_ground(cutter: &Cutter, form: &Form) -> Result<AsGround, crate::files::FileProblems> {
    let text = cutter_text(&cutter.clone().without_wear());
    let mut whole: toml::Table = text.parse().unwrap_or_default();
    let mut typed: toml::Table = form.toml().parse().unwrap_or_default();
    let ground = typed.remove("as_ground").unwrap_or_else(|| toml::Table::new().into());
    whole.insert("as_ground".to_owned(), ground);
    let text = toml::to_string(&whole).unwrap_or_default();
    let read = read_cutter("this form", &text)?;
    Ok(read.as_ground().copied().unwrap_or(AsGround {
        diameter: cutter.diameter(),
        primary: geometry::Angle::ZERO,
        secondary: geometry::Angle::ZERO,
        land: geometry::Length::ZERO,
        next_primary: None,
    }))
}

/// The tag that goes with the cutter.
pub(super) async fn tag(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let cutter = visit.desk.cutter(&id).await?;
    let record = &cutter.state.cutter;
    let frame = Frame::of_cutter(&visit, "tray", format!("Tag of {}", record.number()), record);
    let latest = visit.desk.latest(&cutter.subject).await?;
    drawn(&TagPage {
        number: record.number().to_owned(),
        is_back: cutter.state.stage == Stage::Back,
        picture: super::scale::tag_picture(
            &visit,
            &cutter,
            latest.last.at,
            latest.last.by.as_str(),
            frame.system,
        ),
        figures: tag_figures(record, &frame),
        labels: paper::STOCKS.iter().map(|(name, what, _)| (*name, *what)).collect(),
        frame,
        id,
    })
}

fn tag_figures(cutter: &Cutter, frame: &Frame) -> Vec<Figure> {
    let units = frame.units();
    let Some(ground) = cutter.as_ground() else { return Vec::new() };
    let change = ground.diameter - cutter.diameter();
    vec![
        Figure::new("diameter", units.length(ground.diameter), "set this, not the nominal size"),
        Figure::new("radius", units.length(ground.diameter / 2.0), ""),
        Figure::new("change from nominal", units.length(change), units.nominal(cutter.diameter())),
        Figure::new("regrind", cutter.regrinds().to_string(), ""),
    ]
}
