//! What is printed: every sheet as a PDF, read back by a general reader, and tags whose codes are
//! read from their picture.
//!
//! The reader is Poppler (Debian's package poppler-utils), which knows nothing of the writer. With
//! `PAPERS_TO` naming a folder, every sheet is kept there to be looked at.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]

mod codes;
mod given;
mod pdf;
#[path = "../drawings/plans/mod.rs"]
mod plans;
mod poppler;
mod scenes;
mod sheets_of;
