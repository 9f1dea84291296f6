//! The only place that writes to the terminal, but for the progress of long work.

use std::io::{ErrorKind, Write};
use std::process::ExitCode;

use super::failure::Failure;
use crate::files::plain;

/// Writes an answer to standard output. A reader that has gone away, as behind a pipe, is no
/// failure.
pub(super) fn print(text: &str) -> ExitCode {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) if error.kind() == ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(source) => {
            let what = "the answer, on standard output".to_owned();
            fail(&Failure::Write { what, source })
        }
    }
}

/// Says on standard error what went wrong; a question to another program is an answer.
pub(super) fn fail(failure: &Failure) -> ExitCode {
    if let Failure::AskedInJson(answer) | Failure::FaultsInJson(answer) = failure {
        print(answer);
        return ExitCode::from(failure.exit_code());
    }
    // Where even standard error is closed, the exit code is all that can be said.
    let said: Vec<String> = failure.to_string().lines().map(plain).collect();
    let _ = writeln!(std::io::stderr().lock(), "toothrest: {}", said.join("\n"));
    ExitCode::from(failure.exit_code())
}

/// Help and version go to standard output, mistakes on the command line to standard error.
pub(super) fn usage(error: &clap::Error) -> ExitCode {
    let _ = error.print();
    ExitCode::from(if error.use_stderr() { 2 } else { 0 })
}
