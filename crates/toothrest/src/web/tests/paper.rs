//! Files for the printer, as the bench gives them.

use axum::http::StatusCode;
use shop::book::{Stage, SubjectKind};

use super::bench::Browser;
use crate::desk::Desk;

/// The id of a cutter of the demo shop at some stage.
async fn at_stage(desk: &Desk, stage: Stage) -> String {
    for row in desk.all(SubjectKind::Cutter).await.unwrap() {
        let id = row.subject.id.to_string();
        if desk.cutter(&id).await.unwrap().state.stage == stage {
            return id;
        }
    }
    panic!("the demo has no cutter at {stage}");
}

#[tokio::test]
async fn a_cutter_of_the_demo_has_its_papers() {
    let mut browser = Browser::new().await;
    browser.post("/demo", &vec![]).await;
    let id = at_stage(&browser.desk(), Stage::Back).await;
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
    let id = at_stage(&browser.desk(), Stage::Back).await;
    let beyond = browser.get(&format!("/cutters/{id}/tag.pdf?on=a4&first=22")).await;
    assert_eq!(beyond.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(beyond.has("write a number from 1 to 21"), "{}", beyond.page);
    let unknown = browser.get(&format!("/cutters/{id}/tag.pdf?on=paper")).await;
    assert_eq!(unknown.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_planned_cutter_has_its_set_up_on_one_page() {
    let mut browser = Browser::new().await;
    browser.post("/demo", &vec![]).await;
    let id = at_stage(&browser.desk(), Stage::Planned).await;
    let answer = browser.get(&format!("/cutters/{id}/sheet.pdf")).await;
    assert!(answer.status == StatusCode::OK && answer.page.starts_with("%PDF-"));
    assert!(browser.get(&format!("/cutters/{id}/sheet")).await.has("/sheet.pdf"));
}
