//! `toothrest book`, as a person runs it, on a file and on a server.

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]
#![allow(clippy::panic, reason = "a helper that stops a test is part of it")]

#[path = "book/bench.rs"]
mod bench;
#[path = "book/copies.rs"]
mod copies;
#[path = "book/keeping.rs"]
mod keeping;
#[path = "book/pin.rs"]
mod pin;
#[path = "book/serving.rs"]
mod serving;
#[path = "book/written.rs"]
mod written;
