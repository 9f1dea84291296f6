//! Doors for whoever tries the program with odd input: what is read inside it, without a process
//! and without a socket. The tests `trials` and the workspace `fuzz` come in by them, and nothing
//! else.

use std::path::Path;

use axum::Router;
use book::{Book, Place};

use crate::cli::{after_check, made_from};
use crate::desk::Desk;
use crate::web::demo_bench;

/// Reads a plan's JSON answer back, and writes what it was made from as such an answer holds it.
///
/// # Errors
/// What is wrong with it, in words.
pub fn plan_answer(text: &str) -> Result<String, String> {
    let read = made_from("plan.json", text).map_err(|failure| failure.to_string())?;
    serde_json::to_string(&read.inputs).map_err(|error| error.to_string())
}

/// Reads a check's JSON answer back, and writes what the grind after it is made from.
///
/// # Errors
/// What is wrong with it, in words.
pub fn check_answer(text: &str) -> Result<String, String> {
    let inputs = after_check("check.json", text).map_err(|failure| failure.to_string())?;
    serde_json::to_string(&inputs).map_err(|error| error.to_string())
}

/// The bench on an empty book in a folder, with the demo shop set up beside it. It answers to
/// `localhost`.
///
/// # Errors
/// What is wrong with the folder, in words.
pub async fn bench(folder: &Path) -> Result<Router, String> {
    let place = Place::File(folder.join("book.sqlite"));
    let book = Book::open(&place).await.map_err(|error| error.to_string())?;
    demo_bench(Desk::new(book)).await.map_err(|failure| failure.to_string())
}
