//! The command line: parse, use case, render.

mod args;
mod book;
mod bundled;
mod check;
mod columns;
mod example;
mod failure;
mod give;
mod inputs;
mod made_from;
mod output;
mod place;
mod plan;
mod plan_end;
mod plan_face;
mod print;
mod progress;
mod quote;
mod remade;
mod section;
mod serve;
mod shelf;
mod sources;
mod study;
mod swivel;
mod tray;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::Parser;

use args::{Arguments, Command};
pub(crate) use book::{Finds, Held, Line, held};
pub(crate) use failure::Failure;
pub(crate) use give::wheel_and_machine_names;
pub(crate) use inputs::tables;
pub(crate) use quote::Quoted;
pub(crate) use remade::{Remade, remade};
pub(crate) use swivel::SwivelWish;
pub(crate) use tray::Ordered;

/// Runs one command; what goes wrong is said on standard error.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => return output::usage(&error),
    };
    match dispatch(arguments.command) {
        Ok(text) => output::print(&text),
        Err(failure) => output::fail(&failure),
    }
}

fn dispatch(command: Option<Command>) -> Result<String, Failure> {
    match command {
        None => serve::run(&args::ServeArguments::default()),
        Some(Command::Serve(serve)) => serve::run(&serve),
        Some(Command::Example) => example::run(),
        Some(Command::Plan(plan)) => plan::run(&plan),
        Some(Command::Check(check)) => check::run(&check),
        Some(Command::Study(study)) => study::run(&study),
        Some(Command::Book(command)) => book::run(&command),
        Some(Command::Section(section)) => section::run(&section),
        Some(Command::Swivel(swivel)) => swivel::run(&swivel),
        Some(Command::Tray(command)) => tray::run(&command),
        Some(Command::Quote(quote)) => quote::run(&quote),
        Some(Command::Give(give)) => give::run(&give),
        Some(Command::Tag(tag)) => print::tag(&tag),
        Some(Command::Deliver(deliver)) => print::deliver(&deliver),
        Some(Command::Sources(sources)) => sources::run(&sources),
    }
}
