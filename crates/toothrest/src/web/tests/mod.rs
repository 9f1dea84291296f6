//! The bench through its own door: requests as a browser sends them, on a book of their own.

mod again;
mod bad_days;
mod bench;
mod beside;
mod cutters;
mod end;
mod machines;
mod newcomer;
mod paper;
mod take_in;
mod wheels;
