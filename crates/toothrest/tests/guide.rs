//! The user's guide is true: every command in it is typed as it stands, what it shows is what the
//! program says, and its pictures are those that the program draws.
//!
//! `UPDATE_GUIDE=1 cargo test -p toothrest --test guide` draws the pictures anew. Those of the
//! bench app are taken by `npm run --prefix checks/browser guide`.

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]

#[path = "handout/desk.rs"]
mod desk;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use desk::{Desk, root, text};

/// The most that a picture of the guide may weigh, in bytes: it is fetched with the source.
const PICTURE_BYTES_MAX: u64 = 200_000;

fn folder() -> PathBuf {
    root().join("docs/guide")
}

/// Every chapter with its text, in order.
fn chapters() -> Vec<(String, String)> {
    let names = fs::read_dir(folder()).unwrap().map(|one| one.unwrap().file_name());
    let names = names.map(|name| name.into_string().unwrap()).filter(|name| name.ends_with(".md"));
    let names: BTreeSet<String> = names.collect();
    let chapter = |name: String| {
        let text = fs::read_to_string(folder().join(&name)).unwrap();
        (name, text)
    };
    names.into_iter().map(chapter).collect()
}

/// The lines of all blocks of one kind: `sh` is typed, `text` is what comes out.
fn blocks<'a>(chapter: &'a str, kind: &str) -> Vec<&'a str> {
    let mut inside = None;
    let mut lines = Vec::new();
    for line in chapter.lines() {
        match (line.strip_prefix("```"), inside) {
            (Some(opened), None) => inside = Some(opened),
            (Some(_), Some(_)) => inside = None,
            (None, Some(opened)) if opened == kind => lines.push(line),
            _ => {}
        }
    }
    lines
}

/// What is typed, as one script that stops where a command fails, or where one does not that is
/// shown to fail.
fn script(chapter: &str) -> String {
    let line = |line: &str| match line.strip_prefix("! ") {
        Some(refused) => format!("if {refused}; then echo \"not refused: {refused}\"; exit 9; fi"),
        None => line.to_owned(),
    };
    // A command that goes on over a line is one, refused or not.
    let typed = blocks(chapter, "sh").join("\n").replace("\\\n", " ");
    let lines: Vec<String> = typed.lines().map(line).collect();
    format!("set -e\nexec 2>&1\n{}\n", lines.join("\n"))
}

/// The pictures that a chapter shows, by the names of their files.
fn pictures(chapter: &str) -> Vec<&str> {
    let links = chapter.split("](pictures/").skip(1);
    links.filter_map(|rest| rest.split(')').next()).collect()
}

/// Holds a picture that was drawn beside the one of the guide.
fn check_picture(name: &str, drawn: &Path) {
    let kept = folder().join("pictures").join(name);
    assert!(drawn.exists(), "no command drew {name}");
    let drawn = fs::read(drawn).unwrap();
    if std::env::var_os("UPDATE_GUIDE").is_some() {
        fs::write(&kept, &drawn).unwrap();
    }
    let is_same = fs::read(&kept).is_ok_and(|kept| kept == drawn);
    assert!(is_same, "{name} looks otherwise now; UPDATE_GUIDE=1 draws it anew");
}

#[test]
fn every_command_of_the_guide_runs_and_says_what_is_shown() {
    let mut count = 0;
    for (name, chapter) in chapters() {
        let desk = Desk::empty();
        let output = desk.typed(&script(&chapter));
        let told = text(&output.stdout);
        assert!(output.status.success(), "{name}: {:?}\n{told}", output.status);
        for line in blocks(&chapter, "text") {
            assert!(told.contains(line.trim()), "{name} shows {line:?}, and not:\n{told}");
        }
        let drawn = pictures(&chapter).into_iter().filter(|picture| picture.ends_with(".svg"));
        drawn.for_each(|one| check_picture(one, &desk.path("bench/pictures").join(one)));
        count += blocks(&chapter, "sh").len();
    }
    assert!(count > 60, "{count} lines were typed");
}

#[test]
fn every_picture_is_there_and_shown() {
    let shown: BTreeSet<String> = chapters()
        .iter()
        .flat_map(|(_, chapter)| {
            pictures(chapter).into_iter().map(str::to_owned).collect::<Vec<_>>()
        })
        .collect();
    let there: BTreeSet<String> = fs::read_dir(folder().join("pictures"))
        .unwrap()
        .map(|one| one.unwrap().file_name().into_string().unwrap())
        .collect();
    assert_eq!(shown, there);
    for name in there {
        let bytes = fs::metadata(folder().join("pictures").join(&name)).unwrap().len();
        assert!(bytes <= PICTURE_BYTES_MAX, "{name} has {bytes} bytes");
    }
}

#[test]
fn every_chapter_is_in_the_list() {
    let chapters = chapters();
    let (_, list) = chapters.iter().find(|(name, _)| name == "README.md").unwrap();
    for (name, _) in chapters.iter().filter(|(name, _)| name != "README.md") {
        assert!(list.contains(&format!("]({name})")), "README.md of the guide has no {name}");
    }
}
