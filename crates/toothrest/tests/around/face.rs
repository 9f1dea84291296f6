//! The regrind on the face.

use std::process::Command;

use serde_json::Value;

use super::{example, root};

const FORM: &str = "examples/cutters/k-172-form-relieved.toml";
const ROUGHER: &str = "examples/cutters/k-141-rougher.toml";
const INDEX: &str = "examples/machines/index-bench.toml";

fn plan(cutter: &str, machine: &str, more: &[&str]) -> (i32, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_toothrest"))
        .current_dir(root())
        .args(["plan", "--cutter", cutter, "--machine", machine])
        .args(["--wheel", "examples/wheels/w-11-dish-oxide.toml"])
        .args(["--wheel", "examples/wheels/rack-other.toml"])
        .args(more)
        .output()
        .unwrap();
    let text =
        String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap();
    (output.status.code().unwrap(), text)
}

fn face(cutter: &str, machine: &str) -> Value {
    let (code, text) = plan(cutter, machine, &["--json"]);
    assert_eq!(code, 0, "{text}");
    let mut answer: Value = serde_json::from_str(&text).unwrap();
    answer["face"].take()
}

#[test]
fn a_form_cutter_gets_a_set_up_on_its_face() {
    let face = face(FORM, INDEX);
    let number = |key: &str| face.pointer(key).and_then(Value::as_f64).unwrap();
    // A radial face lies through the axis, and the flat side with it.
    assert!(number("/offset_mm").abs() < 1e-6 && number("/rake_deg").abs() < 1e-6);
    // The spiral falls by tan 12 deg of the arc: the diameter loses twice that (own arithmetic).
    let back = number("/edge_goes_back_mm");
    let lost = number("/expect/lost_mm");
    assert!((lost - 2.0 * back * 12_f64.to_radians().tan()).abs() < 1e-9, "{lost}");
    assert_eq!(face["governing_tooth"], 7);
    let passes = face["passes"].as_array().unwrap();
    let turned: Vec<f64> = passes.iter().map(|pass| pass["turned_deg"].as_f64().unwrap()).collect();
    assert!(turned.is_sorted() && (turned[turned.len() - 1] - number("/turn_deg")).abs() < 1e-12);
    let setup = face["setup"].as_array().unwrap();
    let has = |item: &str| setup.iter().any(|line| line["item"] == item);
    assert!(has("index") && has("face offset") && has("feed by turn") && !has("rest finger"));
}

/// Where a dial is fine enough for it the feed goes by its marks, up to the next, so that the worst
/// face comes clean.
#[test]
fn a_face_is_fed_by_the_marks_of_its_dial() {
    let worn = std::fs::read_to_string(root().join(FORM)).unwrap();
    let worn = worn.replacen("wear_land = \"0.20 mm\"", "wear_land = \"0.90 mm\"", 1);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("worn.toml");
    std::fs::write(&path, worn).unwrap();
    let machine = "examples/machines/universal-bench.toml";
    let face = face(path.to_str().unwrap(), machine);
    let back = face["edge_goes_back_mm"].as_f64().unwrap();
    // 0.90 mm of land, what is taken beyond it, and less than a mark of 10 minutes on 25 mm more.
    assert!(back > 0.90 && back < 1.15, "{back}");
    let passes = face["passes"].as_array().unwrap();
    for pass in passes {
        let marks = pass["turned_deg"].as_f64().unwrap() * 6.0;
        assert!((marks - marks.round()).abs() < 1e-9, "{marks}");
    }
    let (_, text) = plan(path.to_str().unwrap(), machine, &[]);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("count from there (by the index dial)"), "{text}");
    assert!(text.contains("the reading grows"), "{text}");
}

#[test]
fn a_hooked_face_stands_by_the_sine_of_its_rake() {
    let hooked = std::fs::read_to_string(root().join(FORM)).unwrap();
    let hooked = hooked.replace("rake = \"0 deg\" ", "rake = \"8 deg\" ");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hooked.toml");
    std::fs::write(&path, hooked).unwrap();
    let face = face(path.to_str().unwrap(), INDEX);
    let number = |key: &str| face.pointer(key).and_then(Value::as_f64).unwrap();
    let sine = 8_f64.to_radians().sin();
    let radius = 0.5 * number("/expect/diameter_mm");
    assert!((number("/offset_mm") - radius * sine).abs() < 1e-6);
    // The next edge lies on a smaller circle, and so does its flat side.
    assert!(number("/next_offset_mm") < number("/offset_mm"));
    assert!((number("/rake_to_root_deg") - 8.0).abs() < 1e-6);
}

#[test]
fn a_helix_is_told_what_rim_would_do() {
    let (code, text) = plan(ROUGHER, "examples/machines/universal-bench.toml", &[]);
    assert_eq!(code, 0, "{text}");
    assert!(text.contains("the rim must follow the flute"), "{text}");
    assert!(text.contains("REGRIND ON THE FACE"), "{text}");
}

#[test]
fn the_root_of_the_flutes_is_asked_for() {
    let text = example("cutters/k-172-form-relieved.toml");
    let rootless: Vec<&str> =
        text.lines().filter(|line| !line.starts_with("core_diameter")).collect();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("rootless.toml");
    std::fs::write(&path, rootless.join("\n")).unwrap();
    let (code, text) = plan(path.to_str().unwrap(), INDEX, &["--json"]);
    assert_eq!(code, 0, "{text}");
    let answer: Value = serde_json::from_str(&text).unwrap();
    let why = answer["face_not_planned"].as_str().unwrap();
    assert!(why.contains("cutter.core_diameter: is not known"), "{why}");
}

#[test]
fn the_sheet_of_the_face_says_how_to_feed() {
    let (code, text) = plan(FORM, INDEX, &[]);
    assert_eq!(code, 0, "{text}");
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in ["the rim reaches", "rim's flat side"] {
        assert!(flat.contains(words), "{words} is missing from\n{text}");
    }
    assert!(!flat.contains("dress from the outside in"), "{text}");
    for words in
        ["THE FACE  K-172", "deg) to finish, then no feed", "mm at the edge (", "so that the rake"]
    {
        assert!(text.contains(words), "{words} is missing from\n{text}");
    }
}
