//! The bench through its own door: requests as a browser sends them, on a book of their own.

mod bench;
mod cutters;
mod machines;
mod paper;
mod wheels;
