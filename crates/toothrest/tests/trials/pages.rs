//! The pages of the bench, asked as no browser would ask, on a book with the demo shop beside it.

use std::time::Duration;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::Request;
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, LOCATION, ORIGIN};
use tempfile::TempDir;
use tokio::runtime::Runtime;
use toothrest::trials::bench;
use tower::ServiceExt;

use super::each::Outcome;
use super::forms;

/// After so many requests the book is put away, for each entry makes its histories longer.
const REQUESTS_MAX: usize = 20_000;

/// What is sent to, and what is asked with a query.
const SENT_TO: [&str; 41] = [
    "/units",
    "/who",
    "/who/leave",
    "/receive/new",
    "/take-in/look",
    "/tables",
    "/prices",
    "/people",
    "/people/{person}/pin",
    "/people/{person}/leave",
    "/order/keep",
    "/cutters/{cutter}/change",
    "/cutters/{cutter}/receive",
    "/cutters/{cutter}/wear",
    "/cutters/{cutter}/plan",
    "/cutters/{cutter}/grind/done",
    "/cutters/{cutter}/grind/undo",
    "/cutters/{cutter}/grind/finish",
    "/cutters/{cutter}/check",
    "/cutters/{cutter}/correct",
    "/cutters/{cutter}/again",
    "/cutters/{cutter}/again/undo",
    "/cutters/{cutter}/back",
    "/cutters/{cutter}/note",
    "/cutters/{cutter}/retire",
    "/cutters/{cutter}/strike",
    "/wheels/new",
    "/wheels/{wheel}/change",
    "/wheels/{wheel}/enter/dress",
    "/wheels/{wheel}/enter/measure",
    "/wheels/{wheel}/enter/inspect",
    "/wheels/{wheel}/mount",
    "/wheels/{wheel}/shelve",
    "/wheels/{wheel}/note",
    "/wheels/{wheel}/retire",
    "/wheels/{wheel}/strike",
    "/machines/new",
    "/machines/{machine}/change",
    "/machines/{machine}/retire",
    "/demo/leave",
    "/book/check",
];

const ASKED: [&str; 9] = [
    "/",
    "/search",
    "/receive",
    "/receive/new",
    "/who",
    "/day",
    "/wheels/new",
    "/machines/new",
    "/interface/v1/cutters",
];

const PLAN: &str = "/cutters/{cutter}/plan";
const READINGS: &str = "/cutters/{cutter}/check";

/// So many cutters or wheels are looked at for a form of theirs.
const WHOSE_MAX: u8 = 60;

/// Pages whose forms are seeds.
const WITH_FORMS: [&str; 14] = [
    "/who",
    "/receive/new",
    "/people",
    "/cutters/{cutter}",
    "/cutters/{cutter}/change",
    "/cutters/{cutter}/wear",
    "/cutters/{cutter}/plan",
    "/cutters/{cutter}/check",
    "/cutters/{cutter}/back",
    "/wheels/new",
    "/wheels/{wheel}/enter/measure",
    "/wheels/{wheel}/mount",
    "/machines/new",
    "/machines/{machine}/change",
];

/// A bench, and where its things lie.
pub(crate) struct Pages {
    runtime: Runtime,
    router: Router,
    _folder: TempDir,
    places: Vec<(&'static str, String)>,
    requests: usize,
}

impl Pages {
    pub(crate) fn open() -> Self {
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .worker_threads(1)
            .enable_all()
            .build()
            .expect("a runtime");
        let folder = tempfile::tempdir().expect("a folder");
        let router = runtime.block_on(bench(folder.path())).expect("a bench");
        let places = Vec::new();
        let mut pages = Self { runtime, router, _folder: folder, places, requests: 0 };
        for (kind, page, path) in [
            ("{cutter}", "/", "/cutters/"),
            ("{wheel}", "/wheels", "/wheels/"),
            ("{machine}", "/machines", "/machines/"),
            ("{person}", "/people", "/people/"),
        ] {
            let found = ids(&pages.page(page), path);
            assert!(!found.is_empty(), "the demo shop has no {kind}");
            pages.places.extend(found.into_iter().map(|id| (kind, id)));
        }
        pages
    }

    /// The forms of the bench as a browser would send them, each to where it goes.
    pub(crate) fn seeds(&mut self) -> Vec<Vec<u8>> {
        let mut seeds = Vec::new();
        self.keep_a_plan();
        for path in WITH_FORMS {
            // Not every cutter has a plan whose readings are asked for.
            let mut all = (0..WHOSE_MAX).map(|whose| self.sent_from(path, whose));
            let found = all.find(|sent| !sent.is_empty());
            seeds.extend(found.unwrap_or_else(|| panic!("{path} has no form that goes anywhere")));
        }
        for (at, _) in ASKED.iter().enumerate() {
            let at = u8::try_from(SENT_TO.len() + at).unwrap_or(0);
            seeds.push([&[at, 0][..], b"q=k&after=1+2&stage=waiting&date=2026-01-05"].concat());
        }
        seeds
    }

    /// The first byte chooses the address, the second whose it is, and the rest is sent.
    pub(crate) fn run(&mut self, bytes: &[u8]) -> Outcome {
        let [to, whose, sent @ ..] = bytes else { return Ok(()) };
        self.requests += 1;
        if self.requests > REQUESTS_MAX {
            *self = Self::open();
        }
        let to = usize::from(*to) % (SENT_TO.len() + ASKED.len());
        let request = match SENT_TO.get(to) {
            Some(path) => posted(&self.placed(path, usize::from(*whose)), sent.to_vec()),
            None => asked(&format!("{}?{}", ASKED[to - SENT_TO.len()], query(sent))),
        };
        let Some(request) = request else { return Ok(()) };
        let (status, page) = self.answer(request)?;
        let is_page = page.is_empty() || page.starts_with("<!doctype html>");
        let is_page = is_page || page.starts_with(['{', '<']);
        if status >= 500 || !is_page || page.contains("<zq") {
            let from = page.find("<zq").unwrap_or(0).saturating_sub(200);
            let page = page.get(from..).unwrap_or(&page);
            let page: String = page.chars().take(1_000).collect();
            return Err(format!("{status} from {to}: {page}"));
        }
        Ok(())
    }

    /// Keeps a plan of the first cutter that can be planned: only then are readings asked for.
    fn keep_a_plan(&self) {
        let is_kept = (0..WHOSE_MAX).any(|whose| {
            for sent in self.sent_from(PLAN, whose) {
                let path = self.placed(PLAN, usize::from(whose));
                let request = posted(&path, sent[2..].to_vec()).expect("an address");
                self.answer(request).expect("a page");
            }
            !self.sent_from(READINGS, whose).is_empty()
        });
        assert!(is_kept, "no cutter of the demo shop can be planned");
    }

    /// What the forms of a page send, each with the number of its address and whose it is.
    fn sent_from(&self, path: &str, whose: u8) -> Vec<Vec<u8>> {
        let page = self.page(&self.placed(path, usize::from(whose)));
        let sent = |form: &forms::Form| {
            let to = self.address(&form.to)?;
            Some([&[to, whose], form.sent.as_bytes()].concat())
        };
        forms::of_page(&page).iter().filter_map(sent).collect()
    }

    /// The number of an address, whoever's it is; none where nothing here is sent there.
    fn address(&self, to: &str) -> Option<u8> {
        let mut plain = to.to_owned();
        for (kind, id) in &self.places {
            plain = plain.replace(id, kind);
        }
        let place = SENT_TO.iter().position(|known| *known == plain)?;
        u8::try_from(place).ok()
    }

    fn page(&self, path: &str) -> String {
        let request = asked(path).expect("an address");
        self.answer(request).expect("a page").1
    }

    fn placed(&self, path: &str, whose: usize) -> String {
        let mut placed = path.to_owned();
        for kind in ["{cutter}", "{wheel}", "{machine}", "{person}"] {
            let ids: Vec<&String> =
                self.places.iter().filter(|(of, _)| *of == kind).map(|(_, id)| id).collect();
            if let Some(id) = ids.get(whose % ids.len().max(1)) {
                placed = placed.replace(kind, id);
            }
        }
        placed
    }

    fn answer(&self, request: Request<Body>) -> Result<(u16, String), String> {
        let router = self.router.clone();
        let answered = self.runtime.block_on(async move {
            let within = Duration::from_secs(30);
            let response =
                tokio::time::timeout(within, router.oneshot(request)).await.ok()?.ok()?;
            let status = response.status().as_u16();
            let is_elsewhere = response.headers().get(LOCATION).is_some_and(|to| {
                !to.as_bytes().starts_with(b"/") || to.as_bytes().starts_with(b"//")
            });
            let bytes = to_bytes(response.into_body(), 16 << 20).await.ok()?;
            let status = if is_elsewhere { 599 } else { status };
            Some((status, String::from_utf8_lossy(&bytes).into_owned()))
        });
        answered.ok_or_else(|| "no answer within half a minute".to_owned())
    }
}

fn posted(path: &str, body: Vec<u8>) -> Option<Request<Body>> {
    Request::post(path)
        .header(HOST, "localhost")
        .header(ORIGIN, "http://localhost")
        .header(CONTENT_TYPE, "application/x-www-form-urlencoded")
        .header(COOKIE, "who=IV; demo=yes")
        .body(Body::from(body))
        .ok()
}

fn asked(path: &str) -> Option<Request<Body>> {
    let with_cookies = Request::get(path).header(HOST, "localhost");
    with_cookies.header(COOKIE, "who=IV; demo=yes").body(Body::empty()).ok()
}

/// Bytes as a query can hold them.
fn query(bytes: &[u8]) -> String {
    let shown = |byte: &u8| match byte {
        b'&' | b'=' | b'%' | b'+' => char::from(*byte).to_string(),
        byte if byte.is_ascii_alphanumeric() => char::from(*byte).to_string(),
        byte => format!("%{byte:02X}"),
    };
    bytes.iter().map(shown).collect()
}

/// The ids that stand behind a path in the links of a page.
fn ids(page: &str, path: &str) -> Vec<String> {
    let mut found: Vec<String> = page
        .split(&format!("\"{path}"))
        .skip(1)
        .map(|behind| behind.chars().take_while(|c| c.is_ascii_hexdigit() || *c == '-').collect())
        .filter(|id: &String| id.len() == 36)
        .collect();
    found.sort();
    found.dedup();
    found
}
