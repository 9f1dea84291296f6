//! `toothrest tray`.

mod args;
mod order;
mod told;

use super::failure::Failure;
use args::Action;
pub(super) use args::TrayCommand;
pub(crate) use order::Ordered;

pub(super) fn run(command: &TrayCommand) -> Result<String, Failure> {
    match &command.action {
        Action::Order(order) => order::run(&command.book, order),
    }
}
