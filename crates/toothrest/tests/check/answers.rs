//! Answers for other programs, pictures, and the lines for the cutter's file.

use serde_json::Value;

use super::bench::{ALL, Bench, HALF_INCH, Planted, readings};

fn runout(bench: &Bench) -> String {
    readings(&bench.plan, &Planted { offset: (0.02, 0.0), ..Planted::default() }, ALL)
}

#[test]
fn the_answer_carries_every_promised_key() {
    let bench = Bench::of(HALF_INCH);
    let answer = bench.json(&runout(&bench));
    assert_eq!((&answer["schema"], &answer["outcome"]), (&1.into(), &"named".into()));
    let lists = ["findings", "explanations", "observed", "planned_lands", "edges", "judgements"];
    for key in lists.into_iter().chain(["corrections", "seen"]) {
        assert!(answer[key].as_array().is_some_and(|list| !list.is_empty()), "{key}: {answer:#}");
    }
    for key in ["further", "trial", "next_clearance"] {
        assert!(answer.get(key).is_some_and(Value::is_null), "{key} is no null");
    }
    let finding = &answer["findings"][0];
    assert_eq!((&finding["fault"], &finding["tooth"]), (&"runout".into(), &Value::Null));
    let (size, half) = (&finding["size"]["mm"], &finding["size"]["half_width_95_mm"]);
    assert!((size.as_f64().unwrap() - 0.02).abs() < half.as_f64().unwrap(), "{finding:#}");
    assert!(finding["offset"]["toward_first"]["mm"].is_f64(), "{finding:#}");
    assert!(finding["probability"].as_f64().unwrap() > 0.9, "{finding:#}");
    assert_eq!(answer["inputs"]["readings"]["file"], "readings.toml");
    assert!(answer["inputs"]["plan"]["cutter"]["text"].as_str().unwrap().contains("K-117"));
}

#[test]
fn every_reading_is_in_the_answer_with_what_became_of_it() {
    let bench = Bench::of(HALF_INCH);
    let misread = Planted { misread: 0.25, ..Planted::default() };
    let answer = bench.json(&readings(&bench.plan, &misread, ALL));
    let observed = answer["observed"].as_array().unwrap();
    // Eight lands, four diameters and two drops.
    assert_eq!(observed.len(), 14);
    for one in observed {
        for key in ["measured_mm", "expected_mm", "fitted_mm", "deviation_mm"] {
            assert!(one[key].is_f64(), "{key} is missing from {one:#}");
        }
    }
    let aside: Vec<&Value> = observed.iter().filter(|one| one["set_aside"] == true).collect();
    let [aside] = aside[..] else { panic!("not one set aside: {aside:?}") };
    let land = (&aside["kind"], &aside["how"], &aside["tooth"]);
    assert_eq!(land, (&"land".into(), &"after primary".into(), &3.into()));
    assert!((aside["from_end_mm"].as_f64().unwrap() - 0.9 * 31.75).abs() < 0.01, "{aside:#}");
}

#[test]
fn a_correction_says_what_to_turn_and_whether_it_is_worth_it() {
    let bench = Bench::of(HALF_INCH);
    let of = |taper| {
        let planted = Planted { taper, ..Planted::default() };
        bench.json(&readings(&bench.plan, &planted, ALL))["corrections"][0].clone()
    };
    let made = of(-0.06);
    assert_eq!((&made["action"], &made["worth"]["verdict"]), (&"table".into(), &"make".into()));
    assert!((made["dial"]["by"]["deg"].as_f64().unwrap().abs() - 1.0 / 6.0).abs() < 1e-9);
    let left = of(0.006);
    assert_eq!(left["worth"]["verdict"], "good enough");
    assert_eq!(left["worth"]["source"], "resharpener-tolerances");
}

#[test]
fn the_same_readings_give_the_same_bytes() {
    let bench = Bench::of(HALF_INCH);
    let readings = runout(&bench);
    assert_eq!(bench.sheet(&readings), bench.sheet(&readings));
    assert_eq!(bench.json(&readings).to_string(), bench.json(&readings).to_string());
}

#[test]
fn pictures_are_written_with_an_answer() {
    let bench = Bench::of(HALF_INCH);
    bench.write("readings.toml", &runout(&bench));
    let plain = ["check", "--plan", "plan.json", "--readings", "readings.toml"];
    let mut arguments = plain.to_vec();
    arguments.extend(["--svg", "pictures"]);
    assert_eq!(bench.answer(&arguments), bench.answer(&plain));
    for name in ["lands.svg", "residuals.svg", "before-after.svg"] {
        assert!(bench.read(&format!("pictures/{name}")).contains("</svg>"), "{name}");
    }
}

#[test]
fn either_system_may_be_asked_for() {
    let bench = Bench::of(HALF_INCH);
    bench.write("readings.toml", &runout(&bench));
    let plain = ["check", "--plan", "plan.json", "--readings", "readings.toml"];
    let mut arguments = plain.to_vec();
    arguments.extend(["--units", "mm"]);
    let sheet = bench.answer(&arguments);
    assert!(sheet.contains("the shank swung 0.040 ±0.00"), "{sheet}");
    assert!(bench.answer(&plain).contains("the shank swung 0.001"));
}

/// The lines that a sheet gives for the cutter's file.
fn as_ground(sheet: &str) -> Vec<&str> {
    let lines = sheet.lines().map(str::trim);
    let is_of_block = |line: &&str| line.starts_with('[') || line.contains(" = \"");
    lines.skip_while(|line| *line != "[as_ground]").take_while(is_of_block).collect()
}

#[test]
fn the_lines_for_the_cutter_make_a_cutter_that_can_be_planned_again() {
    let bench = Bench::of(HALF_INCH);
    let sound = readings(&bench.plan, &Planted::default(), ALL);
    let signs = format!("signs = [\"metal built up on land\"]\n{sound}");
    let sheet = bench.sheet(&signs);
    let block = as_ground(&sheet);
    assert_eq!(block.len(), 6, "{sheet}");
    assert!(sheet.contains("regrinds = 2, and its wear is taken out"), "{sheet}");
    let cutter = bench.read("cutter.toml");
    let head = cutter.split("[as_ground]").next().unwrap().replace("regrinds = 1", "regrinds = 2");
    let wear = "[wear]\nmeasured_diameter = \"0.4850 in\"\n[[wear.tooth]]\ntooth = 1\n\
                wear_land = \"0.008 in\"\n";
    let again = Bench::with(&format!("{head}{}\n{wear}", block.join("\n")), None);
    // What the check asked for is what the next plan gives.
    assert!((again.plan.wanted.primary.value.degrees() - 11.0).abs() < 1e-9);
    let (before, after) = (bench.plan.peripheral.unwrap(), again.plan);
    let relief = after.wanted.ground_primary - before.stanced.relief;
    assert!(relief.degrees().abs() < 0.01, "{relief:?}");
    let diameter = after.request.cutter.as_ground().unwrap().diameter - before.expected.diameter;
    assert!(diameter.inches().abs() < 0.0001, "{diameter:?}");
}
