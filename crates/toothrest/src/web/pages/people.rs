//! Who works here: entering a person, their PIN, and their leaving.

use askama::Template;
use axum::extract::Path;
use axum::response::Response;
use shop::book::event::PersonEntered;
use shop::book::{Event, Initials, PAGE_MAX, Query, Store, SubjectKind, Summary};

use super::entering;
use crate::desk::{NewPin, PersonAt, leave, person, set_pin};
use crate::web::fault::Fault;
use crate::web::form::{Entries, Field, Form, Group, Kind};
use crate::web::page::{Frame, blamed, drawn, go_on};
use crate::web::visit::Visit;

#[derive(Template)]
#[template(path = "people.html")]
struct PeoplePage {
    frame: Frame,
    people: Vec<Line>,
    gone: Vec<Line>,
    form: Form,
}

struct Line {
    id: String,
    initials: String,
    name: String,
    since: String,
    has_pin: bool,
}

#[derive(Template)]
#[template(path = "person.html")]
struct PersonPage {
    frame: Frame,
    person: PersonAt,
    pin: Form,
}

/// Shows everybody.
pub(super) async fn show(visit: Visit) -> Result<Response, Fault> {
    drawn(&page(&visit, form()).await?)
}

fn form() -> Form {
    let initials =
        Field::text("initials", "Initials").needed().hint("1 to 8 letters or digits, on every tag");
    let fields = vec![initials, Field::text("name", "Name").needed()];
    Form::new("/people", "Enter them").group(Group::new("", fields))
}

async fn page(visit: &Visit, form: Form) -> Result<PeoplePage, Fault> {
    let query = Query { live_only: false, limit: PAGE_MAX, ..Query::of(SubjectKind::Person) };
    let (mut people, mut gone) = (Vec::new(), Vec::new());
    for summary in visit.desk.book().list(&query).await?.rows {
        let line = line(visit, &summary).await?;
        let is_gone = summary.stage == shop::book::Stage::Gone;
        if is_gone { gone.push(line) } else { people.push(line) }
    }
    let frame = Frame::new(visit, "book", "People");
    Ok(PeoplePage { frame, people, gone, form })
}

async fn line(visit: &Visit, summary: &Summary) -> Result<Line, Fault> {
    let has_pin = match person(&visit.desk, summary.subject.id.as_str()).await {
        Ok(person) => person.state.pin.is_some(),
        Err(_) => false,
    };
    Ok(Line {
        id: summary.subject.id.to_string(),
        initials: summary.number.clone(),
        name: summary.about.clone(),
        since: visit.zone.day(summary.first),
        has_pin,
    })
}

/// Enters a person.
pub(super) async fn enter(visit: Visit, entries: Entries) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let mut form = form().fill(&entries);
    let initials = match Initials::new(entries.get("initials")) {
        Ok(initials) => initials,
        Err(error) => {
            form.blame_key("initials", &error.to_string());
            return blamed(&page(&visit, form).await?);
        }
    };
    let name = entries.get("name").to_owned();
    if name.is_empty() {
        form.blame_key("name", "write their name, so that others know whose initials they are");
    }
    if visit.desk.book().find(SubjectKind::Person, initials.as_str()).await?.is_some() {
        form.blame_key("initials", "somebody here has them already; write others");
    }
    if form.is_blamed() {
        return blamed(&page(&visit, form).await?);
    }
    let subject = visit.desk.fresh(SubjectKind::Person);
    let entered = PersonEntered { initials: initials.to_string(), name };
    let write = visit.desk.append(by, &subject, 0, vec![Event::PersonEntered(entered)]);
    let written = entering::enter(&visit, &mut form, 0, vec![write]).await?;
    if written.is_written() {
        return Ok(go_on(&format!("/people/{}", subject.id)));
    }
    written.back(&page(&visit, form).await?)
}

/// Shows one person.
pub(super) async fn show_one(visit: Visit, Path(id): Path<String>) -> Result<Response, Fault> {
    let person = person(&visit.desk, &id).await?;
    let form = pin_form(&visit, &person);
    drawn(&person_page(&visit, person, form))
}

fn person_page(visit: &Visit, person: PersonAt, pin: Form) -> PersonPage {
    PersonPage { frame: Frame::new(visit, "book", &person.state.name), person, pin }
}

/// Whether the PIN so far is asked for: where one has to sign in, so that nobody who is signed in
/// can become somebody else.
fn asks_so_far(visit: &Visit, person: &PersonAt) -> bool {
    visit.has_sign_in && !visit.is_demo && person.state.pin.is_some()
}

fn pin_form(visit: &Visit, person: &PersonAt) -> Form {
    let secret = |name: &str, label: &str| Field::new(Kind::Secret, name, label).needed();
    let mut fields = Vec::new();
    if asks_so_far(visit, person) {
        let hint = "forgotten? Somebody at the machine that keeps the book can set another: \
                    toothrest book pin INITIALS";
        fields.push(secret("so_far", "The PIN so far").hint(hint));
    }
    fields.push(secret("pin", "The new PIN").hint("4 to 64 letters, digits or signs"));
    fields.push(secret("again", "The new PIN once more"));
    let action = format!("/people/{}/pin", person.subject.id);
    Form::new(action, "Set the PIN").group(Group::new("", fields)).having_seen(person.seen)
}

/// Sets a PIN.
pub(super) async fn pin(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let known = person(&visit.desk, &id).await?;
    let mut form = pin_form(&visit, &known);
    let asked = PersonAt { seen: entries.seen().unwrap_or_default(), ..known.clone() };
    if entries.get("pin") != entries.get("again") {
        form.blame_key("again", "the two are not the same; write the new PIN in both");
        return blamed(&person_page(&visit, known, form));
    }
    let so_far = asks_so_far(&visit, &known).then(|| (entries.get("so_far"), &visit.door));
    match set_pin(&visit.desk, by, &asked, entries.get("pin"), so_far).await {
        Ok(NewPin::Set) => Ok(go_on(&format!("/people/{id}"))),
        Ok(NewPin::Wait(wait_s)) => Err(Fault::TooOften { wait_s }),
        Ok(NewPin::Wrong) => {
            form.blame_key("so_far", "this is not the PIN so far; try again");
            blamed(&person_page(&visit, known, form))
        }
        Err(shop::ShopError::Invalid { field, reason }) if field == "pin" => {
            form.blame_key("pin", &reason);
            blamed(&person_page(&visit, known, form))
        }
        Err(error) => Err(error.into()),
    }
}

/// A person leaves.
pub(super) async fn gone(
    visit: Visit,
    Path(id): Path<String>,
    entries: Entries,
) -> Result<Response, Fault> {
    let by = visit.writer()?;
    let person = person(&visit.desk, &id).await?;
    let why = entries.maybe("why").unwrap_or_else(|| "left".to_owned());
    let seen = entries.seen().unwrap_or_default();
    leave(&visit.desk, by, &person, seen, &why).await?;
    Ok(go_on("/people"))
}
