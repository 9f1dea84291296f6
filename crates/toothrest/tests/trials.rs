//! Odd input: every reader of this program gets spoilt files, a few thousand each, the same ones
//! at every run. `fuzz` tries the same readers by the million.
//!
//! What is held against them is this project's own promise: whatever comes in is read or refused
//! in words, within a moment; nothing stops the program; what was read is written as it reads.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]
#![allow(clippy::print_stdout, reason = "how much was tried is told")]

#[path = "../../exchange/tests/common/drawer.rs"]
mod drawer;
#[path = "trials/each.rs"]
mod each;
#[path = "trials/forms.rs"]
mod forms;
#[path = "trials/kept.rs"]
mod kept;
#[path = "trials/mutate.rs"]
mod mutate;
#[path = "trials/pages.rs"]
mod pages;
#[path = "trials/seeds.rs"]
mod seeds;
#[path = "trials/sent.rs"]
mod sent;
#[path = "../../exchange/tests/common/workbook.rs"]
mod workbook;

use std::env;
use std::panic::{AssertUnwindSafe, catch_unwind};

use each::{Outcome, TRIALS};
use mutate::{Draws, spoilt, words_of};
use shop::book::Clock;
use toothrest::surroundings::SystemClock;

/// Spoilt files for each reader; `TRIALS` sets another count.
const RUNS: usize = 2_000;

/// Requests to the pages, which take longer.
const REQUESTS: usize = 400;

/// How long one of them may take on a machine that is busy with much else.
const MOMENT_US: i64 = 5_000_000;

fn runs(usual: usize) -> usize {
    let asked = env::var("TRIALS").ok();
    let count = |runs: String| runs.parse().unwrap_or_else(|_| panic!("TRIALS={runs}: no count"));
    asked.map_or(usual, count)
}

/// Tries spoilt seeds one after another, and stops at the first that breaks a promise.
fn try_all(
    name: &str,
    seeds: &[Vec<u8>],
    runs: usize,
    mut run: impl FnMut(&[u8]) -> Outcome,
) -> Outcome {
    assert!(!seeds.is_empty(), "{name} has nothing to begin from");
    let words = words_of(seeds);
    let mut draws = Draws::of(20_261_125);
    let sound = seeds.iter().cloned();
    let spoilt = (0..runs).map(|_| spoilt(&mut draws, seeds, &words));
    for bytes in sound.chain(spoilt) {
        let began = SystemClock.now().micros();
        let outcome = catch_unwind(AssertUnwindSafe(|| run(&bytes)));
        let outcome = outcome.unwrap_or_else(|_| Err("it panicked".to_owned()));
        let outcome = match SystemClock.now().micros() - began {
            took_us if took_us > MOMENT_US => Err(format!("it took {took_us} microseconds")),
            _ => outcome,
        };
        let with = || String::from_utf8_lossy(&bytes).into_owned();
        outcome.map_err(|broken| format!("{name}: {broken}\nwith {:?}", with()))?;
    }
    println!("{name}: {runs}");
    Ok(())
}

#[test]
fn every_reader_reads_or_says_why() {
    let only = env::var("TRIAL").ok();
    if let Some(only) = &only {
        let names: Vec<&str> = TRIALS.iter().map(|trial| trial.name).chain(["pages"]).collect();
        assert!(names.contains(&only.as_str()), "TRIAL={only}: no such trial; {names:?}");
    }
    let is_asked = |name: &str| only.as_deref().is_none_or(|only| only == name);
    let asked = TRIALS.iter().filter(|trial| is_asked(trial.name));
    let outcomes = asked.map(|trial| try_all(trial.name, &trial.seeds(), runs(RUNS), trial.run));
    let broken: Vec<String> = outcomes.filter_map(Outcome::err).collect();
    assert!(broken.is_empty(), "{}", broken.join("\n\n"));
}

/// What the trials begin from reaches the records behind the forms.
#[test]
fn every_form_gives_a_record() {
    for seed in sent::seeds() {
        assert!(sent::is_read(seed.as_bytes()), "{seed}");
    }
}

#[test]
fn every_page_answers() {
    let mut pages = pages::Pages::open();
    let seeds = pages.seeds();
    let outcome = try_all("pages", &seeds, runs(REQUESTS), |bytes| pages.run(bytes));
    assert_eq!(outcome, Ok(()));
}
