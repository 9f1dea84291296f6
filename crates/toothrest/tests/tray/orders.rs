//! Trays put in order, as a person asks for it.

use serde_json::Value;

use geometry::Angle;
use shop::book::event::Planned;
use shop::book::{Event, SubjectKind};
use shop::plan::PlannedSetup;

use crate::bench::{Bench, on_server};
use crate::written;

/// Every cutter of the examples in one tray.
fn whole_shop(bench: &Bench) -> usize {
    bench.keep("machine", "machines/left-bench.toml", &[]);
    for wheel in ["w-05-flaring-cup-cbn", "w-07-flaring-cup-diamond", "w-02-straight-cup-oxide"] {
        bench.keep("wheel", &format!("wheels/{wheel}.toml"), &[]);
    }
    let cutters = std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/cutters"));
    let names: Vec<String> = cutters
        .unwrap()
        .map(|entry| format!("cutters/{}", entry.unwrap().file_name().to_string_lossy()))
        .collect();
    names.iter().for_each(|name| drop(bench.keep("cutter", name, &["--tray", "blue"])));
    names.len()
}

fn numbers(list: &Value) -> Vec<String> {
    list.as_array().unwrap().iter().map(|number| number.as_str().unwrap().to_owned()).collect()
}

/// The order as numbers: first those to decide on, then stop by stop.
fn in_order(answer: &Value) -> Vec<String> {
    let flagged = answer["decide_first"].as_array().unwrap();
    let flagged = flagged.iter().map(|one| one["number"].as_str().unwrap().to_owned());
    let stops = answer["stops"].as_array().unwrap();
    flagged.chain(stops.iter().flat_map(|stop| numbers(&stop["cutters"]))).collect()
}

fn orders_a_shop(bench: &Bench) {
    let count = whole_shop(bench);
    let answer = bench.json(&["tray", "order", "--tray", "blue", "--json"]);
    let mut all = in_order(&answer);
    assert_eq!(all.len(), count, "every cutter stands somewhere");
    all.sort();
    all.dedup();
    assert_eq!(all.len(), count, "and only once");
    let flagged = answer["decide_first"].as_array().unwrap();
    let hopeless = flagged.iter().find(|one| one["number"] == "K-149").unwrap();
    let why = hopeless["why"].as_str().unwrap();
    assert!(why.starts_with("scrap: ") && why.contains("too shallow to clear"), "{why}");
    assert!(answer["minutes"].as_f64() <= answer["minutes_as_it_lies"].as_f64());
    assert_eq!((&answer["best"], &answer["stopped"]), (&Value::Bool(true), &Value::Bool(false)));
    let first = &answer["stops"][0];
    assert_eq!((&first["minutes"], numbers(&first["changes"])), (&0.0.into(), Vec::new()));

    let text = bench.answer(&["tray", "order", "--tray", "blue"]);
    assert!(text.contains("no order has less to change"), "{text}");
    let (before, behind) = text.split_once("DECIDE FIRST").unwrap();
    assert!(!before.contains("K-") && behind.find("K-149") < behind.find("   1  set up"), "{text}");

    let keep = ["tray", "order", "--tray", "blue", "--keep", "--by", "AB", "--json"];
    assert_eq!(bench.json(&keep), answer, "the same tray, the same order");
    let history = bench.json(&["book", "history", "blue", "--json"]);
    let last = history["entries"].as_array().unwrap().last().unwrap().clone();
    assert_eq!(last["event"], "tray ordered");
    assert_eq!(last["words"], format!("{count} cutters"));
}

#[test]
fn a_tray_in_a_file_is_ordered() {
    orders_a_shop(&Bench::new());
}

#[test]
fn a_tray_on_a_server_is_ordered() {
    let Some(bench) = on_server("ordered") else { return };
    orders_a_shop(&bench);
}

#[test]
fn what_is_missing_is_named() {
    let bench = Bench::new();
    bench.keep("cutter", "cutters/k-117-half-inch-dull.toml", &["--tray", "blue"]);
    bench.refused(&["tray", "order"], 2, "put one in with \"book keep machine\"");
    bench.keep("machine", "machines/left-bench.toml", &[]);
    bench.refused(&["tray", "order", "--tray", "red"], 2, "tray \"red\" is not in the book");
    bench.refused(&["tray", "order", "--keep"], 2, "--tray");
    let answer = bench.json(&["tray", "order", "--json"]);
    let why = answer["decide_first"][0]["why"].as_str().unwrap();
    assert!(why.contains("none of the wheels can be used"), "{why}");
    bench.keep("machine", "machines/right-bench.toml", &[]);
    bench.refused(&["tray", "order"], 2, "there are several; name one of ");
    bench.refused(&["tray", "order", "--machine", "x"], 2, "machine \"x\" is not in the book");
}

/// A cutter with a kept plan goes by the plan's set-up, on the machine for which it was made and
/// with a wheel that is still on the rack; on another machine practice stands in.
#[test]
fn a_kept_plan_orders_its_cutter() {
    let bench = Bench::new();
    bench.shop();
    bench.keep("machine", "machines/right-bench.toml", &[]);
    let setup = PlannedSetup {
        head_angle: Angle::from_degrees(84.5),
        relief_setting: Angle::from_degrees(7.25),
        finger: Some("narrow".to_owned()),
    };
    written::in_book(&bench, async |book| {
        let of = async |kind, name| written::found(book, kind, name).await.subject;
        let planned = Planned {
            program: "0".to_owned(),
            route: "regrind on the diameter".to_owned(),
            wheel: Some(of(SubjectKind::Wheel, "W-05").await.id),
            machine: Some(of(SubjectKind::Machine, "left bench").await.id),
            setup: Some(setup),
            ..Planned::default()
        };
        let cutter = of(SubjectKind::Cutter, "K-117").await;
        written::put(book, &cutter, vec![Event::Planned(planned)]).await;
    });
    let stop = |machine: &str| -> Value {
        let answer = bench.json(&["tray", "order", "--machine", machine, "--json"]);
        let stops = answer["stops"].as_array().unwrap().clone();
        let of = |stop: &Value| numbers(&stop["cutters"]).contains(&"K-117".to_owned());
        stops.into_iter().find(of).unwrap()
    };
    let planned = stop("left bench");
    let setup = &planned["setup"];
    assert_eq!(numbers(&planned["by_kept_plan"]), ["K-117"]);
    assert_eq!(setup["wheel"], "W-05");
    for (key, degrees) in [("head_angle_deg", 84.5), ("relief_deg", 7.25)] {
        assert!((setup[key].as_f64().unwrap() - degrees).abs() < 1e-9, "{setup}");
    }
    assert_eq!(setup["rest_finger"], "narrow");
    let text = bench.answer(&["tray", "order", "--machine", "left bench"]);
    assert!(text.contains("(as planned)") && text.contains("(by practice)"), "{text}");
    let other = stop("right bench");
    assert!(numbers(&other["by_kept_plan"]).is_empty(), "{other}");
    assert!((other["setup"]["head_angle_deg"].as_f64().unwrap() - 84.5).abs() > 0.1, "{other}");
}
