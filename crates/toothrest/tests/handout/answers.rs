//! What programs get: every answer in JSON says the version of its shape.

use serde_json::Value;

use crate::desk::Desk;
use crate::taught::commands;

/// A way to call every command that answers in JSON, in an order in which each finds what it needs.
const CALLS: [&str; 32] = [
    "example --json",
    "plan --cutter cutter.toml --machine machine.toml --wheel wheel.toml --json",
    "plan --after check.json --json",
    "check --plan plan.json --readings examples/readings/k-117-as-planned.toml --json",
    "study plan.json --samples 64 --json",
    "section examples/settings/cup.toml --json",
    "swivel --machine examples/machines/universal-bench.toml --relief \"7 deg\" --json",
    "sources --json",
    "sources shrink --json",
    "sources bibliography --json",
    "licences --json",
    "book keep wheel examples/wheels/w-05-flaring-cup-cbn.toml --by AB --json",
    "book take-in examples/lists/drawer.csv --all hand=right --all helix_hand=right --all rake=10 \
     --all profile=plain --all end=square --json",
    "book look --json",
    "book check --json",
    "book history K-117 --json",
    "book find cobalt --json",
    "book backup copy.sqlite --json",
    "book --book again.sqlite restore copy.sqlite --json",
    "book export files --json",
    "book --book third.sqlite import files --json",
    "book token CRIB --name crib --json",
    "book token CRIB --withdraw --json",
    "tray order --json",
    "quote --tray blue --json",
    "tag K-126 --pdf tag.pdf --json",
    "deliver K-126 --pdf note.pdf --json",
    "give list cutters --units mm --json",
    "give list sizes --units in --json",
    "give symbols --cutter cutter.toml",
    "give offsets K-121=12:0.3750 --cutter examples/cutters/k-121-corner-radius.toml \
     --control examples/controls/window-mill.toml --json",
    "quote --cutters cutter.toml --json",
];

fn filled() -> Desk {
    let desk = Desk::new();
    desk.planned();
    desk.shop();
    desk
}

#[test]
fn every_answer_in_json_says_the_version_of_its_shape() {
    let desk = filled();
    for call in CALLS {
        let answer: Value =
            serde_json::from_str(&desk.answer(&format!("toothrest {call}"))).unwrap();
        assert_eq!(answer["schema"], 1, "{call}");
    }
    for command in commands(&desk) {
        let help = desk.answer(&format!("toothrest {command} -h"));
        let has = |call: &str, word: &str| call.split(' ').any(|one| one == word);
        let is_called = || CALLS.iter().any(|call| command.split(' ').all(|word| has(call, word)));
        let has_json = help.lines().any(|line| line.trim_start().starts_with("--json"));
        assert!(!has_json || is_called(), "{command} answers in JSON; call it here");
    }
}

#[test]
fn a_program_learns_what_was_done() {
    let desk = filled();
    let json = |call: &str| -> Value {
        serde_json::from_str(&desk.answer(&format!("toothrest {call} --json"))).unwrap()
    };
    let kept = json("book keep wheel examples/wheels/w-05-flaring-cup-cbn.toml --by AB");
    assert_eq!(kept["kept"][0]["number"], "W-05");
    assert!(kept["kept"][0]["entry"].as_u64().unwrap() > 0);
    let again = json("book keep machine machine.toml --by AB");
    assert_eq!(again["kept"][0]["entry"], Value::Null, "{again}");
    let out = json("book export files");
    let back = json("book --book other.sqlite import files");
    assert_eq!((&out["entries"], &out["histories"]), (&back["entries"], &back["histories"]));
    assert!(out["entries"].as_u64().unwrap() >= 9, "{out}");
    let made = json("book token CRIB --name crib");
    assert!(made["token"].as_str().unwrap().len() > 20 && made["days"] == 365);
    assert_eq!(json("book token CRIB --withdraw")["withdrawn"], 1);
    let sizes = json("give list sizes --units mm");
    let columns = sizes["columns"].as_array().unwrap().len();
    let rows = sizes["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 3);
    assert!(rows.iter().all(|row| row.as_array().unwrap().len() == columns));
    let topics = json("sources");
    assert!(topics["topics"].as_array().unwrap().len() > 10);
    assert_eq!(json("tag K-126 --pdf tag.pdf")["cutters"][0], "K-126");
}

/// The plan of the bundled example is read by whatever reads a plan.
#[test]
fn the_example_plan_is_a_plan_like_any_other() {
    let desk = Desk::new();
    desk.answer("toothrest example --json > example.json");
    let sheet = desk.answer("toothrest check --plan example.json --template");
    assert!(sheet.contains("K-117"), "{sheet}");
}
