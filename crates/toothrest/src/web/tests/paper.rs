//! Files for the printer, as the bench gives them.

use axum::http::StatusCode;
use shop::book::event::CutterEntered;
use shop::book::{Append, CutterState, Event, Initials, Stamp, SubjectKind};

use super::bench::Browser;
use crate::desk::Desk;
use crate::files::read_cutter;

/// The id of a cutter of the demo shop of whose state that holds.
async fn one(desk: &Desk, holds: fn(&CutterState) -> bool) -> String {
    for row in desk.all(SubjectKind::Cutter).await.unwrap() {
        let id = row.subject.id.to_string();
        if holds(&desk.cutter(&id).await.unwrap().state) {
            return id;
        }
    }
    panic!("the demo has no such cutter");
}

/// One that lies ground on the shelf, put there anew: all that the demo has came in today.
async fn ground(desk: &Desk) -> String {
    let text = include_str!("../../../../../examples/cutters/k-121-corner-radius.toml");
    let cutter = read_cutter("k-121", &text.replace("K-121", "K-921")).unwrap();
    let subject = desk.fresh(SubjectKind::Cutter);
    let entered = CutterEntered { cutter, marks: Vec::new() };
    let events = vec![Event::CutterEntered(Box::new(entered))];
    let stamp = Stamp { at: desk.now(), by: Initials::new("IV").unwrap() };
    desk.write_all(vec![Append { subject, seen: 0, stamp, events }]).await.unwrap();
    one(desk, |state| state.standing().is_some()).await
}

#[tokio::test]
async fn a_cutter_of_the_demo_has_its_papers() {
    let mut browser = Browser::new().await;
    browser.post("/demo", &vec![]).await;
    let id = ground(&browser.demo()).await;
    for paper in ["record.pdf", "tag.pdf?on=roll", "tag.pdf?on=a4&first=21", "tag.pdf?on=letter"] {
        let answer = browser.get(&format!("/cutters/{id}/{paper}")).await;
        assert_eq!(answer.status, StatusCode::OK, "{paper}: {}", answer.page);
        assert!(answer.page.starts_with("%PDF-"), "{paper}");
    }
    let page = browser.get(&format!("/cutters/{id}/tag")).await;
    assert!(page.has("/tag.pdf") && page.has("A4 with 3 by 7 labels"), "{}", page.page);
    assert!(browser.get(&format!("/cutters/{id}/record")).await.has("/record.pdf"));
}

#[tokio::test]
async fn labels_that_are_not_there_are_said_plainly() {
    let mut browser = Browser::new().await;
    browser.post("/demo", &vec![]).await;
    let id = ground(&browser.demo()).await;
    let beyond = browser.get(&format!("/cutters/{id}/tag.pdf?on=a4&first=22")).await;
    assert_eq!(beyond.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(beyond.has("write a number from 1 to 21"), "{}", beyond.page);
    let unknown = browser.get(&format!("/cutters/{id}/tag.pdf?on=paper")).await;
    assert_eq!(unknown.status, StatusCode::NOT_FOUND);
}

/// What was ground once and waits at the bench again has a size on its record, and no tag.
#[tokio::test]
async fn a_cutter_at_the_bench_has_no_tag() {
    let mut browser = Browser::new().await;
    browser.post("/demo", &vec![]).await;
    let was_ground = |state: &CutterState| !state.is_away() && state.cutter.as_ground().is_some();
    let id = one(&browser.demo(), was_ground).await;
    let page = browser.get(&format!("/cutters/{id}/tag")).await;
    assert!(page.has("hand it back first") && !page.has("/tag.pdf"), "{}", page.page);
    let refused = browser.get(&format!("/cutters/{id}/tag.pdf?on=roll")).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.has("its size is not settled"), "{}", refused.page);
}
