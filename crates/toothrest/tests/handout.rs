//! The command line as a newcomer meets it: its help, its manual, its completions, its colours,
//! its answers for programs and its exit codes.

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]

#[path = "handout/answers.rs"]
mod answers;
#[path = "handout/desk.rs"]
mod desk;
#[path = "handout/looks.rs"]
mod looks;
#[path = "handout/manual.rs"]
mod manual;
#[path = "handout/taught.rs"]
mod taught;
