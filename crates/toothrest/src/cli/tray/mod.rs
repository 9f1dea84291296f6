//! `toothrest tray`.

mod args;
mod order;
mod told;

use super::failure::Failure;
use args::Action;
pub(super) use args::TrayCommand;
pub(crate) use order::Ordered;

impl TrayCommand {
    /// Whether it answers another program.
    pub(super) const fn is_file(&self) -> bool {
        match &self.action {
            Action::Order(order) => order.json,
        }
    }
}

pub(super) fn run(command: &TrayCommand) -> Result<String, Failure> {
    match &command.action {
        Action::Order(order) => order::run(&command.book, order),
    }
}
