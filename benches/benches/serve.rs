//! The bench app under load: tray, cutter and plan pages at a fixed rate on a large book, how long
//! it takes to open, and how much memory it holds.
//!
//! `BOOK_KEEP` names a book that `--bench book` has filled and kept; `TOOTHREST` names the program,
//! built with `cargo build --release`; `RATE` and `SECONDS` change the load. Latency counts from
//! the moment at which a request was due, not from when it was sent, so that waiting behind a slow
//! answer is not hidden.

use std::env;
use std::io::{BufRead, BufReader};
use std::net::SocketAddr;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use book::{Book, Place};
use shop::book::event::{WheelEntered, Written};
use shop::book::{Append, Event, Id, Initials, Moment, Query, Stamp, Store, Subject, SubjectKind};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;
use tokio::sync::mpsc;
use toothrest::files::read_wheels;

/// Requests a second, and for how many seconds, where nothing else is said.
const RATE: u64 = 200;
const SECONDS: u64 = 30;

/// Connections that requests are spread over.
const CONNECTIONS: usize = 16;

const MACHINE: &str = include_str!("../../examples/machines/left-bench.toml");
const WHEELS: [&str; 3] = [
    include_str!("../../examples/wheels/w-01-flaring-cup-oxide.toml"),
    include_str!("../../examples/wheels/w-02-straight-cup-oxide.toml"),
    include_str!("../../examples/wheels/w-05-flaring-cup-cbn.toml"),
];

/// The pages that are asked for, in turn.
const KINDS: [&str; 3] = ["tray", "cutter", "plan"];

fn main() {
    let Ok(path) = env::var("BOOK_KEEP") else {
        println!("name a filled book in BOOK_KEEP; --bench book fills one");
        return;
    };
    let runtime =
        tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().unwrap();
    runtime.block_on(run(&path));
}

async fn run(path: &str) {
    let cutters = prepared(path).await;
    let start = Instant::now();
    let (mut program, address) = started(path);
    println!("{:<28} {:>8.1} ms", "open for requests", start.elapsed().as_secs_f64() * 1e3);
    println!("{:<28} {:>8.1} MB", "resident then", resident_mb(&program));
    let number =
        |name: &str, usual| env::var(name).ok().and_then(|n| n.parse().ok()).unwrap_or(usual);
    let (rate, seconds) = (number("RATE", RATE), number("SECONDS", SECONDS));
    load(address, &cutters, 50, 5, false).await;
    load(address, &cutters, rate, seconds, true).await;
    println!("{:<28} {:>8.1} MB", "resident afterwards", resident_mb(&program));
    drop(program.kill());
    drop(program.wait());
}

/// Puts a machine and wheels into the book where there are none, and picks cutters that wait.
async fn prepared(path: &str) -> Vec<String> {
    let book = Book::open(&Place::from_text(path).unwrap()).await.unwrap();
    if book.list(&Query::of(SubjectKind::Machine)).await.unwrap().rows.is_empty() {
        let written = Written { name: "left bench".to_owned(), text: MACHINE.to_owned() };
        enter(&book, SubjectKind::Machine, 1, Event::Written(written)).await;
    }
    if book.list(&Query::of(SubjectKind::Wheel)).await.unwrap().rows.is_empty() {
        for (at, text) in (1..).zip(WHEELS) {
            let wheel = read_wheels("wheel", text).unwrap().remove(0);
            let entered = WheelEntered { wheel, marks: Vec::new() };
            enter(&book, SubjectKind::Wheel, at, Event::WheelEntered(Box::new(entered))).await;
        }
    }
    let mut ids = Vec::new();
    let mut query = Query { limit: 500, ..Query::of(SubjectKind::Cutter) };
    while ids.len() < 5_000 {
        let listed = book.list(&query).await.unwrap();
        ids.extend(listed.rows.iter().map(|row| row.subject.id.to_string()));
        query.after = listed.next;
        if query.after.is_none() {
            break;
        }
    }
    book.close().await;
    ids
}

async fn enter(book: &Book, kind: SubjectKind, number: u128, event: Event) {
    let subject = Subject::new(kind, Id::from_bits((9 << 80) + (kind as u128) * 1_000 + number));
    let at = Moment::from_micros(1_795_000_000_000_000).unwrap();
    let stamp = Stamp { at, by: Initials::new("AB").unwrap() };
    book.append(vec![Append { subject, seen: 0, stamp, events: vec![event] }]).await.unwrap();
}

/// Starts the program and waits for the line with its address.
fn started(path: &str) -> (Child, SocketAddr) {
    let program =
        env::var("TOOTHREST").unwrap_or_else(|_| "../target/release/toothrest".to_owned());
    let mut child = Command::new(program)
        .args(["serve", "--book", path, "--listen", "0"])
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut line = String::new();
    BufReader::new(child.stdout.as_mut().unwrap()).read_line(&mut line).unwrap();
    let address = line.trim().rsplit("http://").next().unwrap().parse().unwrap();
    (child, address)
}

fn resident_mb(child: &Child) -> f64 {
    let status =
        std::fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmRSS:")).unwrap_or_default();
    let kb: f64 = line.split_whitespace().nth(1).and_then(|kb| kb.parse().ok()).unwrap_or(0.0);
    kb / 1024.0
}

/// Sends requests at a rate, and tells how long they took by kind of page.
async fn load(address: SocketAddr, cutters: &[String], rate: u64, seconds: u64, tells: bool) {
    let begin = Instant::now() + Duration::from_millis(50);
    let (sender, mut receiver) = mpsc::unbounded_channel();
    for connection in 0..CONNECTIONS {
        let (sender, cutters) = (sender.clone(), cutters.to_vec());
        tokio::spawn(async move {
            let mut stream = TcpStream::connect(address).await.unwrap();
            stream.set_nodelay(true).unwrap();
            for at in (connection as u64..rate * seconds).step_by(CONNECTIONS) {
                let due = begin + Duration::from_micros(at * 1_000_000 / rate);
                tokio::time::sleep_until(due.into()).await;
                let kind = (at % 3) as usize;
                let cutter =
                    &cutters[(at.wrapping_mul(2_654_435_761) % cutters.len() as u64) as usize];
                let path = match kind {
                    0 => "/".to_owned(),
                    1 => format!("/cutters/{cutter}"),
                    _ => format!("/cutters/{cutter}/plan"),
                };
                let (status, bytes) = ask(&mut stream, &path).await;
                sender.send((kind, due.elapsed(), status, bytes)).unwrap();
            }
        });
    }
    drop(sender);
    let mut took: [Vec<Duration>; 3] = Default::default();
    let (mut refused, mut bytes) = (0, 0);
    while let Some((kind, time, status, length)) = receiver.recv().await {
        took[kind].push(time);
        refused += usize::from(status != 200);
        bytes += length;
    }
    if tells {
        let total: usize = took.iter().map(Vec::len).sum();
        println!(
            "{total} requests at {rate} a second, {refused} not answered with 200, {:.1} kB each",
            bytes as f64 / total as f64 / 1e3
        );
        println!("{:<12} {:>11} {:>11} {:>11}", "", "median", "p99", "most");
        KINDS.iter().zip(took).for_each(|(kind, took)| tell(kind, took));
    }
}

fn tell(kind: &str, mut took: Vec<Duration>) {
    took.sort_unstable();
    let at = |share: f64| took[((took.len() - 1) as f64 * share) as usize].as_secs_f64() * 1e3;
    println!("{kind:<12} {:>8.2} ms {:>8.2} ms {:>8.2} ms", at(0.5), at(0.99), at(1.0));
}

/// One request on a connection that stays open: its status and the length of its page.
async fn ask(stream: &mut TcpStream, path: &str) -> (u16, usize) {
    let request = format!("GET {path} HTTP/1.1\r\nHost: localhost\r\nCookie: who=AB\r\n\r\n");
    stream.write_all(request.as_bytes()).await.unwrap();
    let mut head = Vec::new();
    let mut buffer = vec![0; 1 << 16];
    loop {
        let count = stream.read(&mut buffer).await.unwrap();
        assert!(count > 0, "the connection was closed on {path}");
        head.extend_from_slice(&buffer[..count]);
        let Some(end) = head.windows(4).position(|four| four == b"\r\n\r\n") else { continue };
        let text = String::from_utf8_lossy(&head[..end]).to_ascii_lowercase();
        let status = text.split(' ').nth(1).unwrap().parse().unwrap();
        let length = text.lines().find_map(|line| line.strip_prefix("content-length: ")).unwrap();
        let length: usize = length.trim().parse().unwrap();
        while head.len() < end + 4 + length {
            let count = stream.read(&mut buffer).await.unwrap();
            assert!(count > 0, "the connection was closed within {path}");
            head.extend_from_slice(&buffer[..count]);
        }
        return (status, length);
    }
}
