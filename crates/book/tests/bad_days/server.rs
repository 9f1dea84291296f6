//! A server that goes away and comes back.

use std::time::Duration;

use book::Book;

use crate::common::places;
use crate::door::Door;
use crate::{entered, has, in_time, noted, told};

#[tokio::test]
async fn a_server_that_goes_away_loses_nothing_and_is_found_again() {
    let Some(place) = places::server().await else { return };
    let (mut door, behind) = Door::before(&place).unwrap();
    let book = Book::open(&behind).await.unwrap();
    let cutter = entered(&book, "D-1").await;
    noted(&book, &cutter, 1).await.unwrap();
    let mut seen = 2;
    for _ in 0..3 {
        door.shut().await;
        let why = told(in_time(noted(&book, &cutter, seen)).await);
        assert!(why.contains("see that it is there, then try again"), "{why}");
        door.opened();
        noted(&book, &cutter, seen).await.unwrap();
        seen += 1;
    }
    has(&book, &cutter, seen).await;
    door.shut().await;
    let why = told(Book::open(&behind).await);
    assert!(why.contains("see that it is there, then try again"), "{why}");
}

/// The door is shut while somebody writes: whatever was acknowledged is there, and at most one
/// write more, whose answer was lost on its way.
#[tokio::test]
async fn a_server_that_goes_away_in_the_middle_of_a_write() {
    let Some(place) = places::server().await else { return };
    let (mut door, behind) = Door::before(&place).unwrap();
    let book = Book::open(&behind).await.unwrap();
    let cutter = entered(&book, "D-2").await;
    let mut seen = 1;
    for round in 0..12_u64 {
        let writer = {
            let (book, cutter) = (book.clone(), cutter.clone());
            tokio::spawn(async move {
                let mut seen = seen;
                while noted(&book, &cutter, seen).await.is_ok() {
                    seen += 1;
                }
                seen
            })
        };
        tokio::time::sleep(Duration::from_millis(5 + 7 * round)).await;
        door.shut().await;
        let acknowledged = writer.await.unwrap();
        door.opened();
        let book = Book::open(&behind).await.unwrap();
        let there = shop::book::whole_history(&book, &cutter).await.unwrap().len() as u64;
        assert!((acknowledged..=acknowledged + 1).contains(&there), "{acknowledged}, {there}");
        seen = there;
        book.close().await;
    }
    has(&book, &cutter, seen).await;
}
