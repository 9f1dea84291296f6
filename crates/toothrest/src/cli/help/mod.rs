//! What `--help` and the man pages teach: for every command examples that run as they stand, what
//! else is good to know, and the exit codes.
//!
//! The examples name files of the folder that `toothrest example --write FOLDER` makes, so that
//! whoever reads them can run them there.

mod book;
mod give;
mod shop;
mod work;

use clap::{Command, CommandFactory};

use super::args::Arguments;
use super::failure::EXIT_CODES;

/// What is taught about one command.
pub(super) struct Topic {
    /// The command's words behind the program's name; none for the program itself.
    path: &'static str,
    /// Each with what it is for, and the line as it is typed.
    pub(super) examples: &'static [(&'static str, &'static str)],
    /// What else is good to know, a paragraph each.
    pub(super) notes: &'static [&'static str],
}

/// The topics, in the order of the work.
fn topics() -> impl Iterator<Item = &'static Topic> {
    [work::TOPICS, shop::TOPICS, book::TOPICS, give::TOPICS].into_iter().flatten()
}

/// What is taught about a command, by its words behind the program's name.
pub(super) fn topic(path: &str) -> Option<&'static Topic> {
    topics().find(|topic| topic.path == path)
}

/// The command line with all that is taught about it.
pub(super) fn command() -> Command {
    taught(Arguments::command(), "")
}

fn taught(command: Command, path: &str) -> Command {
    let names = command.get_subcommands().map(|one| one.get_name().to_owned());
    let names: Vec<String> = names.collect();
    let command = names.iter().fold(command, |command, name| {
        command.mut_subcommand(name, |inner| taught(inner, &joined(path, name)))
    });
    match topic(path) {
        Some(topic) => command.after_help(topic.short()).after_long_help(topic.long()),
        None => command,
    }
}

/// The words of a command below another.
pub(super) fn joined(path: &str, name: &str) -> String {
    format!("{path} {name}").trim_start().to_owned()
}

impl Topic {
    /// What stands below the short help.
    fn short(&self) -> String {
        let command = joined("toothrest", self.path);
        format!("Examples and exit codes: {} --help", command.trim_end())
    }

    /// What stands below the whole help.
    fn long(&self) -> String {
        let mut text = String::from("Examples:\n");
        for (what, line) in self.examples {
            let line = broken(line).join(" \\\n      ");
            text += &format!("  {what}:\n    {line}\n");
        }
        self.notes.iter().for_each(|note| text += &format!("\n{note}\n"));
        text += "\nExit codes:\n";
        EXIT_CODES.iter().for_each(|(code, what)| text += &hanging(*code, what));
        text
    }
}

/// A code with what it says, lines after the first set in as far as the words.
fn hanging(code: u8, what: &str) -> String {
    let mut lines = vec![format!("  {code} ")];
    for word in what.split(' ') {
        match lines.last_mut() {
            Some(last) if last.chars().count() + word.chars().count() < COLUMNS_MAX => {
                *last += &format!(" {word}");
            }
            _ => lines.push(format!("     {word}")),
        }
    }
    lines.join("\n") + "\n"
}

/// The longest line of an example that is shown, so that a window of 100 columns does not break it.
const COLUMNS_MAX: usize = 88;

/// A line broken before its options, as a shell reads it on with a backslash at each end.
pub(super) fn broken(line: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for part in line.split(" --") {
        let option = if lines.is_empty() { part.to_owned() } else { format!("--{part}") };
        match lines.last_mut() {
            Some(last) if last.chars().count() + option.chars().count() < COLUMNS_MAX => {
                *last = format!("{last} {option}");
            }
            _ => lines.push(option),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paths(command: &Command, path: &str) -> Vec<String> {
        let below = command.get_subcommands().filter(|one| one.get_name() != "help");
        let below = below.flat_map(|one| paths(one, &joined(path, one.get_name())));
        std::iter::once(path.to_owned()).chain(below).collect()
    }

    /// The words of a line as a shell takes them apart, as far as the examples need it.
    fn words(line: &str) -> Vec<String> {
        let (mut words, mut is_quoted, mut is_new) = (Vec::<String>::new(), false, true);
        for letter in line.chars() {
            match letter {
                '"' => is_quoted = !is_quoted,
                ' ' if !is_quoted => is_new = true,
                _ => {
                    if std::mem::take(&mut is_new) {
                        words.push(String::new());
                    }
                    if let Some(word) = words.last_mut() {
                        word.push(letter);
                    }
                }
            }
        }
        words
    }

    #[test]
    fn every_command_is_taught_and_nothing_else() {
        let paths = paths(&command(), "");
        for path in &paths {
            assert!(topic(path).is_some_and(|topic| !topic.examples.is_empty()), "{path:?}");
        }
        for topic in topics() {
            assert!(paths.iter().any(|path| path == topic.path), "no command {:?}", topic.path);
        }
        assert_eq!(paths.len(), topics().count(), "a command is taught twice");
    }

    #[test]
    fn every_example_is_a_command_line_of_its_command() {
        for topic in topics() {
            for (what, line) in topic.examples {
                let typed = line.split_once(" > ").map_or(*line, |(typed, _)| typed);
                let read = command().try_get_matches_from(words(typed));
                // What asks for help is answered before anything is read.
                assert!(read.is_ok() || line.contains(" help "), "{line}: {read:?}");
                let parts = broken(line);
                let longest = parts.iter().map(|part| part.chars().count()).max();
                assert!(longest <= Some(COLUMNS_MAX), "{line} cannot be broken");
                assert_eq!(parts.join(" "), *line);
                assert!(!what.ends_with(['.', ':']), "{what}");
            }
        }
    }

    #[test]
    fn commands_are_sound() {
        command().debug_assert();
    }
}
