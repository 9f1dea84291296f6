//! What a shop learns from its own entries: how much a regrind takes off this cutter, how many
//! lives it has left, what comes off for what the dial was fed, what a cutter costs a wheel.
//!
//! Each answer begins at the table's value and goes over to the shop's own entries as they come;
//! it says from how many entries it comes, as how many the table still counts, between which bounds
//! it lies, and which entries it set aside as wild. Nothing is dropped without being told.
//!
//! A [`CutterHistory`] is learned from by [`stock_per_grind`], [`stock_beyond_wear`] and, with
//! those, [`lives_left`]; a [`WheelHistory`] by [`dial_to_stock`] and [`wheel_wear`]. Both come out
//! of the book by [`cutter_history`] and [`wheel_history`], or out of a file; a plan takes them as
//! what is [`Known`] beforehand.

mod cutter;
mod grinds;
mod known;
mod learned;
mod lives;
mod of_book;
mod shrink;
mod wheel;
mod wheel_grinds;

pub use cutter::{expected_stock, stock_beyond_wear, stock_per_grind};
pub use grinds::{CutterGrind, CutterHistory};
pub use known::Known;
pub use learned::{Learned, LeftOut, Wild};
pub use lives::{Lives, lives_left};
pub use of_book::{OfBook, cutter_history, wheel_history};
pub use shrink::{Beforehand, Entry, Shrunk, shrunk};
pub use wheel::{dial_to_stock, wheel_wear};
pub use wheel_grinds::{WheelGrind, WheelHistory};
