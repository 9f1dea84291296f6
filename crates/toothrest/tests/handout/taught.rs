//! Every example of every `--help` is typed as it stands.

use std::collections::BTreeSet;

use crate::desk::{Desk, root, text};

/// Commands in such an order that each finds what it needs; all others come behind.
const FIRST: [&str; 4] = ["book keep", "book take-in", "book backup", "book export"];

/// Every command, by its words behind the program's name: whatever has a page in the manual.
pub(crate) fn commands(desk: &Desk) -> Vec<String> {
    desk.answer("toothrest man pages");
    let pages = std::fs::read_dir(desk.path("pages")).unwrap();
    let name = |page: std::io::Result<std::fs::DirEntry>| {
        let name = page.unwrap().file_name().into_string().unwrap();
        let words = name.strip_suffix(".1").unwrap().strip_prefix("toothrest").unwrap();
        words.trim_start_matches('-').replace("take-in", "take_in").replace('-', " ")
    };
    let mut all: Vec<String> =
        pages.map(name).map(|one| one.replace("take_in", "take-in")).collect();
    all.sort();
    all
}

fn help(desk: &Desk, command: &str) -> String {
    desk.answer(&format!("toothrest {command} --help"))
}

/// The examples of a command's help, each put together again where it is broken.
fn examples(help: &str) -> Vec<String> {
    let below = help.split_once("\nExamples:\n").unwrap().1.replace(" \\\n      ", " ");
    let lines = below.lines().filter_map(|line| line.strip_prefix("    toothrest"));
    lines.map(|line| format!("toothrest{line}")).collect()
}

/// A bench that stays open, or one on a server, is no example to wait for; other tests open both.
fn stays_open(line: &str) -> bool {
    line.starts_with("toothrest serve") || line.contains("postgres://")
}

#[test]
fn every_example_runs_as_it_stands() {
    let desk = Desk::new();
    desk.planned();
    let rest = commands(&desk).into_iter().filter(|one| !FIRST.contains(&one.as_str()));
    let order: Vec<String> = FIRST.map(str::to_owned).into_iter().chain(rest).collect();
    let (mut count, mut done) = (0, BTreeSet::new());
    for command in &order {
        for line in examples(&help(&desk, command)) {
            if stays_open(&line) || !done.insert(line.clone()) {
                continue;
            }
            let output = desk.typed(&line);
            let said = text(&output.stderr);
            assert_eq!(output.status.code(), Some(0), "{line}: {said}");
            assert!(said.is_empty(), "{line}: {said}");
            if line.contains("--json") && !line.contains(" > ") {
                let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
                assert_eq!(answer["schema"], 1, "{line}");
            }
            count += 1;
        }
    }
    assert!(count > 60, "{count} examples were typed");
}

#[test]
fn every_help_says_what_the_command_is_for_and_how_it_ends() {
    let desk = Desk::new();
    let commands = commands(&desk);
    assert!(commands.len() > 30, "{commands:?}");
    for command in commands {
        let help = help(&desk, &command);
        let first = help.lines().next().unwrap();
        assert!(first.len() > 20, "{command}: {first}");
        assert!(examples(&help).len() + usize::from(help.contains("serve")) > 0, "{command}");
        let codes = help.split_once("\nExit codes:\n").unwrap().1;
        for code in ["  0  done", "  1  the surroundings", "  2  refused"] {
            assert!(codes.contains(code), "{command}: {codes}");
        }
        let short = desk.answer(&format!("toothrest {command} -h"));
        assert!(short.contains("Examples and exit codes: toothrest"), "{short}");
        assert!(help.lines().all(|line| line.chars().count() <= 100), "{help}");
    }
}

/// The page of messages has the same codes with the same words.
#[test]
fn the_page_of_messages_tells_the_same_exit_codes() {
    let page = std::fs::read_to_string(root().join("docs/MESSAGES.md")).unwrap();
    let rows = page.lines().filter_map(|line| line.strip_prefix("| ")?.strip_suffix(" |"));
    let rows: Vec<(&str, &str)> = rows.filter_map(|row| row.split_once(" | ")).collect();
    let help = Desk::new().answer("toothrest --help");
    let codes = help.split_once("\nExit codes:\n").unwrap().1;
    let told = codes.split_whitespace().collect::<Vec<_>>().join(" ");
    for code in ["0", "1", "2"] {
        let (_, words) = rows.iter().find(|(row, _)| *row == code).unwrap();
        assert!(told.contains(&format!("{code} {words}")), "{told} has not: {code} {words}");
    }
}

/// One way to each exit code.
#[test]
fn exit_codes_are_as_they_are_told() {
    let desk = Desk::new();
    let code = |line: &str| desk.typed(line).status.code().unwrap();
    let files = "--cutter cutter.toml --machine machine.toml --wheel wheel.toml";
    assert_eq!(code("toothrest --version"), 0);
    let hopeless = files.replace("cutter.toml", "examples/cutters/k-149-hopeless.toml");
    assert_eq!(code(&format!("toothrest plan {hopeless}")), 0);
    assert_eq!(code(&format!("toothrest plan {files} --pdf missing/folder/sheet.pdf")), 1);
    assert_eq!(code("toothrest completions bash > /dev/full"), 1);
    assert_eq!(code("toothrest plan --cutter missing.toml --machine m --wheel w"), 2);
    assert_eq!(code("toothrest plan --no-such-option"), 2);
    assert_eq!(code("toothrest book look"), 2);
    assert_eq!(code("toothrest example --write ."), 2);
}
