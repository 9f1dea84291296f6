//! Backups, exports and imports.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]
#![allow(clippy::print_stdout, reason = "what is left out or was done is told in a plain word")]

mod common;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use book::files::{ImportError, export, import};
use book::{Book, Place, restore};
use common::places;
use common::samples::{self, cutter_entered, every_event, wheel_entered};
use common::{subject, write};
use shop::book::event::{Noted, TrayOpened};
use shop::book::{
    Event, Moment, Query, Session, Sessions, Store, Subject, SubjectKind, TokenHash, whole_history,
};
use shop::record::Named;
use sqlx::{Connection, Executor};

fn noted(words: &str) -> Event {
    Event::Noted(Noted { words: words.to_owned() })
}

/// A small shop with every kind of thing and every kind of entry.
async fn shop(book: &Book) {
    let fixed = |kind, bits| Subject::new(kind, samples::id(bits));
    let every = every_event();
    let at = |from: usize, to: usize| every[from..to].to_vec();
    let tray = TrayOpened { name: "blue".to_owned(), whose: None };
    let retired = Event::Retired(shop::book::event::Retired { why: "done".to_owned() });
    let writes = vec![
        write(&fixed(SubjectKind::Machine, 2), 0, at(15, 16)),
        write(&fixed(SubjectKind::Wheel, 1), 0, at(9, 15)),
        write(&fixed(SubjectKind::Tray, 3), 0, vec![Event::TrayOpened(tray), every[17].clone()]),
        write(&fixed(SubjectKind::Cutter, 4), 0, [at(0, 9), at(23, 24)].concat()),
        write(
            &fixed(SubjectKind::Cutter, 5),
            0,
            vec![cutter_entered("K-2"), noted("a"), every[22].clone(), retired],
        ),
        write(&fixed(SubjectKind::Person, 6), 0, at(18, 20)),
    ];
    book.append(writes).await.unwrap();
}

async fn everything(book: &Book) -> Vec<shop::book::Entry> {
    let mut all = Vec::new();
    for &kind in SubjectKind::ALL {
        let query = Query { live_only: false, limit: 500, ..Query::of(kind) };
        for row in book.list(&query).await.unwrap().rows {
            all.extend(whole_history(book, &row.subject).await.unwrap());
        }
    }
    all
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_backup_is_whole_while_others_write() {
    for (folder, book) in places::every_book().await {
        let own = tempfile::tempdir().unwrap();
        shop(&book).await;
        let (stop, written) = (Arc::new(AtomicBool::new(false)), Arc::new(AtomicU64::new(0)));
        let writer = {
            let (book, stop, written) = (book.clone(), Arc::clone(&stop), Arc::clone(&written));
            tokio::spawn(async move {
                let cutter = subject(SubjectKind::Cutter);
                book.append(vec![write(&cutter, 0, vec![cutter_entered("Z-1")])]).await.unwrap();
                while !stop.load(Ordering::SeqCst) {
                    let seen = written.fetch_add(1, Ordering::SeqCst) + 1;
                    book.append(vec![write(&cutter, seen, vec![noted("on")])]).await.unwrap();
                }
            })
        };
        while written.load(Ordering::SeqCst) < 5 {
            tokio::task::yield_now().await;
        }
        let at_least = written.load(Ordering::SeqCst);
        let copy = own.path().join("copy");
        book.back_up(&copy, &|_, _| ()).await.unwrap();
        let at_most = written.load(Ordering::SeqCst) + 1;
        stop.store(true, Ordering::SeqCst);
        writer.await.unwrap();
        assert!(book.back_up(&copy, &|_, _| ()).await.is_err(), "a backup is never written over");

        let place = match &folder {
            Some(folder) => Place::File(folder.path().join("restored.sqlite")),
            None => places::server().await.unwrap(),
        };
        let told = std::sync::atomic::AtomicU64::new(0);
        let tell = |done, of| {
            assert!(done <= of, "{done} of {of}");
            told.fetch_max(done, Ordering::SeqCst);
        };
        restore(&copy, &place, &tell).await.unwrap();
        assert!(told.into_inner() > 0, "nobody was told how far it had come");
        let restored = Book::open(&place).await.unwrap();
        assert_eq!(restored.examine(&|_, _| ()).await.unwrap(), Vec::<String>::new());
        let found = restored.find(SubjectKind::Cutter, "Z-1").await.unwrap().unwrap().seen;
        assert!((at_least..=at_most + 1).contains(&found), "{at_least} {found} {at_most}");
        if folder.is_some() {
            assert!(
                restore(&copy, &place, &|_, _| ()).await.is_err(),
                "a book is never written over"
            );
        }
    }
}

#[tokio::test]
async fn a_damaged_backup_is_not_restored() {
    let (folder, place) = places::file();
    let book = Book::open(&place).await.unwrap();
    shop(&book).await;
    let (copy, to) = (folder.path().join("copy"), folder.path().join("new").join("b.sqlite"));
    book.back_up(&copy, &|_, _| ()).await.unwrap();
    let mut bytes = fs::read(&copy).unwrap();
    let middle = bytes.len() / 2;
    bytes[middle..middle + 6000].fill(0x5A);
    fs::write(&copy, bytes).unwrap();
    let refused = restore(&copy, &Place::File(to.clone()), &|_, _| ()).await;
    assert!(refused.is_err() && !to.exists(), "{refused:?}");
}

#[tokio::test]
async fn nobody_is_signed_in_in_a_copy() {
    for (folder, book) in places::every_book().await {
        let own = tempfile::tempdir().unwrap();
        shop(&book).await;
        let at = common::stamp("AB", 0).at;
        let token = TokenHash::from_bytes([7; 32]);
        let session = Session {
            token: token.clone(),
            person: samples::id(6),
            made_at: at,
            last_seen: at,
            expires_at: Moment::LAST,
        };
        book.open_session(session).await.unwrap();
        let (copy, out) = (own.path().join("copy"), own.path().join("out"));
        book.back_up(&copy, &|_, _| ()).await.unwrap();
        export(&book, &out, &|_, _| ()).await.unwrap();
        let carried = texts(&out).iter().any(|(_, text)| text.contains(token.as_str()));
        assert!(!carried, "an export carries a session");

        let place = match &folder {
            Some(folder) => Place::File(folder.path().join("restored.sqlite")),
            None => places::server().await.unwrap(),
        };
        restore(&copy, &place, &|_, _| ()).await.unwrap();
        let restored = Book::open(&place).await.unwrap();
        assert!(restored.find(SubjectKind::Person, "AB").await.unwrap().is_some());
        assert_eq!(restored.find_session(&token, at).await.unwrap(), None);
        assert!(book.find_session(&token, at).await.unwrap().is_some());
    }
}

/// A bit that flips on the disk changes a figure without anybody's complaint but the sum's.
#[tokio::test]
async fn a_copy_of_which_a_bit_has_flipped_is_found_out() {
    let (folder, place) = places::file();
    let book = Book::open(&place).await.unwrap();
    shop(&book).await;
    let copy = folder.path().join("copy.sqlite");
    book.back_up(&copy, &|_, _| ()).await.unwrap();
    let whole = fs::read(&copy).unwrap();
    let sum = fs::read_to_string(folder.path().join("copy.sqlite.sha256")).unwrap();
    assert!(sum.ends_with("  copy.sqlite\n") && sum.len() == 78, "{sum}");
    // As the general command for such sums reads it.
    let mut checked = Command::new("sha256sum");
    checked.args(["--status", "-c", "copy.sqlite.sha256"]).current_dir(folder.path());
    assert!(checked.status().unwrap().success());
    let looked = || async {
        let book = Book::look(&Place::File(copy.clone())).await?.unwrap();
        let found = book.examine(&|_, _| ()).await;
        book.close().await;
        found
    };
    assert_eq!(looked().await.unwrap(), Vec::<String>::new());
    let to = Place::File(folder.path().join("restored.sqlite"));
    for at in (0..whole.len()).step_by(whole.len() / 60) {
        let mut flipped = whole.clone();
        flipped[at] ^= 1 << (at % 8);
        fs::write(&copy, flipped).unwrap();
        assert!(looked().await.map_or(true, |found| !found.is_empty()), "byte {at}");
        restore(&copy, &to, &|_, _| ()).await.unwrap_err();
        assert!(!to.file().unwrap().exists());
    }
    fs::write(&copy, &whole).unwrap();
    restore(&copy, &to, &|_, _| ()).await.unwrap();
    fs::write(folder.path().join("copy.sqlite.sha256"), "no sum").unwrap();
    let found = looked().await.unwrap();
    assert!(found.len() == 1 && found[0].contains("holds no sum"), "{found:?}");
}

/// A bit flips in the name of a key: what it says is lost, and the check names it.
#[tokio::test]
async fn a_key_that_means_nothing_is_found() {
    let (_folder, place) = places::file();
    let book = Book::open(&place).await.unwrap();
    shop(&book).await;
    book.close().await;
    let path = place.file().unwrap().to_str().unwrap();
    let mut by_hand = sqlx::SqliteConnection::connect(path).await.unwrap();
    let flip = "DROP TRIGGER entry_is_never_changed; UPDATE entry SET body = \
                replace(body, '\"teeth\":', '\"teeti\":4,\"teeth\":') \
                WHERE kind = 'cutter entered'";
    by_hand.execute(sqlx::raw_sql(flip)).await.unwrap();
    let spoil = "UPDATE entry SET body = '{' WHERE kind = 'noted'";
    by_hand.execute(sqlx::raw_sql(spoil)).await.unwrap();
    by_hand.close().await.unwrap();
    let book = Book::look(&place).await.unwrap().unwrap();
    let found = book.examine(&|_, _| ()).await.unwrap().join("\n");
    assert!(found.contains("entry 1: the key \"") && found.contains("teeti"), "{found}");
    assert!(found.contains("it cannot be read"), "{found}");
}

fn texts(folder: &Path) -> Vec<(PathBuf, String)> {
    let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut texts: Vec<_> = files
        .map(|path| (path.file_name().unwrap().into(), fs::read_to_string(&path).unwrap()))
        .collect();
    texts.sort();
    texts
}

#[tokio::test]
async fn what_is_exported_comes_back_in_every_engine() {
    let own = tempfile::tempdir().unwrap();
    let sources = places::every_book().await;
    for (from, (_kept, source)) in sources.iter().enumerate() {
        shop(source).await;
        let folder = own.path().join(format!("out-{from}"));
        let counted = export(source, &folder, &|_, _| ()).await.unwrap();
        assert_eq!((counted.subjects, counted.entries), (6, 25));
        for (to, (_kept, target)) in places::every_book().await.iter().enumerate() {
            assert_eq!(import(target, &folder, &|_, _| ()).await.unwrap(), counted);
            assert_eq!(everything(target).await, everything(source).await);
            assert_eq!(target.examine(&|_, _| ()).await.unwrap(), Vec::<String>::new());
            let again = own.path().join(format!("again-{from}-{to}"));
            export(target, &again, &|_, _| ()).await.unwrap();
            assert_eq!(texts(&again), texts(&folder), "the same book makes the same files");
        }
        assert!(
            export(source, &folder, &|_, _| ()).await.is_err(),
            "an export is never written over"
        );
    }
}

/// Changes one file of an export.
fn change(folder: &Path, file: &str, change: impl Fn(&str) -> String) {
    let path = folder.join(file);
    let text = fs::read_to_string(&path).unwrap();
    let changed = change(&text);
    assert_ne!(changed, text, "{file} was to be changed");
    fs::write(path, changed).unwrap();
}

fn without_digests(manifest: &str) -> String {
    let lines = manifest.lines().filter(|line| !line.contains("sha256"));
    let text = lines.collect::<Vec<_>>().join("\n");
    text.replace(",\n    }", "\n    }").replace("\"kind\": \"cutter\",", "\"kind\": \"cutter\"")
}

/// What is done to an export, and what is said about it.
type Spoilt = (&'static str, fn(&str) -> String, &'static str);

fn line_out(text: &str, number: usize) -> String {
    let lines = text.lines().enumerate().filter(|(at, _)| at + 1 != number);
    lines.map(|(_, line)| format!("{line}\n")).collect()
}

const SPOILT: [Spoilt; 12] = [
    ("cutter.jsonl", |text| text.replacen("\"by\":", "\"by\"", 1), "cutter.jsonl:1: is no JSON"),
    ("cutter.jsonl", |text| line_out(text, 2), "cutter.jsonl:2: number: is 3; 2 comes next"),
    (
        "cutter.jsonl",
        |text| text.replacen("\"tooth\":2", "\"tooth\":9", 1),
        "cutter.jsonl:3: tooth",
    ),
    (
        "cutter.jsonl",
        |text| text.replacen("\"teeth\":4", "\"teeth\":1", 1),
        "cutter.jsonl:1: cutter",
    ),
    ("cutter.jsonl", |text| text.replacen("2026-", "2O26-", 1), "cutter.jsonl:1: time"),
    ("cutter.jsonl", |text| text.replace("\"K-2\"", "\"K-1\""), "is not as it was exported"),
    ("wheel.jsonl", |text| text.replacen("\"W-1\"", "\"W-2\"", 1), "wheel.jsonl: is not as it was"),
    ("wheel.jsonl", |text| format!("{text}\n"), "wheel.jsonl:7: is no JSON"),
    ("tray.jsonl", |_| String::new(), "tray.jsonl: 0 entries, but the manifest counts 2"),
    (
        "manifest.json",
        |text| text.replace("toothrest book", "a shelf"),
        "manifest.json: this is no",
    ),
    ("manifest.json", |text| text.replacen("\"version\": 1", "\"version\": 2", 1), "version is 2"),
    ("manifest.json", |text| text.replace("\"wheel\"", "\"wheels\""), "a kind that is known here"),
];

#[tokio::test]
async fn an_import_that_does_not_fit_changes_nothing() {
    let own = tempfile::tempdir().unwrap();
    let (_kept, place) = places::file();
    let source = Book::open(&place).await.unwrap();
    shop(&source).await;
    for (kept, target) in places::every_book().await {
        let engine = target.engine_name();
        for (at, (file, spoil, said)) in SPOILT.iter().enumerate() {
            let folder = own.path().join(format!("{engine}-{at}"));
            export(&source, &folder, &|_, _| ()).await.unwrap();
            change(&folder, file, spoil);
            let refused = import(&target, &folder, &|_, _| ()).await;
            let Err(ImportError::Refused(problems)) = refused else {
                panic!("{said}: {refused:?}")
            };
            let told = problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
            assert!(told.contains(said), "{said} is not in {told}");
            assert_eq!(everything(&target).await, Vec::new(), "{said}");
        }
        drop(kept);
    }
}

#[tokio::test]
async fn an_import_knows_what_is_there_and_what_is_not() {
    let own = tempfile::tempdir().unwrap();
    for (kept, book) in places::every_book().await {
        let folder = own.path().join(book.engine_name());
        shop(&book).await;
        export(&book, &folder, &|_, _| ()).await.unwrap();
        let before = everything(&book).await;
        let Err(ImportError::Refused(problems)) = import(&book, &folder, &|_, _| ()).await else {
            panic!("it was taken twice")
        };
        assert_eq!(problems.len(), 5, "{problems:?}");
        assert!(problems[0].to_string().contains("is in the book already"), "{problems:?}");
        assert_eq!(everything(&book).await, before);
        drop(kept);
    }
    let (_kept, place) = places::file();
    let fresh = Book::open(&place).await.unwrap();
    let folder = own.path().join("SQLite");
    change(&folder, "manifest.json", |text| {
        without_digests(text).replace("\"entries\": 6", "\"entries\": 0")
    });
    change(&folder, "wheel.jsonl", |_| String::new());
    let Err(ImportError::Refused(problems)) = import(&fresh, &folder, &|_, _| ()).await else {
        panic!("it was taken without its wheel")
    };
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].starts_with("cutter.jsonl:4: wheel: no wheel"), "{told:?}");
}

#[tokio::test]
async fn an_import_does_not_take_a_number_that_is_held() {
    let own = tempfile::tempdir().unwrap();
    let (_kept, place) = places::file();
    let source = Book::open(&place).await.unwrap();
    shop(&source).await;
    let folder = own.path().join("out");
    export(&source, &folder, &|_, _| ()).await.unwrap();
    for (_kept, book) in places::every_book().await {
        let other = subject(SubjectKind::Wheel);
        book.append(vec![write(&other, 0, vec![wheel_entered("w-1")])]).await.unwrap();
        let Err(ImportError::Refused(problems)) = import(&book, &folder, &|_, _| ()).await else {
            panic!("two wheels have one number")
        };
        let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].starts_with("wheel.jsonl:1: number: another wheel"), "{told:?}");
        assert_eq!(everything(&book).await.len(), 1);
    }
}

#[tokio::test]
async fn long_work_says_how_far_it_has_come() {
    for (_folder, book) in places::every_book().await {
        shop(&book).await;
        let own = tempfile::tempdir().unwrap();
        let folder = own.path().join("all");
        let told = std::sync::Mutex::new(Vec::new());
        let tell = |done: u64, of: u64| told.lock().unwrap().push((done, of));
        let steps = || std::mem::take(&mut *told.lock().unwrap());
        // From the first piece to the last, each time one more, and the whole known beforehand.
        let whole = |of: u64| (1..=of).map(|done| (done, of)).collect::<Vec<_>>();

        let counted = export(&book, &folder, &tell).await.unwrap();
        assert!(counted.subjects > 1);
        assert_eq!(steps(), whole(counted.subjects));
        book.examine(&tell).await.unwrap();
        assert_eq!(steps(), whole(counted.subjects));
        let (_place, target) = places::file();
        let target = Book::open(&target).await.unwrap();
        import(&target, &folder, &tell).await.unwrap();
        let steps = steps();
        assert!(steps.is_sorted() && steps.len() as u64 == counted.subjects, "{steps:?}");
        assert_eq!(steps.last(), Some(&(counted.entries, counted.entries)));
    }
}
