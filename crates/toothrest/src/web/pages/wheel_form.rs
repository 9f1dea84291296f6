//! The form of a wheel: what its maker marked on it, and its size now.

use axum::extract::{Path, Query};
use axum::response::Response;
use geometry::System;
use serde::Deserialize;
use shop::book::event::{Amended, WheelEntered};
use shop::book::{Entry, Event, Store, SubjectKind, whole_history};
use shop::record::{Bond, Coolant, Named, Wheel, WheelShape};
use trade::Abrasive;

use super::cutter_form::CutterForm;
use super::wheels::system_of;
use super::{entering, units};
use crate::desk::WheelAt;
use crate::files::{read_wheels, wheel_text};
use crate::web::fault::Fault;
use crate::web::form::{Choice, Entries, Field, Form, Group, Kind};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

/// An open form of a wheel.
fn form(action: &str, submit: &str, system: System) -> Form {
    Form::new(action, submit)
        .shown_in(system)
        .group(Group::new("", vec![number()]))
        .group(
            Group::new("What its maker marked on it", marking())
                .words("Read it off the wheel itself, or off its blotter; never off a table."),
        )
        .group(Group::new("Its size now", size()))
        .group(Group::new("More, where it is known", more()).folded())
}

fn number() -> Field {
    Field::text("wheel.number", "Number").needed().hint("the shop's own for this very wheel")
}

fn marking() -> Vec<Field> {
    vec![
        Field::count("wheel.marked_rpm", "Highest speed, rpm").needed(),
        Field::text("wheel.marked_speed", "Highest surface speed")
            .hint("where it is marked too, with its unit: 32 m/s or 6500 ft/min"),
        Field::choice("wheel.shape", "Shape", shapes()).needed(),
        Field::named::<Abrasive>("wheel.abrasive", "Abrasive").needed(),
        Field::text("wheel.grit", "Grit").needed().hint("60, or B126"),
        Field::text("wheel.grade", "Grade").hint("one letter, A is soft"),
        Field::count("wheel.concentration", "Concentration").hint("of diamond and CBN only"),
        Field::named::<Bond>("wheel.bond", "Bond").needed(),
    ]
}

fn shapes() -> Vec<Choice> {
    let label = |shape: &WheelShape| format!("{shape}, {}", shape.form().name());
    WheelShape::ALL.iter().map(|shape| Choice::new(shape.name(), label(shape))).collect()
}

fn size() -> Vec<Field> {
    vec![
        Field::length("wheel.diameter", "Diameter").needed().hint("over the rim that grinds"),
        Field::length("wheel.face_width", "Width of the face")
            .needed()
            .hint("of what grinds, as it is dressed now"),
        Field::length("wheel.rim_width", "Width of the whole rim")
            .hint("how wide the face can become"),
        Field::length("wheel.corner_radius", "Worn corner")
            .hint("its radius; 0 where it is freshly dressed"),
        Field::length("wheel.bore", "Bore").needed(),
        Field::length("wheel.depth", "Depth").needed().hint(
            "a cup's or dish's height over all, measured: it tells its wear. A straight \
                   wheel's thickness",
        ),
        Field::angle("wheel.wall_angle", "Lean of the wall")
            .hint("from the axis, of a flaring cup or dish"),
    ]
}

fn more() -> Vec<Field> {
    vec![
        Field::choice("wheel.coolant", "Its bond is meant for", coolants()),
        Field::new(Kind::Lines, "_marks", "What else is marked on it")
            .hint("line by line, as it stands there"),
    ]
}

fn coolants() -> Vec<Choice> {
    let named = Coolant::ALL.iter().map(|coolant| Choice::plain(coolant.name()));
    std::iter::once(Choice::new("", "wet or dry")).chain(named).collect()
}

/// The form with what a record holds.
pub(super) fn filled(form: Form, wheel: &Wheel, marks: &[String]) -> Form {
    let mut form = form.load(&wheel_text(wheel));
    if let Some(field) = form.field("_marks") {
        field.value = marks.join("\n");
    }
    form
}

/// The record that a form gives; where there is none, the form says why.
pub(super) fn read(form: &mut Form) -> Option<WheelEntered> {
    let marks = super::cutter_form::marks(form);
    match read_wheels("this form", &form.toml()) {
        Ok(wheels) => wheels.into_iter().next().map(|wheel| WheelEntered { wheel, marks }),
        Err(problems) => {
            form.blame(&problems);
            None
        }
    }
}

/// The wheel that a new one is like.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Like {
    #[serde(default)]
    like: String,
}

/// The form of a new wheel, like another one where one was chosen.
pub(super) async fn new(visit: Visit, Query(like): Query<Like>) -> Result<Response, Fault> {
    visit.writer()?;
    let mut form = open(visit.system());
    if !like.like.is_empty() {
        let pattern = visit.desk.wheel(&like.like).await?;
        form = filled(form, &as_entered(&visit, &pattern).await?.wheel, &[]);
        forget(&mut form);
    }
    drawn(&new_page(&visit, form))
}

pub(super) fn open(system: System) -> Form {
    form("/wheels/new", "Put it on the rack", system)
}

/// A new wheel shares the make of its pattern. Its number is its own, and its speed is read off the
/// wheel itself, whatever the other one is marked with.
fn forget(form: &mut Form) {
    for name in ["wheel.number", "wheel.marked_rpm", "wheel.marked_speed", "wheel.corner_radius"] {
        if let Some(field) = form.field(name) {
            field.value.clear();
        }
    }
}

fn new_page(visit: &Visit, form: Form) -> CutterForm {
    let heading = "A new wheel".to_owned();
    let frame = Frame::new(visit, "wheels", &heading).with_form().in_system(form.system);
    let words = "What stands here is what you read off it. The book never says that it may run.";
    CutterForm { frame, heading, words: words.to_owned(), form }
}

/// Enters a new wheel.
pub(super) async fn enter(visit: Visit, entries: Entries) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let mut form = open(System::Millimetre).fill(&entries);
    if let Some(to) = entries.switch() {
        return Ok(units::with(to, drawn(&new_page(&visit, form.switched(to)))?));
    }
    let Some(entered) = read(&mut form) else {
        return blamed(&new_page(&visit, form));
    };
    if is_taken(&visit, &entered.wheel, &mut form, None).await? {
        return blamed(&new_page(&visit, form));
    }
    let subject = visit.desk.fresh(SubjectKind::Wheel);
    let event = Event::WheelEntered(Box::new(entered));
    let write = visit.desk.append(by, &subject, 0, vec![event]);
    let written = entering::enter(&visit, &mut form, 0, vec![write]).await?;
    if written.is_written() {
        return Ok(go_on(&format!("/wheels/{}", subject.id)));
    }
    written.back(&new_page(&visit, form))
}

/// Whether another wheel has this number already; the form then says so.
async fn is_taken(
    visit: &Visit,
    wheel: &Wheel,
    form: &mut Form,
    own: Option<&WheelAt>,
) -> Result<bool, Fault> {
    let number = wheel.number();
    let found = visit.desk.book().find(SubjectKind::Wheel, number).await?;
    let other = found.filter(|found| own.is_none_or(|own| own.subject.id != found.subject.id));
    if other.is_some() {
        let words = format!("another wheel is {number:?}; write a number of its own");
        form.blame_key("wheel.number", &words);
    }
    Ok(other.is_some())
}

/// The wheel as it was entered, before any dressing, as far as the entry was not put right since.
pub(super) async fn as_entered(visit: &Visit, wheel: &WheelAt) -> Result<WheelEntered, Fault> {
    let history = whole_history(visit.desk.book(), &wheel.subject).await?;
    let last = history.iter().rev().find_map(entered_by).cloned();
    Ok(last.unwrap_or_else(|| WheelEntered {
        wheel: wheel.state.wheel.clone(),
        marks: wheel.state.marks.clone(),
    }))
}

/// What an entry says of how the wheel was entered.
fn entered_by(entry: &Entry) -> Option<&WheelEntered> {
    let event = match &entry.event {
        Event::Amended(Amended { entry: 1, instead: Some(instead), .. }) => instead,
        event => event,
    };
    match event {
        Event::WheelEntered(entered) => Some(entered),
        _ => None,
    }
}

/// Shows the wheel as it was entered, to be put right.
pub(super) async fn show(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    visit.writer()?;
    let wheel = visit.desk.wheel(&id).await?;
    let entered = as_entered(&visit, &wheel).await?;
    let form = change_form(&id, system_of(&visit, &entered.wheel), wheel.seen);
    let form = filled(form, &entered.wheel, &entered.marks);
    drawn(&change_page(&visit, &wheel, form))
}

fn change_form(id: &str, system: System, seen: u64) -> Form {
    let why = Field::text("_why", "What was wrong").needed().hint("it stands in the history");
    form(&format!("/wheels/{id}/change"), "Put it right", system)
        .having_seen(seen)
        .group(Group::new("Why", vec![why]))
}

fn change_page(visit: &Visit, wheel: &WheelAt, form: Form) -> CutterForm {
    let heading = format!("Put {} right", wheel.state.wheel.number());
    let frame = Frame::new(visit, "wheels", &heading).with_form().in_system(form.system);
    let words = "This is the wheel as it was entered. What was entered first stays in the \
                 history; from now on this counts instead, and every dressing and measurement \
                 since then counts on.";
    CutterForm { frame, heading, words: words.to_owned(), form }
}

/// Amends the entry with which the wheel came into the book.
pub(super) async fn change(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let wheel = visit.desk.wheel(&id).await?;
    let seen = entries.seen().unwrap_or(wheel.seen);
    let mut form = change_form(&id, System::Millimetre, seen).fill(&entries);
    if let Some(to) = entries.switch() {
        return Ok(units::with(to, drawn(&change_page(&visit, &wheel, form.switched(to)))?));
    }
    let Some(entered) = read(&mut form) else {
        return blamed(&change_page(&visit, &wheel, form));
    };
    if is_taken(&visit, &entered.wheel, &mut form, Some(&wheel)).await? {
        return blamed(&change_page(&visit, &wheel, form));
    }
    let why = entries.get("_why").to_owned();
    let instead = Some(Box::new(Event::WheelEntered(Box::new(entered))));
    let event = Event::Amended(Amended { entry: 1, why, instead });
    let write = visit.desk.append(by, &wheel.subject, seen, vec![event]);
    let entered = entering::enter(&visit, &mut form, wheel.seen, vec![write]).await?;
    if entered.is_written() {
        return Ok(go_on(&format!("/wheels/{id}")));
    }
    entered.back(&change_page(&visit, &wheel, form))
}
