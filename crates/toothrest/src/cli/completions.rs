//! `toothrest completions`.

use super::args::CompletionsArguments;
use super::failure::Failure;
use super::help;

/// The name under which the program is called.
const NAME: &str = "toothrest";

pub(super) fn run(asked: &CompletionsArguments) -> Result<String, Failure> {
    let mut bytes = Vec::new();
    clap_complete::generate(asked.shell, &mut help::command(), NAME, &mut bytes);
    String::from_utf8(bytes).map_err(|error| Failure::Write {
        what: "the completions".to_owned(),
        source: std::io::Error::other(error),
    })
}
