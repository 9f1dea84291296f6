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

const ROUNDED: &str = "examples/cutters/k-121-corner-radius.toml";

/// Asks for the end of a cutter on the machine that can do most, with the wheels that ends need.
fn end_of(cutter: &str) -> [&str; 10] {
    [
        "plan",
        "--cutter",
        cutter,
        "--machine",
        "examples/machines/universal-bench.toml",
        "--wheel",
        "examples/wheels/w-02-straight-cup-oxide.toml",
        "--wheel",
        "examples/wheels/w-03-straight-oxide.toml",
        "--end",
    ]
}

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
    assert!(tray.contains("Nothing is ground by this list"), "{tray}");
    let planned = bench.json(&[&PLAN[..], &["--json"]].concat());
    let to = planned["stock"]["clean_diameter_mm"].as_f64().unwrap();
    assert!(tray.contains(&format!("{to:.3} mm")), "{to} mm: {tray}");
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
    check_numbers(&file, &face);
    let (first, second) = face.split_once("THE FACE K-172").unwrap();
    assert!(first.contains("THE FACE is ground: its set-up stands on a sheet of its own"));
    assert!((1..=12).all(|tooth| second.contains(&format!("tooth {tooth}"))), "{second}");
    assert!(face.contains("THE FACE K-172") && face.contains("so that the rake"), "{face}");

    let text = std::fs::read_to_string(bench::root().join(FORM)).unwrap();
    let rootless = text.lines().filter(|line| !line.starts_with("core_diameter"));
    let rootless: String = rootless.map(|line| format!("{line}\n")).collect();
    let path = bench.beside("rootless.toml");
    std::fs::write(&path, rootless).unwrap();
    let why = printed(&path, "index-bench", &dish);
    let short = "THE FACE is asked for and NOT PLANNED here: cutter.core_diameter: is not known";
    assert!(why.contains(short), "{why}");
    assert!(why.contains("Not planned: cutter.core_diameter: is not known"), "{why}");

    // Its corners are gone, and between centres one centre stands in the way of the end.
    let cups = ["examples/wheels/w-02-straight-cup-oxide.toml"];
    let end = printed("examples/cutters/k-160-corners-gone.toml", "centres-bench", &cups);
    assert!(end.contains("THE END K-160") && end.contains("the end must be free"), "{end}");
}

/// The pages of one job are numbered from the first to the last.
#[track_caller]
fn check_numbers(file: &str, said: &str) {
    let info = poppler("pdfinfo", file);
    let count = info.split_once("Pages: ").unwrap().1.split_whitespace().next().unwrap();
    let count: usize = count.parse().unwrap();
    for page in 1..=count {
        let number = format!("page {page} of {count}");
        assert_eq!(said.matches(&number).count(), 1, "{number}: {said}");
    }
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
        check_numbers(&file, &pdf);
        let (periphery, page) = pdf.split_once("THE END K-117").unwrap();
        assert!(periphery.contains("SET-UP SHEET K-117"), "{periphery}");
        assert!(periphery.contains("its set-up stands on a sheet of its own"), "{periphery}");
        has_every_word(page, sheet.split_once("LENGTH").unwrap().1);
        for words in ["2031-03-05", "digest of its files", "record K-117", "as set"] {
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
    check_numbers(&file, &pdf);
    has_every_word(&pdf, sheet.split_once("AS FOUND").unwrap().1);
    for words in ["CORRECTIVE GRIND K-117", "record K-117", "table top, as set", "taper"] {
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

/// A round's land is no wider than half its radius (own choice), and half a diameter is none.
#[test]
fn the_land_of_a_round_is_a_figure_of_its_own_at_every_radius() {
    let bench = Bench::new();
    let text = std::fs::read_to_string(bench::root().join(ROUNDED)).unwrap();
    for radius in ["0.010", "0.030", "0.060", "0.125"] {
        let path = bench.beside("round.toml");
        let line = format!("corner_radius = \"{radius} in\"");
        let other = text.replace("corner_radius = \"0.030 in\"", &line);
        assert!(other.contains(&line), "{other}");
        std::fs::write(&path, other).unwrap();
        let planned = bench.json(&[&end_of(&path)[..], &["--json"]].concat());
        let corner = &planned["end"]["corner"]["round"];
        let land = corner["land_mm"].as_f64().unwrap_or_else(|| panic!("{planned:#}")) / 25.4;
        let most = 0.5 * radius.parse::<f64>().unwrap();
        assert!((land - most.min(0.028)).abs() < 1e-5, "radius {radius} in: a land of {land} in");
        let grows = corner["land_per_feed"].as_f64().unwrap();
        assert!((2.0..12.0).contains(&grows), "radius {radius} in: {grows} for each feed");
    }
}

/// What is first done stands first: the gash before all else, and what it cuts among the warnings.
#[test]
fn the_end_is_written_in_the_order_of_the_work() {
    let bench = Bench::new();
    let file = bench.beside("gone.pdf");
    let gone = "examples/cutters/k-160-corners-gone.toml";
    bench.answer(&[&end_of(gone)[..], &["--pdf", &file]].concat());
    let said = poppler("pdftotext", &file);
    assert!(said.contains("GASH FIRST"), "{said}");
    let at = |words: &str| said.find(words).unwrap_or_else(|| panic!("{words}: {said}"));
    let order =
        ["Gash anew", "From outside in", "The same stroke; kiss", "Chamfer 0", "On a plate"];
    assert!(order.windows(2).all(|pair| at(pair[0]) < at(pair[1])), "{said}");
    assert!(said.contains("! TOO DEEP by"), "{said}");
    assert!(!said.contains("0.000 mm"), "a height in the column's own marks: {said}");
    check_numbers(&file, &said);
}

/// The size of each word of a file in points: Poppler's box of a word is as high as its type is
/// large.
fn sizes(file: &str) -> Vec<Vec<f64>> {
    let output = Command::new("pdftotext").args(["-bbox", file, "-"]).output().unwrap();
    let of = |line: &str, key: &str| -> f64 {
        let rest = line.split_once(&format!("{key}=\"")).unwrap().1;
        rest.split_once('"').unwrap().0.parse().unwrap()
    };
    let said = text(&output.stdout);
    let pages = said.split("<page ").skip(1);
    let words = |page: &str| {
        let words = page.lines().filter(|line| line.trim_start().starts_with("<word "));
        words.map(|line| of(line, "yMax") - of(line, "yMin")).collect()
    };
    pages.map(words).collect()
}

/// Teeth of two helices have two secondaries: on the shorter paper such a set-up is two pages,
/// turned between its parts.
#[test]
fn a_set_up_of_two_pages_is_cut_between_its_parts() {
    let bench = Bench::new();
    let file = bench.beside("two.pdf");
    let unlike = "examples/cutters/k-168-two-helices.toml";
    let machine = "examples/machines/universal-bench.toml";
    let wheel = "examples/wheels/w-05-flaring-cup-cbn.toml";
    let asked = ["plan", "--cutter", unlike, "--machine", machine, "--wheel", wheel];
    bench.answer(&[&asked[..], &["--pdf", &file, "--paper", "letter"]].concat());
    let said = poppler("pdftotext", &file);
    assert!(said.contains("page 2 of 2"), "{said}");
    let (_, second) = said.split_once("page 1 of 2").unwrap();
    let (_, below) = second.split_once("SET-UP SHEET K-168 ").unwrap();
    let parts = ["2 Set up", "3 Grind", "4 Secondary", "5 Check"];
    assert!(parts.iter().any(|part| below.starts_with(part)), "{below}");
    assert!(sizes(&file).concat().iter().all(|size| *size > 6.99), "roomy where there are two");
}

/// A limit on the size of files stands for a full disk: what was there is left, and no half of what
/// was to come.
#[test]
fn a_pdf_that_cannot_be_written_whole_leaves_the_old_one() {
    let bench = Bench::new();
    let file = bench.beside("kept.pdf");
    std::fs::write(&file, "%PDF-1.7 the old one").unwrap();
    let typed = [&PLAN[..], &["--pdf", &file]].concat().join(" ");
    let program = env!("CARGO_BIN_EXE_toothrest");
    let line = format!("trap '' XFSZ; ulimit -f 8; exec {program} {typed}");
    let run = Command::new("sh").args(["-c", &line]).current_dir(bench::root()).output().unwrap();
    assert_eq!(run.status.code(), Some(1), "{}", text(&run.stderr));
    assert!(text(&run.stderr).contains("kept.pdf"), "{}", text(&run.stderr));
    assert_eq!(std::fs::read(&file).unwrap(), b"%PDF-1.7 the old one");
    let folder = std::path::Path::new(&file).parent().unwrap();
    let parts = std::fs::read_dir(folder).unwrap().flatten();
    let parts: Vec<_> =
        parts.filter(|one| one.path().to_string_lossy().ends_with(".part")).collect();
    assert!(parts.is_empty(), "{parts:?}");
}

/// Every example cutter on both papers: no word below 7 points, or 5.4 on a first page that holds
/// the whole set-up, and as many words of 12 points and more as there are marks to be set.
#[test]
fn every_sheet_is_read_at_arms_length() {
    let bench = Bench::new();
    let file = bench.beside("any.pdf");
    let folder = |name: &str| {
        let files = std::fs::read_dir(bench::root().join("examples").join(name)).unwrap();
        let files = files.map(|file| file.unwrap().path().display().to_string());
        let mut files: Vec<String> = files.collect();
        files.sort();
        files
    };
    let wheels = folder("wheels");
    let wheels = wheels.iter().filter(|wheel| wheel.contains("w-"));
    let wheels: Vec<&str> = wheels.flat_map(|wheel| ["--wheel", wheel.as_str()]).collect();
    let mut printed = 0;
    for cutter in folder("cutters") {
        for machine in folder("machines") {
            let before = printed;
            for paper in ["a4", "letter"] {
                let asked = ["plan", "--cutter", &cutter, "--machine", &machine];
                let asked = [&asked[..], &wheels, &["--pdf", &file, "--paper", paper]].concat();
                if !bench.run(&asked).status.success() {
                    continue;
                }
                let pages = sizes(&file);
                for (at, page) in pages.iter().enumerate() {
                    let least = page.iter().copied().fold(f64::INFINITY, f64::min);
                    let allowed = if at == 0 { 5.39 } else { 6.99 };
                    assert!(least > allowed, "{cutter} {machine} {paper} {at}: {least} points");
                }
                let sizes = pages.concat();
                let large = sizes.iter().filter(|size| **size > 11.99).count();
                let planned = bench.json(&[&asked[..asked.len() - 4], &["--json"]].concat());
                let lines = planned["peripheral"]["setup"].as_array();
                let dials = lines.iter().copied().flatten().filter(|line| line["dial"].is_object());
                let least = dials.count() + 2;
                assert!(large >= least, "{cutter} {machine} {paper}: {large} and not {least}");
                printed += 1;
            }
            if printed > before {
                break;
            }
        }
    }
    assert!(printed >= 30, "{printed}");
}

/// No part of a ball's page is empty, and a relief that a scale stops short of is told as it comes.
#[test]
fn a_ball_says_what_its_wheel_leaves_and_has_no_empty_part() {
    let bench = Bench::new();
    let file = bench.beside("ball.pdf");
    let ball = "examples/cutters/k-156-ball.toml";
    let diamond = ["--wheel", "examples/wheels/w-07-flaring-cup-diamond.toml"];
    let asked = [&end_of(ball)[..], &diamond].concat();
    bench.answer(&[&asked[..], &["--pdf", &file]].concat());
    let said = poppler("pdftotext", &file);
    let page = said.split_once("THE BALL").unwrap().1;
    assert_eq!(page.matches(" Wheel W-07").count(), 1, "{page}");
    assert!(page.contains("3 Wheel W-07") && page.contains("4 True"), "{page}");
    let planned = bench.json(&[&asked[..], &["--json"]].concat());
    let made = &planned["ball"]["round"]["secondary_halfway"];
    let (as_set, at_edge) = (made["as_set_deg"].as_f64(), made["at_edge_deg"].as_f64());
    let shown = format!(
        "as set {:.2} deg halfway, at the edge {:.2} deg",
        as_set.unwrap_or_else(|| panic!("{planned:#}")),
        at_edge.unwrap()
    );
    assert!(page.contains(&shown), "{shown}: {page}");
}

/// What stands on the text sheet of the reliefs stands on paper too.
#[test]
fn the_paper_names_the_reliefs_wanted_and_as_set() {
    let bench = Bench::new();
    let file = bench.beside("reliefs.pdf");
    let sheet = bench.answer(&[&PLAN[..], &["--pdf", &file]].concat());
    let pdf = poppler("pdftotext", &file);
    let sheet = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    for wanted in ["10.00 deg flat relief over 0.0180 in", "20.00 deg secondary"] {
        let from = sheet.find(wanted).unwrap_or_else(|| panic!("{wanted}: {sheet}"));
        let made = &sheet[from..];
        let end = made.find("at the edge ").unwrap() + "at the edge 10.00 deg".len();
        assert!(pdf.contains(&made[..end]), "{}: {pdf}", &made[..end]);
    }
}

/// A card says the last known size once, and counts the regrinds as a quote does.
#[test]
fn a_card_and_a_quote_say_the_same_of_a_cutter() {
    let bench = Bench::new();
    bench.shop();
    let file = bench.beside("card.pdf");
    bench.answer(&["book", "history", "K-117", "--pdf", &file]);
    let card = poppler("pdftotext", &file);
    let cutter =
        std::fs::read_to_string(bench::root().join("examples/cutters/k-117-half-inch-dull.toml"));
    let cutter = cutter.unwrap();
    let dull = cutter.lines().find(|line| line.starts_with("measured_diameter")).unwrap();
    let dull = dull.split('"').nth(1).unwrap();
    assert!(card.contains(&format!("now {dull}")), "now {dull}: {card}");
    assert!(card.contains("over dull edges, seen 20"), "{card}");
    let quote = bench.json(&["quote", "--tray", "blue", "--json"]);
    let all = quote["cutters"].as_array().unwrap();
    let one = all.iter().find(|one| one["number"] == "K-117").unwrap();
    let left = format!("{} regrind", one["lives"].as_u64().unwrap());
    assert!(card.contains(&left), "{left}: {card}");
}
