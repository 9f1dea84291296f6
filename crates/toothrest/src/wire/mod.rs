//! The shapes of JSON answers. They are converted by hand from what the work returns, so that a
//! change of the work cannot change a promise to other programs unseen.

mod around;
mod book;
mod check;
mod correction;
mod corrective;
mod diagnosis;
mod done;
mod end;
mod face;
mod inputs;
mod learned;
mod list;
mod model;
mod observed;
mod offsets;
mod parts;
mod plan;
mod quote;
mod room;
mod round;
mod section;
mod sources;
mod study;
mod swivel;
mod take_in;
mod tray;

pub(crate) use book::{check_book, finds, history, look};
pub(crate) use check::{check, questions};
pub(crate) use corrective::again;
pub(crate) use done::{kept, licences, moved, printed, token, withdrawn};
pub(crate) use end::end;
pub(crate) use face::face;
pub(crate) use inputs::{AfterCheck, Inputs, NamedText};
pub(crate) use list::list;
pub use model::model_bytes;
pub(crate) use offsets::offsets;
pub(crate) use plan::plan;
pub(crate) use quote::quote;
pub(crate) use round::ball;
pub(crate) use section::section;
pub(crate) use sources::{bibliography, sources, topics};
pub(crate) use study::study;
pub(crate) use swivel::swivel;
pub(crate) use take_in::take_in;
pub(crate) use tray::tray;

/// Version of the JSON shapes; it grows when a key changes its meaning or goes away.
pub(crate) const SCHEMA_VERSION: u32 = 1;
