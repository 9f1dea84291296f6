//! Older forms of the book, foreign files, damaged files; and every statement, prepared.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]
#![allow(clippy::print_stdout, reason = "what is left out or was done is told in a plain word")]

mod common;

use std::fs;

use book::{Book, FORM, Place, encode};
use common::places;
use common::samples::{self, cutter_entered, wheel_entered};
use common::{stamp, write};
use shop::ShopError;
use shop::book::event::{Ground, Noted, Received};
use shop::book::{Event, Latest, Query, Stage, Store, Subject, SubjectKind, whole_history};
use sqlx::{AssertSqlSafe, Connection, Executor, PgConnection, SqliteConnection};

/// Runs statements on a book as somebody could who has the right to.
async fn by_hand(place: &Place, sql: &str) -> Result<(), sqlx::Error> {
    let text = AssertSqlSafe(sql.to_owned());
    match place {
        Place::File(path) => {
            let mut to = SqliteConnection::connect(path.to_str().unwrap()).await?;
            to.execute(sqlx::raw_sql(text)).await?;
            to.close().await
        }
        Place::Server(address) => {
            let mut to = PgConnection::connect(address).await?;
            to.execute(sqlx::raw_sql(text)).await?;
            to.close().await
        }
    }
}

#[tokio::test]
async fn every_statement_can_be_prepared() {
    for (_folder, book) in places::every_book().await {
        let count = book.prepare_all().await.unwrap();
        assert!(count > 90, "{count} on {}", book.engine_name());
    }
}

/// What the first form knew of a subject, with its entries.
fn in_first_form(subject: &Subject, number: &str, stage: &str, events: &[Event]) -> String {
    let (id, kind, last) = (&subject.id, subject.kind, events.len());
    let at = stamp("AB", 0).at.micros();
    let mut sql = format!(
        "INSERT INTO subject (id, kind, last, first_at, last_at, last_by, number, number_key, \
         about, stage, live, tray) VALUES ('{id}', '{kind}', {last}, {at}, {at}, 'AB', '{number}', \
         '{}', 'old words', '{stage}', 1, NULL);",
        number.to_lowercase()
    );
    for (number, event) in (1..).zip(events) {
        let stored = encode(event);
        sql += &format!(
            "INSERT INTO entry (subject, number, written_at, written_by, kind, version, body) \
             VALUES ('{id}', {number}, {at}, 'AB', '{}', 1, '{}');",
            stored.kind,
            stored.body.replace('\'', "''")
        );
    }
    sql
}

async fn comes_from_an_older_form(place: &Place, form: i64) {
    Book::open_in_form(place, form).await.unwrap().close().await;
    let wheel = Subject::new(SubjectKind::Wheel, samples::id(1));
    let cutter = Subject::new(SubjectKind::Cutter, samples::id(4));
    let ground = Ground { wheel: Some(wheel.id.clone()), ..Ground::default() };
    let events =
        vec![cutter_entered("Old-7"), Event::Received(Received::default()), Event::Ground(ground)];
    let wheel_events = [wheel_entered("W-7")];
    by_hand(place, &in_first_form(&wheel, "W-7", "on the shelf", &wheel_events)).await.unwrap();
    by_hand(place, &in_first_form(&cutter, "Old-7", "waiting", &events)).await.unwrap();

    let book = Book::open(place).await.unwrap();
    assert_eq!(book.examine(&|_, _| ()).await.unwrap(), Vec::<String>::new());
    let history = whole_history(&book, &cutter).await.unwrap();
    assert_eq!(
        history.iter().map(|entry| &entry.event).collect::<Vec<_>>(),
        events.iter().collect::<Vec<_>>()
    );
    let query = Query { words: "cobalt old".to_owned(), ..Query::of(SubjectKind::Cutter) };
    let rows = book.list(&query).await.unwrap().rows;
    assert_eq!(rows, [Latest::of(&history).unwrap().summary()]);
    assert_eq!((rows[0].stage, rows[0].size.unwrap().mm()), (Stage::Ground, 12.6));
    assert_eq!(book.ground_with(&wheel.id, 5).await.unwrap(), history[2..]);
    let noted = Event::Noted(Noted { words: "still written to".to_owned() });
    book.append(vec![write(&cutter, 3, vec![noted])]).await.unwrap();
    book.close().await;
}

#[tokio::test]
async fn every_older_form_is_brought_to_the_present_one() {
    for form in 1..FORM {
        let (_folder, place) = places::file();
        comes_from_an_older_form(&place, form).await;
        if let Some(place) = places::server().await {
            comes_from_an_older_form(&place, form).await;
        }
    }
}

#[tokio::test]
async fn a_book_of_a_newer_program_is_left_alone() {
    for (_folder, book) in places::every_book().await {
        let place = book.place().clone();
        book.close().await;
        let newer = "INSERT INTO _sqlx_migrations \
                     (version, description, success, checksum, execution_time) \
                     SELECT 99, description, success, checksum, execution_time \
                     FROM _sqlx_migrations WHERE version = 1";
        by_hand(&place, newer).await.unwrap();
        let Err(ShopError::Store { why, .. }) = Book::open(&place).await.map(|_| ()) else {
            panic!("it was opened")
        };
        assert!(why.contains("newer program, in form 99"), "{why}");
    }
}

#[tokio::test]
async fn history_cannot_be_changed_even_by_hand() {
    for (_folder, book) in places::every_book().await {
        let cutter = common::subject(SubjectKind::Cutter);
        book.append(vec![write(&cutter, 0, vec![cutter_entered("H-1")])]).await.unwrap();
        let before = whole_history(&book, &cutter).await.unwrap();
        for sql in ["UPDATE entry SET written_by = 'XX'", "DELETE FROM entry"] {
            let refused = by_hand(book.place(), sql).await.unwrap_err().to_string();
            assert!(refused.contains("history only grows"), "{refused}");
        }
        assert_eq!(whole_history(&book, &cutter).await.unwrap(), before);
    }
}

#[tokio::test]
async fn entries_of_a_newer_program_are_carried_along() {
    for (_folder, book) in places::every_book().await {
        let cutter = common::subject(SubjectKind::Cutter);
        book.append(vec![write(&cutter, 0, vec![cutter_entered("N-1")])]).await.unwrap();
        let id = &cutter.id;
        let newer = format!(
            "UPDATE subject SET last = 2 WHERE id = '{id}'; \
             INSERT INTO entry (subject, number, written_at, written_by, kind, version, body) \
             VALUES ('{id}', 2, 5, 'ZZ', 'polished', 3, '{{\"with\":\"felt\"}}')"
        );
        by_hand(book.place(), &newer).await.unwrap();
        let noted = Event::Noted(Noted { words: "after it".to_owned() });
        book.append(vec![write(&cutter, 2, vec![noted])]).await.unwrap();
        let history = whole_history(&book, &cutter).await.unwrap();
        let latest = Latest::of(&history).unwrap();
        assert_eq!((latest.seen, latest.number(), latest.remarks.len()), (3, "N-1", 1));
        let Event::Foreign(foreign) = &history[1].event else { panic!("{:?}", history[1]) };
        assert_eq!((foreign.kind.as_str(), foreign.version), ("polished", 3));
        assert_eq!(book.examine(&|_, _| ()).await.unwrap(), Vec::<String>::new());
    }
}

async fn refused(place: &Place) -> String {
    match Book::open(place).await {
        Err(ShopError::Store { why, .. }) => why,
        Err(other) => panic!("{other:?}"),
        Ok(_) => panic!("{place} was opened"),
    }
}

#[tokio::test]
async fn what_is_no_book_is_left_alone() {
    let (folder, _) = places::file();
    let text = folder.path().join("letter.txt");
    fs::write(&text, "Dear reader, this is no database at all. ".repeat(40)).unwrap();
    let why = refused(&Place::File(text.clone())).await;
    assert!(why.contains("letter.txt") && why.contains("not a database"), "{why}");
    assert!(fs::read_to_string(&text).unwrap().starts_with("Dear reader"));

    let other = folder.path().join("other.sqlite");
    let place = Place::File(other.clone());
    fs::write(&other, "").unwrap();
    by_hand(&place, "CREATE TABLE song (name TEXT)").await.unwrap();
    let before = fs::read(&other).unwrap();
    let why = refused(&place).await;
    assert!(why.contains("database of another program"), "{why}");
    assert_eq!(fs::read(&other).unwrap(), before);

    let in_file = Place::File(text.join("book.sqlite"));
    refused(&in_file).await;
}

#[tokio::test]
async fn a_damaged_book_is_not_opened() {
    let (_folder, place) = places::file();
    let book = Book::open(&place).await.unwrap();
    for number in 0..200 {
        let cutter = common::subject(SubjectKind::Cutter);
        let entered = cutter_entered(&format!("X-{number}"));
        book.append(vec![write(&cutter, 0, vec![entered])]).await.unwrap();
    }
    book.close().await;
    let path = place.file().unwrap();
    let mut bytes = fs::read(path).unwrap();
    let pages = bytes.len() / 4096;
    assert!(pages > 20, "{pages}");
    for page in (3..pages).step_by(2) {
        bytes[page * 4096..page * 4096 + 64].fill(0xA5);
    }
    fs::write(path, &bytes).unwrap();
    let why = refused(&place).await;
    assert!(why.contains("damaged") && why.contains("restore the last backup"), "{why}");
}
