//! Every reader of the program, tried with what the led run reached, spoilt blindly: that takes a
//! third of the time for each, for nothing is marked on the way. `fuzz/run` starts this, in the
//! folder of a trial.

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::process::ExitCode;

use fuzz::Spoiler;
use mimalloc::MiMalloc;
use shop::book::Clock;
use toothrest::surroundings::SystemClock;

/// Readers ask for memory in small pieces, and a fifth of the time went into that.
#[global_allocator]
static GLOBAL: MiMalloc = MiMalloc;

/// How long one of them may take on a machine that is busy with much else.
const MOMENT_US: i64 = 20_000_000;

/// So many are tried between two words of how far it is.
const TOLD_EVERY: usize = 1_000_000;

/// The files of a folder, in the order of their names.
fn files(folder: &Path) -> Vec<Vec<u8>> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut paths: Vec<_> = entries.map(|entry| entry.path()).collect();
    paths.sort();
    paths.into_iter().filter_map(|path| fs::read(path).ok()).collect()
}

fn tried(bytes: &[u8]) -> Result<(), String> {
    let began = SystemClock.now().micros();
    let outcome = catch_unwind(AssertUnwindSafe(|| fuzz::run(bytes)));
    let outcome = outcome.unwrap_or_else(|_| Err("it panicked".to_owned()));
    match SystemClock.now().micros() - began {
        took_us if took_us > MOMENT_US => Err(format!("it took {took_us} microseconds")),
        _ => outcome,
    }
}

fn main() -> ExitCode {
    let runs = std::env::args().nth(1).and_then(|runs| runs.parse().ok());
    let Some(runs) = runs else {
        eprintln!("TRIAL=… blind RUNS, in the folder of a trial");
        return ExitCode::from(2);
    };
    let mut spoiler = Spoiler::of(files(Path::new("reached")));
    for run in 1..=runs {
        let bytes = spoiler.spoilt();
        if let Err(broken) = tried(&bytes) {
            let told = format!("{broken}\nwith {:?}", String::from_utf8_lossy(&bytes));
            eprintln!("run {run}: {told}");
            fs::write("found/blind", bytes).expect("what was found is kept");
            return ExitCode::FAILURE;
        }
        if run % TOLD_EVERY == 0 {
            println!("{run} tried");
        }
    }
    println!("{runs} tried in all");
    ExitCode::SUCCESS
}
