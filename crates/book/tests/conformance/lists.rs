//! Lists, searches and trays.

use shop::book::event::{Ground, HandedBack, Received, Retired, TrayOpened};
use shop::book::{Append, Event, Order, Query, Span, Stage, Store, Subject, SubjectKind, Summary};

use crate::Twice;
use crate::common::samples::{self, cutter_entered};
use crate::common::{stamp, subject, write};

/// Enters cutters with these numbers, each a moment later than the one before.
async fn enter(store: &impl Store, numbers: &[String]) -> Vec<Subject> {
    let subjects: Vec<Subject> = numbers.iter().map(|_| subject(SubjectKind::Cutter)).collect();
    let entered = subjects.iter().zip(numbers).zip(0..).map(|((of, number), at)| Append {
        stamp: stamp("AB", at),
        ..write(of, 0, vec![cutter_entered(number)])
    });
    store.append(entered.collect()).await.unwrap();
    subjects
}

async fn all_pages(store: &impl Store, query: &Query) -> Vec<Summary> {
    let (mut query, mut all) = (query.clone(), Vec::new());
    loop {
        let page = store.list(&query).await.unwrap();
        assert!(page.rows.len() <= usize::try_from(query.limit).unwrap());
        all.extend(page.rows);
        match page.next {
            Some(next) => query.after = Some(next),
            None => return all,
        }
    }
}

fn numbers(rows: &[Summary]) -> Vec<&str> {
    rows.iter().map(|row| row.number.as_str()).collect()
}

pub(crate) async fn pages_leave_nothing_out<S: Store>(books: Twice<S>) {
    let wanted: Vec<String> =
        (0..120).map(|n| format!("{}-{n:03}", ["a", "B", "ä"][n % 3])).collect();
    enter(&*books.one, &wanted).await;
    let mut by_key = wanted.clone();
    by_key.sort_by_key(|number| shop::book::key(number));
    for limit in [1, 7, 50, 120, 500] {
        let query = Query { limit, ..Query::of(SubjectKind::Cutter) };
        assert_eq!(numbers(&all_pages(&*books.other, &query).await), by_key, "by {limit}");
        let query = Query { order: Order::LatestFirst, ..query };
        let backward: Vec<&String> = wanted.iter().rev().collect();
        assert_eq!(numbers(&all_pages(&*books.other, &query).await), backward, "by {limit}");
    }
    assert_eq!(books.other.count(SubjectKind::Cutter, Stage::Shelf).await.unwrap(), 120);
    let none = books.other.list(&Query::of(SubjectKind::Wheel)).await.unwrap();
    assert_eq!((none.rows.len(), none.next), (0, None));
}

pub(crate) async fn words_find_what_begins_with_them<S: Store>(books: Twice<S>) {
    let numbers_of = ["K-12", "K-120", "L 12 Ölnut", "100%", "O'Neil", "日本-1"];
    enter(&*books.one, &numbers_of.map(str::to_owned)).await;
    for (words, found) in [
        ("k-12", vec!["K-12", "K-120"]),
        ("12", vec!["K-12", "K-120", "L 12 Ölnut"]),
        ("ölnut L", vec!["L 12 Ölnut"]),
        ("öl 12 l", vec!["L 12 Ölnut"]),
        ("100%", vec!["100%"]),
        ("%", vec![]),
        ("_", vec![]),
        ("o'neil", vec!["O'Neil"]),
        ("日", vec!["日本-1"]),
        ("cobalt k", vec!["K-12", "K-120"]),
        ("½", vec!["100%", "K-12", "K-120", "L 12 Ölnut", "O'Neil", "日本-1"]),
        ("nothing", vec![]),
        ("';DROP TABLE entry;--", vec![]),
        ("  ", vec!["100%", "K-12", "K-120", "L 12 Ölnut", "O'Neil", "日本-1"]),
    ] {
        let query = Query { words: words.to_owned(), ..Query::of(SubjectKind::Cutter) };
        let rows = all_pages(&*books.other, &query).await;
        assert_eq!(numbers(&rows), found, "{words:?}");
    }
    let small = Query { limit: 2, words: "½".to_owned(), ..Query::of(SubjectKind::Cutter) };
    assert_eq!(all_pages(&*books.other, &small).await.len(), 6);
}

pub(crate) async fn a_tray_shows_what_waits_in_it<S: Store>(books: Twice<S>) {
    let cutters = enter(&*books.one, &["T-1", "T-2", "T-3"].map(str::to_owned)).await;
    let tray = subject(SubjectKind::Tray);
    let opened = Event::TrayOpened(TrayOpened { name: "blue".to_owned(), whose: None });
    books.one.append(vec![write(&tray, 0, vec![opened])]).await.unwrap();
    for cutter in &cutters {
        let received = Received { tray: Some(tray.id.clone()), ..Received::default() };
        let received = write(cutter, 1, vec![Event::Received(received)]);
        books.one.append(vec![received]).await.unwrap();
    }
    let back = Event::HandedBack(HandedBack::default());
    books.one.append(vec![write(&cutters[0], 2, vec![back])]).await.unwrap();
    let retired = Event::Retired(Retired { why: "cracked".to_owned() });
    books.one.append(vec![write(&cutters[1], 2, vec![retired])]).await.unwrap();

    let lying = Query { tray: Some(tray.id.clone()), ..Query::of(SubjectKind::Cutter) };
    assert_eq!(numbers(&all_pages(&*books.other, &lying).await), ["T-3"]);
    let waiting = Query { stage: Some(Stage::Waiting), ..Query::of(SubjectKind::Cutter) };
    assert_eq!(numbers(&all_pages(&*books.other, &waiting).await), ["T-3"]);
    let all = Query { live_only: false, ..Query::of(SubjectKind::Cutter) };
    assert_eq!(numbers(&all_pages(&*books.other, &all).await), ["T-1", "T-2", "T-3"]);
    for (stage, count) in [(Stage::Waiting, 1), (Stage::Back, 1), (Stage::Gone, 1)] {
        assert_eq!(books.other.count(SubjectKind::Cutter, stage).await.unwrap(), count, "{stage}");
    }
}

pub(crate) async fn a_stretch_of_time_has_its_entries<S: Store>(books: Twice<S>) {
    let wanted: Vec<String> = (0..9).map(|n| format!("S-{n}")).collect();
    enter(&*books.one, &wanted).await;
    let (from, until) = (stamp("AB", 2).at, stamp("AB", 7).at);
    let mut span = Span { from, until, after: None, limit: 2 };
    let mut found = Vec::new();
    loop {
        let page = books.other.written(&span).await.unwrap();
        let Some(last) = page.last() else { break };
        span.after = Some((last.stamp.at, last.subject.id.clone(), last.number));
        found.extend(page);
    }
    let times: Vec<i64> = found.iter().map(|e| e.stamp.at.micros() - from.micros()).collect();
    assert_eq!(times, [0, 1, 2, 3, 4]);
}

pub(crate) async fn a_wheel_finds_what_it_ground<S: Store>(books: Twice<S>) {
    let cutters = enter(&*books.one, &["G-1", "G-2"].map(str::to_owned)).await;
    let wheels = [subject(SubjectKind::Wheel), subject(SubjectKind::Wheel)];
    for (wheel, number) in wheels.iter().zip(["W-1", "W-2"]) {
        let entered = samples::wheel_entered(number);
        books.one.append(vec![write(wheel, 0, vec![entered])]).await.unwrap();
    }
    let mut grinds = Vec::new();
    for (at, (cutter, wheel)) in [(0, 0), (1, 1), (1, 0)].into_iter().enumerate() {
        let ground = Ground { wheel: Some(wheels[wheel].id.clone()), ..Ground::default() };
        let seen = books.one.summary(&cutters[cutter]).await.unwrap().unwrap().seen;
        let mut grind = write(&cutters[cutter], seen, vec![Event::Ground(ground)]);
        grind.stamp = stamp("AB", 100 + i64::try_from(at).unwrap());
        grinds.extend(books.one.append(vec![grind]).await.unwrap());
    }
    let found = books.other.ground_with(&wheels[0].id, 10).await.unwrap();
    assert_eq!(found, [grinds[2].clone(), grinds[0].clone()]);
    let last = books.other.ground_with(&wheels[0].id, 1).await.unwrap();
    assert_eq!(last, [grinds[2].clone()]);
    assert_eq!(books.other.ground_with(&wheels[1].id, 10).await.unwrap(), [grinds[1].clone()]);
}
