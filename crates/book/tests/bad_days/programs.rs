//! Two programs that write to one book at the same time, each a process of its own.

use std::env;
use std::process::{Child, Command, Stdio};

use book::{Book, Place};
use shop::ShopError;
use shop::book::event::Noted;
use shop::book::{Event, Id, Store, Subject, SubjectKind, whole_history};

use crate::common::{places, write};
use crate::entered;

/// Where such a program writes; set for it alone.
const PLACE: &str = "BOOK_PROGRAM_PLACE";
/// What it writes to, and which of the two it is.
const CUTTER: &str = "BOOK_PROGRAM_CUTTER";
const NAME: &str = "BOOK_PROGRAM_NAME";

/// What each of them writes.
const ENTRIES: u64 = 60;

/// The work of one of the two programs; nothing where this is the test itself.
#[tokio::test]
async fn one_of_two_programs() {
    let Ok(place) = env::var(PLACE) else { return };
    let cutter = Id::from_text(&env::var(CUTTER).unwrap()).unwrap();
    let (cutter, name) = (Subject::new(SubjectKind::Cutter, cutter), env::var(NAME).unwrap());
    let book = Book::open(&Place::from_text(&place).unwrap()).await.unwrap();
    for entry in 0..ENTRIES {
        loop {
            let seen = book.summary(&cutter).await.unwrap().unwrap().seen;
            let words = Event::Noted(Noted { words: format!("{name} {entry:02}") });
            match book.append(vec![write(&cutter, seen, vec![words])]).await {
                Ok(_) => break,
                Err(ShopError::Conflict { .. }) => {}
                Err(error) => panic!("{error}"),
            }
        }
    }
}

/// A place as another program is told it, with all that its address says.
fn told(place: &Place) -> String {
    match place {
        Place::File(path) => path.display().to_string(),
        Place::Server(address) => address.clone(),
    }
}

fn begun(place: &Place, cutter: &Subject, name: &str) -> Child {
    Command::new(env::current_exe().unwrap())
        .args(["--exact", "programs::one_of_two_programs"])
        .env(PLACE, told(place))
        .env(CUTTER, cutter.id.as_str())
        .env(NAME, name)
        .stdout(Stdio::null())
        .spawn()
        .unwrap()
}

#[tokio::test]
async fn two_programs_on_one_book_lose_nothing() {
    let (_folder, file) = places::file();
    for place in [Some(file), places::server().await].into_iter().flatten() {
        let book = Book::open(&place).await.unwrap();
        let cutter = entered(&book, "P-1").await;
        let programs = ["one", "other"].map(|name| begun(&place, &cutter, name));
        for mut program in programs {
            assert!(program.wait().unwrap().success(), "on {}", book.engine_name());
        }
        let history = whole_history(&book, &cutter).await.unwrap();
        let words = |name: &str| {
            let words = history.iter().filter_map(|entry| match &entry.event {
                Event::Noted(noted) => noted.words.strip_prefix(name)?.trim().parse().ok(),
                _ => None,
            });
            words.collect::<Vec<u64>>()
        };
        for name in ["one", "other"] {
            assert_eq!(words(name), (0..ENTRIES).collect::<Vec<_>>(), "each in its order");
        }
        assert_eq!(book.examine(&|_, _| ()).await.unwrap(), Vec::<String>::new());
    }
}
