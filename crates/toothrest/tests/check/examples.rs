//! The examples of readings are weighed as they stand, and say what their heads promise.

use super::bench::{Bench, root};

/// What must stand on the sheet of an example, by the end of its name.
fn promised(name: &str) -> &'static str {
    let promises = [
        ("as-planned.toml", "VERDICT    SOUND. "),
        ("every-land-different.csv", "Every land different: the shank was not seated true."),
        ("half-empty.csv", "NOT SEEN   "),
        ("heavy-toward-shank.toml", "VERDICT    TAPER: "),
        ("one-bad-reading.toml", "SET ASIDE  The land of tooth 3"),
        ("three-teeth.toml", "VERDICT    SIZE: "),
        ("wheel-breaks-down.csv", "VERDICT    DRIFT ROUND THE CUTTER: "),
    ];
    let found = promises.into_iter().find(|(end, _)| name.ends_with(end));
    found.unwrap_or_else(|| panic!("nothing is promised of {name}")).1
}

/// The name of the example cutter whose number a file begins with.
fn cutter(name: &str) -> String {
    let entries = std::fs::read_dir(root().join("examples/cutters")).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut own = names.filter(|cutter| cutter[..5] == name[..5]);
    own.next().unwrap().replace(".toml", "")
}

#[test]
fn every_example_of_readings_is_weighed_as_it_stands() {
    let mut count = 0;
    for entry in std::fs::read_dir(root().join("examples/readings")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        let bench = Bench::of(&cutter(&name));
        let path = root().join("examples/readings").join(&name).display().to_string();
        let sheet = bench.answer(&["check", "--plan", "plan.json", "--readings", &path]);
        let words = promised(&name);
        assert!(sheet.contains(words), "{name} does not say {words:?}:\n{sheet}");
        count += 1;
    }
    assert!(count >= 7, "{count} examples");
}
