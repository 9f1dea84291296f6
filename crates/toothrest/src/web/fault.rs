//! What can go wrong with a request, and the page that says so.

use std::error::Error;

use axum::http::StatusCode;
use axum::http::header::{ALLOW, CONTENT_TYPE, HeaderValue};
use axum::response::{IntoResponse, Redirect, Response};
use shop::ShopError;

use crate::cli::Failure;
use crate::web::page::{self, Problem};

/// Why a request gets no answer.
#[derive(Debug)]
pub(crate) enum Fault {
    /// The work itself cannot be done.
    Work(Failure),
    /// No page lies there.
    NoPage,
    /// What was sent is no form of ours.
    Form(String),
    /// What was sent is longer than any form here.
    TooLong,
    /// What was to come behind the head of a request did not come in time.
    Late,
    /// The page is there, but cannot be asked in this way.
    Manner,
    /// Some other long piece of work is going on.
    Busy {
        /// What.
        what: String,
    },
    /// Nobody has said who is at the bench.
    WhoIsIt {
        /// Where to go on.
        then: String,
    },
    /// The request comes from somewhere it must not come from.
    Foreign(&'static str),
    /// Too many wrong tries.
    TooOften {
        /// Seconds to wait.
        wait_s: u64,
    },
    /// A page could not be drawn.
    Page(String),
}

impl Fault {
    /// What was sent is no form of ours.
    pub(crate) fn form(why: &str) -> Self {
        Self::Form(why.to_owned())
    }

    /// What is wrong, in words.
    pub(crate) fn words(&self) -> String {
        self.told().words
    }

    fn status(&self) -> StatusCode {
        match self {
            Self::Work(Failure::Shop(error)) => status_of(error),
            Self::Work(_) => StatusCode::UNPROCESSABLE_ENTITY,
            Self::NoPage => StatusCode::NOT_FOUND,
            Self::Form(_) => StatusCode::BAD_REQUEST,
            Self::TooLong => StatusCode::PAYLOAD_TOO_LARGE,
            Self::Late => StatusCode::REQUEST_TIMEOUT,
            Self::Manner => StatusCode::METHOD_NOT_ALLOWED,
            Self::Busy { .. } => StatusCode::CONFLICT,
            Self::WhoIsIt { .. } => StatusCode::SEE_OTHER,
            Self::Foreign(_) => StatusCode::FORBIDDEN,
            Self::TooOften { .. } => StatusCode::TOO_MANY_REQUESTS,
            Self::Page(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    /// A heading, what is wrong, and what to do next.
    fn told(&self) -> Problem {
        let problem = |heading: &str, words: String, next: &str| Problem {
            heading: heading.to_owned(),
            words,
            next: next.to_owned(),
        };
        match self {
            Self::Work(failure) => told_of(failure),
            Self::TooLong | Self::Late | Self::Manner | Self::Busy { .. } => self.told_of_request(),
            Self::NoPage => problem(
                "There is no such page",
                "Nothing lies at this address.".to_owned(),
                "Go back to the tray and find the cutter from there.",
            ),
            Self::Form(why) => problem(
                "This could not be read",
                format!("What was sent is no form of this bench: {why}."),
                "Go back, look at what you typed, and send it again.",
            ),
            Self::WhoIsIt { .. } => problem("Who is it?", String::new(), ""),
            Self::Foreign(why) => problem(
                "This request was not taken",
                (*why).to_owned(),
                "Open the bench at the address it showed when it started, and try again there.",
            ),
            Self::TooOften { wait_s } => problem(
                "Too many wrong PINs",
                format!("Wait {} before the next try.", wait_words(*wait_s)),
                "Each further wrong PIN doubles the wait. If the PIN is forgotten, or somebody \
                 tried to get in as you, whoever sits at the machine that keeps the book can set \
                 another and lift the wait: toothrest book pin INITIALS.",
            ),
            Self::Page(why) => problem(
                "This page could not be drawn",
                why.clone(),
                "Go back, look whether what you entered stands there, and try once more.",
            ),
        }
    }

    /// What stands in the way of a request as such.
    fn told_of_request(&self) -> Problem {
        let (heading, words, next) = match self {
            Self::TooLong => (
                "This is too long",
                "What was sent is longer than any form of this bench.".to_owned(),
                "Nothing was written. Go back, make it shorter, and send it again.",
            ),
            Self::Late => (
                "This did not come whole",
                "The rest of what was sent did not come in time, or the connection broke."
                    .to_owned(),
                "Nothing was written. See that the network holds, and send it again.",
            ),
            Self::Busy { what } => (
                "Something else is going on",
                format!("{what}."),
                "Wait until it is done, or stop it on the page of the book, and try again.",
            ),
            _ => (
                "This page cannot be asked so",
                "What lies at this address is only sent to, or only looked at.".to_owned(),
                "Go back to the tray and find your way from there.",
            ),
        };
        Problem { heading: heading.to_owned(), words, next: next.to_owned() }
    }
}

/// A wait as one tells it to somebody who stands there.
fn wait_words(wait_s: u64) -> String {
    match wait_s {
        0..=1 => "a second".to_owned(),
        2..=119 => format!("{wait_s} seconds"),
        _ => format!("{} minutes", wait_s.div_ceil(60)),
    }
}

/// Nothing was lost where a write was refused, and the page says so.
fn told_of(failure: &Failure) -> Problem {
    let (heading, next) = match failure {
        Failure::Shop(ShopError::Refused { .. }) => {
            ("Refused", "Change what stands in the way, and plan again.")
        }
        Failure::Shop(ShopError::NotFound { .. }) => {
            ("Not in the book", "Go back to the tray and find it from there.")
        }
        Failure::Shop(ShopError::Conflict { .. }) => (
            "Somebody else wrote first",
            "Nothing of yours was written. Go back, reload the page to see what is new, and enter \
             it again if it still holds.",
        ),
        Failure::Shop(ShopError::Store { .. }) => (
            "The book does not answer",
            "It did not say that it has what you entered. See that its disk or its server is there \
             and has room, look whether it stands there, then try again.",
        ),
        _ => ("This cannot be done as it stands", "Go back, put it right, and try again."),
    };
    Problem { heading: heading.to_owned(), words: failure.to_string(), next: next.to_owned() }
}

const fn status_of(error: &ShopError) -> StatusCode {
    match error {
        ShopError::Invalid { .. } | ShopError::Refused { .. } => StatusCode::UNPROCESSABLE_ENTITY,
        ShopError::NotFound { .. } => StatusCode::NOT_FOUND,
        ShopError::Conflict { .. } => StatusCode::CONFLICT,
        ShopError::Store { .. } => StatusCode::SERVICE_UNAVAILABLE,
    }
}

/// Whoever only looked has entered nothing, and is not to be told to look for it.
pub(super) fn nothing_entered(response: &mut Response) {
    if response.status() == StatusCode::SERVICE_UNAVAILABLE
        && let Some(problem) = response.extensions_mut().get_mut::<Problem>()
    {
        problem.next = "Nothing was to be written. See that its disk or its server is there, then \
                        load this page again."
            .to_owned();
    }
}

/// Whether what was sent stopped coming, rather than being too long.
pub(super) fn is_late(error: &(dyn Error + 'static)) -> bool {
    let mut cause = Some(error);
    while let Some(error) = cause {
        if error.to_string().contains("length limit") {
            return false;
        }
        cause = error.source();
    }
    true
}

/// An answer that the server itself makes where nobody here was asked, as a page of this bench.
pub(super) fn dressed(response: Response) -> Response {
    let is_page = |value: &HeaderValue| {
        [&b"text/html"[..], b"application/json"]
            .iter()
            .any(|kind| value.as_bytes().starts_with(kind))
    };
    if !response.status().is_client_error()
        || response.headers().get(CONTENT_TYPE).is_some_and(is_page)
    {
        return response;
    }
    let fault = match response.status() {
        StatusCode::NOT_FOUND => Fault::NoPage,
        StatusCode::METHOD_NOT_ALLOWED => Fault::Manner,
        StatusCode::PAYLOAD_TOO_LARGE => Fault::TooLong,
        _ => Fault::form("its address or its entries are not what this page asks for"),
    };
    let mut page = fault.into_response();
    page.headers_mut().extend(response.headers().get(ALLOW).map(|value| (ALLOW, value.clone())));
    page
}

impl From<Failure> for Fault {
    fn from(failure: Failure) -> Self {
        Self::Work(failure)
    }
}

impl From<ShopError> for Fault {
    fn from(error: ShopError) -> Self {
        Self::Work(Failure::Shop(error))
    }
}

impl From<askama::Error> for Fault {
    fn from(error: askama::Error) -> Self {
        Self::Page(error.to_string())
    }
}

impl IntoResponse for Fault {
    fn into_response(self) -> Response {
        if let Self::WhoIsIt { then } = &self {
            let to = format!("/who?then={}", page::escaped_query(then));
            return Redirect::to(&to).into_response();
        }
        page::problem(self.status(), self.told())
    }
}
