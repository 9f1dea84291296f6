//! The kernel over its whole domain, its ends and its next-to-nothings: it never panics, no number
//! that is none leaves it, its work is bounded, and what it says holds together.
//!
//! Grade D: the laws are the contract's own. A short run goes with the other tests; a long one with
//! as many set-ups as `FUZZ_CASES` says, and from another place where `FUZZ_SEED` does.

#![expect(clippy::panic, reason = "a law that is broken must stop the test and show the case")]

#[path = "fuzz/draw.rs"]
mod draw;
#[path = "fuzz/laws.rs"]
mod laws;
#[path = "fuzz/swept.rs"]
mod swept;

use std::panic::{AssertUnwindSafe, catch_unwind};

use checks::reference::random::Splitmix;

use draw::Drawn;
use laws::Tally;

/// Set-ups of the short run.
const CASES: u64 = 10_000;
const SEED: u64 = 20_261_130;

fn asked(name: &str, otherwise: u64) -> u64 {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(otherwise)
}

/// Draws one set-up and holds it to every law; says what was drawn where one breaks.
fn one(seed: u64, tally: &mut Tally) {
    let mut random = Splitmix::new(seed);
    let drawn = Drawn::new(&mut random);
    let held = catch_unwind(AssertUnwindSafe(|| laws::hold(&drawn, &mut random, tally)));
    match held {
        Ok(Ok(())) => {}
        Ok(Err(broken)) => panic!("seed {seed}: {broken}: {drawn:?}"),
        Err(_) => panic!("seed {seed}: a panic: {drawn:?}"),
    }
}

#[test]
fn the_kernel_bears_its_whole_domain() {
    let (cases, from) = (asked("FUZZ_CASES", CASES), asked("FUZZ_SEED", SEED));
    let half = cases / 2;
    let run = |range: std::ops::Range<u64>| {
        let mut tally = Tally::default();
        range.for_each(|case| one(from.wrapping_add(case.wrapping_mul(0x9E37_79B9)), &mut tally));
        tally
    };
    let tally = std::thread::scope(|scope| {
        let first = scope.spawn(|| run(0..half));
        let second = run(half..cases);
        first.join().map_or_else(|panic| std::panic::resume_unwind(panic), |it| it.with(second))
    });
    println!("{tally:?}");
    assert!(tally.sections > cases / 6, "hardly any set-up has a section: {tally:?}");
    assert!(tally.points > tally.sections / 2, "hardly any point came before a section: {tally:?}");
    let all = [tally.kisses, tally.solved, tally.ends, tally.chains, tally.solids, tally.rooms];
    assert!(all.iter().all(|count| *count > 0), "a part of the kernel was never asked: {tally:?}");
}
