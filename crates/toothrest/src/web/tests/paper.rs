//! Files for the printer, as the bench gives them.

use axum::http::StatusCode;
use shop::book::SubjectKind;

use super::bench::Browser;
use crate::desk::Desk;

/// The id of a cutter of the demo shop whose size as ground is on its record.
async fn ground(desk: &Desk) -> String {
    for row in desk.all(SubjectKind::Cutter).await.unwrap() {
        let id = row.subject.id.to_string();
        if desk.cutter(&id).await.unwrap().state.cutter.as_ground().is_some() {
            return id;
        }
    }
    panic!("the demo has no cutter that was ground");
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
