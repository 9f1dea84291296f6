//! `toothrest give`: what other programs read.

mod args;
mod assets;
mod drawing;
mod gathered;
mod lists;
mod offsets;
mod out;
mod solid;

use super::failure::Failure;
pub(super) use args::GiveCommand;
use args::Given;
pub(crate) use gathered::wheel_and_machine_names;

pub(super) fn run(command: &GiveCommand) -> Result<String, Failure> {
    match &command.what {
        Given::List(list) => lists::run(list),
        Given::Symbols(symbols) => lists::symbols(symbols),
        Given::Assets(assets) => assets::run(assets),
        Given::Offsets(offsets) => offsets::run(offsets),
        Given::Section(section) => drawing::section(section),
        Given::Outline(outline) => drawing::outline(outline),
        Given::Solid(solid) => solid::run(solid),
    }
}
