//! What the program writes for the printer, looked at with Poppler (Debian's poppler-utils).

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]

#[path = "book/bench.rs"]
mod bench;

use std::process::Command;

use bench::{Bench, text};

const PLAN: [&str; 7] = [
    "plan",
    "--cutter",
    "examples/cutters/k-117-half-inch-dull.toml",
    "--machine",
    "examples/machines/left-bench.toml",
    "--wheel",
    "examples/wheels/w-05-flaring-cup-cbn.toml",
];

fn poppler(program: &str, file: &str) -> String {
    let after = if program == "pdftotext" { vec![file, "-"] } else { vec![file] };
    let output = Command::new(program).args(after).output();
    let output = output.expect("install Debian's package poppler-utils, as ./test does");
    text(&output.stdout).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_paper_follows_the_units_unless_it_is_named() {
    let bench = Bench::new();
    let size = |more: &[&str]| {
        let file = bench.beside("sheet.pdf");
        bench.answer(&[&PLAN[..], &["--pdf", &file], more].concat());
        poppler("pdfinfo", &file)
    };
    assert!(size(&[]).contains("612 x 792 pts"), "{}", size(&[]));
    assert!(size(&["--units", "mm"]).contains("(A4)"));
    assert!(size(&["--paper", "a4"]).contains("(A4)"));
    assert!(size(&["--units", "mm", "--paper", "letter"]).contains("612 x 792 pts"));
}

#[test]
fn the_same_files_and_date_give_the_same_bytes() {
    let bench = Bench::new();
    let written = |name: &str, date: &str| {
        let file = bench.beside(name);
        bench.answer(&[&PLAN[..], &["--pdf", &file, "--date", date]].concat());
        std::fs::read(file).unwrap()
    };
    assert!(written("one.pdf", "2031-03-05") == written("two.pdf", "2031-03-05"));
    assert!(written("one.pdf", "2031-03-05") != written("two.pdf", "2031-03-06"));
    let said = poppler("pdftotext", &bench.beside("one.pdf"));
    for words in ["SET-UP SHEET K-117", "2031-03-05", "digest of its files", "page 1 of 1"] {
        assert!(said.contains(words), "{words}: {said}");
    }
}

#[test]
fn a_shop_prints_its_trays_quotes_cards_tags_and_notes() {
    let bench = Bench::new();
    bench.shop();
    let file = bench.beside("paper.pdf");
    let printed = |arguments: &[&str]| {
        bench.answer(&[arguments, &["--pdf", &file]].concat());
        poppler("pdftotext", &file)
    };
    let tray = printed(&["tray", "order", "--tray", "blue"]);
    assert!(tray.contains("TRAY LIST blue") && tray.contains("K-149"), "{tray}");
    let quote = printed(&["quote", "--tray", "blue", "--date", "2031-03-05"]);
    assert!(quote.contains("QUOTE blue") && quote.contains("2031-03-05"), "{quote}");
    let card = printed(&["book", "history", "K-117"]);
    assert!(card.contains("RECORD CARD cutter K-117"), "{card}");
    let tag = printed(&["tag", "K-117", "--labels", "examples/labels/roll-62.toml"]);
    assert!(tag.contains("K-117") && tag.contains("NOT NOMINAL"), "{tag}");
    let note = printed(&["deliver", "K-117", "K-104", "--lot", "blue", "--to", "mill 2"]);
    assert!(note.contains("DELIVERY NOTE blue") && note.contains("To mill 2"), "{note}");
}

#[test]
fn what_cannot_be_printed_is_refused_and_leaves_no_file() {
    let bench = Bench::new();
    bench.shop();
    let file = bench.beside("never.pdf");
    let refused = |arguments: &[&str], reason: &str| {
        bench.refused(&[arguments, &["--pdf", &file]].concat(), 2, reason);
        assert!(!std::path::Path::new(&file).exists(), "{arguments:?}");
    };
    refused(&["tag", "K-117", "--labels", "a4", "--first", "22"], "write a number from 1 to 21");
    refused(&["tag", "K-117", "--labels", "none.toml"], "cannot be loaded");
    refused(&["tag", "K-999"], "not in the book");
    refused(&["quote", "--tray", "blue", "--date", "tomorrow"], "write year, month and day");
    bench.refused(&["quote", "--tray", "blue", "--paper", "a4"], 2, "--pdf");
}
