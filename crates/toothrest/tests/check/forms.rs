//! Forms to fill in.

use serde_json::Value;

use super::bench::{Bench, HALF_INCH};

const FORM: [&str; 4] = ["check", "--plan", "plan.json", "--template"];

/// A form with every open reading filled in as the plan expects it, to the thou or the tenth.
fn filled(form: &str, plan: &Value) -> String {
    let inches = |pointer: &str, decimals: usize| {
        let mm = plan.pointer(pointer).and_then(Value::as_f64).unwrap();
        format!("{:.decimals$} in", mm / 25.4)
    };
    let land_before = inches("/peripheral/secondary/land_before_mm", 3);
    let land_after = inches("/peripheral/expect/land_mm", 3);
    let diameter = inches("/peripheral/expect/diameter_mm", 4);
    let mut drops = (0..).map(|at| inches(&format!("/peripheral/expect/drops/{at}/drop_mm"), 4));
    let (mut group, mut stage) = ("", "");
    let mut lines = Vec::new();
    for line in form.lines() {
        group = line.strip_prefix("[[").map_or(group, |rest| rest.trim_end_matches("]]"));
        stage = line.strip_prefix("stage = ").unwrap_or(stage);
        let figure = match group {
            "lands.at" if stage.contains("after primary") => land_before.clone(),
            "lands.at" => land_after.clone(),
            "diameters.at" => diameter.clone(),
            "runout" => "0.0001 in".to_owned(),
            "drops.at" if line.starts_with("drop = ") => drops.next().unwrap(),
            _ => "0 in".to_owned(),
        };
        lines.push(line.replace("\"-\"", &format!("\"{figure}\"")));
    }
    lines.join("\n") + "\n"
}

#[test]
fn a_form_filled_in_as_expected_is_sound() {
    let bench = Bench::of(HALF_INCH);
    let plan: Value = serde_json::from_str(&bench.read("plan.json")).unwrap();
    let readings = filled(&bench.answer(&FORM), &plan);
    assert!(!readings.contains("\"-\""), "something is still open in\n{readings}");
    let sheet = bench.sheet(&readings);
    assert!(sheet.contains("VERDICT    SOUND. "), "{sheet}");
    assert!(sheet.contains("Nothing to correct. Cover the edges, tag it 0.4878 in."), "{sheet}");
    assert_eq!(bench.json(&readings)["outcome"], "sound");
}

#[test]
fn a_form_is_taken_and_found_empty() {
    let bench = Bench::of(HALF_INCH);
    for (name, extra) in [("form.toml", None), ("form.csv", Some("--csv"))] {
        let form = bench.answer(&FORM.into_iter().chain(extra).collect::<Vec<_>>());
        bench.write(name, &form);
        let check = ["check", "--plan", "plan.json", "--readings", name];
        bench.check_refused(&check, "nothing was read");
    }
}

#[test]
fn a_form_is_written_once() {
    let bench = Bench::of(HALF_INCH);
    let mut arguments = FORM.to_vec();
    arguments.extend(["-o", "mine.toml"]);
    let said = bench.answer(&arguments);
    assert!(said.contains("--plan plan.json --readings mine.toml"), "{said}");
    assert_eq!(bench.read("mine.toml"), bench.answer(&FORM));
    bench.write("mine.toml", "an afternoon's work");
    bench.check_refused(&arguments, "is there already and may hold readings");
    assert_eq!(bench.read("mine.toml"), "an afternoon's work");
}

#[test]
fn the_name_and_the_form_of_a_file_agree() {
    let bench = Bench::of(HALF_INCH);
    let mut arguments = FORM.to_vec();
    arguments.extend(["-o", "mine.CSV"]);
    bench.answer(&arguments);
    assert!(bench.read("mine.CSV").contains("kind,how,tooth"), "not written as CSV");
    arguments.extend(["--csv"]);
    arguments[5] = "mine.txt";
    bench.check_refused(&arguments, "the name must end in .csv");
    assert!(!bench.path("mine.txt").exists(), "a refusal left something on the disk");
}
