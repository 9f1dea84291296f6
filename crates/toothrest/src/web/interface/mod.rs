//! What other programs of the shop ask of the bench: cutters, sizes and records, to read only.
//!
//! `openapi.json` describes it; a test holds that against what is really answered. Whoever asks
//! sends a token that was made with `toothrest book token`, and may ask so many times a minute.

mod answers;
mod rate;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use axum::Router;
use axum::extract::{Path, Query, Request, State};
use axum::http::header::{ALLOW, AUTHORIZATION, CONTENT_TYPE, RETRY_AFTER, WWW_AUTHENTICATE};
use axum::http::{HeaderMap, HeaderValue, StatusCode};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use serde::Serialize;
use shop::ShopError;
use shop::book::{Cursor, Listed, Query as Asked, Stage, Store, SubjectKind, whole_history};

use super::hex::{from_hex, hex};
use super::page::Problem;
use super::pages::tray::{cursor, place_words};
use super::state::Bench;
use super::visit::peer;
use crate::cli::wheel_and_machine_names;
use crate::desk::{CutterAt, token_hash, token_holder};
use crate::files::plain;
use answers::{ErrorAnswer, cutter_answer, cutters_answer, records_answer, sizes_answer};
pub(crate) use rate::Rates;

/// Where it lies.
pub(crate) const PATH: &str = "/interface/";

/// The description, in the words of OpenAPI 3.1.
const DESCRIPTION: &str = include_str!("openapi.json");

/// Where a cutter can stand, as the description lists it.
const OF_CUTTERS: [Stage; 7] = [
    Stage::Shelf,
    Stage::Waiting,
    Stage::Planned,
    Stage::Ground,
    Stage::Checked,
    Stage::Back,
    Stage::Gone,
];

/// Rows of one answer.
const PAGE: u32 = 100;

/// Its addresses. The description may be read by everybody who reaches the bench.
pub(crate) fn routes(bench: &Bench) -> Router<Bench> {
    let behind_token = Router::new()
        .route("/interface/v1/cutters", get(cutters))
        .route("/interface/v1/cutters/{number}", get(cutter))
        .route("/interface/v1/sizes", get(sizes))
        .route("/interface/v1/records/{number}", get(records))
        .layer(from_fn_with_state(bench.clone(), with_token));
    Router::new().route("/interface/openapi.json", get(description)).merge(behind_token)
}

/// An answer that was not made here, or that no program asked well for, in the interface's own
/// shape.
pub(super) fn dressed(response: Response) -> Response {
    let is_json = |kind: &HeaderValue| kind.as_bytes().starts_with(b"application/json");
    let (status, headers) = (response.status(), response.headers());
    if status.is_success() || headers.get(CONTENT_TYPE).is_some_and(is_json) {
        return response;
    }
    let error = match status {
        StatusCode::NOT_FOUND => {
            "nothing lies at this address; /interface/openapi.json says what there is".to_owned()
        }
        StatusCode::METHOD_NOT_ALLOWED => "this address is only read; ask it with GET".to_owned(),
        _ => match response.extensions().get::<Problem>() {
            Some(problem) => problem.words.clone(),
            None => "the query cannot be read; see /interface/openapi.json".to_owned(),
        },
    };
    let allowed = headers.get(ALLOW).cloned();
    let mut dressed = told(status, error);
    dressed.headers_mut().extend(allowed.map(|allowed| (ALLOW, allowed)));
    dressed
}

fn told(status: StatusCode, error: String) -> Response {
    let text = serde_json::to_string(&ErrorAnswer { error }).unwrap_or_default();
    (status, [(CONTENT_TYPE, "application/json")], text).into_response()
}

async fn description() -> Response {
    ([(CONTENT_TYPE, "application/json")], DESCRIPTION).into_response()
}

/// Why a program gets no answer.
enum Refusal {
    NoToken,
    TooOften(u64),
    Query(String),
    Shop(ShopError),
    Json,
}

impl From<ShopError> for Refusal {
    fn from(error: ShopError) -> Self {
        Self::Shop(error)
    }
}

/// Lets a request pass that brings a token, as long as it does not come too often. Whoever brings
/// none or a wrong one is counted too, by where they ask from.
async fn with_token(State(bench): State<Bench>, request: Request, next: Next) -> Response {
    let (parts, body) = request.into_parts();
    let passed = check(&bench, bearer(&parts.headers), &peer(&parts)).await;
    match passed {
        Ok(()) => next.run(Request::from_parts(parts, body)).await,
        Err(refusal) => refusal.into_response(),
    }
}

async fn check(bench: &Bench, token: Option<&str>, peer: &str) -> Result<(), Refusal> {
    let desk = bench.desk();
    let now = desk.now();
    let hash = token.map(token_hash);
    let holder = match &hash {
        Some(hash) => token_holder(&desk, hash).await?,
        _ => None,
    };
    match (holder, hash) {
        (Some(_), Some(hash)) => bench.rates().ask(hash.as_str(), now).map_err(Refusal::TooOften),
        _ => match bench.rates().fail(peer, now) {
            Ok(()) => Err(Refusal::NoToken),
            Err(wait_s) => Err(Refusal::TooOften(wait_s)),
        },
    }
}

/// The token behind "Bearer".
fn bearer(headers: &HeaderMap) -> Option<&str> {
    let text = headers.get(AUTHORIZATION)?.to_str().ok()?;
    let (kind, token) = text.split_once(' ')?;
    kind.eq_ignore_ascii_case("bearer").then(|| token.trim()).filter(|token| token.len() < 200)
}

type Wanted = Query<Vec<(String, String)>>;

/// What a query asks for, each once. What is not known is refused: whoever asked for it would take
/// the answer for one that heeds it.
fn asked<'q>(query: &'q Wanted, known: &[&str]) -> Result<BTreeMap<&'q str, &'q str>, Refusal> {
    let mut asked = BTreeMap::new();
    for (name, value) in &query.0 {
        if !known.contains(&name.as_str()) {
            let names = if known.is_empty() { "nothing" } else { &known.join(" and ") };
            let words = format!("{} is not known here; {names} can be asked for", plain(name));
            return Err(Refusal::Query(words));
        }
        if asked.insert(name.as_str(), value.as_str()).is_some() {
            return Err(Refusal::Query(format!("{name} stands there twice; write it once")));
        }
    }
    Ok(asked)
}

/// Where a list goes on, as a word that needs no escaping in an address.
fn mark(at: &Cursor) -> String {
    hex(place_words(at).as_bytes())
}

fn of_mark(text: &str) -> Option<Cursor> {
    cursor(&String::from_utf8(from_hex(text)?).ok()?)
}

/// Cutters at a stage, those that wait where none is named.
async fn cutters(State(bench): State<Bench>, wanted: Wanted) -> Result<Response, Refusal> {
    let wanted = asked(&wanted, &["stage", "after"])?;
    let stage = match wanted.get("stage") {
        None => Stage::Waiting,
        Some(name) => {
            OF_CUTTERS.iter().copied().find(|stage| stage.name() == *name).ok_or_else(|| {
                let names: Vec<&str> = OF_CUTTERS.iter().map(|stage| stage.name()).collect();
                Refusal::Query(format!("no such stage; write one of {}", names.join(", ")))
            })?
        }
    };
    let listed = listed(&bench, &wanted, Some(stage)).await?;
    answer(&cutters_answer(&listed, listed.next.as_ref().map(mark)))
}

async fn listed(
    bench: &Bench,
    wanted: &BTreeMap<&str, &str>,
    stage: Option<Stage>,
) -> Result<Listed, Refusal> {
    let after = match wanted.get("after") {
        None => None,
        Some(text) => Some(of_mark(text).ok_or_else(|| {
            Refusal::Query("after is what stood under \"next\" in the answer before".to_owned())
        })?),
    };
    let asked = Asked { stage, after, limit: PAGE, ..Asked::of(SubjectKind::Cutter) };
    Ok(bench.desk().book().list(&asked).await?)
}

/// One cutter with its record.
async fn cutter(
    State(bench): State<Bench>,
    Path(number): Path<String>,
    wanted: Wanted,
) -> Result<Response, Refusal> {
    asked(&wanted, &[])?;
    let desk = bench.desk();
    let found = desk.book().find(SubjectKind::Cutter, &number).await?;
    let row = found.ok_or(ShopError::NotFound { what: format!("cutter {number:?}") })?;
    let latest = desk.latest_at(&row).await?;
    let cutter = CutterAt::of(&latest);
    let cutter = cutter.ok_or(ShopError::NotFound { what: format!("cutter {number:?}") })?;
    answer(&cutter_answer(&row, &cutter.state))
}

/// What cutters measure.
async fn sizes(State(bench): State<Bench>, wanted: Wanted) -> Result<Response, Refusal> {
    let wanted = asked(&wanted, &["after"])?;
    let listed = listed(&bench, &wanted, None).await?;
    let desk = bench.desk();
    let mut rows = Vec::with_capacity(listed.rows.len());
    for row in &listed.rows {
        if let Some(cutter) = CutterAt::of(desk.latest_at(row).await?.as_ref()) {
            rows.push((row.clone(), cutter.state));
        }
    }
    answer(&sizes_answer(&rows, listed.next.as_ref().map(mark)))
}

/// The regrinds of one cutter.
async fn records(
    State(bench): State<Bench>,
    Path(number): Path<String>,
    wanted: Wanted,
) -> Result<Response, Refusal> {
    asked(&wanted, &[])?;
    let desk = bench.desk();
    let found = desk.book().find(SubjectKind::Cutter, &number).await?;
    let row = found.ok_or(ShopError::NotFound { what: format!("cutter {number:?}") })?;
    let history = whole_history(desk.book(), &row.subject).await?;
    let names = wheel_and_machine_names(desk.book()).await?;
    answer(&records_answer(&row.number, &history, &names))
}

fn answer(answer: &impl Serialize) -> Result<Response, Refusal> {
    let text = serde_json::to_string(answer).map_err(|_| Refusal::Json)?;
    Ok(([(CONTENT_TYPE, "application/json")], text).into_response())
}

impl Refusal {
    fn told(&self) -> (StatusCode, String) {
        match self {
            Self::NoToken => {
                let words = "send a token as \"Authorization: Bearer …\"; one is made with \
                             \"toothrest book token\"";
                (StatusCode::UNAUTHORIZED, words.to_owned())
            }
            Self::TooOften(wait_s) => {
                (StatusCode::TOO_MANY_REQUESTS, format!("wait {wait_s} seconds"))
            }
            Self::Query(words) => (StatusCode::BAD_REQUEST, words.clone()),
            Self::Shop(error @ ShopError::NotFound { .. }) => {
                (StatusCode::NOT_FOUND, error.to_string())
            }
            Self::Shop(error) => (StatusCode::SERVICE_UNAVAILABLE, error.to_string()),
            Self::Json => (StatusCode::INTERNAL_SERVER_ERROR, "no answer was made".to_owned()),
        }
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let (status, error) = self.told();
        let mut response = told(status, error);
        let headers = response.headers_mut();
        match self {
            Self::NoToken => {
                headers.insert(WWW_AUTHENTICATE, HeaderValue::from_static("Bearer"));
            }
            Self::TooOften(wait_s) => {
                headers.insert(RETRY_AFTER, HeaderValue::from(wait_s));
            }
            _ => {}
        }
        response
    }
}
