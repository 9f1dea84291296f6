//! The files people keep: what each refusal says, word for word; that no text at all makes a
//! reader stumble; that every example reads; and that records are written as they read.
//!
//! The expected words are this project's own; what they are held against is the promise that a
//! problem names file, line, key, value and what would be right.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]

#[path = "files/any_text.rs"]
mod any_text;
#[path = "files/examples.rs"]
mod examples;
#[path = "files/written.rs"]
mod written;

use toothrest::files::{
    FileProblems, read_cutter, read_history, read_machine, read_setting, read_wear, read_wheels,
};

/// What a file is about.
#[derive(Clone, Copy, Debug)]
enum Noun {
    Cutter,
    History,
    Machine,
    Setting,
    Wear,
    Wheel,
}

impl Noun {
    const ALL: [Self; 6] =
        [Self::Cutter, Self::History, Self::Machine, Self::Setting, Self::Wear, Self::Wheel];

    /// A sound file to spoil, short enough to count its lines by eye.
    const fn sound(self) -> &'static str {
        match self {
            Self::Cutter => include_str!("files/sound/cutter.toml"),
            Self::History => include_str!("files/sound/history.toml"),
            Self::Machine => include_str!("files/sound/machine.toml"),
            Self::Setting => include_str!("files/sound/setting.toml"),
            Self::Wear => include_str!("files/sound/wear.toml"),
            Self::Wheel => include_str!("files/sound/wheel.toml"),
        }
    }

    fn read(self, text: &str) -> Result<(), FileProblems> {
        let file = "f.toml";
        match self {
            Self::Cutter => read_cutter(file, text).map(drop),
            Self::History => {
                let cutter = read_cutter("cutter", Self::Cutter.sound()).unwrap();
                read_history(file, text, &cutter).map(drop)
            }
            Self::Machine => read_machine(file, text).map(drop),
            Self::Setting => read_setting(file, text).map(drop),
            Self::Wear => {
                let cutter = read_cutter("cutter", Self::Cutter.sound()).unwrap();
                read_wear(file, text, &cutter).map(drop)
            }
            Self::Wheel => read_wheels(file, text).map(drop),
        }
    }
}

/// One way of spoiling a sound file, and what must be said of it.
#[derive(Debug, Default)]
struct Case<'t> {
    heading: &'t str,
    changes: Vec<(String, String)>,
    says: Vec<&'t str>,
}

/// Spoils a sound file and asks for exactly these messages. Each changed piece must stand in the
/// file once, so that a case cannot spoil something else than it says.
fn check(noun: Noun, case: &Case<'_>) {
    let mut text = noun.sound().to_owned();
    for (piece, replacement) in &case.changes {
        assert_eq!(text.matches(piece).count(), 1, "{piece:?} in the sound file, {case:?}");
        text = text.replacen(piece, replacement, 1);
    }
    let said = noun.read(&text).map_or_else(|problems| problems.to_string(), |()| "nothing".into());
    assert_eq!(said, case.says.join("\n"), "\n{}: {:#?}", case.heading, case.changes);
}

/// Reads a page of cases: `# heading`, then `change`, `to` and `says` lines, a blank line after
/// each case. What stands before the first heading is for the reader of the page.
fn cases(page: &str) -> Vec<Case<'_>> {
    let (mut heading, mut found, mut case) = ("", Vec::new(), Case::default());
    for line in page.lines().skip_while(|line| !line.starts_with('#')).chain([""]) {
        let text = line.get(7..).unwrap_or_default();
        match line.split_whitespace().next() {
            Some("#") => heading = line,
            Some("change") => case.changes.push((text.replace('⏎', "\n"), String::new())),
            Some("to") => case.changes.last_mut().unwrap().1 = text.replace('⏎', "\n"),
            Some("says") => case.says.push(text),
            Some(_) => panic!("no case has a line like {line:?}"),
            None if case.says.is_empty() => {}
            None => found.push(Case { heading, ..std::mem::take(&mut case) }),
        }
    }
    found
}

fn check_page(noun: Noun, page: &str, count_min: usize) {
    let cases = cases(page);
    assert!(cases.len() >= count_min, "only {} cases were found", cases.len());
    for case in &cases {
        check(noun, case);
    }
}

#[test]
fn sound_files_are_read_without_a_word() {
    for noun in Noun::ALL {
        check(noun, &Case { says: vec!["nothing"], ..Case::default() });
    }
}

#[test]
fn spoilt_cutter_files() {
    check_page(Noun::Cutter, include_str!("files/cutter.txt"), 80);
}

#[test]
fn spoilt_wear_files() {
    check_page(Noun::Wear, include_str!("files/wear.txt"), 8);
}

#[test]
fn spoilt_history_files() {
    check_page(Noun::History, include_str!("files/history.txt"), 18);
}

#[test]
fn spoilt_machine_files() {
    check_page(Noun::Machine, include_str!("files/machine.txt"), 60);
}

#[test]
fn spoilt_wheel_files() {
    check_page(Noun::Wheel, include_str!("files/wheel.txt"), 40);
}

#[test]
fn spoilt_setting_files() {
    check_page(Noun::Setting, include_str!("files/setting.txt"), 25);
}

#[test]
fn spoilt_form() {
    check_page(Noun::Cutter, include_str!("files/form.txt"), 20);
}

#[test]
fn a_file_that_is_not_there_is_said_to_be_so() {
    let path = std::path::Path::new("no-such-bench.toml");
    let problems = toothrest::files::load(path, read_machine).unwrap_err();
    let said = problems.to_string();
    assert!(said.starts_with("no-such-bench.toml: cannot be loaded: "), "{said}");
    assert!(said.ends_with("; name a text file that can be opened"), "{said}");
    assert_eq!(problems.problems()[0].line, None);
}
