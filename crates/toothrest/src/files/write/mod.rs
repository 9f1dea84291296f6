//! Records written as the files that people keep, in the very form that the readers beside this
//! module read: what is written reads back as an equal record.
//!
//! Space around a name is the one thing that is not kept, since no reader keeps it.

mod cutter;
mod history;
mod machine;
mod page;
mod quantity;
mod readings;
mod wheel;

pub use cutter::{cutter_text, wear_text};
pub use history::history_text;
pub use machine::machine_text;
pub(super) use page::quoted;
pub(crate) use quantity::length_words;
pub use readings::readings_text;
pub use wheel::wheel_text;
