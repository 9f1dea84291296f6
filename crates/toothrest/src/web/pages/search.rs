//! Search: what was typed or scanned, among everything that has a number.

use askama::Template;
use axum::extract::Query;
use axum::response::Response;
use serde::Deserialize;
use shop::book::{Query as Asked, Store, SubjectKind, Summary};

use super::receive::scanned;
use crate::web::fault::Fault;
use crate::web::page::{Frame, drawn, go_on};
use crate::web::visit::Visit;

/// So many of each kind are shown.
const SHOWN: u32 = 30;

/// What was typed.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Sought {
    #[serde(default)]
    q: String,
}

#[derive(Template)]
#[template(path = "search.html")]
struct SearchPage {
    frame: Frame,
    words: String,
    kinds: Vec<(&'static str, Vec<Found>)>,
    problem: String,
}

struct Found {
    path: String,
    number: String,
    about: String,
    stage: &'static str,
}

/// The kinds that have a page, with their heading and path.
const KINDS: [(SubjectKind, &str, &str); 3] = [
    (SubjectKind::Cutter, "Cutters", "/cutters"),
    (SubjectKind::Wheel, "Wheels", "/wheels"),
    (SubjectKind::Machine, "Machines", "/machines"),
];

/// Shows what was found; a number that is exactly one goes straight there.
pub(super) async fn show(visit: Visit, Query(sought): Query<Sought>) -> Result<Response, Fault> {
    let words = scanned(&sought.q);
    let book = visit.desk.book();
    for (kind, _, path) in KINDS {
        if let Some(found) = book.find(kind, &words).await?.filter(|_| !words.is_empty()) {
            return Ok(go_on(&format!("{path}/{}", found.subject.id)));
        }
    }
    let mut kinds = Vec::new();
    let mut problem = String::new();
    for (kind, heading, path) in KINDS {
        let query =
            Asked { words: words.clone(), limit: SHOWN, live_only: false, ..Asked::of(kind) };
        match book.list(&query).await {
            Ok(listed) if listed.rows.is_empty() => {}
            Ok(listed) => {
                let found = listed.rows.into_iter().map(|row| found(path, row)).collect();
                kinds.push((heading, found));
            }
            Err(error) => problem = error.to_string(),
        }
    }
    drawn(&SearchPage { frame: Frame::new(&visit, "", "Search"), words, kinds, problem })
}

fn found(path: &str, row: Summary) -> Found {
    Found {
        path: format!("{path}/{}", row.subject.id),
        number: row.number,
        about: row.about,
        stage: row.stage.name(),
    }
}
