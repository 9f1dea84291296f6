//! `toothrest man`: the manual, a page for each command, in the order of a man page's parts.

use std::io::{self, Write};
use std::path::Path;

use clap::Command;
use clap_mangen::Man;

use super::args::ManArguments;
use super::failure::{EXIT_CODES, Failure};
use super::file::{failed, replace};
use super::help::{self, Topic, broken, joined, topic};

/// What every page says about the surroundings.
const VARIABLES: [(&str, &str); 3] = [
    ("TOOTHREST_BOOK", "the book where --book does not name one: a path, or postgres://…"),
    ("XDG_DATA_HOME", "where the usual book lies, in its folder toothrest; else ~/.local/share"),
    ("NO_COLOR", "where it holds anything, there is no colour unless --color always asks for it"),
];

/// What stands at the foot of every page.
const SOURCE: &str = concat!("toothrest ", env!("CARGO_PKG_VERSION"));

pub(super) fn run(asked: &ManArguments) -> Result<String, Failure> {
    let mut command = help::command().disable_help_subcommand(true);
    command.build();
    std::fs::create_dir_all(&asked.folder).map_err(failed(&asked.folder))?;
    let count = write(&command, "", &asked.folder)?;
    Ok(format!("Wrote {count} pages into {}.\n", asked.folder.display()))
}

/// Writes the page of a command and of every one below it, and counts them.
fn write(command: &Command, path: &str, folder: &Path) -> Result<usize, Failure> {
    let name = joined("toothrest", path).trim_end().replace(' ', "-");
    let file = folder.join(format!("{name}.1"));
    let text = page(command, &name, topic(path)).map_err(failed(&file))?;
    replace(&file, text.as_bytes()).map_err(failed(&file))?;
    command.get_subcommands().try_fold(1, |count, below| {
        Ok(count + write(below, &joined(path, below.get_name()), folder)?)
    })
}

/// A page, the same bytes each time.
fn page(command: &Command, name: &str, topic: Option<&Topic>) -> io::Result<String> {
    let man = Man::new(command.clone()).title(name).date("").source(SOURCE).manual("Toothrest");
    let mut page = Vec::new();
    man.render_title(&mut page)?;
    man.render_name_section(&mut page)?;
    man.render_synopsis_section(&mut page)?;
    man.render_description_section(&mut page)?;
    man.render_options_section(&mut page)?;
    if command.has_subcommands() {
        man.render_subcommands_section(&mut page)?;
    }
    topic.map_or(Ok(()), |topic| examples(&mut page, topic))?;
    writeln!(page, ".SH \"EXIT STATUS\"")?;
    EXIT_CODES.iter().try_for_each(|(code, what)| item(&mut page, &code.to_string(), what))?;
    writeln!(page, ".SH ENVIRONMENT")?;
    VARIABLES.iter().try_for_each(|(variable, what)| item(&mut page, variable, what))?;
    String::from_utf8(page).map(|page| in_ascii(&page)).map_err(io::Error::other)
}

/// Letters beyond ASCII by their numbers, which every typesetter of man pages understands whatever
/// it takes a file's letters for.
fn in_ascii(page: &str) -> String {
    let plain = |letter: char| match letter.is_ascii() {
        true => letter.to_string(),
        false => format!("\\[u{:04X}]", u32::from(letter)),
    };
    page.chars().map(plain).collect()
}

fn examples(page: &mut Vec<u8>, topic: &Topic) -> io::Result<()> {
    writeln!(page, ".SH EXAMPLES")?;
    for (what, line) in topic.examples {
        let line = broken(line).iter().map(|part| escaped(part)).collect::<Vec<_>>();
        let line = line.join(" \\e\n  ");
        writeln!(page, ".PP\n{}:\n.PP\n.RS 4\n.nf\n{line}\n.fi\n.RE", escaped(what))?;
    }
    if !topic.notes.is_empty() {
        writeln!(page, ".SH NOTES")?;
    }
    topic.notes.iter().try_for_each(|note| writeln!(page, ".PP\n{}", escaped(note)))
}

fn item(page: &mut Vec<u8>, name: &str, what: &str) -> io::Result<()> {
    writeln!(page, ".TP\n\\fB{}\\fR\n{}", escaped(name), escaped(what))
}

/// A line of text that the typesetter shows as it stands: no request, no ligature of a hyphen.
fn escaped(text: &str) -> String {
    let text = text.replace('\\', "\\e").replace('-', "\\-").replace('"', "\\(dq");
    let text = text.replace('~', "\\(ti");
    if text.starts_with(['.', '\'']) { format!("\\&{text}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_of_text_is_a_request() {
        assert_eq!(escaped(".profile has --json"), "\\&.profile has \\-\\-json");
        assert_eq!(in_ascii("plan … --json"), "plan \\[u2026] --json");
        assert_eq!(escaped("a \\ and \"b\""), "a \\e and \\(dqb\\(dq");
    }
}
