//! The command line: parse, use case, render.

mod args;
mod beside;
mod book;
mod bundled;
mod check;
mod colour;
mod columns;
mod completions;
mod example;
mod failure;
mod file;
mod give;
mod help;
mod inputs;
mod licences;
mod made_from;
mod man;
mod output;
mod place;
mod plan;
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

use clap::FromArgMatches;

use args::{Arguments, CheckArguments, Command};
use colour::Colour;
use output::Answer;

pub(crate) use beside::{Beside, Part};
pub(crate) use book::{Finds, Held, Line, Put, held};
pub(crate) use failure::Failure;
pub(crate) use give::wheel_and_machine_names;
pub(crate) use inputs::tables;
pub(crate) use licences::Inside;
pub(crate) use made_from::{after_check, made_from};
pub(crate) use quote::Quoted;
pub(crate) use remade::{Remade, remade};
pub(crate) use swivel::SwivelWish;
pub(crate) use tray::Ordered;

/// Runs one command; what goes wrong is said on standard error.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    let arguments = match parsed(&arguments) {
        Ok(arguments) => arguments,
        Err(error) => return output::usage(&error),
    };
    match dispatch(arguments.command) {
        Ok(answer) => output::answer(&answer, arguments.color),
        Err(failure) => output::fail(&failure, arguments.color),
    }
}

fn parsed(arguments: &[OsString]) -> Result<Arguments, clap::Error> {
    let command = help::command().color(Colour::asked_in(arguments));
    Arguments::from_arg_matches(&command.try_get_matches_from(arguments)?)
}

fn dispatch(command: Option<Command>) -> Result<Answer, Failure> {
    Ok(match command {
        None => serve::run(&args::ServeArguments::default())?.into(),
        Some(Command::Serve(serve)) => serve::run(&serve)?.into(),
        Some(Command::Example(example)) => Answer::sheet(example.json, example::run(&example)?),
        Some(Command::Plan(plan)) => Answer::sheet(plan.json, plan::run(&plan)?),
        Some(Command::Check(check)) => Answer::sheet(is_file(&check), check::run(&check)?),
        Some(Command::Study(study)) => Answer::sheet(study.json, study::run(&study)?),
        Some(Command::Book(command)) => Answer::rows(command.is_file(), book::run(&command)?),
        Some(Command::Section(section)) => Answer::rows(section.json, section::run(&section)?),
        Some(Command::Swivel(swivel)) => Answer::rows(swivel.json, swivel::run(&swivel)?),
        Some(Command::Tray(command)) => Answer::rows(command.is_file(), tray::run(&command)?),
        Some(Command::Quote(quote)) => Answer::sheet(quote.json, quote::run(&quote)?),
        Some(Command::Give(give)) => give::run(&give)?.into(),
        Some(Command::Tag(tag)) => print::tag(&tag)?.into(),
        Some(Command::Deliver(deliver)) => print::deliver(&deliver)?.into(),
        Some(Command::Sources(sources)) => sources::run(&sources)?.into(),
        Some(Command::Completions(shell)) => completions::run(&shell)?.into(),
        Some(Command::Man(man)) => man::run(&man)?.into(),
        Some(Command::Licences(licences)) => licences::run(&licences)?.into(),
    })
}

/// Whether a check answers with a file: JSON, or a form to fill in.
const fn is_file(check: &CheckArguments) -> bool {
    check.json || check.template
}
