//! The one executable of the project: command line, bench app, files and wire shapes around the
//! crates that do the work.

pub mod cli;
mod demo;
mod desk;
pub mod files;
mod paper;
pub mod surroundings;
#[doc(hidden)]
pub mod trials;
mod web;
mod wire;

pub use wire::model_bytes;
