//! Places for books: files in a folder that goes away, databases of a server that the tests were
//! given.

use std::env;
use std::process;
use std::sync::atomic::{AtomicU32, Ordering};

use book::{Book, Place};
use sqlx::{AssertSqlSafe, Connection, Executor, PgConnection};
use tempfile::TempDir;

/// The address of a server, as `checks/postgres.sh` sets it.
const SERVER: &str = "BOOK_POSTGRES";

/// Set by whoever has no PostgreSQL and knows it.
const WITHOUT: &str = "BOOK_WITHOUT_POSTGRES";

/// A new place in a folder of its own.
pub(crate) fn file() -> (TempDir, Place) {
    let folder = tempfile::tempdir().unwrap();
    let place = Place::File(folder.path().join("book.sqlite"));
    (folder, place)
}

/// A new database; nothing, with a word, where somebody said to do without.
///
/// # Panics
/// Where there is neither a server nor that word.
pub(crate) async fn server() -> Option<Place> {
    static NEXT: AtomicU32 = AtomicU32::new(0);
    if env::var_os(WITHOUT).is_some() {
        println!("skipped: {WITHOUT} is set, so nothing is tried on PostgreSQL");
        return None;
    }
    let address = env::var(SERVER).unwrap_or_else(|_| {
        panic!("run this through checks/postgres.sh, which sets {SERVER}, or set {WITHOUT}=1")
    });
    let number = NEXT.fetch_add(1, Ordering::Relaxed);
    let name = format!("book_{}_{number}", process::id());
    let mut connection = PgConnection::connect(&address).await.unwrap();
    connection.execute(AssertSqlSafe(format!("CREATE DATABASE {name}"))).await.unwrap();
    connection.close().await.unwrap();
    let (before, settings) = address.split_once('?').unwrap_or((&address, ""));
    let (host, _) = before.rsplit_once('/').unwrap();
    Some(Place::from_text(&format!("{host}/{name}?{settings}")).unwrap())
}

/// A book of each engine that is there, with what keeps its place alive.
pub(crate) async fn every_book() -> Vec<(Option<TempDir>, Book)> {
    let (folder, place) = file();
    let mut books = vec![(Some(folder), Book::open(&place).await.unwrap())];
    if let Some(place) = server().await {
        books.push((None, Book::open(&place).await.unwrap()));
    }
    books
}
