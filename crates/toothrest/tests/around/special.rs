//! Teeth that stand or run unalike, and tapers.

use serde_json::Value;

use super::{HELICAL, STRAIGHT, answer, example, plan, refused, sheet};

const TWO_HELICES: &str = "cutters/k-168-two-helices.toml";
const TAPERED: &str = "cutters/k-164-tapered.toml";

fn teeth(answer: &Value) -> Vec<Value> {
    answer["peripheral"]["unlike_teeth"]["teeth"].as_array().unwrap().clone()
}

#[test]
fn each_tooth_has_its_gap_and_its_partner() {
    let planned = answer(&example(TWO_HELICES), &example("machines/left-bench.toml"));
    let teeth = teeth(&planned);
    // From 88 deg at the tip the gap closes by 2 z (tan 38 − tan 35) / D over 1-1/4 in from the
    // teeth of 38 deg on (own arithmetic).
    let closes = 2.0 * 1.25 / 0.5 * (38_f64.to_radians().tan() - 35_f64.to_radians().tan());
    let gap = teeth[1]["least_gap_deg"].as_f64().unwrap();
    assert!((gap - (92.0 - closes.to_degrees())).abs() < 1e-6, "{gap}");
    assert_eq!(teeth[0]["least_gap_deg"].as_f64().map(f64::round), Some(88.0));
    assert_eq!(teeth[1]["measured_against"], 4);
    assert!(planned["peripheral"]["unlike_teeth"]["groups"].as_array().unwrap().is_empty());
}

#[test]
fn helices_far_apart_get_set_ups_of_their_own() {
    let apart = example(TWO_HELICES)
        .replace("helix = \"37 deg\"", "helix = \"35 deg\"")
        .replace("\"38 deg\"", "\"44 deg\"")
        .replace("1-1/4 in\"\no", "1/2 in\"\no");
    let planned = answer(&apart, &example("machines/left-bench.toml"));
    let groups = planned["peripheral"]["unlike_teeth"]["groups"].as_array().unwrap().clone();
    assert_eq!(groups.len(), 2);
    for group in &groups {
        let relief = group["relief_deg"].as_f64().unwrap();
        assert!((relief - 9.0).abs() < 0.25, "{relief}");
    }
    let [first, second] = [&groups[0], &groups[1]].map(|group| group["setup"]["dial"].clone());
    assert_ne!(first, second);
}

#[test]
fn odd_unequal_teeth_are_read_in_pairs() {
    let three = example(STRAIGHT)
        .replace("teeth = 6", "teeth = 3")
        .replace("unequal_index = false", "index = [\"0 deg\", \"116 deg\", \"238 deg\"]");
    let planned = answer(&three, &example("machines/centres-bench.toml"));
    let expect = &planned["peripheral"]["expect"];
    let diameter = expect["diameter_mm"].as_f64().unwrap();
    assert!(expect["flat_anvils_mm"].is_null());
    // The chord between two points of a circle: 116 deg and 122 deg apart, the rest closes at 122.
    let chord = diameter * 61_f64.to_radians().sin();
    let read = teeth(&planned)[0]["micrometer_mm"].as_f64().unwrap();
    assert!((read - chord).abs() < 1e-9, "{read} and not {chord}");
}

#[test]
fn a_mirrored_tapered_cutter_comes_out_alike() {
    let right = example(TAPERED);
    let left = right
        .replace("\nhand = \"right\"", "\nhand = \"left\"")
        .replace("helix_hand = \"right\"", "helix_hand = \"left\"");
    let machine = example("machines/centres-bench.toml");
    let (right, left) = (answer(&right, &machine), answer(&left, &machine));
    assert_eq!(right["peripheral"]["taper"], left["peripheral"]["taper"]);
    let reading = |answer: &Value| {
        let line = super::line(answer, "table swivel").unwrap();
        line["dial"]["reading"]["deg"].as_f64().unwrap()
    };
    assert!((reading(&right) + reading(&left)).abs() < 1e-12);
}

#[test]
fn lands_come_alike_along_a_taper() {
    let planned = answer(&example(TAPERED), &example("machines/centres-bench.toml"));
    let stations = planned["peripheral"]["taper"]["stations"].as_array().unwrap().clone();
    let number = |at: usize, key: &str| stations[at][key].as_f64().unwrap();
    for at in 0..3 {
        assert!((number(at, "land_mm") - number(0, "land_mm")).abs() < 0.15, "{stations:?}");
    }
    assert!((number(1, "relief_deg") - 10.0).abs() < 0.2, "{stations:?}");
    assert!(number(0, "relief_deg") > number(1, "relief_deg"));
    // From tip to shank over 30 mm at 3 deg a side, less what the swivel's mark is off.
    let made = planned["peripheral"]["taper"]["taper_made_deg"].as_f64().unwrap();
    let grown = 60.0 * made.to_radians().tan();
    assert!((number(2, "diameter_mm") - number(0, "diameter_mm") - grown).abs() < 1e-6);
    assert!((made - 3.0).abs() <= 2.5 / 60.0 + 1e-9, "{made}");
}

#[test]
fn a_taper_needs_a_swivel_and_a_flat_or_hollow_relief() {
    refused(&example(TAPERED), &example("machines/corner-bench.toml"), "a table that swivels");
    let more = ["--relief", "eccentric"];
    let output = plan(&example(TAPERED), &example("machines/centres-bench.toml"), &more);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("a taper is ground flat or hollow"), "{said}");
}

#[test]
fn what_teeth_and_tapers_ask_for_is_on_the_sheet() {
    let machine = example("machines/centres-bench.toml");
    let text = sheet(&example(TAPERED), &machine);
    for words in ["TAPER      Swivel", "square to the side", "table swivel table top 3 deg"] {
        assert!(text.contains(words), "{words} is missing from\n{text}");
    }
    let text = sheet(&example(TWO_HELICES), &example("machines/left-bench.toml"));
    assert!(text.contains("Micrometer at the tip, at its largest: teeth 1 and 3"), "{text}");
    let plain = sheet(&example(HELICAL), &example("machines/left-bench.toml"));
    assert!(!plain.contains("TEETH ") && !plain.contains("TAPER "), "{plain}");
}
