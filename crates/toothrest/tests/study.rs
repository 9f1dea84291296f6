//! `toothrest study`: the same answer on any number of threads, and hands that are never off.

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;
use tempfile::TempDir;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn run(arguments: &[&str], threads: &str) -> Output {
    Command::new(env!("CARGO_BIN_EXE_toothrest"))
        .current_dir(root())
        .env("RAYON_NUM_THREADS", threads)
        .args(arguments)
        .output()
        .unwrap()
}

fn answer(arguments: &[&str], threads: &str) -> String {
    let output = run(arguments, threads);
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success() && told.is_empty(), "{arguments:?}: {told}");
    String::from_utf8(output.stdout).unwrap()
}

/// A plan of an example, by the rows of a shop's table above the trade's.
struct Bench {
    folder: TempDir,
}

impl Bench {
    fn new(table: &str) -> Self {
        let bench = Self { folder: tempfile::tempdir().unwrap() };
        let tables = bench.path("tables.toml");
        std::fs::write(&tables, table).unwrap();
        let plan = answer(
            &[
                "plan",
                "--cutter",
                "examples/cutters/k-117-half-inch-dull.toml",
                "--machine",
                "examples/machines/left-bench.toml",
                "--wheel",
                "examples/wheels/w-02-straight-cup-oxide.toml",
                "--tables",
                &tables,
                "--json",
            ],
            "1",
        );
        std::fs::write(bench.path("plan.json"), plan).unwrap();
        bench
    }

    fn path(&self, name: &str) -> String {
        self.folder.path().join(name).display().to_string()
    }

    fn plan(&self) -> Value {
        serde_json::from_str(&std::fs::read_to_string(self.path("plan.json")).unwrap()).unwrap()
    }

    fn study(&self, more: &[&str], threads: &str) -> String {
        let plan = self.path("plan.json");
        let arguments = [&["study", &plan], more].concat();
        answer(&arguments, threads)
    }

    fn json(&self, samples: &str) -> Value {
        let text = self.study(&["--samples", samples, "--json"], "2");
        serde_json::from_str(&text).unwrap()
    }
}

const SETTINGS: [&str; 17] = [
    "head angle",
    "relief setting",
    "secondary relief setting",
    "rest on centre",
    "wheel on centre",
    "rest along",
    "fixture squareness",
    "first touch",
    "feed mark",
    "backlash",
    "secondary feed",
    "shank runout",
    "wheel corner",
    "face width",
    "wheel diameter",
    "helix",
    "diameter",
];

/// A shop whose hands are off with one setting only.
fn only(setting: &str, deviation: &str) -> String {
    let row = |one: &&str| {
        let amount = if *one == setting { deviation } else { "" };
        format!("[[habits]]\nkey = \"{one}\"\n{amount}\n")
    };
    SETTINGS.iter().map(row).collect()
}

/// Of a list of answers the one under a name.
fn named<'a>(list: &'a Value, key: &str, name: &str) -> &'a Value {
    list.as_array().unwrap().iter().find(|one| one[key] == name).unwrap()
}

#[test]
fn the_same_plan_and_seed_give_the_same_bytes_on_any_number_of_threads() {
    let bench = Bench::new(&only("rest along", "amount = \"0.05 mm\""));
    let small = ["--samples", "100", "--json"];
    let one = bench.study(&small, "1");
    assert_eq!(one, bench.study(&small, "2"));
    assert_eq!(one, bench.study(&small, "5"));
    let other = bench.study(&["--samples", "100", "--seed", "2", "--json"], "2");
    assert_ne!(one, other);
    let sheet = bench.study(&["--samples", "100", "--svg", &bench.path("pictures")], "2");
    for part in ["HOLDS", "SPREAD", "MUST NOT", "CAUSES", "LOOSEST"] {
        assert!(sheet.contains(part), "{sheet}");
    }
    assert!(sheet.lines().all(|line| line.chars().count() <= 100), "{sheet}");
    for picture in ["spread.svg", "causes.svg"] {
        assert!(Path::new(&bench.path("pictures")).join(picture).exists());
    }
}

/// With hands that are never off everything is as planned.
#[test]
fn what_is_never_off_holds() {
    let bench = Bench::new(&only("diameter", "amount = \"0.0001 mm\""));
    let study = bench.json("64");
    assert_eq!(study["held"].as_f64(), Some(1.0));
    assert_eq!(study["lost"].as_u64(), Some(0));
    let plan = bench.plan();
    let expect = &plan["peripheral"]["expect"];
    let planned = |result: &str| named(&study["spreads"], "result", result)["planned"].clone();
    let diameter = planned("diameter").as_f64().unwrap();
    assert!((diameter - expect["diameter_mm"].as_f64().unwrap()).abs() < 2e-4, "{diameter}");
}

#[test]
fn what_cannot_be_studied_is_told() {
    let bench = Bench::new(&only("rest along", "amount = \"0.05 mm\""));
    let few = run(&["study", &bench.path("plan.json"), "--samples", "3"], "1");
    assert_eq!(few.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&few.stderr).contains("64..=65536"));
    let none = run(&["study", "README.md"], "1");
    assert_eq!(none.status.code(), Some(2));
}
