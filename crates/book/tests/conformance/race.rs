//! Several writers at once, over two openings of one book.

use std::sync::Arc;

use shop::ShopError;
use shop::book::event::Noted;
use shop::book::{Event, Store, Subject, SubjectKind, whole_history};

use crate::Twice;
use crate::common::samples::cutter_entered;
use crate::common::{subject, write};

const WRITERS: u64 = 8;
const ROUNDS: u64 = 10;

fn noted(words: String) -> Event {
    Event::Noted(Noted { words })
}

/// The book as the one or the other writer opened it.
fn opened<S>(books: &Twice<S>, writer: u64) -> Arc<S> {
    Arc::clone(if writer.is_multiple_of(2) { &books.one } else { &books.other })
}

async fn entered<S: Store>(books: &Twice<S>, number: &str) -> Subject {
    let cutter = subject(SubjectKind::Cutter);
    books.one.append(vec![write(&cutter, 0, vec![cutter_entered(number)])]).await.unwrap();
    cutter
}

async fn all_at_once<S, F>(books: &Twice<S>, work: impl Fn(Arc<S>, u64) -> F) -> Vec<F::Output>
where
    F: Future<Output: Send + 'static> + Send + 'static,
{
    let tasks: Vec<_> =
        (0..WRITERS).map(|writer| tokio::spawn(work(opened(books, writer), writer))).collect();
    let mut outcomes = Vec::new();
    for task in tasks {
        outcomes.push(task.await.unwrap());
    }
    outcomes
}

pub(crate) async fn one_writer_wins_each_number<S: Store + 'static>(books: Twice<S>) {
    let cutter = entered(&books, "R-1").await;
    for seen in 1..=ROUNDS {
        let cutter = cutter.clone();
        let outcomes = all_at_once(&books, move |store, writer| {
            let append = write(&cutter, seen, vec![noted(format!("{writer}"))]);
            async move { store.append(vec![append]).await }
        })
        .await;
        let won = outcomes.iter().filter(|outcome| outcome.is_ok()).count();
        assert_eq!(won, 1, "{outcomes:?}");
        let lost = |outcome: &&Result<_, ShopError>| match outcome {
            Err(ShopError::Conflict { seen: saw, now, .. }) => *saw == seen && *now == seen + 1,
            _ => false,
        };
        assert_eq!(outcomes.iter().filter(lost).count(), 7, "{outcomes:?}");
    }
    let history = whole_history(&*books.other, &cutter).await.unwrap();
    let numbers: Vec<u64> = history.iter().map(|entry| entry.number).collect();
    assert_eq!(numbers, (1..=ROUNDS + 1).collect::<Vec<_>>());
}

pub(crate) async fn many_writers_lose_nothing<S: Store + 'static>(books: Twice<S>) {
    let cutter = entered(&books, "R-2").await;
    let of = cutter.clone();
    all_at_once(&books, move |store, writer| {
        let cutter = of.clone();
        async move {
            for round in 0..ROUNDS {
                loop {
                    let seen = store.summary(&cutter).await.unwrap().unwrap().seen;
                    let words = noted(format!("{writer}/{round}"));
                    match store.append(vec![write(&cutter, seen, vec![words])]).await {
                        Ok(_) => break,
                        Err(ShopError::Conflict { .. }) => tokio::task::yield_now().await,
                        Err(error) => panic!("{error}"),
                    }
                }
            }
        }
    })
    .await;
    let history = whole_history(&*books.one, &cutter).await.unwrap();
    let mut words: Vec<String> = history[1..]
        .iter()
        .map(|entry| match &entry.event {
            Event::Noted(noted) => noted.words.clone(),
            other => panic!("{other:?}"),
        })
        .collect();
    words.sort_unstable();
    let all = (0..WRITERS).flat_map(|writer| (0..ROUNDS).map(move |n| format!("{writer}/{n}")));
    assert_eq!(words, all.collect::<Vec<_>>());
}

pub(crate) async fn one_of_many_takes_a_number<S: Store + 'static>(books: Twice<S>) {
    let outcomes = all_at_once(&books, |store, _| {
        let append = write(&subject(SubjectKind::Cutter), 0, vec![cutter_entered("R-3")]);
        async move { store.append(vec![append]).await }
    })
    .await;
    assert_eq!(outcomes.iter().filter(|outcome| outcome.is_ok()).count(), 1, "{outcomes:?}");
    let refused = |outcome: &&Result<_, ShopError>| match outcome {
        Err(ShopError::Invalid { field, .. }) => field == "number",
        _ => false,
    };
    assert_eq!(outcomes.iter().filter(refused).count(), 7, "{outcomes:?}");
}
