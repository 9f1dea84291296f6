//! Pages of spoilt files and what must be said of each.

use toothrest::files::read_readings;

use super::plans::cutter;

/// A sound file to spoil, and the cutter that was read.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sound {
    pub(crate) file: &'static str,
    pub(crate) text: &'static str,
    pub(crate) cutter: &'static str,
}

pub(crate) const SECTIONS: Sound = Sound {
    file: "f.toml",
    text: include_str!("sound/sections.toml"),
    cutter: "k-117-half-inch-dull.toml",
};

pub(crate) const ROWS: Sound = Sound {
    file: "f.csv",
    text: include_str!("sound/rows.csv"),
    cutter: "k-117-half-inch-dull.toml",
};

pub(crate) const GRID: Sound = Sound {
    file: "f.csv",
    text: include_str!("sound/grid.csv"),
    cutter: "k-117-half-inch-dull.toml",
};

const ODD_SECTIONS: Sound = Sound {
    file: "f.toml",
    text: include_str!("sound/odd.toml"),
    cutter: "k-112-three-tooth-cobalt.toml",
};

const ODD_ROWS: Sound = Sound {
    file: "f.csv",
    text: include_str!("sound/odd.csv"),
    cutter: "k-112-three-tooth-cobalt.toml",
};

/// One way of spoiling a sound file, and what must be said of it.
#[derive(Debug, Default)]
struct Case<'t> {
    heading: &'t str,
    changes: Vec<(String, String)>,
    says: Vec<&'t str>,
}

/// What is said of a text.
pub(crate) fn said(sound: Sound, text: &str) -> String {
    let read = read_readings(sound.file, text, &cutter(sound.cutter));
    read.map_or_else(|problems| problems.to_string(), |_| "nothing".to_owned())
}

/// Spoils a sound file and asks for exactly these messages. Each changed piece must stand in the
/// file once, so that a case cannot spoil something else than it says.
fn check(sound: Sound, case: &Case<'_>) {
    let mut text = sound.text.to_owned();
    for (piece, replacement) in &case.changes {
        assert_eq!(text.matches(piece).count(), 1, "{piece:?} in the sound file, {case:?}");
        text = text.replacen(piece, replacement, 1);
    }
    assert_eq!(said(sound, &text), case.says.join("\n"), "\n{}: {:#?}", case.heading, case.changes);
}

/// Reads a page of cases: `# heading`, then `change`, `to` and `says` lines, a blank line after
/// each case. What stands before the first heading is for the reader of the page.
fn cases(page: &str) -> Vec<Case<'_>> {
    let (mut heading, mut found, mut case) = ("", Vec::new(), Case::default());
    for line in page.lines().skip_while(|line| !line.starts_with("# ")).chain([""]) {
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

fn check_page(sound: Sound, page: &str, count_min: usize) {
    let cases = cases(page);
    assert!(cases.len() >= count_min, "only {} cases were found", cases.len());
    cases.iter().for_each(|case| check(sound, case));
}

#[test]
fn spoilt_sections() {
    check_page(SECTIONS, include_str!("sections.txt"), 50);
}

#[test]
fn spoilt_rows() {
    check_page(ROWS, include_str!("rows.txt"), 60);
}

#[test]
fn spoilt_grids() {
    check_page(GRID, include_str!("grid.txt"), 25);
}

#[test]
fn spoilt_readings_of_odd_teeth() {
    check_page(ODD_SECTIONS, include_str!("odd_sections.txt"), 4);
    check_page(ODD_ROWS, include_str!("odd_rows.txt"), 8);
}

#[test]
fn sound_files_are_read_without_a_word() {
    for sound in [SECTIONS, ROWS, GRID, ODD_SECTIONS, ODD_ROWS] {
        assert_eq!(said(sound, sound.text), "nothing", "{}", sound.text);
    }
}

/// Files that hold too little or too much, and what is said of them as a whole.
#[test]
fn whole_files() {
    let nothing = "readings: nothing was read; write a land, a diameter or another reading";
    let headings = "there is no line of headings; write a line such as \
                    kind,tooth,from_end,reading,resolution above the readings, or tooth,3 mm,25 mm \
                    above a table of lands";
    let row = |drop: u32| format!("drop,0.5 mm,0.0{drop} mm,0.001 mm\n");
    let rows: String = (1..=401).map(row).collect();
    for (file, text, says) in [
        ("f.toml", String::new(), format!("f.toml:1: {nothing}")),
        ("f.toml", "[lands]\nresolution = \"1 um\"\n".into(), format!("f.toml:1: {nothing}")),
        ("f.csv", String::new(), format!("f.csv:1: {headings}")),
        ("f.csv", "\u{feff}# a: b\r\n\r\n,,\r\n".into(), format!("f.csv:1: {headings}")),
        ("f.CSV", "kind,reading\n".into(), format!("f.CSV:1: {nothing}")),
        (
            "f.csv",
            format!("kind,distance,reading,resolution\n{rows}"),
            "f.csv:1: readings: more than a hand takes; write at most 400".into(),
        ),
        (
            "f.csv",
            "#".repeat(500_001),
            "f.csv: far longer than such files are; write at most 500 kB into one file".into(),
        ),
        (
            "f.toml",
            "#".repeat(500_001),
            "f.toml: far longer than such files are; write at most 500 kB into one file".into(),
        ),
    ] {
        assert_eq!(said(Sound { file, ..SECTIONS }, &text), says);
    }
}
