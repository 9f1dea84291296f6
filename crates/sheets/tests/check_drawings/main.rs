//! The drawings of checks: sound as files, clear on paper, and true when measured.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]

#[path = "../drawings/plans/bench.rs"]
mod bench;
mod cases;
mod cutters;
mod every;
#[path = "../drawings/paper.rs"]
mod paper;
mod planted;
mod truth;
