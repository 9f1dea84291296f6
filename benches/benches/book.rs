//! What a large book's pages cost: 100 000 cutters with ten entries of readings each, behind a page
//! of a tray, a page of a cutter and a search. `CUTTERS` makes it smaller; `BOOK_POSTGRES` names a
//! server to try instead of a file, as `checks/postgres.sh` sets it; `BOOK_KEEP` names a file that
//! is filled once and kept.

#[path = "../../crates/book/tests/common/samples.rs"]
#[allow(dead_code)]
mod samples;

use std::env;
use std::future::Future;
use std::path::Path;
use std::time::{Duration, Instant};

use book::{Book, Place};
use shop::book::event::{Read, Received, TrayOpened};
use shop::book::{
    Append, Event, Id, Initials, Moment, Order, PAGE_MAX, Query, Stage, Stamp, Store, Subject,
    SubjectKind, latest,
};

/// Entries of readings of each cutter.
const READ_EACH: usize = 10;
/// Cutters in one tray.
const IN_TRAY: usize = 50;
/// Cutters written at once while the book is filled.
const AT_ONCE: usize = 250;
/// Questions of each kind.
const ASKED: u64 = 2000;

fn main() {
    let cutters = env::var("CUTTERS").ok().and_then(|n| n.parse().ok()).unwrap_or(100_000);
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build().unwrap();
    runtime.block_on(run(cutters));
}

async fn run(cutters: usize) {
    let folder = tempfile::tempdir().unwrap();
    let place = match (env::var("BOOK_POSTGRES"), env::var("BOOK_KEEP")) {
        (Ok(address), _) => Place::from_text(&address).unwrap(),
        (_, Ok(path)) => Place::from_text(&path).unwrap(),
        _ => Place::File(folder.path().join("book.sqlite")),
    };
    let book = Book::open(&place).await.unwrap();
    println!(
        "{}, {cutters} cutters, {} entries of readings",
        book.engine_name(),
        cutters * READ_EACH
    );
    if book.find(SubjectKind::Cutter, &number(0)).await.unwrap().is_none() {
        once("filled", fill(&book, cutters)).await;
    }
    book.close().await;
    let book = once("opened", Book::open(&place)).await.unwrap();
    pages(&book, cutters as u64).await;
    writes(&book, cutters as u64).await;
    whole(&book, &place, folder.path()).await;
}

async fn once<T>(what: &str, work: impl Future<Output = T>) -> T {
    let start = Instant::now();
    let answer = work.await;
    println!("{what:<42} {:>10.1} ms", start.elapsed().as_secs_f64() * 1e3);
    answer
}

fn number(cutter: usize) -> String {
    format!("{}-{cutter}", ["HM", "K", "SF", "W"][cutter % 4])
}

fn cutter(number: u64) -> Subject {
    Subject::new(SubjectKind::Cutter, Id::from_bits(u128::from(number) + (1 << 80)))
}

fn tray(number: u64) -> Subject {
    Subject::new(SubjectKind::Tray, Id::from_bits(u128::from(number) + (2 << 80)))
}

fn append(subject: Subject, seen: u64, micros: i64, events: Vec<Event>) -> Append {
    let at = Moment::from_micros(1_795_000_000_000_000 + micros).unwrap();
    let stamp = Stamp { at, by: Initials::new("AB").unwrap() };
    Append { subject, seen, stamp, events }
}

fn read(number: &str) -> Event {
    Event::Read(Box::new(Read { plan: None, readings: samples::readings(number) }))
}

/// Every tenth cutter waits in a tray.
async fn fill(book: &Book, cutters: usize) {
    let trays = cutters.div_ceil(10 * IN_TRAY);
    for batch in (0..trays).collect::<Vec<_>>().chunks(AT_ONCE) {
        let open = |&at: &usize| {
            let opened = TrayOpened { name: format!("tray {at}"), whose: None };
            append(tray(at as u64), 0, at as i64, vec![Event::TrayOpened(opened)])
        };
        book.append(batch.iter().map(open).collect()).await.unwrap();
    }
    for batch in (0..cutters).collect::<Vec<_>>().chunks(AT_ONCE) {
        let enter = |&at: &usize| {
            let number = number(at);
            let mut events = vec![samples::cutter_entered(&number)];
            events.extend(std::iter::repeat_n(read(&number), READ_EACH));
            if at % 10 == 0 {
                let tray = Some(tray((at / 10 / IN_TRAY) as u64).id);
                events.push(Event::Received(Received { tray, ..Received::default() }));
            }
            append(cutter(at as u64), 0, at as i64, events)
        };
        book.append(batch.iter().map(enter).collect()).await.unwrap();
    }
}

/// Asks many times, each time with another number, and tells how long it took.
async fn ask<F: Future<Output = usize>>(what: &str, times: u64, question: impl Fn(u64) -> F) {
    let mut took: Vec<Duration> = Vec::new();
    let (mut random, mut rows) = (20_261_125_u64, 0);
    for _ in 0..times {
        random =
            random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let start = Instant::now();
        rows += question(random >> 20).await;
        took.push(start.elapsed());
    }
    took.sort_unstable();
    let at = |share: f64| took[((took.len() - 1) as f64 * share) as usize].as_secs_f64() * 1e3;
    println!(
        "{what:<42} {:>8.3} ms {:>8.3} ms {:>8.3} ms {:>6.1} rows",
        at(0.5),
        at(0.99),
        at(1.0),
        rows as f64 / times as f64
    );
}

async fn listed(book: &Book, query: Query) -> usize {
    book.list(&query).await.unwrap().rows.len()
}

fn found(words: String) -> Query {
    Query { words, ..Query::of(SubjectKind::Cutter) }
}

async fn pages(book: &Book, cutters: u64) {
    let trays = cutters.div_ceil(10 * IN_TRAY as u64);
    println!("{:<42} {:>11} {:>11} {:>11}", "", "median", "p99", "most");
    ask("a tray: its state and its cutters", ASKED, |n| async move {
        let tray = tray(n % trays);
        latest(book, &tray).await.unwrap();
        let lying = Query { tray: Some(tray.id), ..Query::of(SubjectKind::Cutter) };
        listed(book, lying).await
    })
    .await;
    ask("what waits, first page", ASKED, |_| async move {
        let stage = Some(Stage::Waiting);
        listed(book, Query { stage, ..Query::of(SubjectKind::Cutter) }).await
    })
    .await;
    ask("how many wait", 100, |_| async move {
        book.count(SubjectKind::Cutter, Stage::Waiting).await.unwrap();
        1
    })
    .await;
    ask("a cutter: its history and its state", ASKED, |n| async move {
        let history = book.history(&cutter(n % cutters), 0, PAGE_MAX).await.unwrap();
        shop::book::Latest::of(&history).unwrap();
        history.len()
    })
    .await;
    ask("a cutter by its number", ASKED, |n| async move {
        let number = number((n % cutters) as usize);
        usize::from(book.find(SubjectKind::Cutter, &number).await.unwrap().is_some())
    })
    .await;
    ask("all cutters, latest first, first page", ASKED, |_| async move {
        listed(book, Query { order: Order::LatestFirst, ..Query::of(SubjectKind::Cutter) }).await
    })
    .await;
    for (what, words) in [
        (
            "search: a whole number",
            Box::new(|n: u64| number((n % cutters) as usize)) as Box<dyn Fn(u64) -> String>,
        ),
        ("search: the begin of a number", Box::new(|n: u64| format!("k-{}", n % 1000))),
        ("search: what every cutter has", Box::new(|_: u64| "cobalt".to_owned())),
        ("search: common words, a number", Box::new(|n: u64| format!("tin cobalt {}", n % 1000))),
        ("search: two words that never meet", Box::new(|_: u64| "hm sf".to_owned())),
        ("search: what no cutter has", Box::new(|n: u64| format!("zz{n}"))),
    ] {
        let times = if what.contains("never meet") { 20 } else { 500 };
        ask(what, times, |n| listed(book, found(words(n)))).await;
    }
}

async fn writes(book: &Book, cutters: u64) {
    ask("one entry of readings, written", 300, |n| async move {
        let of = cutter(n % cutters);
        let summary = book.summary(&of).await.unwrap().unwrap();
        let events = vec![read(&summary.number)];
        book.append(vec![append(of, summary.seen, 1 << 40, events)]).await.unwrap().len()
    })
    .await;
}

async fn whole(book: &Book, place: &Place, folder: &Path) {
    if let Some(path) = place.file() {
        println!(
            "{:<42} {:>10.1} MB",
            "its file",
            std::fs::metadata(path).unwrap().len() as f64 / 1e6
        );
        once("backed up", book.back_up(&folder.join("copy"), &|_, _| ())).await.unwrap();
    }
    let faults = once("checked whole", book.examine(&|_, _| ())).await.unwrap();
    assert_eq!(faults, Vec::<String>::new());
}
