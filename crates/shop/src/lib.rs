//! The work as functions: what a shop decides, plans and checks. No input, no output: records come
//! in, a plan goes out, and the edge turns both into files and sheets.

pub mod book;
mod bridge;
pub mod check;
mod context;
mod error;
pub mod plan;
pub mod record;

pub use context::{Cited, Ctx};
pub use error::ShopError;
