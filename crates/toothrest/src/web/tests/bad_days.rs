//! The bench on a bad day: a page that says what to do, and the same form again when it is over.

#[path = "../../../../book/tests/bad_days/disk.rs"]
mod disk;
#[path = "../../../../book/tests/bad_days/door.rs"]
mod door;

use std::fs;
use std::process::Command;

use axum::http::StatusCode;
use book::Place;

use super::bench::Browser;

/// Sends a page of the shop's prices, which makes the book longer by so many bytes.
async fn keep_prices(browser: &mut Browser, bytes: usize) -> super::bench::Answer {
    let seen = super::cutters::hidden(&browser.get("/prices").await, "seen");
    let remark = format!("# {}\n", "x".repeat(70)).repeat(bytes / 73);
    let prices = include_str!("../../../../../examples/prices/bench-rates.toml");
    let text = format!("{prices}\n{remark}");
    browser.post("/prices", &vec![("text", &text), ("seen", &seen)]).await
}

#[tokio::test]
async fn a_full_disk_is_said_and_the_bench_goes_on_when_there_is_room() {
    let Some(disk) = disk::Small::new() else { return };
    let ballast = disk.path().join("ballast");
    fs::write(&ballast, vec![1; 200_000]).unwrap();
    let mut browser = Browser::at(&Place::File(disk.path().join("book.sqlite"))).await;
    let mut kept = 0;
    let refused = loop {
        let answer = keep_prices(&mut browser, 30_000).await;
        if answer.status != StatusCode::SEE_OTHER {
            break answer;
        }
        kept += 1;
        assert!(kept < 100, "the disk is never full");
    };
    assert!(refused.has("make room") && refused.has("takes nothing twice"), "{}", refused.page);
    assert_eq!(browser.get("/").await.status, StatusCode::OK, "it can still be looked at");
    fs::remove_file(&ballast).unwrap();
    let answer = keep_prices(&mut browser, 30_000).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.page);
}

/// A schema of its own on the server that the tests were given; nothing where somebody said to do
/// without.
fn server() -> Option<Place> {
    if std::env::var_os("BOOK_WITHOUT_POSTGRES").is_some() {
        return None;
    }
    let address = std::env::var("BOOK_POSTGRES")
        .expect("run this through checks/postgres.sh, or set BOOK_WITHOUT_POSTGRES=1");
    let schema = format!("bench_{}", std::process::id());
    let make = format!("CREATE SCHEMA {schema}");
    assert!(Command::new("psql").args([&address, "-qc", &make]).status().unwrap().success());
    Some(Place::from_text(&format!("{address}&options=-csearch_path%3D{schema}")).unwrap())
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_server_that_goes_away_is_said_and_found_again() {
    let Some(place) = server() else { return };
    let (mut door, behind) = door::Door::before(&place).unwrap();
    let mut browser = Browser::at(&behind).await;
    assert_eq!(keep_prices(&mut browser, 100).await.status, StatusCode::SEE_OTHER);
    door.shut().await;
    let form = vec![("initials", "OB"), ("name", "O. Brandt")];
    let refused = browser.post("/people", &form).await;
    assert_eq!(refused.status, StatusCode::SERVICE_UNAVAILABLE, "{}", refused.page);
    assert!(refused.has("did not say that it has"), "{}", refused.page);
    assert!(refused.has("see that it is there, then try again"), "{}", refused.page);
    let looked = browser.get("/people").await;
    assert_eq!(looked.status, StatusCode::SERVICE_UNAVAILABLE, "{}", looked.page);
    assert!(
        !looked.has("what you entered") && looked.has("load this page again"),
        "{}",
        looked.page
    );
    door.opened();
    let answer = browser.post("/people", &form).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.page);
    assert!(browser.get("/people").await.has("O. Brandt"));
}
