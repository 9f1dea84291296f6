//! What every store must do, tried on memory, on SQLite and on PostgreSQL alike.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]
#![allow(clippy::print_stdout, reason = "what is left out or was done is told in a plain word")]

#[path = "../common/mod.rs"]
mod common;
mod history;
mod limits;
mod lists;
mod race;
mod sessions;

use std::sync::Arc;

use book::Book;
use common::places;
use shop::book::MemoryBook;

/// The same book, opened twice where it can be.
pub(crate) struct Twice<S> {
    pub(crate) one: Arc<S>,
    pub(crate) other: Arc<S>,
}

impl<S> Twice<S> {
    fn of(store: S) -> Self {
        let one = Arc::new(store);
        Self { other: Arc::clone(&one), one }
    }
}

/// Tries each of these on every store.
macro_rules! on_every_store {
    ($($module:ident :: $test:ident),+ $(,)?) => {
        mod memory {
            $(#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
            async fn $test() {
                crate::$module::$test(crate::Twice::of(crate::MemoryBook::new())).await;
            })+
        }

        mod sqlite {
            $(#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
            async fn $test() {
                let (folder, place) = crate::places::file();
                let one = std::sync::Arc::new(crate::Book::open(&place).await.unwrap());
                let other = std::sync::Arc::new(crate::Book::open(&place).await.unwrap());
                crate::$module::$test(crate::Twice { one: one.clone(), other }).await;
                assert_eq!(one.examine(&|_, _| ()).await.unwrap(), Vec::<String>::new());
                drop(folder);
            })+
        }

        mod postgres {
            $(#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
            async fn $test() {
                let Some(place) = crate::places::server().await else { return };
                let one = std::sync::Arc::new(crate::Book::open(&place).await.unwrap());
                let other = std::sync::Arc::new(crate::Book::open(&place).await.unwrap());
                crate::$module::$test(crate::Twice { one: one.clone(), other }).await;
                assert_eq!(one.examine(&|_, _| ()).await.unwrap(), Vec::<String>::new());
            })+
        }
    };
}

on_every_store!(
    history::entries_come_back_in_order_as_they_were,
    history::a_late_writer_meets_a_conflict,
    history::all_writes_or_none,
    history::an_amendment_counts_and_the_entry_stays,
    history::what_does_not_fit_is_refused,
    history::a_number_is_held_once_while_it_is_in_use,
    history::what_is_spoken_of_must_be_there,
    history::a_clock_that_jumps_loses_nothing,
    lists::pages_leave_nothing_out,
    lists::words_find_what_begins_with_them,
    lists::a_tray_shows_what_waits_in_it,
    lists::a_stretch_of_time_has_its_entries,
    lists::a_wheel_finds_what_it_ground,
    limits::text_and_numbers_are_bounded,
    limits::pages_and_searches_are_bounded,
    limits::odd_text_comes_back_as_it_was,
    race::one_writer_wins_each_number,
    race::many_writers_lose_nothing,
    race::one_of_many_takes_a_number,
    sessions::a_session_holds_until_it_is_over_or_closed,
    sessions::a_session_that_was_seen_holds_longer,
    sessions::an_unsound_session_is_not_opened,
    sessions::failed_attempts_are_counted_and_forgotten,
    sessions::a_clock_that_was_put_back_is_not_waited_for,
);
