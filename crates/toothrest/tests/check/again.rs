//! A correction that is followed: its plan, its sheet, and the check of what it leaves.

use serde_json::Value;
use shop::Ctx;
use shop::check::{CheckRegrind, Checked, check_regrind};
use shop::plan::{CorrectivePlan, CorrectiveWish, FeedFrom, plan_corrective};
use toothrest::files::read_readings;
use trade::Tables;

use super::bench::{ALL, Bench, HALF_INCH, Planted, readings};

const TAPERED: Planted =
    Planted { taper: -0.06, size: 0.0, offset: (0.0, 0.0), drift: 0.0, slip: None, misread: 0.0 };

/// A tapered grind, checked: its answer lies in check.json.
fn tapered() -> (Bench, String) {
    let bench = Bench::of(HALF_INCH);
    let read = readings(&bench.plan, &TAPERED, ALL);
    let answer = bench.json(&read);
    bench.write("check.json", &answer.to_string());
    (bench, read)
}

/// The corrective plan in hand.
fn corrective(bench: &Bench, read: &str, wish: &CorrectiveWish) -> CorrectivePlan {
    let ctx = Ctx { tables: Tables::bundled().unwrap() };
    let readings = read_readings("readings.toml", read, &bench.plan.request.cutter).unwrap();
    let request = CheckRegrind { plan: bench.plan.clone(), readings };
    match check_regrind(&ctx, request).unwrap() {
        Checked::Weighed(check) => plan_corrective(&ctx, &check, wish).unwrap(),
        Checked::Asked(asked) => panic!("{asked:?}"),
    }
}

fn check_again(bench: &Bench, plan: &str) -> Value {
    let arguments = ["check", "--plan", plan, "--readings", "second.toml", "--json"];
    serde_json::from_str(&bench.answer(&arguments)).unwrap()
}

#[test]
fn a_correction_that_was_followed_is_found_as_planned() {
    let (bench, read) = tapered();
    let again = bench.answer(&["plan", "--after", "check.json", "--json"]);
    bench.write("again.json", &again);
    let in_hand = corrective(&bench, &read, &CorrectiveWish::default());
    let before = bench.plan.peripheral.as_ref().unwrap().expected.diameter;
    let after = in_hand.peripheral().unwrap().expected.diameter;
    assert!(after < before, "the shank's end stood in, so more comes off: {before:?} {after:?}");
    let answer: Value = serde_json::from_str(&again).unwrap();
    let told = answer["peripheral"]["expect"]["diameter_mm"].as_f64().unwrap();
    assert!((told - after.mm()).abs() < 1e-6, "{told}");
    assert_eq!(answer["corrective"]["feed_from"], "kiss");
    assert_eq!(answer["corrective"]["corrections"][0]["carried_out"], "by the dial or by hand");
    assert_eq!(answer["inputs"]["after"].as_array().unwrap().len(), 1);

    bench.write("second.toml", &readings(&in_hand.plan, &Planted::default(), ALL));
    assert_eq!(check_again(&bench, "again.json")["outcome"], "sound");
    // Held against the plan before, the same teeth would be told of faults that they have not.
    assert_ne!(check_again(&bench, "plan.json")["outcome"], "sound");
}

#[test]
fn a_second_correction_counts_from_the_first() {
    let (bench, read) = tapered();
    bench.write("again.json", &bench.answer(&["plan", "--after", "check.json", "--json"]));
    let first = corrective(&bench, &read, &CorrectiveWish::default());
    let slipped = Planted { slip: Some((3, 0.04)), ..Planted::default() };
    bench.write("second.toml", &readings(&first.plan, &slipped, ALL));
    let answer = check_again(&bench, "again.json");
    assert_eq!(answer["findings"][0]["fault"], "slip", "{answer:#}");
    bench.write("second.json", &answer.to_string());
    let third = bench.answer(&["plan", "--after", "second.json", "--json"]);
    let third: Value = serde_json::from_str(&third).unwrap();
    assert_eq!(third["inputs"]["after"].as_array().unwrap().len(), 2);
    assert_eq!(third["corrective"]["first_round"], serde_json::json!([3]));
    assert_eq!(third["corrective"]["feed_from"], "last pass");
    let size = |answer: &Value| answer["peripheral"]["expect"]["diameter_mm"].as_f64().unwrap();
    let stays = first.peripheral().unwrap().expected.diameter.mm();
    assert!((size(&third) - stays).abs() < 0.004, "one tooth changes no size");
}

#[test]
fn a_feed_that_went_farther_is_what_counts() {
    let (bench, read) = tapered();
    let planned = corrective(&bench, &read, &CorrectiveWish::default());
    let grinding = &planned.peripheral().unwrap().grinding;
    let farther = grinding.travel + geometry::Length::from_mm(0.02);
    let reading = bench.plan.request.machine.cross_feed().reading(farther);
    let fed = CorrectiveWish { fed: Some(reading), ..CorrectiveWish::default() };
    let fed = corrective(&bench, &read, &fed);
    let size = |plan: &CorrectivePlan| plan.peripheral().unwrap().expected.diameter.mm();
    let gone = size(&planned) - size(&fed);
    assert!((0.036..0.042).contains(&gone), "{gone}");
    let mark = format!("{:.5} mm", reading.mm());
    let answer = bench.answer(&["plan", "--after", "check.json", "--fed", &mark, "--json"]);
    let answer: Value = serde_json::from_str(&answer).unwrap();
    let told = answer["peripheral"]["expect"]["diameter_mm"].as_f64().unwrap();
    assert!((told - size(&fed)).abs() < 1e-4, "{told}");
    let refused = ["plan", "--after", "check.json", "--fed", "25 mm"];
    bench.check_refused(&refused, "is no feed of a corrective grind");
}

#[test]
fn its_sheet_says_what_changes() {
    let (bench, read) = tapered();
    let sheet = bench.answer(&["plan", "--after", "check.json"]);
    let FeedFrom::Kiss(tooth) = corrective(&bench, &read, &CorrectiveWish::default()).from else {
        panic!("a table that was swung is kissed anew");
    };
    for words in [
        "CORRECTIVE GRIND  K-117",
        "AS FOUND",
        "SET ANEW",
        "TABLE:",
        "Every other setting stays",
        "AGAIN      Kiss",
        &format!("Kiss tooth {tooth}, dial to zero."),
        "SECONDARY",
        "EXPECT",
    ] {
        let either = words.replace("Every other setting", "The set-up");
        assert!(sheet.contains(words) || sheet.contains(&either), "no {words} in\n{sheet}");
    }
    assert!(sheet.lines().all(|line| line.chars().count() <= 100), "{sheet}");
}

#[test]
fn what_cannot_be_corrected_is_refused_with_its_reason() {
    let (bench, _) = tapered();
    let after = |more: &[&'static str]| [&["plan", "--after", "check.json"], more].concat();
    bench.check_refused(&after(&["--leave", "taper"]), "left as it is");
    bench.check_refused(&after(&["--leave", "tapper"]), "it has taper");
    bench.check_refused(&["plan", "--after", "plan.json"], "planned from a check");
    bench.check_refused(&["plan", "--after", "cutter.toml"], "no check's JSON answer");
    let sound = bench.json(&readings(&bench.plan, &Planted::default(), ALL));
    bench.write("check.json", &sound.to_string());
    bench.check_refused(&after(&[]), "the readings show nothing wrong");
}
