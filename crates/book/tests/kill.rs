//! A writer is killed at random moments; nothing that it acknowledged is lost. `KILLS` asks for a
//! longer run; one of a thousand stands in `benches`.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]
#![allow(clippy::print_stdout, reason = "what is left out or was done is told in a plain word")]

mod common;
#[path = "kill/harness.rs"]
mod harness;

/// How often, in a run of all tests.
const KILLS: u32 = 30;
/// How often on a server, whose own end this is not.
const KILLS_ON_SERVER: u32 = 10;

fn main() {
    if harness::write_if_asked() || is_left_out() {
        return;
    }
    let (folder, place) = common::places::file();
    let kills = std::env::var("KILLS").ok().and_then(|kills| kills.parse().ok()).unwrap_or(KILLS);
    let tally = harness::kill(&place.to_string(), kills);
    println!("killed writers on SQLite: {tally:?}");
    assert!(tally.acknowledged > u64::from(kills), "too little was written to prove anything");
    drop(folder);
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    if let Some(book::Place::Server(address)) = runtime.block_on(common::places::server()) {
        let tally = harness::kill(&address, KILLS_ON_SERVER);
        println!("killed writers on PostgreSQL: {tally:?}");
    }
    println!("test result: ok. 1 passed; 0 failed");
}

/// Whether the command line asks for other tests only.
fn is_left_out() -> bool {
    let mut asked =
        std::env::args().skip(1).filter(|argument| !argument.starts_with('-')).peekable();
    asked.peek().is_some() && !asked.any(|filter| "kill".contains(&filter))
}
