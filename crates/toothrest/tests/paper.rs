//! What the program writes for the printer, looked at with Poppler (Debian's poppler-utils).

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]

#[path = "book/bench.rs"]
mod bench;

use std::process::Command;

use bench::{Bench, text};

const FORM: &str = "examples/cutters/k-172-form-relieved.toml";

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

/// Two that lie sharp on the shelf.
fn sharp(bench: &Bench) {
    for cutter in ["k-126-one-inch-powder", "k-121-corner-radius"] {
        bench.keep("cutter", &format!("cutters/{cutter}.toml"), &["--shelf"]);
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
    sharp(&bench);
    let tag = printed(&["tag", "K-121", "--labels", "examples/labels/roll-62.toml"]);
    assert!(tag.contains("K-121") && tag.contains("NOT NOMINAL"), "{tag}");
    let note = printed(&["deliver", "K-126", "K-121", "--lot", "blue", "--to", "mill 2"]);
    assert!(note.contains("DELIVERY NOTE blue") && note.contains("To mill 2"), "{note}");
}

#[test]
fn what_cannot_be_printed_is_refused_and_leaves_no_file() {
    let bench = Bench::new();
    bench.shop();
    sharp(&bench);
    let file = bench.beside("never.pdf");
    let refused = |arguments: &[&str], reason: &str| {
        bench.refused(&[arguments, &["--pdf", &file]].concat(), 2, reason);
        assert!(!std::path::Path::new(&file).exists(), "{arguments:?}");
    };
    refused(&["tag", "K-126", "--labels", "a4", "--first", "22"], "write a number from 1 to 21");
    refused(&["tag", "K-126", "--labels", "none.toml"], "cannot be loaded");
    refused(&["tag", "K-999"], "not in the book");
    // At the bench, or named twice: no size is given away.
    refused(&["tag", "K-117"], "at the bench and its size is not settled; hand it back first");
    refused(&["deliver", "K-117", "--lot", "blue"], "hand it back first");
    refused(&["deliver", "K-126", "K-126", "--lot", "blue"], "named twice");
    refused(&["quote", "--tray", "blue", "--date", "tomorrow"], "write year, month and day");
    bench.refused(&["quote", "--tray", "blue", "--paper", "a4"], 2, "--pdf");
    let dull = "examples/cutters/k-130-two-inch-chipped.toml";
    let shelf = ["book", "keep", "cutter", dull, "--shelf", "--by", "AB"];
    bench.refused(&shelf, 2, "its file has wear, so it is not sharp");
}

#[test]
fn end_and_face_have_pages_of_their_own_or_say_why_not() {
    let bench = Bench::new();
    let file = bench.beside("parts.pdf");
    let printed = |cutter: &str, machine: &str, wheels: &[&str]| {
        let machine = format!("examples/machines/{machine}.toml");
        let mut typed = vec!["plan", "--cutter", cutter, "--machine", &machine, "--pdf", &file];
        typed.extend(wheels.iter().flat_map(|wheel| ["--wheel", *wheel]));
        bench.answer(&typed);
        poppler("pdftotext", &file)
    };
    let dish = ["examples/wheels/w-11-dish-oxide.toml"];
    let face = printed(FORM, "index-bench", &dish);
    assert!(face.contains("THE FACE K-172") && face.contains("so that the rake"), "{face}");

    let text = std::fs::read_to_string(bench::root().join(FORM)).unwrap();
    let rootless = text.lines().filter(|line| !line.starts_with("core_diameter"));
    let rootless: String = rootless.map(|line| format!("{line}\n")).collect();
    let path = bench.beside("rootless.toml");
    std::fs::write(&path, rootless).unwrap();
    let why = printed(&path, "index-bench", &dish);
    assert!(why.contains("Not planned: cutter.core_diameter: is not known"), "{why}");

    // Its corners are gone, and between centres one centre stands in the way of the end.
    let cups = ["examples/wheels/w-02-straight-cup-oxide.toml"];
    let end = printed("examples/cutters/k-160-corners-gone.toml", "centres-bench", &cups);
    assert!(end.contains("THE END K-160") && end.contains("the end must be free"), "{end}");
}

/// Words without the marks before and behind them.
fn bare_words(text: &str) -> Vec<&str> {
    let words = text.split_whitespace();
    let words = words.map(|word| word.trim_matches(|letter: char| !letter.is_alphanumeric()));
    words.filter(|word| !word.is_empty()).collect()
}

/// Every word of a text sheet stands in the text of a PDF.
#[track_caller]
fn has_every_word(pdf: &str, sheet: &str) {
    let words: Vec<&str> = bare_words(pdf);
    let is_heading = |word: &str| word.chars().all(|letter| letter.is_uppercase());
    for word in bare_words(sheet) {
        let found = words.contains(&word)
            || (is_heading(word) && words.iter().any(|other| other.eq_ignore_ascii_case(word)));
        assert!(found, "{word} stands on the sheet and not in\n{pdf}");
    }
}

#[test]
fn the_end_has_a_page_of_its_own_with_all_that_its_sheet_says() {
    let bench = Bench::new();
    let file = bench.beside("end.pdf");
    let machine = "examples/machines/universal-bench.toml";
    let end = |units: &str| {
        let more = ["--end", "--pdf", &file, "--units", units, "--date", "2031-03-05"];
        let mut arguments = [&PLAN[..], &more].concat();
        (arguments[4], arguments[6]) = (machine, "examples/wheels/w-02-straight-cup-oxide.toml");
        let sheet = bench.answer(&arguments);
        (sheet.split('\u{c}').nth(1).unwrap().to_owned(), poppler("pdftotext", &file))
    };
    for units in ["in", "mm"] {
        let (sheet, pdf) = end(units);
        assert!(poppler("pdfinfo", &file).contains("Pages: 2"), "{pdf}");
        let (periphery, page) = pdf.split_once("THE END K-117").unwrap();
        assert!(periphery.contains("SET-UP SHEET K-117"), "{periphery}");
        assert!(periphery.contains("its set-up stands on a sheet of its own"), "{periphery}");
        has_every_word(page, sheet.split_once("LENGTH").unwrap().1);
        for words in ["2031-03-05", "digest of its files", "record K-117", "page 1 of 1", "as set"]
        {
            assert!(pdf.matches(words).count() >= 2, "{words}: {pdf}");
        }
        for tooth in 1..=4 {
            assert!(page.contains(&format!("land, tooth {tooth}")), "{page}");
        }
    }
}

#[test]
fn a_corrective_grind_has_its_page() {
    let bench = Bench::new();
    let (plan, check) = (bench.beside("plan.json"), bench.beside("check.json"));
    std::fs::write(&plan, bench.answer(&[&PLAN[..], &["--json"]].concat())).unwrap();
    let readings = "examples/readings/k-117-heavy-toward-shank.toml";
    let checked = ["check", "--plan", &plan, "--readings", readings, "--json"];
    std::fs::write(&check, text(&bench.run(&checked).stdout)).unwrap();
    let file = bench.beside("again.pdf");
    let again = |more: &[&str]| {
        let asked = ["plan", "--after", &check, "--pdf", &file, "--date", "2031-03-05"];
        let sheet = bench.answer(&[&asked[..], more].concat());
        (sheet, poppler("pdftotext", &file))
    };
    let (sheet, pdf) = again(&[]);
    assert!(poppler("pdfinfo", &file).contains("Pages: 1"), "{pdf}");
    has_every_word(&pdf, sheet.split_once("AS FOUND").unwrap().1);
    for words in ["CORRECTIVE GRIND K-117", "record K-117", "page 1 of 1", "diameter", "taper"] {
        assert!(pdf.contains(words), "{words}: {pdf}");
    }
    let revision = |pdf: &str| {
        pdf.split_once("revision ").unwrap().1.split_whitespace().next().unwrap().to_owned()
    };
    let (_, other) = again(&["--fed", "0.0005 in"]);
    assert_ne!(revision(&pdf), revision(&other), "another plan of the same files");
    let first = bench.beside("first.pdf");
    bench.answer(&[&PLAN[..], &["--pdf", &first]].concat());
    assert_ne!(revision(&pdf), revision(&poppler("pdftotext", &first)));
}
