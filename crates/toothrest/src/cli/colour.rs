//! Colour on the terminal: for a person who looks, never for a program that reads.

use std::env;
use std::ffi::OsString;
use std::io::{IsTerminal, stderr, stdout};

use clap::{ColorChoice, ValueEnum};
use console::Style;

/// When there is colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum Colour {
    /// Where a terminal shows it, and NO_COLOR is not set
    #[default]
    Auto,
    /// Behind a pipe too, as for a pager; a JSON answer and a file never have any
    Always,
    /// Nowhere
    Never,
}

impl Colour {
    /// Whether what a person reads on standard output is coloured.
    pub(super) fn on_stdout(self) -> bool {
        self.is_wanted(stdout().is_terminal())
    }

    /// Whether messages are coloured.
    pub(super) fn on_stderr(self) -> bool {
        self.is_wanted(stderr().is_terminal())
    }

    fn is_wanted(self, is_terminal: bool) -> bool {
        match self {
            Self::Always => true,
            Self::Never => false,
            Self::Auto => is_terminal && !is_set("NO_COLOR") && !is_dumb(),
        }
    }

    /// What the command line asks for, read before the command line can be: the help of a command
    /// line that is wrong has its colour too.
    pub(super) fn asked_in(arguments: &[OsString]) -> ColorChoice {
        let words: Vec<_> = arguments.iter().map(|word| word.to_string_lossy()).collect();
        let names = ["--color", "--colour"];
        let mut behind = words.iter().enumerate().filter_map(|(at, word)| {
            let (name, value) = word.split_once('=').unwrap_or((word, ""));
            let value =
                if word.contains('=') { value } else { words.get(at + 1).map_or("", |v| v) };
            names.contains(&name).then_some(value)
        });
        match behind.next_back() {
            Some("always") => ColorChoice::Always,
            Some("never") => ColorChoice::Never,
            _ if Self::Auto.on_stdout() || Self::Auto.on_stderr() => ColorChoice::Auto,
            _ => ColorChoice::Never,
        }
    }
}

/// By the convention of NO_COLOR, it counts where it holds anything.
fn is_set(variable: &str) -> bool {
    env::var_os(variable).is_some_and(|value| !value.is_empty())
}

fn is_dumb() -> bool {
    env::var_os("TERM").is_some_and(|terminal| terminal == "dumb")
}

fn style() -> Style {
    Style::new().force_styling(true)
}

/// The program's name before a message.
pub(super) fn alarm(text: &str) -> String {
    style().red().bold().apply_to(text).to_string()
}

/// A sheet for the terminal with its headings and the chosen route bold, its cautions in yellow.
/// The letters are the same as before.
pub(super) fn painted(sheet: &str) -> String {
    let mut caution = None;
    let mut text = String::with_capacity(sheet.len());
    for line in sheet.split_inclusive('\n') {
        let (line, end) = line.strip_suffix('\n').map_or((line, ""), |line| (line, "\n"));
        let inset = line.chars().take_while(|letter| *letter == ' ').count();
        let goes_on = caution.is_some_and(|from| inset > from && line.len() > inset);
        caution = match line.trim_start().starts_with("! ") {
            true => Some(inset),
            false => caution.filter(|_| goes_on),
        };
        text += &if caution.is_some() {
            style().yellow().apply_to(line).to_string()
        } else if line.trim_start().starts_with("> ") {
            style().bold().apply_to(line).to_string()
        } else {
            headed(line)
        };
        text += end;
    }
    text
}

/// Rows for the terminal: what stands first in each is bold, as far as two blanks, and a caution is
/// yellow. The letters are the same as before.
pub(super) fn painted_rows(text: &str) -> String {
    text.split_inclusive('\n').map(row).collect()
}

fn row(line: &str) -> String {
    let (line, end) = line.strip_suffix('\n').map_or((line, ""), |line| (line, "\n"));
    if line.trim_start().starts_with("! ") {
        return format!("{}{end}", style().yellow().apply_to(line));
    }
    let name = line.split("  ").next().unwrap_or_default();
    if name.is_empty() || name.len() == line.len() {
        return format!("{line}{end}");
    }
    format!("{}{}{end}", style().bold().apply_to(name), &line[name.len()..])
}

/// A line with its heading bold, where it begins with one: capitals up to two blanks.
fn headed(line: &str) -> String {
    let heading = line.split("  ").next().unwrap_or_default();
    let is_capital = |letter: char| letter.is_ascii_uppercase() || " -".contains(letter);
    if heading.len() < 2 || heading.starts_with([' ', '-']) || !heading.chars().all(is_capital) {
        return line.to_owned();
    }
    let rest = &line[heading.len()..];
    format!("{}{rest}", style().bold().apply_to(heading))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_painted_sheet_has_the_same_letters() {
        let sheet = "SET-UP SHEET  K-1\n  ! mind the\n    guard\n  next\n> one\n\nA line\nEND\n";
        let shown = painted(sheet);
        assert_eq!(console::strip_ansi_codes(&shown), sheet);
        for part in ["\u{1b}[1mSET-UP SHEET\u{1b}[0m  K-1", "\u{1b}[33m    guard", "\n  next\n"] {
            assert!(shown.contains(part), "{shown:?} has no {part:?}");
        }
        assert!(shown.contains("\nA line\n") && shown.contains("\u{1b}[1mEND\u{1b}[0m"));
    }

    #[test]
    fn painted_rows_have_the_same_letters() {
        let rows = "left bench: end\n\n1  head tilt  7 deg\n   base       91 deg\n! mind  it\nEnd";
        let shown = painted_rows(rows);
        assert_eq!(console::strip_ansi_codes(&shown), rows);
        for part in ["left bench: end\n", "\u{1b}[1m1\u{1b}[0m  head", "\u{1b}[33m! mind  it"] {
            assert!(shown.contains(part), "{shown:?} has no {part:?}");
        }
        assert!(shown.contains("\n   base") && shown.ends_with("\nEnd"), "{shown:?}");
    }

    #[test]
    fn the_last_word_on_colour_counts() {
        let asked = |words: &[&str]| {
            Colour::asked_in(&words.iter().map(OsString::from).collect::<Vec<_>>())
        };
        assert_eq!(
            asked(&["toothrest", "--color", "never", "--color=always"]),
            ColorChoice::Always
        );
        assert_eq!(asked(&["toothrest", "--colour", "never"]), ColorChoice::Never);
        assert!(Colour::Always.is_wanted(false) && !Colour::Never.is_wanted(true));
        assert!(!Colour::Auto.is_wanted(false));
    }
}
