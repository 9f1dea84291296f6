//! The pictures of the bench app: sound as files, clear on paper, and true when measured.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]

mod cutters;
mod every;
mod others;
#[path = "../drawings/paper.rs"]
mod paper;
mod truth;
mod words;
