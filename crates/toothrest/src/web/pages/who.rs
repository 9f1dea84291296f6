//! Who is at the bench: initials, and a PIN where others can reach it.

use askama::Template;
use axum::extract::{Query, Request, State};
use axum::http::header::SET_COOKIE;
use axum::middleware::Next;
use axum::response::{AppendHeaders, IntoResponse, Redirect, Response};
use serde::Deserialize;
use shop::book::event::PersonEntered;
use shop::book::{Event, Initials, Store, SubjectKind, initials_key};

use super::units::YEAR_S;
use crate::desk::Desk;
use crate::web::fault::Fault;
use crate::web::form::{Entries, Field, Form, Group, Kind};
use crate::web::interface;
use crate::web::page::{Frame, blamed, drawn, own_path};
use crate::web::state::Bench;
use crate::web::visit::{MARK, SESSION, SignedIn, Visit, WHO, cookie, page_of, set_cookie};

/// Where to go on afterwards.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Then {
    #[serde(default)]
    then: String,
}

#[derive(Template)]
#[template(path = "who.html")]
struct WhoPage {
    frame: Frame,
    form: Form,
    people: Vec<(String, String)>,
    then: String,
}

/// Asks.
pub(super) async fn ask(visit: Visit, Query(then): Query<Then>) -> Result<Response, Fault> {
    drawn(&page(&visit, form(&visit, own_path(&then.then))).await?)
}

fn form(visit: &Visit, then: &str) -> Form {
    let mut fields = vec![
        Field::text("initials", "Your initials").needed().hint("1 to 8 letters or digits"),
        Field::hidden("then", then),
    ];
    if visit.has_sign_in && !visit.is_demo {
        fields.push(Field::new(Kind::Secret, "pin", "PIN").needed());
    } else {
        fields.push(Field::text("name", "Your name").hint("only the first time"));
    }
    Form::new("/who", "That is me").group(Group::new("", fields))
}

async fn page(visit: &Visit, form: Form) -> Result<WhoPage, Fault> {
    let people = if visit.has_sign_in && !visit.is_demo {
        Vec::new()
    } else {
        visit.desk.all(SubjectKind::Person).await?
    };
    let people = people.into_iter().map(|person| (person.number, person.about)).collect();
    let then = form.fields().find(|field| field.name == "then");
    let then = then.map(|field| field.value.clone()).unwrap_or_default();
    let frame = Frame::new(visit, "", "Who is at the bench?");
    Ok(WhoPage { frame, form, people, then })
}

/// Takes the answer.
pub(super) async fn told(
    State(bench): State<Bench>,
    visit: Visit,
    entries: Entries,
) -> Result<Response, Fault> {
    let then = own_path(entries.get("then")).to_owned();
    let mut form = form(&visit, &then).fill(&entries);
    let initials = match Initials::new(entries.get("initials")) {
        Ok(initials) => initials,
        Err(error) => {
            form.blame_key("initials", &error.to_string());
            return blamed(&page(&visit, form).await?);
        }
    };
    if visit.has_sign_in && !visit.is_demo {
        return signing_in(&bench, &visit, form, &initials, entries.get("pin"), &then).await;
    }
    enter(&visit.desk, &initials, entries.get("name")).await?;
    let cookie = set_cookie(WHO, initials.as_str(), YEAR_S);
    Ok((AppendHeaders([(SET_COOKIE, cookie)]), Redirect::to(&then)).into_response())
}

/// Enters a person whom the book does not know yet.
async fn enter(desk: &Desk, initials: &Initials, name: &str) -> Result<(), Fault> {
    if desk.book().find(SubjectKind::Person, initials.as_str()).await?.is_some() {
        return Ok(());
    }
    let name = if name.is_empty() { initials.as_str() } else { name };
    let entered = PersonEntered { initials: initials.to_string(), name: name.to_owned() };
    let subject = desk.fresh(SubjectKind::Person);
    desk.write(initials, &subject, 0, vec![Event::PersonEntered(entered)]).await?;
    Ok(())
}

/// Compares initials and PIN with the book, and opens a session.
async fn signing_in(
    bench: &Bench,
    visit: &Visit,
    mut form: Form,
    initials: &Initials,
    pin: &str,
    then: &str,
) -> Result<Response, Fault> {
    match crate::desk::sign_in(&bench.desk(), initials, pin, &visit.door).await? {
        crate::desk::SignIn::Open { token, mark } => {
            let session = set_cookie(SESSION, &token, crate::desk::SESSION_S);
            let mark = set_cookie(&mark_of(initials), &mark, YEAR_S);
            let cookies = AppendHeaders([(SET_COOKIE, session), (SET_COOKIE, mark)]);
            Ok((cookies, Redirect::to(then)).into_response())
        }
        crate::desk::SignIn::Wait(wait_s) => Err(Fault::TooOften { wait_s }),
        crate::desk::SignIn::Wrong => {
            let words = "initials and PIN do not belong together; try again";
            form.blame_key("pin", words);
            if let Some(field) = form.field("pin") {
                field.value.clear();
            }
            blamed(&page(visit, form).await?)
        }
    }
}

/// The cookie with the mark of a person. A cookie's name is plain, initials need not be.
fn mark_of(initials: &Initials) -> String {
    let key = initials_key(initials);
    let digits: String = key.bytes().map(|byte| format!("{byte:02x}")).collect();
    format!("{MARK}{digits}")
}

/// Ends the session, or forgets who was at the bench.
pub(super) async fn leave(State(bench): State<Bench>, request: Request) -> Result<Response, Fault> {
    if let Some(token) = cookie(request.headers(), SESSION) {
        crate::desk::sign_out(&bench.desk(), &token).await?;
    }
    let gone = [WHO, SESSION].map(|name| (SET_COOKIE, set_cookie(name, "", 0)));
    Ok((AppendHeaders(gone), Redirect::to("/who")).into_response())
}

/// Pages that may be seen before anybody has signed in, and what other programs ask with a token.
fn is_open(path: &str) -> bool {
    path == "/who" || path.starts_with("/static/") || path.starts_with(interface::PATH)
}

/// Where one has to sign in, nothing is shown to whoever has not; and a request is marked with
/// whoever its session belongs to.
pub(crate) async fn signed_in(
    State(bench): State<Bench>,
    mut request: Request,
    next: Next,
) -> Result<Response, Fault> {
    if !bench.has_sign_in() {
        return Ok(next.run(request).await);
    }
    let token = cookie(request.headers(), SESSION);
    let person = match token {
        Some(token) => crate::desk::person_of(&bench.desk(), &token).await?,
        None => None,
    };
    match person {
        Some(initials) => {
            request.extensions_mut().insert(SignedIn(initials));
            Ok(next.run(request).await)
        }
        None if is_open(request.uri().path()) => Ok(next.run(request).await),
        None => {
            let (parts, _) = request.into_parts();
            Err(Fault::WhoIsIt { then: page_of(&parts) })
        }
    }
}
