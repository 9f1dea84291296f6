//! The drawings and models of plans: sound as files, clear on paper, and true when measured.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]

mod every;
mod labels;
mod model;
mod paper;
mod plans;
mod truth;
