//! `toothrest swivel` as a person runs it: set-ups in dial marks, refusals that say what to write.

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

const UNIVERSAL: &str = "examples/machines/universal-bench.toml";

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn run(machine: &str, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_toothrest"))
        .current_dir(root())
        .args(["swivel", "--machine", machine])
        .args(arguments)
        .output()
        .unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn answer(machine: &str, arguments: &[&str]) -> String {
    let output = run(machine, arguments);
    assert!(output.status.success(), "{arguments:?}: {}", text(&output.stderr));
    text(&output.stdout)
}

fn refused(machine: &str, arguments: &[&str], words: &[&str]) {
    let output = run(machine, arguments);
    let said = text(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{arguments:?}: {said}");
    assert!(output.stdout.is_empty(), "{arguments:?}");
    for word in words {
        assert!(said.contains(word), "{arguments:?} said\n{said}\nand not\n{word}");
    }
}

#[test]
fn an_end_tooth_is_told_in_the_marks_of_this_machine() {
    let said = answer(UNIVERSAL, &["--dish", "1 deg", "--relief", "7 deg"]);
    for words in
        ["work head base", "91.0 deg", "work head tilt", "7 deg", "collet down", "dish 1.0"]
    {
        assert!(said.contains(words), "{words}:\n{said}");
    }
}

#[test]
fn the_same_in_json_is_ranked_and_adds_up() {
    let said = answer(UNIVERSAL, &["--dish", "1 deg", "--relief", "7 deg", "--json"]);
    let answer: Value = serde_json::from_str(&said).unwrap();
    let set_ups = answer["set_ups"].as_array().unwrap();
    assert!(!set_ups.is_empty() && answer["found"].as_u64().unwrap() >= set_ups.len() as u64);
    let rank = |one: &Value| {
        one["set"].as_array().unwrap().len() as f64 + 10.0 * one["miss_deg"].as_f64().unwrap()
    };
    // How far the scales turn decides among equals and adds a little.
    assert!(set_ups.windows(2).all(|pair| rank(&pair[0]) < rank(&pair[1]) + 1.0), "{said}");
    for one in set_ups {
        let relief = one["leaves"]["relief_deg"].as_f64().unwrap();
        let dish = one["leaves"]["dish_deg"].as_f64().unwrap();
        let miss = one["miss_deg"].as_f64().unwrap();
        let off = (relief - 7.0).hypot(dish - 1.0);
        assert!((off - miss).abs() < 0.02 * miss + 1e-6, "{off} {miss}: {one}");
    }
}

#[test]
fn a_left_hand_cutter_is_set_the_other_way_round() {
    let left = ["--hand", "left", "--dish", "1 deg", "--relief", "7 deg"];
    let said = answer(UNIVERSAL, &left);
    assert!(said.contains("left-hand cutter") && said.contains("collet down"), "{said}");
}

#[test]
fn corners_peripheries_and_spindles_have_set_ups_too() {
    let corner = answer(UNIVERSAL, &["--surface", "corner", "--relief", "8 deg"]);
    assert!(corner.contains("chamfer 45.00 deg"), "{corner}");
    let taper = ["--surface", "periphery", "--taper", "3 deg", "--relief", "7 deg"];
    assert!(answer(UNIVERSAL, &taper).contains("table top"));
    assert!(answer(UNIVERSAL, &["--spindles", "60 deg"]).contains("head circle"));
}

#[test]
fn scales_that_stand_elsewhere_or_shall_stay_are_heeded() {
    let stands = ["--relief", "7 deg", "--stands", "work head base = 90 deg", "--json"];
    let found: Value = serde_json::from_str(&answer(UNIVERSAL, &stands)).unwrap();
    // With the base square already, either tilt does it alone.
    for at in 0..2 {
        let moved = found["set_ups"][at]["set"].as_array().unwrap();
        assert!(moved.len() == 1 && moved[0]["axis"].as_str().unwrap().contains("tilt"), "{found}");
    }
    let keep = ["--relief", "7 deg", "--keep", "work head tilt", "--json"];
    let found: Value = serde_json::from_str(&answer(UNIVERSAL, &keep)).unwrap();
    for one in found["set_ups"].as_array().unwrap() {
        let moved = one["set"].as_array().unwrap();
        assert!(moved.iter().all(|dial| dial["axis"] != "work head tilt"), "{one}");
    }
}

#[test]
fn what_cannot_be_set_is_refused_with_what_would_be_right() {
    let keep = ["--relief", "7 deg", "--keep", "work head base", "--keep", "table top"];
    let keep = [keep.as_slice(), &["--keep", "head circle"]].concat();
    refused(UNIVERSAL, &keep, &["the swivels must reach the angle"]);
    refused(UNIVERSAL, &["--relief", "7"], &["--relief = 7", "deg"]);
    refused(UNIVERSAL, &["--relief", "80 deg"], &["--relief = 80 deg", "outside -45 to 60 deg"]);
    refused(UNIVERSAL, &["--relief", "7 deg", "--taper", "1 deg"], &["only the periphery"]);
    refused(UNIVERSAL, &["--relief", "7 deg", "--keep", "gizmo"], &["gizmo", "\"table top\""]);
    refused(
        UNIVERSAL,
        &["--relief", "7 deg", "--stands", "table top"],
        &["write the scale's name"],
    );
    // The corner bench has one swivel, and nothing on the side of the work turns.
    let corner = "examples/machines/corner-bench.toml";
    refused(corner, &["--relief", "7 deg"], &["the swivels must reach the angle"]);
}

#[test]
fn words_that_say_nothing_are_refused_with_the_phrases() {
    let folder = tempfile::tempdir().unwrap();
    let sound = std::fs::read_to_string(root().join(UNIVERSAL)).unwrap();
    let vague = sound.replace("positive = \"collet toward the wheel\"", "positive = \"as usual\"");
    let file = folder.path().join("vague.toml");
    std::fs::write(&file, vague).unwrap();
    let words = ["\"work head base\": positive = \"as usual\"", "\"collet toward the wheel\""];
    refused(file.to_str().unwrap(), &["--relief", "7 deg"], &words);
}
