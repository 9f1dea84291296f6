//! Pages: the frame that is the same on all of them, and how one becomes an answer.

use askama::Template;
use axum::body::Body;
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use geometry::System;
use sheets::text::Units;
use shop::record::Cutter;

use super::visit::Visit;
use crate::web::form::system_name;

/// What stands around every page.
#[derive(Clone, Debug)]
pub(crate) struct Frame {
    /// The page's title.
    pub(crate) title: String,
    /// Which of the main pages it belongs to.
    pub(crate) place: &'static str,
    /// Who is at the bench; empty where nobody has said.
    pub(crate) who: String,
    /// Whether one has to sign in here.
    pub(crate) has_sign_in: bool,
    /// Whether this is the demo shop.
    pub(crate) is_demo: bool,
    /// The system that lengths are shown in on this page.
    pub(crate) system: System,
    /// The path of the page, to come back to.
    pub(crate) here: String,
    /// What is to be said of this machine's clock; empty where it goes with the book.
    pub(crate) clock: String,
    /// Whether the page has a form whose entries the switch of units must keep.
    pub(crate) has_form: bool,
}

impl Frame {
    pub(crate) fn new(visit: &Visit, place: &'static str, title: impl Into<String>) -> Self {
        Self {
            title: title.into(),
            place,
            who: visit.initials(),
            has_sign_in: visit.has_sign_in,
            is_demo: visit.is_demo,
            system: visit.system(),
            here: visit.here.clone(),
            clock: visit.clock.clone().unwrap_or_default(),
            has_form: false,
        }
    }

    /// In the system in which a cutter was made, unless the hand has chosen one.
    pub(crate) fn of_cutter(
        visit: &Visit,
        place: &'static str,
        title: impl Into<String>,
        cutter: &Cutter,
    ) -> Self {
        Self { system: visit.system_of(cutter), ..Self::new(visit, place, title) }
    }

    pub(crate) fn with_form(self) -> Self {
        Self { has_form: true, ..self }
    }

    pub(crate) fn in_system(self, system: System) -> Self {
        Self { system, ..self }
    }

    pub(crate) const fn units(&self) -> Units {
        Units { system: self.system, both: false }
    }

    pub(crate) const fn other_system(&self) -> &'static str {
        match self.system {
            System::Inch => "mm",
            System::Millimetre => "in",
        }
    }

    pub(crate) const fn other_system_words(&self) -> &'static str {
        match self.system {
            System::Inch => "show millimetres",
            System::Millimetre => "show inches",
        }
    }

    pub(crate) const fn system_name(&self) -> &'static str {
        system_name(self.system)
    }
}

/// Draws a page.
pub(crate) fn drawn(template: &impl Template) -> Result<Response, super::fault::Fault> {
    Ok(Html(template.render()?).into_response())
}

/// Draws a form in which something is wrong: the same page, with an answer that says so.
pub(crate) fn blamed(template: &impl Template) -> Result<Response, super::fault::Fault> {
    let page = Html(template.render()?);
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

/// Draws a form that was sent too late: what was typed still stands in it, and it has now seen what
/// somebody else wrote.
pub(crate) fn overtaken(template: &impl Template) -> Result<Response, super::fault::Fault> {
    let page = Html(template.render()?);
    Ok((StatusCode::CONFLICT, page).into_response())
}

/// Draws a form that the book gave no answer to: what was typed still stands in it.
pub(crate) fn unanswered(template: &impl Template) -> Result<Response, super::fault::Fault> {
    let page = Html(template.render()?);
    Ok((StatusCode::SERVICE_UNAVAILABLE, page).into_response())
}

/// Sends the browser on after something was written.
pub(crate) fn go_on(to: &str) -> Response {
    axum::response::Redirect::to(to).into_response()
}

/// What went wrong, in plain words.
#[derive(Clone, Debug)]
pub(crate) struct Problem {
    pub(crate) heading: String,
    pub(crate) words: String,
    pub(crate) next: String,
}

#[derive(Template)]
#[template(path = "problem.html")]
struct ProblemPage<'a> {
    problem: &'a Problem,
    /// Where the hand was; empty where that is not known.
    back: &'a str,
}

/// A page that says what went wrong. It needs no frame, for it may be that nothing else works.
pub(crate) fn problem(status: StatusCode, problem: Problem) -> Response {
    let page = problem_text(&problem, "");
    let mut response = (status, [(header::CACHE_CONTROL, "no-store")], Html(page)).into_response();
    response.extensions_mut().insert(problem);
    response
}

fn problem_text(problem: &Problem, back: &str) -> String {
    let page = ProblemPage { problem, back }.render();
    page.unwrap_or_else(|_| format!("{}: {}", problem.heading, problem.words))
}

/// The same answer, with a way back to where the hand was where it says what went wrong.
pub(crate) fn leading_back(mut response: Response, back: &str) -> Response {
    let Some(problem) = response.extensions_mut().remove::<Problem>() else { return response };
    let (mut parts, _) = response.into_parts();
    parts.headers.remove(header::CONTENT_LENGTH);
    Response::from_parts(parts, Body::from(problem_text(&problem, back)))
}

/// Text as it may stand in the query of an address.
pub(crate) fn escaped_query(text: &str) -> String {
    let escape = |byte: u8| match byte {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'_' | b'.' | b'~' | b'/' => {
            char::from(byte).to_string()
        }
        _ => format!("%{byte:02X}"),
    };
    text.bytes().map(escape).collect()
}

/// A path on this bench: anything else becomes the tray, so that nobody is sent elsewhere. Browsers
/// leave tabs and ends of lines out of an address, so none may hide its slashes.
pub(crate) fn own_path(path: &str) -> &str {
    let is_own = path.starts_with('/')
        && !path.starts_with("//")
        && !path.contains(|c: char| c == '\\' || c.is_control())
        && path.len() < 2_000;
    if is_own { path } else { "/" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_paths_of_this_bench_are_followed() {
        for (path, taken) in [
            ("/cutters/1?a=b", "/cutters/1?a=b"),
            ("//elsewhere.example/", "/"),
            ("https://elsewhere.example/", "/"),
            ("/\\elsewhere.example", "/"),
            ("/\t/elsewhere.example", "/"),
            ("/a\r\nSet-Cookie: b", "/"),
            ("", "/"),
        ] {
            assert_eq!(own_path(path), taken);
        }
    }

    #[test]
    fn queries_are_escaped() {
        assert_eq!(escaped_query("/a b?c=d&é"), "/a%20b%3Fc%3Dd%26%C3%A9");
    }
}
