//! `toothrest book`.

mod args;
mod copies;
mod look;

use super::failure::Failure;
use args::Action;
pub(super) use args::BookCommand;
pub(crate) use look::Held;

pub(super) fn run(command: &BookCommand) -> Result<String, Failure> {
    let book = &command.book;
    match &command.action {
        Action::Look(look) => look::run(book, look),
        Action::Check(check) => copies::check(book, check),
        Action::Backup(backup) => copies::backup(book, backup),
        Action::Restore(restore) => copies::restore(book, restore),
        Action::Export(export) => copies::export(book, export),
        Action::Import(import) => copies::import(book, import),
    }
}
