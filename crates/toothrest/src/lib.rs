//! The one executable of the project: command line, files and wire shapes around the crates that
//! do the work.

pub mod cli;
pub mod files;
mod wire;

pub use wire::model_bytes;
