//! The only place that writes to the terminal, but for the progress of long work.

use std::io::{ErrorKind, Write};
use std::process::ExitCode;

use clap::Args;
use serde::Serialize;

use super::colour::{Colour, alarm, painted, painted_rows};
use super::failure::Failure;
use crate::files::plain;

/// Whether the answer is for another program.
#[derive(Clone, Copy, Debug, Default, Args)]
pub(super) struct JsonArguments {
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// What a command answers.
pub(super) struct Answer {
    text: String,
    /// How it is painted where a person reads it; none where it goes out byte for byte.
    paint: Option<fn(&str) -> String>,
}

impl Answer {
    /// A sheet for a person, unless it was asked for in JSON or as another file.
    pub(super) fn sheet(is_for_programs: bool, text: String) -> Self {
        Self { text, paint: (!is_for_programs).then_some(painted) }
    }

    /// Rows for a person, each with its name first, unless they were asked for in JSON.
    pub(super) fn rows(is_for_programs: bool, text: String) -> Self {
        Self { text, paint: (!is_for_programs).then_some(painted_rows) }
    }
}

impl From<String> for Answer {
    /// What goes out byte for byte.
    fn from(text: String) -> Self {
        Self { text, paint: None }
    }
}

/// The words of an answer, or the answer in JSON where that is asked for.
pub(super) fn told<T: Serialize>(
    json: &JsonArguments,
    answer: impl FnOnce() -> T,
    words: String,
) -> Result<String, Failure> {
    Ok(if json.json { serde_json::to_string_pretty(&answer())? + "\n" } else { words })
}

/// Writes an answer to standard output, in colour where that is wanted.
pub(super) fn answer(answer: &Answer, colour: Colour) -> ExitCode {
    match answer.paint.filter(|_| colour.on_stdout()) {
        Some(paint) => print(&paint(&answer.text)),
        None => print(&answer.text),
    }
}

/// Writes to standard output. A reader that has gone away, as behind a pipe, is no failure.
pub(super) fn print(text: &str) -> ExitCode {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) if error.kind() == ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(source) => {
            let what = "the answer, on standard output".to_owned();
            fail(&Failure::Write { what, source }, Colour::Auto)
        }
    }
}

/// Says on standard error what went wrong; a question to another program is an answer.
pub(super) fn fail(failure: &Failure, colour: Colour) -> ExitCode {
    if let Failure::AskedInJson(answer) | Failure::FaultsInJson(answer) = failure {
        print(answer);
        return ExitCode::from(failure.exit_code());
    }
    let name = "toothrest:";
    let name = if colour.on_stderr() { alarm(name) } else { name.to_owned() };
    // Where even standard error is closed, the exit code is all that can be said.
    let said: Vec<String> = failure.to_string().lines().map(plain).collect();
    let _ = writeln!(std::io::stderr().lock(), "{name} {}", said.join("\n"));
    ExitCode::from(failure.exit_code())
}

/// Says on standard error what a hand should know beside the answer.
pub(super) fn mind(remark: &str) {
    // Where standard error is closed nobody is there to be told.
    let _ = writeln!(std::io::stderr().lock(), "Mind: {}", plain(remark));
}

/// Help and version go to standard output, mistakes on the command line to standard error.
pub(super) fn usage(error: &clap::Error) -> ExitCode {
    let _ = error.print();
    ExitCode::from(if error.use_stderr() { 2 } else { 0 })
}
