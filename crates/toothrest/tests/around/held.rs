//! How the tooth is held, and what then moves.

use serde_json::Value;

use super::{HELICAL, STRAIGHT, answer, example, line, plan, refused, sheet, words};

#[test]
fn an_index_head_turns_by_its_crank() {
    // Plain indexing, 40 to 1: 40/7 is 5 turns and 15 holes on 21 (common practice; the rule as in
    // OD 1644, from memory). Seven teeth fit no notches of 24.
    let machine = example("machines/index-bench.toml");
    let seven = example(STRAIGHT).replace("teeth = 6", "teeth = 7");
    let on_21 = machine.replace("\"0.5 deg\"", "\"0.428571 deg\"");
    let planned = answer(&seven, &on_21);
    assert!(words(&planned, "index").starts_with("5 turns and 15 holes on the circle of 21"));
    // The crank that sets the relief is the one that indexes: the notches would let it go.
    let six = answer(&example(STRAIGHT), &machine);
    assert!(words(&six, "index").starts_with("6 turns and 12 holes on the circle of 18"));
    let eight = answer(&example(STRAIGHT).replace("teeth = 6", "teeth = 8"), &machine);
    assert!(words(&eight, "index").starts_with("5 whole turns of the crank"));
    assert!(line(&six, "rest along").is_none() && line(&six, "rest finger").is_none());
}

#[test]
fn a_crank_that_sets_the_relief_must_divide_on_its_own_circle() {
    // 40/7 turns are 5 and 5/7: on 18 holes that is no whole hole, on 21 it is 15 (own arithmetic).
    let seven = example(STRAIGHT).replace("teeth = 6", "teeth = 7");
    let machine = example("machines/index-bench.toml");
    let cups = plan(&seven, &machine, &["--relief", "flat"]);
    let said = String::from_utf8(cups.stderr).unwrap();
    assert!(said.contains("graduation = \"0.428571 deg\""), "{said}");
    // A disc above centre sets the relief by its height, and leaves the notches or circles free.
    let notched = machine.replace("direct = [24]", "direct = [21]");
    let planned = answer(&seven, &notched);
    assert!(words(&planned, "index").starts_with("3 notches on the plate of 21"));
    assert!(words(&planned, "relief").starts_with("raise the wheel, tooth on centre"));
}

#[test]
fn nothing_speaks_of_a_rest_where_a_head_holds_the_tooth() {
    let machine = example("machines/index-bench.toml");
    for more in [&["--relief", "flat"][..], &["--relief", "hollow"]] {
        let output = plan(&example(STRAIGHT), &machine, more);
        let text = String::from_utf8(output.stdout).unwrap();
        assert!(text.contains("Pin home and head locked"), "{text}");
        for words in ["on its rest", "on the rest", "off the rest", "rest on centre"] {
            assert!(!text.contains(words), "{words} stands in\n{text}");
        }
    }
}

#[test]
fn an_index_head_asks_how_the_teeth_stand() {
    let machine = example("machines/index-bench.toml");
    let told = example(STRAIGHT);
    let untold: String = told
        .lines()
        .filter(|line| !line.starts_with("unequal_index"))
        .collect::<Vec<_>>()
        .join("\n");
    refused(&untold, &machine, "look whether the teeth stand equally, and write false or true");
    let unequal = told.replace("unequal_index = false", "unequal_index = true");
    refused(&unequal, &machine, "an index head needs equal teeth");
    let measured = told.replace(
        "unequal_index = false",
        "index = [\"0 deg\", \"58 deg\", \"120 deg\", \"178 deg\", \"240 deg\", \"298 deg\"]",
    );
    refused(&measured, &machine, "an index head needs equal teeth");
    refused(&example(HELICAL), &machine, "a helix must turn as it travels");
    let eleven = told.replace("teeth = 6", "teeth = 11");
    refused(&eleven, &machine.replace("33", "34"), "a circle whose holes are a multiple of 11");
}

#[test]
fn an_index_head_sets_relief_by_its_crank_alone() {
    let machine = example("machines/index-bench.toml");
    let planned = answer(&example(STRAIGHT), &machine);
    let relief = line(&planned, "relief").unwrap();
    assert_eq!(relief["dial"]["axis"], "crank, circle of 18");
    let holes = relief["dial"]["reading"]["deg"].as_f64().unwrap() / 0.5;
    assert!((holes - holes.round()).abs() < 1e-9, "{holes} holes");
    let turned = format!("1 turn and {:.0} hole", holes - 18.0);
    assert!(words(&planned, "relief").contains(&turned), "{}", words(&planned, "relief"));
}

#[test]
fn a_rest_on_the_table_serves_straight_teeth_alone() {
    let on_head = example("machines/centres-bench.toml");
    let on_table = on_head.replace("stands_on = \"wheel head\"", "stands_on = \"table\"");
    let reaching = answer(&example(HELICAL), &on_head);
    assert!(words(&reaching, "centres").contains("see that it has a centre there"));
    let shell = example(HELICAL).replace("centre_cutting = true", "centre_cutting = false");
    refused(&shell, &on_table, "the rest must stand still before the wheel");
    let (travels, stays) = (answer(&example(STRAIGHT), &on_table), answer(&shell, &on_head));
    assert!(words(&travels, "rest stand").contains("it travels with the work"));
    assert!(words(&stays, "rest stand").contains("of feed turns the tooth"));
    assert!(words(&travels, "stop, tip").contains("at the wheel's leading corner"));
    assert!(words(&stays, "stop, tip").contains("the tip at the rest"));
    // A head that carries no rest sets no relief for a cup; the rest's own screw does.
    assert_eq!(line(&travels, "relief").unwrap()["dial"]["axis"], "rest screw");
    assert_eq!(line(&stays, "relief").unwrap()["dial"]["axis"], "column wheel");
}

/// On a straight tooth nothing turns on its way, so that either stand of the rest leaves a plane by
/// the face of a cup. Own derivation: a plane at the relief a through the edge of a circle of
/// radius R has fallen R - R cos a / cos(c/R - a) at the distance c along that circle.
#[test]
fn either_stand_of_the_rest_leaves_a_plane_on_a_straight_tooth() {
    let on_head = example("machines/centres-bench.toml");
    let on_table = on_head.replace("stands_on = \"wheel head\"", "stands_on = \"table\"");
    assert_ne!(on_head, on_table);
    let mut reliefs = Vec::new();
    for machine in [on_head, on_table] {
        let planned = answer(&example(STRAIGHT), &machine);
        let work = &planned["peripheral"];
        assert_eq!(work["wheel"]["number"], "W-02", "a cup that grinds by its face");
        let number = |place: &str| work.pointer(place).and_then(Value::as_f64).unwrap();
        let radius = number("/expect/diameter_mm") / 2.0;
        let relief = number("/relief/at_edge_deg").to_radians();
        let drops = work["expect"]["drops"].as_array().unwrap();
        assert!(!drops.is_empty());
        for drop in drops {
            let along = drop["distance_mm"].as_f64().unwrap();
            let plane = radius - radius * relief.cos() / (along / radius - relief).cos();
            let found = drop["drop_mm"].as_f64().unwrap();
            assert!((found - plane).abs() < 1e-4, "{found} at {along}, and not {plane}");
        }
        // As near to what is wanted as the dial's own marks allow.
        let off = number("/relief/set_deg") - number("/relief/wanted_deg");
        assert!(off.abs() < 0.25, "{off} deg off what is wanted");
        reliefs.push(number("/relief/at_edge_deg"));
    }
    assert!((reliefs[0] - reliefs[1]).abs() < 0.5, "{reliefs:?}");
}

#[test]
fn a_cutter_too_long_for_the_centres_is_refused() {
    let short = example("machines/centres-bench.toml").replace("\"400 mm\"", "\"90 mm\"");
    refused(&example(STRAIGHT), &short, "does not go between the centres");
}

#[test]
fn the_centres_and_their_height_are_on_the_sheet() {
    let text = sheet(&example(STRAIGHT), &example("machines/centres-bench.toml"));
    assert!(text.contains("centres      120.000 mm"), "{text}");
}
