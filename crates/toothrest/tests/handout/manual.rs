//! The manual, looked at with groff (Debian's groff-base), and what shells complete.

use std::process::Command;

use crate::desk::{Desk, text};
use crate::taught::commands;

/// A page as it is shown, and what the typesetter complains about.
fn shown(desk: &Desk, page: &str) -> (String, String) {
    let output = Command::new("groff")
        .args(["-man", "-Tutf8", "-ww", "-P-cbou", "-rLL=100n"])
        .arg(desk.path("pages").join(page))
        .output()
        .expect("install Debian's package groff-base, as ./test does");
    (text(&output.stdout), text(&output.stderr))
}

#[test]
fn every_command_has_a_page_without_a_fault() {
    let desk = Desk::new();
    for command in commands(&desk) {
        let name = format!("toothrest {command}").trim_end().replace(' ', "-");
        let (page, faults) = shown(&desk, &format!("{name}.1"));
        assert_eq!(faults, "", "{name}");
        for part in ["NAME", "SYNOPSIS", "OPTIONS", "EXAMPLES", "EXIT STATUS", "ENVIRONMENT"] {
            assert!(page.lines().any(|line| line == part), "{name} has no {part}:\n{page}");
        }
        let words = page.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains(&format!("NAME {name} - ")), "{page}");
        assert!(page.contains("TOOTHREST_BOOK"), "{page}");
    }
}

#[test]
fn an_example_can_be_copied_from_its_page() {
    let desk = Desk::new();
    commands(&desk);
    let (page, _) = shown(&desk, "toothrest-plan.1");
    let line = "toothrest plan --cutter cutter.toml --machine machine.toml --wheel wheel.toml";
    assert!(page.lines().any(|shown| shown.trim() == line), "{page}");
    assert!(page.contains("--to-size \"0.475 in\""), "{page}");
}

#[test]
fn pages_are_the_same_bytes_each_time() {
    let desk = Desk::new();
    desk.answer("toothrest man one && toothrest man two && diff -r one two");
}

/// Sourced in bash, and asked as the shell asks when the key is pressed.
#[test]
fn bash_completes_the_commands() {
    let desk = Desk::new();
    desk.answer("toothrest completions bash > done.bash && bash -n done.bash");
    let asked = |words: &str| {
        let count = words.split(' ').count();
        let script = format!(
            "source ./done.bash; COMP_WORDS=({words} ''); COMP_CWORD={count}; \
             _toothrest toothrest '' ''; printf '%s\\n' \"${{COMPREPLY[@]}}\""
        );
        desk.answer(&format!("bash -c \"{}\"", script.replace('"', "\\\"").replace('$', "\\$")))
    };
    let first = asked("toothrest");
    for word in ["plan", "check", "book", "completions", "man"] {
        assert!(first.lines().any(|line| line == word), "{word}: {first}");
    }
    assert!(asked("toothrest book").lines().any(|line| line == "take-in"));
    for shell in ["zsh", "fish", "elvish", "powershell"] {
        let script = desk.answer(&format!("toothrest completions {shell}"));
        assert!(script.contains("take-in") && script.contains("licences"), "{shell}");
    }
}
