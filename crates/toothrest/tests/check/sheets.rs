//! Truths of every sheet: it keeps its page, and loses nothing on the way there.

use geometry::Length;
use geometry::quantity::System;
use sheets::text::{COLUMNS, Units, check_sheet};
use shop::Ctx;
use shop::check::{Check, CheckRegrind, Checked, Outcome, Worth, check_regrind};
use shop::plan::RegrindPlan;
use toothrest::files::read_readings;
use trade::Tables;

use super::bench::{ALL, Bench, HALF_INCH, Planted, Taken, example, readings};

/// Lines of a sheet that still fit one page.
const LINES_MAX: usize = 96;

fn weighed(plan: &RegrindPlan, text: &str) -> Check {
    let readings = read_readings("readings.toml", text, &plan.request.cutter).unwrap();
    let request = CheckRegrind { plan: plan.clone(), readings };
    match check_regrind(&Ctx { tables: Tables::bundled().unwrap() }, request).unwrap() {
        Checked::Weighed(check) => *check,
        Checked::Asked(asked) => panic!("{asked:?}"),
    }
}

/// Cutters of two to six teeth, straight and helical, of either hand.
fn benches() -> Vec<Bench> {
    let five = example("cutters/k-145-straight-tooth.toml").replace("teeth = 6", "teeth = 5");
    let named = ["k-101-eighth-inch", "k-112-three-tooth-cobalt", HALF_INCH, "k-134-left-hand"];
    let mut benches: Vec<Bench> = named.into_iter().map(Bench::of).collect();
    benches.push(Bench::with(&five, None));
    benches.push(Bench::of("k-126-one-inch-powder"));
    benches
}

/// Every fault, none, two at once, and a bad reading.
fn planted() -> Vec<Planted> {
    let none = Planted::default();
    vec![
        none,
        Planted { size: 0.006, ..none },
        Planted { taper: -0.008, ..none },
        Planted { taper: 0.02, ..none },
        Planted { offset: (0.006, -0.004), ..none },
        Planted { drift: 0.006, ..none },
        Planted { slip: Some((2, 0.009)), ..none },
        Planted { offset: (0.006, 0.004), taper: 0.01, ..none },
        Planted { misread: -0.1, ..none },
    ]
}

/// All readings, and ever fewer.
const TAKEN: [Taken; 4] = [
    ALL,
    Taken { diameters: false, drops: false, ..ALL },
    Taken { places: &[0.5], diameters: false, drops: false, lands: true },
    Taken { lands: false, drops: false, ..ALL },
];

/// Every check of the tests below with its sheet in one form.
fn each(mut examine: impl FnMut(&Check, &str)) {
    let systems = [(System::Inch, false), (System::Millimetre, false), (System::Inch, true)];
    for bench in benches() {
        for (index, planted) in planted().iter().enumerate() {
            for (turn, taken) in TAKEN.into_iter().enumerate() {
                let check = weighed(&bench.plan, &readings(&bench.plan, planted, taken));
                let (system, both) = systems[(index + turn) % systems.len()];
                examine(&check, &check_sheet(&check, Units { system, both }));
            }
        }
    }
}

fn flowing(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn every_sheet_keeps_to_its_page() {
    let mut outcomes: Vec<Outcome> = Vec::new();
    each(|check, sheet| {
        let longest = sheet.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(longest <= COLUMNS, "a line of {longest} columns in\n{sheet}");
        let lines = sheet.lines().count();
        assert!(lines <= LINES_MAX, "{lines} lines in\n{sheet}");
        for slip in ["NaN", "inf ", "-0.0000 ", "..", "  ."] {
            assert!(!sheet.contains(slip), "{slip:?} in\n{sheet}");
        }
        if !outcomes.contains(&check.outcome) {
            outcomes.push(check.outcome);
        }
    });
    assert_eq!(outcomes.len(), 3, "not every outcome was met: {outcomes:?}");
}

#[test]
fn no_word_of_a_check_is_lost() {
    each(|check, sheet| {
        let all = flowing(sheet).to_lowercase();
        let has = |words: &str| all.contains(&flowing(words).to_lowercase());
        for one in &check.corrections {
            let words = match &one.worth {
                Worth::Make | Worth::TooSmall(_) => &one.how,
                Worth::GoodEnough(why) => &why.value,
            };
            assert!(has(words), "{words} is missing from\n{sheet}");
        }
        for words in &check.remarks {
            assert!(has(words), "{words} is missing from\n{sheet}");
        }
        for finding in &check.findings {
            let tooth = finding.fault.name().replace(" slipped", " alone");
            assert!(has(&tooth), "{tooth} is missing from\n{sheet}");
        }
        for seen in check.seen.iter().filter(|one| one.half_width.is_none()) {
            assert!(has(seen.advice()), "{} is missing from\n{sheet}", seen.advice());
        }
        if let Some(trial) = check.trial {
            assert!(has(&trial.words()), "the trial is missing from\n{sheet}");
        }
    });
}

#[test]
fn every_reading_stands_on_the_sheet() {
    each(|check, sheet| {
        let figures: Vec<&str> = sheet.split_whitespace().collect();
        let plain = |text: &str| text.trim_matches(|c: char| "(),;.+".contains(c)).to_owned();
        let mut figures: Vec<String> = figures.into_iter().map(plain).collect();
        for one in &check.observed {
            let is_it = |figure: &String| {
                let shown = |length: Length, system| {
                    let text = length.show(system).to_string();
                    text.split(' ').next().unwrap().to_owned()
                };
                *figure == shown(one.measured, System::Inch)
                    || *figure == shown(one.measured, System::Millimetre)
            };
            let at = figures.iter().position(is_it);
            let at = at.unwrap_or_else(|| panic!("{one:?} is missing from\n{sheet}"));
            figures.remove(at);
        }
    });
}

#[test]
fn what_may_be_set_aside_is_named_and_marked() {
    let bench = Bench::of(HALF_INCH);
    let planted = Planted { misread: 0.25, ..Planted::default() };
    let check = weighed(&bench.plan, &readings(&bench.plan, &planted, ALL));
    let sheet = check_sheet(&check, Units { system: System::Millimetre, both: false });
    assert_eq!(check.set_aside.len(), 1, "{sheet}");
    let one = &check.observed[check.set_aside[0].reading];
    let figure = format!("({:.3})", one.measured.mm());
    assert!(sheet.contains(&figure), "{figure} is missing from\n{sheet}");
}

#[test]
fn a_tooth_nobody_looked_at_keeps_its_column() {
    let bench = Bench::of(HALF_INCH);
    let text = "[[lands]]\nresolution = \"0.001 in\"\n[[lands.at]]\nfrom_end = \"1/8 in\"\n\
                teeth = [\"0.039 in\", \"-\", \"0.040 in\", \"-\"]\n";
    let check = weighed(&bench.plan, text);
    let sheet = check_sheet(&check, Units { system: System::Inch, both: false });
    let row = "           0.125 in   0.0390   -        0.0400   -\n";
    assert!(sheet.contains(row), "{sheet}");
}
