//! Bad days: a full disk, a book that may only be read, a server that goes away, two programs at
//! once, a file that another program holds, and half a file. Each gets a plain word with what to
//! do next, and nothing that was acknowledged is lost.
//!
//! A full disk and one that may only be read are small file systems in memory, which only root may
//! mount; `BOOK_WITHOUT_SMALL_DISK=1` does without.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]
#![allow(clippy::print_stdout, reason = "what is left out or was done is told in a plain word")]

mod common;
#[path = "bad_days/disk.rs"]
mod disk;
#[path = "bad_days/door.rs"]
mod door;
#[path = "bad_days/looking.rs"]
mod looking;
#[path = "bad_days/programs.rs"]
mod programs;
#[path = "bad_days/server.rs"]
mod server;

use std::fs;
use std::time::Duration;

use book::{Book, Place, files};
use common::samples::cutter_entered;
use common::{places, subject, write};
use shop::ShopError;
use shop::book::event::Noted;
use shop::book::{Entry, Event, Store, Subject, SubjectKind, whole_history};
use sqlx::{Connection, Executor, SqliteConnection};

/// A cutter in the book, with one entry.
async fn entered(book: &Book, number: &str) -> Subject {
    let cutter = subject(SubjectKind::Cutter);
    book.append(vec![write(&cutter, 0, vec![cutter_entered(number)])]).await.unwrap();
    cutter
}

/// Writes a word behind what was seen.
async fn noted(book: &Book, cutter: &Subject, seen: u64) -> Result<Vec<Entry>, ShopError> {
    let words = format!("{seen} {}", "x".repeat(2_000));
    book.append(vec![write(cutter, seen, vec![Event::Noted(Noted { words })])]).await
}

/// What the book says where it cannot do what was asked.
#[track_caller]
fn told<T>(outcome: Result<T, ShopError>) -> String {
    match outcome {
        Err(ShopError::Store { why, .. }) => why,
        Err(other) => panic!("{other:?}"),
        Ok(_) => panic!("it was done"),
    }
}

/// What comes within the time that a hand may be made to wait, on a machine that is busy.
async fn in_time<T>(work: impl Future<Output = T>) -> T {
    tokio::time::timeout(Duration::from_secs(25), work).await.expect("it is told in time")
}

async fn has(book: &Book, cutter: &Subject, entries: u64) {
    let history = whole_history(book, cutter).await.unwrap();
    let numbers: Vec<u64> = history.iter().map(|entry| entry.number).collect();
    assert_eq!(numbers, (1..=entries).collect::<Vec<_>>());
    assert_eq!(book.examine(&|_, _| ()).await.unwrap(), Vec::<String>::new());
}

#[tokio::test]
async fn a_full_disk_loses_nothing() {
    let Some(disk) = disk::Small::new() else { return };
    let ballast = disk.path().join("ballast");
    fs::write(&ballast, vec![1; 300_000]).unwrap();
    let place = Place::File(disk.path().join("book.sqlite"));
    let book = Book::open(&place).await.unwrap();
    let cutter = entered(&book, "F-1").await;
    let mut seen = 1;
    let why = loop {
        match noted(&book, &cutter, seen).await {
            Ok(_) => seen += 1,
            refused => break told(refused),
        }
    };
    assert!(why.contains("the disk is full: make room"), "{why}");
    assert!(seen > 5, "only {seen} fitted");
    let why = told(noted(&book, &cutter, seen).await);
    assert!(why.contains("make room"), "{why}");
    let history = whole_history(&book, &cutter).await.unwrap();
    assert_eq!(history.len() as u64, seen, "it can still be read");

    for copy in ["copy.sqlite", "all"] {
        let to = disk.path().join(copy);
        let outcome = match copy {
            "all" => files::export(&book, &to, &|_, _| ()).await.map(|_| ()),
            _ => book.back_up(&to, &|_, _| ()).await,
        };
        let why = told(outcome);
        assert!(why.contains("make room") || why.contains("No space left"), "{why}");
        assert!(!to.exists(), "half a copy is taken for a whole one");
    }
    fs::remove_file(&ballast).unwrap();
    noted(&book, &cutter, seen).await.unwrap();
    book.close().await;
    has(&Book::open(&place).await.unwrap(), &cutter, seen + 1).await;
}

/// A new book on a disk without room for one, and then with.
#[tokio::test]
async fn a_book_is_begun_again_where_there_was_no_room() {
    let Some(disk) = disk::Small::new() else { return };
    let ballast = disk.path().join("ballast");
    fs::write(&ballast, vec![1; 1_010_000]).unwrap();
    let place = Place::File(disk.path().join("book.sqlite"));
    let why = told(Book::open(&place).await);
    assert!(why.contains("book.sqlite") && why.contains("make room"), "{why}");
    fs::remove_file(&ballast).unwrap();
    let book = Book::open(&place).await.unwrap();
    let cutter = entered(&book, "F-2").await;
    has(&book, &cutter, 1).await;
}

#[tokio::test]
async fn a_book_that_may_only_be_read_is_told() {
    let Some(disk) = disk::Small::new() else { return };
    let place = Place::File(disk.path().join("book.sqlite"));
    let book = Book::open(&place).await.unwrap();
    let cutter = entered(&book, "F-3").await;
    book.close().await;
    disk.only_reads(true);
    let why = told(Book::open(&place).await);
    assert!(why.contains("book.sqlite"), "{why}");
    assert!(why.contains("may only be read") && why.contains("written to"), "{why}");
    let new = Place::File(disk.path().join("new/book.sqlite"));
    let why = told(Book::open(&new).await);
    assert!(why.contains("Read-only file system"), "{why}");
    disk.only_reads(false);
    has(&Book::open(&place).await.unwrap(), &cutter, 1).await;
}

#[tokio::test]
async fn half_a_file_is_no_book() {
    let (folder, place) = places::file();
    let book = Book::open(&place).await.unwrap();
    let cutter = entered(&book, "F-5").await;
    for seen in 1..60 {
        noted(&book, &cutter, seen).await.unwrap();
    }
    book.close().await;
    let whole = fs::read(place.file().unwrap()).unwrap();
    for part in [1, 99, 100, 4096, whole.len() / 2, whole.len() - 1] {
        let half = folder.path().join(format!("half-{part}.sqlite"));
        fs::write(&half, &whole[..part]).unwrap();
        let why = told(Book::open(&Place::File(half.clone())).await);
        assert!(why.contains("restore the last backup"), "{part}: {why}");
        assert_eq!(fs::read(&half).unwrap(), whole[..part], "it is left as it was");
    }
    has(&Book::open(&place).await.unwrap(), &cutter, 60).await;
}

/// Somebody has the file open in another program and does not let go.
#[tokio::test]
async fn a_file_that_is_held_is_told_in_time() {
    let (_folder, place) = places::file();
    let book = Book::open(&place).await.unwrap();
    let cutter = entered(&book, "F-6").await;
    let path = place.file().unwrap().to_str().unwrap();
    let mut other = SqliteConnection::connect(path).await.unwrap();
    other.execute("BEGIN IMMEDIATE").await.unwrap();
    let why = told(in_time(noted(&book, &cutter, 1)).await);
    assert!(why.contains("another program holds the book: close it there"), "{why}");
    has(&book, &cutter, 1).await;
    other.execute("ROLLBACK").await.unwrap();
    noted(&book, &cutter, 1).await.unwrap();
    has(&book, &cutter, 2).await;
}
