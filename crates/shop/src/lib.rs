//! The work as functions: what a shop decides, plans, checks, learns and reckons. No input, no
//! output: records come in, a plan goes out, and the edge turns both into files and sheets.

pub mod book;
mod bridge;
pub mod check;
mod context;
pub mod cost;
mod error;
pub mod learn;
pub mod plan;
pub mod pose;
pub mod record;
pub mod study;
pub mod tray;

pub use context::{Cited, Ctx};
pub use error::ShopError;
pub use geometry::quantity::shortened;
