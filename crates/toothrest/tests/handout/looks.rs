//! Colour: for a person at a terminal, never for a pipe, a file or a JSON answer.

use crate::desk::{Desk, text};

const ESCAPE: char = '\u{1b}';

/// The same at a terminal, which `script` of Debian's bsdutils plays.
fn at_a_terminal(desk: &Desk, line: &str, variables: &[(&str, &str)]) -> String {
    let variables: Vec<(&str, &str)> =
        [("TERM", "xterm")].iter().chain(variables).copied().collect();
    let played = format!("script -qec '{line}' /dev/null");
    text(&desk.typed_with(&played, &variables).stdout)
}

fn without_escapes(text: &str) -> String {
    let mut parts = text.split(ESCAPE);
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |all, part| all + part.split_once('m').map_or("", |(_, rest)| rest))
}

#[test]
fn a_pipe_never_gets_an_escape() {
    let desk = Desk::new();
    desk.planned();
    desk.shop();
    for line in [
        "toothrest --help",
        "toothrest example",
        "toothrest check --plan plan.json --readings examples/readings/k-117-as-planned.toml",
        "toothrest quote --tray blue",
        "toothrest tray order",
        "toothrest book history K-117",
        "toothrest no-such-command",
        "toothrest plan --cutter missing.toml --machine m --wheel w",
    ] {
        let output = desk.typed(line);
        let (told, said) = (text(&output.stdout), text(&output.stderr));
        assert!(!told.contains(ESCAPE) && !said.contains(ESCAPE), "{line}: {told}{said}");
        assert!(!told.is_empty() || !said.is_empty(), "{line}");
    }
}

#[test]
fn rows_have_their_names_bold_and_the_same_letters() {
    let desk = Desk::new();
    desk.shop();
    for line in [
        "toothrest section examples/settings/cup.toml",
        "toothrest swivel --machine examples/machines/universal-bench.toml --relief '7 deg'",
        "toothrest tray order",
        "toothrest book history K-117",
    ] {
        let plain = desk.answer(line);
        let coloured = desk.answer(&format!("{line} --color always"));
        assert!(coloured.contains(ESCAPE), "{line}: {coloured}");
        assert_eq!(without_escapes(&coloured), plain, "{line}");
        let json = desk.answer(&format!("{line} --json --color always"));
        assert!(!json.contains(ESCAPE), "{line}");
    }
}

#[test]
fn a_sheet_that_is_asked_for_in_colour_has_the_same_letters() {
    let desk = Desk::new();
    let plain = desk.answer("toothrest example");
    let coloured = desk.answer("toothrest example --color always");
    assert!(coloured.contains(ESCAPE));
    assert_eq!(without_escapes(&coloured), plain);
    assert!(!desk.answer("toothrest --color always example --json").contains(ESCAPE));
    assert!(desk.answer("toothrest --color=always plan --help").contains(ESCAPE));
    let refused = "toothrest section missing.toml --color";
    assert!(text(&desk.typed(&format!("{refused} always")).stderr).contains(ESCAPE));
    assert!(text(&desk.typed(&format!("{refused} never")).stderr).starts_with("toothrest: "));
}

#[test]
fn a_terminal_gets_colour_unless_it_is_told_not_to() {
    let desk = Desk::new();
    assert!(at_a_terminal(&desk, "toothrest example", &[]).contains(ESCAPE));
    assert!(at_a_terminal(&desk, "toothrest --help", &[]).contains(ESCAPE));
    let plain = |line: &str, variables: &[(&str, &str)]| {
        let told = at_a_terminal(&desk, line, variables);
        assert!(told.len() > 1000 && !told.contains(ESCAPE), "{line} {variables:?}: {told}");
    };
    plain("toothrest example", &[("NO_COLOR", "1")]);
    plain("toothrest --help", &[("NO_COLOR", "1")]);
    plain("toothrest example", &[("TERM", "dumb")]);
    plain("toothrest example --color never", &[]);
    plain("toothrest --help --color never", &[]);
    plain("toothrest example --json", &[]);
}
