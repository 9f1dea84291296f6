//! A bench on a book of its own, and a browser before it that keeps cookies.

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, LOCATION, ORIGIN, REFERER, SET_COOKIE};
use axum::http::{Request, StatusCode};
use book::{Book, Place};
use shop::book::{Entry, SubjectKind, whole_history};
use tower::ServiceExt;

use crate::desk::Desk;
use crate::web::serve::router;
use crate::web::state::{Bench, Settings};

const AT: &str = "localhost";
const BYTES_MAX: usize = 8 << 20;

/// A browser at a bench. The book goes away with it.
pub(super) struct Browser {
    router: Router,
    bench: Bench,
    cookies: Vec<(String, String)>,
    _folder: Option<tempfile::TempDir>,
}

/// What came back.
pub(super) struct Answer {
    pub(super) status: StatusCode,
    pub(super) to: String,
    pub(super) page: String,
}

/// A form to be sent: names and values.
pub(super) type Sent<'a> = Vec<(&'a str, &'a str)>;

impl Browser {
    /// At an empty book, by somebody who has said who they are.
    pub(super) async fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let place = Place::File(folder.path().join("book.sqlite"));
        Self { _folder: Some(folder), ..Self::at(&place).await }
    }

    /// The same at a book that lies somewhere else.
    pub(super) async fn at(place: &Place) -> Self {
        let book = Book::open(place).await.unwrap();
        let settings = Settings { has_sign_in: false, hosts: vec![AT.to_owned()], copies: None };
        let bench = Bench::new(Desk::new(book), settings);
        let cookies = vec![("who".to_owned(), "IV".to_owned())];
        Self { router: router(bench.clone()), bench, cookies, _folder: None }
    }

    pub(super) async fn get(&mut self, path: &str) -> Answer {
        let request = Request::get(path).body(Body::empty()).unwrap();
        self.send(request).await
    }

    pub(super) async fn post(&mut self, path: &str, form: &Sent<'_>) -> Answer {
        let body: Vec<_> = form.iter().map(|(name, value)| pair(name, value)).collect();
        let request = Request::post(path)
            .header(ORIGIN, format!("http://{AT}"))
            .header(CONTENT_TYPE, "application/x-www-form-urlencoded")
            .body(Body::from(body.join("&")))
            .unwrap();
        self.send(request).await
    }

    /// The same, sent from a page of this bench or of another site.
    pub(super) async fn post_from(&mut self, from: &str, path: &str, form: &Sent<'_>) -> Answer {
        let from = match from.strip_prefix('/') {
            Some(path) => format!("http://{AT}/{path}"),
            None => from.to_owned(),
        };
        let body: Vec<_> = form.iter().map(|(name, value)| pair(name, value)).collect();
        let request = Request::post(path)
            .header(ORIGIN, format!("http://{AT}"))
            .header(REFERER, from)
            .header(CONTENT_TYPE, "application/x-www-form-urlencoded")
            .body(Body::from(body.join("&")))
            .unwrap();
        self.send(request).await
    }

    async fn send(&mut self, mut request: Request<Body>) -> Answer {
        let cookies = self.cookies.iter().map(|(name, value)| format!("{name}={value}"));
        let cookies = cookies.collect::<Vec<_>>().join("; ");
        request.headers_mut().insert(HOST, AT.parse().unwrap());
        request.headers_mut().insert(COOKIE, cookies.parse().unwrap());
        let answer = self.router.clone().oneshot(request).await.unwrap();
        let (parts, body) = answer.into_parts();
        for line in parts.headers.get_all(SET_COOKIE) {
            self.keep(line.to_str().unwrap());
        }
        let to = parts.headers.get(LOCATION).map(|to| to.to_str().unwrap().to_owned());
        let bytes = to_bytes(body, BYTES_MAX).await.unwrap();
        let page = String::from_utf8_lossy(&bytes).into_owned();
        Answer { status: parts.status, to: to.unwrap_or_default(), page }
    }

    fn keep(&mut self, line: &str) {
        let pair = line.split(';').next().unwrap_or_default();
        let (name, value) = pair.split_once('=').unwrap();
        self.cookies.retain(|(other, _)| other != name);
        if !value.is_empty() {
            self.cookies.push((name.to_owned(), value.to_owned()));
        }
    }

    /// Sends a form that is taken, and follows to the page behind it.
    pub(super) async fn enter(&mut self, path: &str, form: &Sent<'_>) -> (String, Answer) {
        let answer = self.post(path, form).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{path}: {}", answer.main());
        let to = answer.to.clone();
        let page = self.get(&to).await;
        assert_eq!(page.status, StatusCode::OK, "{to}: {}", page.main());
        (to, page)
    }

    /// The book that is looked at: the demo shop's once that is entered.
    pub(super) fn desk(&self) -> std::sync::Arc<Desk> {
        self.bench.demo().unwrap_or_else(|| self.bench.desk())
    }

    /// The demo shop, once it was asked for.
    pub(super) fn demo(&self) -> std::sync::Arc<Desk> {
        self.bench.demo().unwrap()
    }

    /// The whole history of what a path shows.
    pub(super) async fn history(&self, kind: SubjectKind, path: &str) -> Vec<Entry> {
        let id = path.rsplit('/').next().unwrap();
        let subject = shop::book::Subject::new(kind, shop::book::Id::from_text(id).unwrap());
        whole_history(self.desk().book(), &subject).await.unwrap()
    }
}

impl Answer {
    /// The part of the page that is its own.
    pub(super) fn main(&self) -> &str {
        self.page.split_once("<main").map_or(&*self.page, |(_, main)| main)
    }

    pub(super) fn has(&self, words: &str) -> bool {
        self.main().contains(words)
    }

    /// What stands in a field of the page; of a choice, what is taken.
    pub(super) fn value(&self, name: &str) -> String {
        let fields = self.fields();
        let found = fields.iter().find(|(other, _)| other == name);
        found.map(|(_, value)| value.clone()).unwrap_or_default()
    }

    /// The problem that stands beside a field.
    pub(super) fn problem(&self, name: &str) -> String {
        let plain = |c: char| if c.is_ascii_alphanumeric() { c } else { '-' };
        let mark = format!("id=\"f-{}-problem\">", name.chars().map(plain).collect::<String>());
        let behind = self.main().split_once(&mark).map(|(_, behind)| behind);
        behind
            .and_then(|behind| behind.split_once('<'))
            .map(|(words, _)| clear(words))
            .unwrap_or_default()
    }

    /// Every field of the page as a browser would send it back.
    pub(super) fn fields(&self) -> Vec<(String, String)> {
        let form = self.main().split_once("id=\"main-form\"").map_or("", |(_, form)| form);
        let form = form.split_once("</form>").map_or(form, |(form, _)| form);
        let mut fields = Vec::new();
        for (at, _) in form.match_indices('<') {
            fields.extend(field(&form[at..]));
        }
        fields
    }

    /// The same with some of them filled in otherwise.
    pub(super) fn filled(&self, with: &[(&str, &str)]) -> Vec<(String, String)> {
        let mut fields = self.fields();
        fields.retain(|(name, _)| with.iter().all(|(other, _)| other != name));
        fields.extend(with.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())));
        fields
    }
}

/// What an element that begins here sends.
fn field(element: &str) -> Option<(String, String)> {
    let (tag, behind) = element.split_once('>')?;
    if tag.starts_with("<textarea") {
        let (text, _) = behind.split_once("</textarea>")?;
        return Some((attribute(tag, "name")?, clear(text.trim_start_matches('\n'))));
    }
    if tag.starts_with("<select") {
        let (options, _) = behind.split_once("</select>")?;
        let taken = options.split("<option").find(|option| option.contains(" selected"));
        let first = options.split("<option").nth(1)?;
        return Some((attribute(tag, "name")?, attribute(taken.unwrap_or(first), "value")?));
    }
    let is_tapped = tag.contains("type=\"radio\"") || tag.contains("type=\"checkbox\"");
    if !tag.starts_with("<input") || (is_tapped && !tag.contains(" checked")) {
        return None;
    }
    Some((attribute(tag, "name")?, attribute(tag, "value").unwrap_or_default()))
}

fn attribute(tag: &str, name: &str) -> Option<String> {
    let (_, behind) = tag.split_once(&format!(" {name}=\""))?;
    behind.split_once('"').map(|(value, _)| clear(value))
}

/// Text without the escapes of a page.
pub(super) fn clear(text: &str) -> String {
    text.replace("&#34;", "\"")
        .replace("&#39;", "'")
        .replace("&#60;", "<")
        .replace("&#62;", ">")
        .replace("&#38;", "&")
}

/// As a form is sent.
pub(super) fn sent(fields: &[(String, String)]) -> Sent<'_> {
    fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect()
}

fn pair(name: &str, value: &str) -> String {
    let escaped = crate::web::page::escaped_query;
    format!("{}={}", escaped(name), escaped(value))
}
