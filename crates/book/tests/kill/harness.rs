//! A writer that is killed at random moments, and what must then be in its book.
//!
//! The writer prints each write once it is acknowledged. It is a process of its own, ended by the
//! signal that no program can catch; what it had printed by then must be there, whole. This tries
//! the end of a program, not the end of the power.

use std::env;
use std::io::{BufRead, BufReader, Write};
use std::process::{Command, Stdio};
use std::thread;
use std::time::Duration;

use book::{Book, Place};
use shop::book::event::{Noted, PersonEntered};
use shop::book::{
    Append, Event, Id, Initials, Moment, Stamp, Store, Subject, SubjectKind, whole_history,
};

/// Where the writer writes; set for the writer alone.
const PLACE: &str = "BOOK_KILL_PLACE";
/// Which writer it is.
const ROUND: &str = "BOOK_KILL_ROUND";

/// Longest life of a writer, in milliseconds.
const LIFE_MS: u64 = 120;

/// What came of it.
#[derive(Debug, Default)]
pub(crate) struct Tally {
    pub kills: u32,
    /// Writers that were killed before they had written anything.
    pub silent: u32,
    pub acknowledged: u64,
}

fn runtime() -> tokio::runtime::Runtime {
    tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap()
}

/// Writes until killed, if this process is a writer.
pub(crate) fn write_if_asked() -> bool {
    let Ok(place) = env::var(PLACE) else { return false };
    let round: u128 = env::var(ROUND).unwrap().parse().unwrap();
    runtime().block_on(write(&Place::from_text(&place).unwrap(), round));
    true
}

fn pair(round: u128) -> [Subject; 2] {
    [1, 2].map(|one| Subject::new(SubjectKind::Person, Id::from_bits(round * 4 + one)))
}

fn appended(of: &Subject, seen: u64, event: Event) -> Append {
    let at = Moment::from_micros(1_795_000_000_000_000).unwrap();
    let stamp = Stamp { at, by: Initials::new("AB").unwrap() };
    Append { subject: of.clone(), seen, stamp, events: vec![event] }
}

/// Writes to two histories at once, again and again, and says so each time.
async fn write(place: &Place, round: u128) {
    let book = Book::open(place).await.unwrap();
    let pair = pair(round);
    let entered = |one: usize| {
        let initials = format!("P{}", round * 2 + u128::try_from(one).unwrap());
        Event::PersonEntered(PersonEntered { initials, name: "Ada Bench".to_owned() })
    };
    let first = pair.iter().enumerate().map(|(one, of)| appended(of, 0, entered(one)));
    book.append(first.collect()).await.unwrap();
    say(1);
    for seen in 1.. {
        let noted = || Event::Noted(Noted { words: format!("{seen} {}", "x".repeat(200)) });
        let both = pair.iter().map(|of| appended(of, seen, noted())).collect();
        book.append(both).await.unwrap();
        say(seen + 1);
    }
}

fn say(number: u64) {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{number}").and_then(|()| out.flush()).unwrap();
}

/// Kills writers to one book, and looks after each.
///
/// # Panics
/// Where anything that was acknowledged is missing, or half of a write is there.
pub(crate) fn kill(place: &str, kills: u32) -> Tally {
    let mut tally = Tally::default();
    let runtime = runtime();
    let mut random = 20_261_125_u64;
    for round in 0..u128::from(kills) {
        random =
            random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let said = killed_writer(place, round, Duration::from_micros(random % (LIFE_MS * 1000)));
        runtime.block_on(check(place, round, said));
        tally.kills += 1;
        tally.silent += u32::from(said == 0);
        tally.acknowledged += said;
    }
    let faults = runtime.block_on(async {
        let book = Book::open(&Place::from_text(place).unwrap()).await.unwrap();
        book.examine(&|_, _| ()).await.unwrap()
    });
    assert_eq!(faults, Vec::<String>::new());
    tally
}

/// Starts a writer, kills it after a while, and says what it acknowledged last.
fn killed_writer(place: &str, round: u128, life: Duration) -> u64 {
    let mut writer = Command::new(env::current_exe().unwrap())
        .env(PLACE, place)
        .env(ROUND, round.to_string())
        .stdout(Stdio::piped())
        .stderr(Stdio::inherit())
        .spawn()
        .unwrap();
    let lines = BufReader::new(writer.stdout.take().unwrap()).lines();
    let reader = thread::spawn(move || {
        // A last line without its end was not said in full.
        lines.map_while(Result::ok).filter_map(|line| line.parse().ok()).max()
    });
    thread::sleep(life);
    writer.kill().unwrap();
    let status = writer.wait().unwrap();
    assert!(status.code().is_none(), "the writer ended by itself: {status}");
    reader.join().unwrap().unwrap_or(0)
}

async fn check(place: &str, round: u128, said: u64) {
    let book = Book::open(&Place::from_text(place).unwrap()).await.unwrap();
    let [one, other] = pair(round);
    let one = whole_history(&book, &one).await.unwrap();
    let other = whole_history(&book, &other).await.unwrap();
    let count = u64::try_from(one.len()).unwrap();
    assert!(count >= said, "writer {round} was told of {said} entries, {count} are there");
    assert!(count <= said + 1, "{count} are there after {said}");
    assert_eq!(one.len(), other.len(), "one write, and half of it is there");
    for (at, entry) in (1..).zip(&one) {
        assert_eq!(entry.number, at);
        if let Event::Noted(noted) = &entry.event {
            assert!(noted.words.starts_with(&format!("{} ", at - 1)), "{}", noted.words);
        }
    }
    book.close().await;
}
