//! Looking at a book: where it may only be read, on a full disk, while others write, and never with
//! a byte changed or a file left behind.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use book::{Book, Place, files};
use shop::book::{Store, whole_history};
use sqlx::{AssertSqlSafe, Connection, Executor, PgConnection};

use crate::common::places;
use crate::{disk, entered, in_time, noted, told};

/// Every file of a folder with its bytes.
fn lies_there(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    files.map(|path| (path.clone(), fs::read(&path).unwrap())).collect()
}

/// Reads a book in every way there is, and copies it elsewhere.
async fn looked_through(place: &Place, entries: usize) {
    let book = Book::look(place).await.unwrap().expect("a book is there");
    let cutter = book.written(&whole_span()).await.unwrap()[0].subject.clone();
    assert_eq!(whole_history(&book, &cutter).await.unwrap().len(), entries);
    assert_eq!(book.examine(&|_, _| ()).await.unwrap(), Vec::<String>::new());
    assert!(book.last_written().await.unwrap().is_some());
    let elsewhere = tempfile::tempdir().unwrap();
    for copy in ["copy.sqlite", "all"] {
        let to = elsewhere.path().join(copy);
        if copy == "all" {
            files::export(&book, &to, &|_, _| ()).await.unwrap();
        } else {
            book.back_up(&to, &|_, _| ()).await.unwrap();
        }
        assert!(to.exists());
    }
    assert!(noted(&book, &cutter, entries as u64).await.is_err(), "it is only looked at");
    book.undisturbed().unwrap();
    book.close().await;
}

fn whole_span() -> shop::book::Span {
    use shop::book::{Moment, Span};
    Span { from: Moment::EPOCH, until: Moment::LAST, after: None, limit: 1 }
}

#[tokio::test]
async fn looking_changes_no_byte_and_leaves_no_file() {
    let (folder, place) = places::file();
    let book = Book::open(&place).await.unwrap();
    let cutter = entered(&book, "L-1").await;
    noted(&book, &cutter, 1).await.unwrap();
    let copy = folder.path().join("copy.sqlite");
    book.back_up(&copy, &|_, _| ()).await.unwrap();
    book.close().await;
    let before = lies_there(folder.path());
    assert_eq!(before.len(), 3, "a book, and a copy with its sum");
    for place in [place, Place::File(copy)] {
        looked_through(&place, 2).await;
        assert_eq!(lies_there(folder.path()), before, "{place}");
    }
}

#[tokio::test]
async fn a_book_that_may_only_be_read_is_read() {
    let Some(disk) = disk::Small::new() else { return };
    let place = Place::File(disk.path().join("book.sqlite"));
    let book = Book::open(&place).await.unwrap();
    entered(&book, "L-2").await;
    book.close().await;
    disk.only_reads(true);
    looked_through(&place, 1).await;
}

/// A program that was killed left its last entries in the log beside the file.
#[tokio::test]
async fn a_log_that_cannot_be_opened_is_told() {
    let Some(disk) = disk::Small::new() else { return };
    let (_folder, place) = places::file();
    let book = Book::open(&place).await.unwrap();
    let cutter = entered(&book, "L-3").await;
    book.close().await;
    let book = Book::open(&place).await.unwrap();
    noted(&book, &cutter, 1).await.unwrap();
    let (file, killed) = (place.file().unwrap(), disk.path().join("book.sqlite"));
    for ending in ["", "-wal"] {
        let name = |path: &Path| PathBuf::from(format!("{}{ending}", path.display()));
        fs::copy(name(file), name(&killed)).unwrap();
    }
    book.close().await;
    let killed = Place::File(killed);
    disk.only_reads(true);
    let looked = Book::look(&killed).await.unwrap().unwrap();
    let doubt = looked.doubt().unwrap().to_owned();
    assert!(doubt.contains("book.sqlite-wal") && doubt.contains("may be missing"), "{doubt}");
    assert_eq!(whole_history(&looked, &cutter).await.unwrap().len(), 1, "without the log");
    looked.close().await;
    disk.only_reads(false);
    let looked = Book::look(&killed).await.unwrap().unwrap();
    assert_eq!(looked.doubt(), None);
    assert_eq!(whole_history(&looked, &cutter).await.unwrap().len(), 2, "with the log");
}

#[tokio::test]
async fn a_book_on_a_full_disk_can_be_looked_at_and_rescued() {
    let Some(disk) = disk::Small::new() else { return };
    let place = Place::File(disk.path().join("book.sqlite"));
    let book = Book::open(&place).await.unwrap();
    let cutter = entered(&book, "L-4").await;
    noted(&book, &cutter, 1).await.unwrap();
    book.close().await;
    let mut ballast = vec![1; 1 << 20];
    while fs::write(disk.path().join("ballast"), &ballast).is_err() {
        ballast.truncate(ballast.len() - 4096);
    }
    looked_through(&place, 2).await;
}

#[tokio::test]
async fn what_others_write_meanwhile_is_seen_or_told() {
    let (_folder, place) = places::file();
    let book = Book::open(&place).await.unwrap();
    let cutter = entered(&book, "L-5").await;
    let beside = Book::look(&place).await.unwrap().unwrap();
    noted(&book, &cutter, 1).await.unwrap();
    assert_eq!(whole_history(&beside, &cutter).await.unwrap().len(), 2, "they share the file");
    beside.undisturbed().unwrap();
    beside.close().await;
    book.close().await;

    let alone = Book::look(&place).await.unwrap().unwrap();
    alone.undisturbed().unwrap();
    let book = Book::open(&place).await.unwrap();
    noted(&book, &cutter, 2).await.unwrap();
    book.close().await;
    let why = told(alone.undisturbed());
    assert!(why.contains("do it once more"), "{why}");
    let to = place.file().unwrap().with_extension("copy");
    assert!(alone.back_up(&to, &|_, _| ()).await.is_err() && !to.exists());
}

#[tokio::test]
async fn no_book_is_begun_or_brought_on_by_looking() {
    let (folder, place) = places::file();
    assert!(Book::look(&place).await.unwrap().is_none());
    fs::write(place.file().unwrap(), "").unwrap();
    assert!(Book::look(&place).await.unwrap().is_none());
    fs::remove_file(place.file().unwrap()).unwrap();
    Book::open_in_form(&place, 2).await.unwrap().close().await;
    let before = lies_there(folder.path());
    let why = told(Book::look(&place).await);
    assert!(why.contains("form 2 of an older program") && why.contains("restore"), "{why}");
    assert_eq!(lies_there(folder.path()), before);
    let Some(server) = places::server().await else { return };
    assert!(Book::look(&server).await.unwrap().is_none());
    let address = address(&server);
    let mut by_hand = PgConnection::connect(&address).await.unwrap();
    let made = "SELECT count(*) FROM pg_tables WHERE schemaname = 'public'";
    let made: i64 = sqlx::query_scalar(made).fetch_one(&mut by_hand).await.unwrap();
    assert_eq!(made, 0, "looking makes no tables");
    by_hand.execute("CREATE TABLE entry (anything TEXT)").await.unwrap();
    for why in [told(Book::open(&server).await), told(Book::look(&server).await)] {
        assert!(why.contains("tables of another program"), "{why}");
    }
}

fn address(place: &Place) -> String {
    match place {
        Place::Server(address) => address.clone(),
        Place::File(path) => panic!("{} is no server", path.display()),
    }
}

/// A server whose keeper lets this program read and nothing else, or not even that.
#[tokio::test]
async fn a_visitor_of_a_server_who_may_only_read_is_told_at_once() {
    let Some(server) = places::server().await else { return };
    let book = Book::open(&server).await.unwrap();
    let cutter = entered(&book, "L-6").await;
    let keeper = address(&server);
    let reader = format!("reader_{}", std::process::id());
    let mut by_hand = PgConnection::connect(&keeper).await.unwrap();
    let run = format!("CREATE ROLE {reader} LOGIN");
    by_hand.execute(AssertSqlSafe(run)).await.unwrap();
    let visitor = Place::from_text(&keeper.replacen("bench@", &format!("{reader}@"), 1)).unwrap();
    assert_ne!(visitor, server);
    let why = told(in_time(Book::look(&visitor)).await);
    assert!(why.contains("permission denied") && why.contains("give its user"), "{why}");
    let run = format!("GRANT SELECT ON ALL TABLES IN SCHEMA public TO {reader}");
    by_hand.execute(AssertSqlSafe(run)).await.unwrap();
    let looked = Book::look(&visitor).await.unwrap().unwrap();
    assert_eq!(whole_history(&looked, &cutter).await.unwrap().len(), 1);
    let why = told(noted(&looked, &cutter, 1).await);
    assert!(why.contains("only lets one read"), "{why}");
    looked.close().await;
    // A try that waited for the lock of the one before took ten seconds.
    let at_once = tokio::time::timeout(std::time::Duration::from_secs(8), Book::open(&visitor));
    let why = told(at_once.await.expect("it waits for its own lock"));
    assert!(why.contains("permission denied") && !why.contains("another program"), "{why}");
    book.close().await;
    let run = format!("DROP OWNED BY {reader}; DROP ROLE {reader}");
    by_hand.execute(sqlx::raw_sql(AssertSqlSafe(run))).await.unwrap();
}

/// A server of something else answers at the address.
#[tokio::test]
async fn a_server_that_is_no_postgresql_is_told() {
    use tokio::io::{AsyncReadExt, AsyncWriteExt};
    let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.unwrap();
    let port = listener.local_addr().unwrap().port();
    tokio::spawn(async move {
        while let Ok((mut stream, _)) = listener.accept().await {
            let mut asked = [0; 1024];
            drop(stream.read(&mut asked).await);
            drop(stream.write_all(b"HTTP/1.1 400 Bad Request\r\n\r\n").await);
        }
    });
    for mode in ["disable", "prefer"] {
        let address = format!("postgres://ab@127.0.0.1:{port}/shop?sslmode={mode}");
        let place = Place::from_text(&address).unwrap();
        for outcome in [in_time(Book::open(&place)).await.map(Some), Book::look(&place).await] {
            let why = told(outcome);
            assert!(why.contains("no PostgreSQL server"), "{mode}: {why}");
        }
    }
}
