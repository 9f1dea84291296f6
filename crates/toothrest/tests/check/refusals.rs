//! What is asked back, and what is refused.

use serde_json::Value;

use super::bench::{ALL, Bench, HALF_INCH, Planted, example, readings, text};

const CHECK: [&str; 5] = ["check", "--plan", "plan.json", "--readings", "readings.toml"];

/// Readings in inches that were written as millimetres.
fn swapped() -> String {
    "[[lands]]\nresolution = \"0.001 mm\"\n[[lands.at]]\nfrom_end = \"3 mm\"\n\
     teeth = [\"0.039 mm\", \"0.040 mm\", \"0.039 mm\", \"0.040 mm\"]\n"
        .to_owned()
}

#[test]
fn a_swapped_unit_is_asked_about() {
    let bench = Bench::of(HALF_INCH);
    bench.write("readings.toml", &swapped());
    bench.check_refused(&CHECK, "readings.toml: lands after primary: ");
    bench.check_refused(&CHECK, "were these inches, written as millimetres?");
    bench.check_refused(&CHECK, "write \"looked_again = true\" at its head");
    let grid = "# resolution: 0.001 mm\ntooth,3 mm\n1,0.039 mm\n2,0.040 mm\n";
    bench.write("lands.csv", grid);
    let csv = ["check", "--plan", "plan.json", "--readings", "lands.csv"];
    bench.check_refused(&csv, "write \"# looked again: yes\" at its head");
}

#[test]
fn readings_that_were_looked_at_again_are_weighed() {
    let bench = Bench::of(HALF_INCH);
    let again = format!("looked_again = true\n{}", swapped());
    assert!(bench.sheet(&again).contains("VERDICT"));
    bench.write(
        "lands.csv",
        "# resolution: 0.001 mm\n# looked again: yes\ntooth,3 mm\n1,0.039 mm\n",
    );
    bench.answer(&["check", "--plan", "plan.json", "--readings", "lands.csv"]);
}

#[test]
fn another_program_is_asked_in_json() {
    let bench = Bench::of(HALF_INCH);
    bench.write("readings.toml", &swapped());
    let mut arguments = CHECK.to_vec();
    arguments.extend(["--json", "--svg", "pictures"]);
    let output = bench.run(&arguments);
    assert_eq!((output.status.code(), text(&output.stderr)), (Some(2), String::new()));
    let answer: Value = serde_json::from_str(&text(&output.stdout)).unwrap();
    assert_eq!((&answer["schema"], &answer["outcome"]), (&1.into(), &"asked".into()));
    let question = &answer["questions"][0];
    assert_eq!(question["about"], "lands after primary");
    assert!(question["ask"].as_str().unwrap().contains("inches"), "{question:#}");
    assert!(!bench.path("pictures").exists(), "a question left pictures on the disk");
}

#[test]
fn what_is_no_plan_is_refused_with_what_to_do() {
    let bench = Bench::of(HALF_INCH);
    bench.write("readings.toml", &readings(&bench.plan, &Planted::default(), ALL));
    let again = "plan it again, with: toothrest plan … --json > plan.json";
    let with = |text: &str, reason: &str| {
        bench.write("other.json", text);
        let arguments = ["check", "--plan", "other.json", "--readings", "readings.toml"];
        bench.check_refused(&arguments, &format!("other.json: {reason}"));
        bench.check_refused(&arguments, again);
    };
    let plan = bench.read("plan.json");
    with("", "this file is empty");
    with(&example("cutters/k-117-half-inch-dull.toml"), "this is no plan's JSON answer");
    with(&plan[..plan.len() / 2], "this is no whole JSON");
    with(&plan.replacen("\"schema\": 1", "\"schema\": 9", 1), "its schema is 9");
    let mut without: Value = serde_json::from_str(&plan).unwrap();
    without.as_object_mut().unwrap().remove("inputs");
    with(&without.to_string(), "this plan has lost what it was made from");
    let missing = ["check", "--plan", "nowhere.json", "--template"];
    bench.check_refused(&missing, "nowhere.json: cannot be loaded");
}

#[test]
fn a_plan_saved_with_a_mark_of_its_encoding_is_read() {
    let bench = Bench::of(HALF_INCH);
    bench.write("plan.json", &format!("\u{feff}{}", bench.read("plan.json")));
    assert!(bench.sheet(&readings(&bench.plan, &Planted::default(), ALL)).contains("SOUND"));
}

#[test]
fn a_plan_that_grinds_no_periphery_has_nothing_to_read() {
    let bench = Bench::of(HALF_INCH);
    let file = |path: &str| super::bench::root().join("examples").join(path).display().to_string();
    let (cutter, machine) = (file("cutters/k-149-hopeless.toml"), file("machines/left-bench.toml"));
    let wheel = file("wheels/w-02-straight-cup-oxide.toml");
    let plan = ["plan", "--json", "--cutter", &cutter, "--machine", &machine, "--wheel", &wheel];
    bench.write("plan.json", &bench.answer(&plan));
    let form = ["check", "--plan", "plan.json", "--template"];
    bench.check_refused(&form, "grinds no periphery, so there is nothing to read");
    bench.write("readings.toml", "signs = [\"chipped\"]\n");
    bench.check_refused(&CHECK, "does not grind the periphery");
}

#[test]
fn a_plan_that_comes_out_otherwise_now_is_remarked_on() {
    let bench = Bench::of(HALF_INCH);
    let mut plan: Value = serde_json::from_str(&bench.read("plan.json")).unwrap();
    *plan.pointer_mut("/peripheral/expect/diameter_mm").unwrap() = 12.5.into();
    bench.write("plan.json", &plan.to_string());
    let sheet = bench.sheet(&readings(&bench.plan, &Planted::default(), ALL));
    let flowing = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    let expected = "* made again, the plan is not the one in plan.json (diameter, mm: 12.5000 \
                    there, 12.3899 here): was that file changed";
    assert!(flowing.contains(expected), "{sheet}");
}

#[test]
fn readings_of_another_cutter_are_refused_at_their_line() {
    let bench = Bench::of(HALF_INCH);
    bench.write("readings.toml", "cutter = \"K-1\"\nsigns = [\"chipped\"]\n");
    bench.check_refused(&CHECK, "readings.toml:1: cutter = \"K-1\": the plan is for K-117");
}

#[test]
fn a_check_needs_readings_or_a_form_to_write() {
    let bench = Bench::of(HALF_INCH);
    bench.check_refused(&["check", "--plan", "plan.json"], "--readings <FILE>");
    let mut both = CHECK.to_vec();
    both.push("--template");
    bench.check_refused(&both, "cannot be used with");
    let mut csv = CHECK.to_vec();
    csv.push("--csv");
    bench.check_refused(&csv, "cannot be used with");
    bench.check_refused(&["check", "--plan", "plan.json", "--csv"], "--template");
}
