//! The check of a grind, proved by simulation: cutters are planned, ground with planted faults
//! through the real section, read with noisy instruments, and given to the check. The patterns that
//! the trade teaches come out as they are taught.
//!
//! `UPDATE_NUMBERS=1 cargo test -p checks --test diagnosis` writes the
//! tally into docs/NUMBERS.md, which is held to it otherwise.

#![expect(clippy::unwrap_used, reason = "a simulated shop that cannot be made must stop the test")]
#![expect(clippy::panic, reason = "so must a case that cannot be run")]

#[path = "diagnosis/again.rs"]
mod again;
#[path = "diagnosis/bench.rs"]
mod bench;
#[path = "diagnosis/grind.rs"]
mod grind;
#[path = "common/page.rs"]
mod page;
#[path = "diagnosis/patterns.rs"]
mod patterns;
#[path = "diagnosis/shop_floor.rs"]
mod shop_floor;
#[path = "diagnosis/tally.rs"]
mod tally;
#[path = "diagnosis/trial.rs"]
mod trial;
