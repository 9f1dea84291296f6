//! Other set-ups round the cutter as a person asks for them: between centres, on an index head, a
//! rest on the table, teeth that are unalike, and tapers.

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

#[path = "around/face.rs"]
mod face;
#[path = "around/held.rs"]
mod held;
#[path = "around/special.rs"]
mod special;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn example(name: &str) -> String {
    std::fs::read_to_string(root().join("examples").join(name)).unwrap()
}

/// Plans a cutter on a machine, both given as text, with the bundled cup and straight wheel.
fn plan(cutter: &str, machine: &str, more: &[&str]) -> Output {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let (cutter, machine) = (write("cutter.toml", cutter), write("machine.toml", machine));
    let wheel = |name: &str| root().join("examples/wheels").join(name);
    Command::new(env!("CARGO_BIN_EXE_toothrest"))
        .arg("plan")
        .args(["--cutter".as_ref(), cutter.as_os_str()])
        .args(["--machine".as_ref(), machine.as_os_str()])
        .args(["--wheel".as_ref(), wheel("w-02-straight-cup-oxide.toml").as_os_str()])
        .args(["--wheel".as_ref(), wheel("w-03-straight-oxide.toml").as_os_str()])
        .args(more)
        .output()
        .unwrap()
}

fn sheet(cutter: &str, machine: &str) -> String {
    let output = plan(cutter, machine, &[]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success() && said.is_empty(), "{said}");
    String::from_utf8(output.stdout).unwrap()
}

fn answer(cutter: &str, machine: &str) -> Value {
    let output = plan(cutter, machine, &["--json"]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success(), "{said}");
    serde_json::from_slice(&output.stdout).unwrap()
}

/// The plan must be refused, for this reason.
fn refused(cutter: &str, machine: &str, reason: &str) {
    let output = plan(cutter, machine, &[]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains(reason), "said\n{said}\nand not\n{reason}");
}

/// A line of the set-up.
fn line<'a>(answer: &'a Value, item: &str) -> Option<&'a Value> {
    answer["peripheral"]["setup"].as_array()?.iter().find(|line| line["item"] == item)
}

fn words(answer: &Value, item: &str) -> String {
    let line = line(answer, item).unwrap_or(&Value::Null);
    format!("{}: {}", line["how"].as_str().unwrap_or(""), line["why"].as_str().unwrap_or(""))
}

const STRAIGHT: &str = "cutters/k-145-straight-tooth.toml";
const HELICAL: &str = "cutters/k-117-half-inch-dull.toml";
