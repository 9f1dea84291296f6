//! `toothrest tray` and the set-up by practice that it goes by.

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]

#[path = "book/bench.rs"]
mod bench;
#[path = "tray/orders.rs"]
mod orders;
#[path = "tray/practice.rs"]
mod practice;
#[path = "book/written.rs"]
mod written;
