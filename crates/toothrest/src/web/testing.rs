//! A bench on a book of its own, and requests to it as a browser or as nobody's friend sends them.

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, HeaderMap, LOCATION, ORIGIN, SET_COOKIE};
use axum::http::{Request, StatusCode};
use axum::response::Response;
use book::{Book, Place};
use tower::ServiceExt;

use super::page::escaped_query;
use super::serve::router;
use super::state::{Bench, Settings};
use crate::desk::Desk;

/// The host that the bench goes by.
pub(super) const AT: &str = "localhost:8817";

/// A bench; its book goes away with it.
pub(super) struct Shop {
    router: Router,
    pub(super) bench: Bench,
    cookies: Vec<(String, String)>,
    pub(super) folder: tempfile::TempDir,
}

/// What came back.
pub(super) struct Answer {
    pub(super) status: StatusCode,
    pub(super) headers: HeaderMap,
    pub(super) page: String,
}

impl Shop {
    /// An empty book; whether one has to sign in.
    pub(super) async fn open(has_sign_in: bool) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let place = Place::File(folder.path().join("book.sqlite"));
        let book = Book::open(&place).await.unwrap();
        let hosts = vec!["localhost".to_owned()];
        let settings = Settings { has_sign_in, hosts, copies: None };
        let bench = Bench::new(Desk::new(book), settings);
        Self { router: router(bench.clone()), bench, cookies: Vec::new(), folder }
    }

    /// An empty book with somebody at the bench.
    pub(super) async fn with_hand() -> Self {
        let mut shop = Self::open(false).await;
        shop.cookie("who", "IV");
        shop
    }

    /// From now on the browser sends this cookie.
    pub(super) fn cookie(&mut self, name: &str, value: &str) {
        self.cookies.retain(|(other, _)| other != name);
        self.cookies.push((name.to_owned(), value.to_owned()));
    }

    /// Another browser, which nobody used before.
    pub(super) fn no_cookies(&mut self) {
        self.cookies.clear();
    }

    pub(super) async fn get(&mut self, path: &str) -> Answer {
        self.send(Request::get(path).header(HOST, AT).body(Body::empty()).unwrap()).await
    }

    /// A form sent from a page of this bench.
    pub(super) async fn post(&mut self, path: &str, form: &[(&str, &str)]) -> Answer {
        self.send(posted(path).body(Body::from(body(form))).unwrap()).await
    }

    /// Sends what is given with the cookies so far, and keeps those that come back.
    pub(super) async fn send(&mut self, mut request: Request<Body>) -> Answer {
        let cookies: Vec<_> = self.cookies.iter().map(|(n, v)| format!("{n}={v}")).collect();
        request.headers_mut().insert(COOKIE, cookies.join("; ").parse().unwrap());
        let answer = Answer::of(self.router.clone().oneshot(request).await.unwrap()).await;
        for line in answer.headers.get_all(SET_COOKIE) {
            let pair = line.to_str().unwrap().split(';').next().unwrap_or_default();
            let (name, value) = pair.split_once('=').unwrap();
            self.cookie(name, value);
        }
        answer
    }
}

/// The head of a form that a page of this bench sends.
pub(super) fn posted(path: &str) -> axum::http::request::Builder {
    let kind = "application/x-www-form-urlencoded";
    Request::post(path)
        .header(HOST, AT)
        .header(ORIGIN, format!("http://{AT}"))
        .header(CONTENT_TYPE, kind)
}

/// The body of a form.
pub(super) fn body(form: &[(&str, &str)]) -> String {
    let pair =
        |(name, value): &(&str, &str)| format!("{}={}", escaped_query(name), escaped_query(value));
    form.iter().map(pair).collect::<Vec<_>>().join("&")
}

impl Answer {
    async fn of(response: Response) -> Self {
        let (parts, body) = response.into_parts();
        let bytes = to_bytes(body, 16 << 20).await.unwrap();
        let page = String::from_utf8_lossy(&bytes).into_owned();
        Self { status: parts.status, headers: parts.headers, page }
    }

    /// Where the browser is sent.
    pub(super) fn to(&self) -> &str {
        self.headers.get(LOCATION).map_or("", |to| to.to_str().unwrap())
    }

    pub(super) fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", |value| value.to_str().unwrap())
    }

    /// The number that a form of the page says it has seen.
    pub(super) fn seen(&self) -> String {
        let (_, behind) = self.page.split_once("name=\"seen\" value=\"").unwrap();
        behind.split('"').next().unwrap().to_owned()
    }
}
