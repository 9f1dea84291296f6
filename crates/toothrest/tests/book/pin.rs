//! PINs, set at the machine that keeps the book.

use std::io::Write;
use std::process::{Command, Output, Stdio};

use crate::bench::{Bench, text};

fn set(bench: &Bench, initials: &str, typed: &str) -> Output {
    let mut program = Command::new(env!("CARGO_BIN_EXE_toothrest"))
        .env("TOOTHREST_BOOK", bench.place())
        .args(["book", "pin", initials])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // A program that refuses at once does not wait for what is typed.
    drop(program.stdin.take().unwrap().write_all(typed.as_bytes()));
    program.wait_with_output().unwrap()
}

#[test]
fn a_pin_enters_whoever_is_new_and_is_never_shown() {
    let bench = Bench::new();
    let first = set(&bench, "ab", "27182\n");
    let told = text(&first.stdout);
    assert!(told.contains("has a PIN") && told.contains("new in the book"), "{told}");
    let again = text(&set(&bench, "AB", "31415\n").stdout);
    assert!(again.contains("has a PIN") && !again.contains("new in the book"), "{again}");
    let history = bench.answer(&["book", "history", "ab", "--kind", "person"]);
    assert!(!history.contains("27182") && !history.contains("argon2"), "{history}");
    assert!(bench.answer(&["book", "look"]).contains("person"));
}

#[test]
fn a_pin_that_is_none_changes_nothing() {
    let bench = Bench::new();
    for (initials, typed, reason) in
        [("AB", "123\n", "4 to 64"), ("AB", "", "4 to 64"), ("A B", "27182\n", "no initials")]
    {
        let output = set(&bench, initials, typed);
        let said = text(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(said.contains(reason), "{said}");
    }
    assert!(!std::path::Path::new(bench.place()).exists(), "no book was begun for it");
}

/// The owner lifts the wait of somebody whose PIN others tried, by setting another.
#[tokio::test]
async fn another_pin_lifts_every_wait() {
    use shop::book::{AttemptsOf, FailedAttempt, Initials, Moment, Sessions};
    let bench = Bench::new();
    set(&bench, "AB", "27182\n");
    let place = book::Place::File(bench.place().into());
    let (ab, now) =
        (Initials::new("AB").unwrap(), Moment::from_micros(1_700_000_000_000_000).unwrap());
    let book = book::Book::open(&place).await.unwrap();
    let attempt = FailedAttempt { initials: ab.clone(), peer: "10.0.0.66".to_owned(), at: now };
    for _ in 0..9 {
        book.note_failure(&attempt).await.unwrap();
    }
    let failures = async || {
        book.failures_since(AttemptsOf::Initials(&ab), now.earlier(60), now).await.unwrap().count
    };
    assert_eq!(failures().await, 9);
    assert!(text(&set(&bench, "AB", "31415\n").stdout).contains("has a PIN"));
    assert_eq!(failures().await, 0);
}
