//! Files that go into the book, and what can be seen of them there.

use crate::bench::{Bench, on_server};

fn is_a_local_minute(text: &str) -> bool {
    let bytes = text.as_bytes();
    bytes.len() == 25 && bytes[10] == b'T' && ["+01:00", "+02:00"].contains(&&text[19..])
}

fn keeps_a_shop(bench: &Bench) {
    bench.shop();
    let look = bench.answer(&["book", "look"]);
    for line in ["cutter   3: 3 waiting", "wheel    2: 2 on the shelf", "tray     1: 1 current"] {
        assert!(look.contains(line), "{look}");
    }
    let history = bench.answer(&["book", "history", "k-117"]);
    for words in ["cutter K-117: waiting", "cutter entered", "received", "tray blue", "wear seen"] {
        assert!(history.contains(words), "{history}");
    }
    let again = bench.keep("cutter", "cutters/k-117-half-inch-dull.toml", &[]);
    assert_eq!(again, "Kept cutter K-117, entry 5.\n", "it comes in again");
    let told = bench.json(&["book", "history", "K-117", "--json"]);
    let entries = told["entries"].as_array().unwrap();
    let events: Vec<&str> = entries.iter().map(|entry| entry["event"].as_str().unwrap()).collect();
    assert_eq!(events, ["cutter entered", "received", "wear seen", "received", "wear seen"]);
    assert!(entries.iter().all(|entry| is_a_local_minute(entry["at"].as_str().unwrap())));
    assert_eq!((&told["number"], &told["stage"]), (&"K-117".into(), &"waiting".into()));

    let found = bench.json(&["book", "find", "k-1", "--kind", "cutter", "--json"]);
    let numbers: Vec<&str> = found["found"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row["number"].as_str().unwrap())
        .collect();
    assert_eq!(numbers, ["K-104", "K-117", "K-149"]);
    let some = bench.answer(&["book", "find", "k-1", "--limit", "1"]);
    assert!(some.contains("There is more of kind cutter than 1"), "{some}");
    assert!(bench.answer(&["book", "check"]).starts_with("No fault found in "));
}

#[test]
fn a_shop_is_kept_in_a_file() {
    keeps_a_shop(&Bench::new());
}

#[test]
fn a_shop_is_kept_on_a_server() {
    let Some(bench) = on_server("kept") else { return };
    keeps_a_shop(&bench);
    let look = bench.json(&["book", "look", "--json"]);
    assert_eq!(look["engine"], "PostgreSQL");
}

#[test]
fn a_paper_has_versions() {
    let bench = Bench::new();
    let prices = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples/prices/bench-rates.toml"
    ));
    let (file, prices) = (bench.beside("rates.toml"), prices.unwrap());
    let keep = ["book", "keep", "prices", &file, "--by", "AB"];
    std::fs::write(&file, &prices).unwrap();
    assert_eq!(bench.answer(&keep), "Kept prices rates, entry 1.\n");
    assert_eq!(bench.answer(&keep), "prices rates is in the book as it is here.\n");
    std::fs::write(&file, prices.replace("48.00", "51.00")).unwrap();
    assert_eq!(bench.answer(&keep), "Kept prices rates, entry 2.\n");
    std::fs::write(&file, prices.replace("48.00", "much")).unwrap();
    bench.refused(&keep, 2, "labour_per_hour");
}

#[test]
fn what_cannot_be_kept_is_refused() {
    let bench = Bench::new();
    let keep = |kind, file| ["book", "keep", kind, file, "--by", "AB"];
    let wheel = keep("wheel", "examples/wheels/w-05-flaring-cup-cbn.toml");
    bench.answer(&wheel);
    bench.refused(&wheel, 2, "another wheel has \"W-05\"");
    bench.refused(&keep("machine", "examples/wheels/rack-other.toml"), 2, "rack-other.toml:");
    bench.refused(&keep("cutter", "no-such-file.toml"), 2, "cannot be loaded");
    bench.refused(&wheel[..4], 2, "nobody is named; write --by and your initials");
    let mut long = wheel;
    long[5] = "A B";
    bench.refused(&long, 2, "are no initials");
    bench.refused(&["book", "history", "K-1"], 2, "\"K-1\" is not in the book");
    bench.refused(&["book", "history", "K-1", "--kind", "saw"], 2, "possible values: cutter");
    bench.refused(&["book", "find", "a b c d e"], 2, "write up to 4 plain words");
    bench.refused(&["book", "find", "a", "--limit", "501"], 2, "ask for 1 to 500");
}
