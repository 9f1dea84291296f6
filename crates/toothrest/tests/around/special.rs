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
    // Every group is ground by itself: no round of the sheet goes over the teeth of another.
    let text = sheet(&apart, &example("machines/left-bench.toml"));
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "Teeth 1, 3 of 35.00 deg have a set-up of their own",
        "Teeth 2, 4 of 44.00 deg have a set-up of their own",
        "Teeth 1 3, a round at each",
        "Secondary of teeth 2 4",
    ] {
        assert!(text.contains(words), "{words} is missing from\n{text}");
    }
    assert!(!text.contains("Teeth 1 3 2 4"), "{text}");
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

/// A disc that is raised leaves asin(height / wheel radius) at every diameter, so that relief and
/// land come alike from tip to shank, under whatever machine raises it (own derivation).
#[test]
fn a_raised_disc_leaves_one_relief_along_a_taper() {
    let straight = example(TAPERED)
        .replace("helix = \"20 deg\"", "helix = \"0 deg\"")
        .replace("helix_hand = \"right\"", "");
    let machine = example("machines/centres-bench.toml")
        .replace("stands_on = \"wheel head\"", "stands_on = \"table\"");
    let output = plan(&straight, &machine, &["--relief", "hollow", "--json"]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success(), "{said}");
    let planned: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(planned["peripheral"]["wheel"]["number"], "W-03");
    let stations = planned["peripheral"]["taper"]["stations"].as_array().unwrap().clone();
    for station in &stations {
        let relief = station["relief_deg"].as_f64().unwrap();
        let land = station["land_mm"].as_f64().unwrap();
        assert!(
            (relief - stations[0]["relief_deg"].as_f64().unwrap()).abs() < 0.05,
            "{stations:?}"
        );
        assert!((land - stations[0]["land_mm"].as_f64().unwrap()).abs() < 0.02, "{stations:?}");
    }
}

/// Steep secondaries and tapers ask the wheel to stand far from where the primary has it.
#[test]
fn lands_come_alike_under_a_disc_on_every_bench() {
    for machine in ["universal-bench", "centres-bench"] {
        for secondary in ["22 deg", "30 deg"] {
            for taper in ["3 deg", "8 deg"] {
                let cutter = example(TAPERED)
                    .replace("secondary = \"22 deg\"", &format!("secondary = \"{secondary}\""))
                    .replace("taper = \"3 deg\"", &format!("taper = \"{taper}\""))
                    .replace("flute_length = \"30 mm\"", "flute_length = \"20 mm\"");
                let machine = example(&format!("machines/{machine}.toml"));
                let output = plan(&cutter, &machine, &["--relief", "hollow", "--json"]);
                let said = String::from_utf8(output.stderr).unwrap();
                assert!(output.status.success(), "{secondary} {taper}: {said}");
                let planned: Value = serde_json::from_slice(&output.stdout).unwrap();
                let stations = planned["peripheral"]["taper"]["stations"].clone();
                let land = |at: usize| stations[at]["land_mm"].as_f64().unwrap();
                // By the marks of the swivel alone: half of 5 minutes over 20 mm is 15 µm at the
                // wheel, and a land moves by some three times that here.
                let apart = (land(2) - land(0)).abs();
                assert!(apart < 0.12, "{secondary} {taper}: {stations}");
            }
        }
    }
}

#[test]
fn the_sheet_of_a_taper_says_what_is_set_at_the_tip_and_which_way_to_trim() {
    let text = sheet(&example(TAPERED), &example("machines/centres-bench.toml"));
    assert!(text.contains("half way up, so"), "{text}");
    assert!(text.contains("on diameter: swivel a hair"), "{text}");
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
