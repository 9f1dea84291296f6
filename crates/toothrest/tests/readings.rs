//! Files of bench readings: that the forms agree, what each refusal says, word for word, that no
//! text at all makes a reader stumble, and that the templates and the examples read.
//!
//! The expected words are this project's own; what they are held against is the promise that a
//! problem names file, line, key, value and what would be right.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]

#[path = "readings/any_text.rs"]
mod any_text;
#[path = "readings/examples.rs"]
mod examples;
#[path = "readings/filled.rs"]
mod filled;
#[path = "readings/forms.rs"]
mod forms;
#[path = "readings/pages.rs"]
mod pages;
#[path = "readings/plans.rs"]
mod plans;
