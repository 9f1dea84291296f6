//! The shop's book on SQLite and PostgreSQL: the only place that knows SQL.
//!
//! What a history is, what may be added to it and what it comes to is the business of `shop::book`;
//! this crate keeps it. Every write is one transaction, and what it answers has reached the disk.

mod backup;
mod body;
mod book;
mod drive;
mod engine;
mod examine;
pub mod files;
mod look;
mod migrate;
mod place;
mod read;
mod rows;
mod session;
mod sql;
mod sum;
mod write;

pub use backup::{begin_file, restore, unfinished};
pub use body::{Stored, VERSION, decode, encode, version_of};
pub use book::Book;
pub use migrate::FORM;
pub use place::Place;
pub use sum::SUM_ENDING;
