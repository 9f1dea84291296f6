//! The check as a person runs it: forms to fill in, what the sheet and the JSON answer say of a
//! grind, what is asked, and what is refused.
//!
//! Lands are planted by the real section that the plan leaves; whether the check finds what was
//! planted is proved elsewhere, by simulation. Here it must be said, in the right words.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]

#[path = "check/again.rs"]
mod again;
#[path = "check/answers.rs"]
mod answers;
#[path = "check/bench.rs"]
mod bench;
#[path = "check/examples.rs"]
mod examples;
#[path = "check/faults.rs"]
mod faults;
#[path = "check/forms.rs"]
mod forms;
#[path = "check/refusals.rs"]
mod refusals;
#[path = "check/sheets.rs"]
mod sheets;
