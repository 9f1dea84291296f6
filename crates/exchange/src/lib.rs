//! What other programs read and write. Bytes and text come in, bytes and text go out; files, clock
//! and net are for whoever calls.
//!
//! The shapes of files live here only. What comes in becomes the sound records of `shop`, with a
//! list of everything that is wrong; nothing is guessed and nothing is dropped in silence.

pub mod asset;
pub mod curve;
pub mod list;
pub mod offset;
pub mod solid;
pub mod symbol;
