//! The bench app: pages for a tablet, drawn on this machine, that ask nothing of any network.
//!
//! A handler parses what came, calls a use case or the desk, and draws a page. Pages work without
//! scripts; with them, figures follow as they are typed.

mod assets;
mod connections;
mod copies;
mod demo;
mod fault;
mod form;
mod guard;
#[cfg(test)]
mod hardening;
mod hex;
mod interface;
mod jobs;
#[cfg(test)]
mod office;
mod page;
mod pages;
mod serve;
#[cfg(test)]
mod signing_in;
mod state;
#[cfg(test)]
mod testing;
mod visit;

#[cfg(test)]
mod tests;

pub(crate) use demo::demo_bench;
pub(crate) use form::Entries;
pub(crate) use pages::{FormKind, TriedBench};
pub(crate) use serve::{Serve, address, serve, usual_address};

/// The main pages, by name and path.
pub(crate) const PLACES: [(&str, &str); 6] = [
    ("tray", "/"),
    ("wheels", "/wheels"),
    ("machines", "/machines"),
    ("tables", "/tables"),
    ("day", "/day"),
    ("book", "/book"),
];
