//! The bench tool of a cutter grinder hand.

use std::process::ExitCode;

fn main() -> ExitCode {
    toothrest::cli::run(std::env::args_os())
}
