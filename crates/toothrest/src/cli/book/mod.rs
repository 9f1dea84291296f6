//! `toothrest book`.

mod args;
mod copies;
mod find;
mod history;
mod keep;
mod look;
mod pin;
pub(super) mod subjects;
mod take_in;
mod token;
mod told;

use super::failure::Failure;
use args::Action;
pub(super) use args::BookCommand;
pub(crate) use find::Finds;
pub(crate) use history::Line;
pub(crate) use keep::Put;
pub(crate) use look::{Held, held};

impl BookCommand {
    /// Whether it answers otherwise than with the rows of a history.
    pub(super) const fn is_file(&self) -> bool {
        match &self.action {
            Action::History(history) => history.json,
            _ => true,
        }
    }
}

pub(super) fn run(command: &BookCommand) -> Result<String, Failure> {
    let book = &command.book;
    match &command.action {
        Action::Look(look) => look::run(book, look),
        Action::Check(check) => copies::check(book, check),
        Action::Backup(backup) => copies::backup(book, backup),
        Action::Restore(restore) => copies::restore(book, restore),
        Action::Export(export) => copies::export(book, export),
        Action::Import(import) => copies::import(book, import),
        Action::History(history) => history::run(book, history),
        Action::Find(find) => find::run(book, find),
        Action::Keep(keep) => keep::run(book, keep),
        Action::TakeIn(list) => take_in::run(book, list),
        Action::Pin(pin) => pin::run(book, pin),
        Action::Token(token) => token::run(book, token),
    }
}
