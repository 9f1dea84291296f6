//! `toothrest quote`, beside sums that are worked out here from the file of prices.

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]

#[path = "book/bench.rs"]
mod bench;
#[path = "book/written.rs"]
mod written;

use bench::Bench;
use serde_json::Value;

const PRICES: &str = "examples/prices/bench-rates.toml";
const DULL: &str = "examples/cutters/k-117-half-inch-dull.toml";

fn figure(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

/// One cutter of four teeth by the rates of the example, in plain sums, with its end: its corners
/// are gone, and the end is ground past them in a set-up of its own.
#[test]
fn a_quote_is_the_sum_of_the_rates() {
    let bench = Bench::new();
    let asked = ["quote", "--cutters", DULL, "--prices", PRICES, "--json"];
    let alone = bench.json(&asked);
    // What is planned is priced, and what is left to be asked for is said.
    assert_eq!(alone["cutters"][0]["parts"].as_array().unwrap().len(), 1);
    let left = "K-117: its corners are gone up to 0.0200 in from the end, and its end is not in";
    assert!(alone["remarks"].to_string().contains(left), "{}", alone["remarks"]);
    let answer = bench.json(&[&asked[..], &["--end"]].concat());
    let stock = figure(&answer["cutters"][0]["stock_mm"]);
    assert!((0.02..1.0).contains(&stock), "{stock}");
    let hour = 48.0 + 9.5;
    let end = &answer["cutters"][0]["parts"][1];
    assert_eq!((&end["part"], &end["off"]), (&"end".into(), &"length".into()));
    // Past the worst corner of its file, 0.020 in, and less than half a millimetre further.
    let past = figure(&end["off_mm"]) - 0.508;
    assert!((0.0..0.5).contains(&past), "{past}");
    let setup = 2.0 * 12.0;
    let surface = |depth: f64| 0.6 + 0.15 * depth / 0.05;
    let grinding = 4.0 * 2.0 * (surface(0.5 * stock) + surface(0.508 + past));
    let handling = 48.0 / 60.0 * 5.0 + 0.8;
    let wheel = 28.0 * (0.06 + 0.04) / 15.0;
    let cost = hour / 60.0 * (setup + grinding) + handling + wheel;
    let each = (cost * 1.15 / 0.05).round() * 0.05;
    let line = &answer["lines"][0];
    assert!((figure(&line["each"]) - each).abs() < 1e-6, "{line} and not {each}");
    assert!((figure(&line["saved_against_new"]) - (41.0 - each)).abs() < 1e-6);
    assert!((figure(&answer["minutes_at_machine"]) - setup - grinding).abs() < 1e-9);
    let least = (25.0 - each - 6.0).max(0.0);
    assert!((figure(&answer["to_least_charge"]) - least).abs() < 1e-6);
    assert!((figure(&answer["total"]) - (each + 6.0 + least)).abs() < 1e-6);
    let one = &answer["cutters"][0];
    assert!((figure(&one["saved"]) - (0.9 * 41.0 - each)).abs() < 1e-2, "{one}");
    assert_eq!(one["worth"], Value::Bool(0.9 * 41.0 > each));
    assert!(one["lives_least"].as_u64() <= one["lives"].as_u64());
}

#[test]
fn a_tray_is_quoted_with_the_wheels_that_grind_it() {
    let bench = Bench::new();
    bench.shop();
    let answer = bench.json(&["quote", "--tray", "blue", "--json"]);
    assert_eq!((&answer["lot"], &answer["currency"]), (&"blue".into(), &"EUR".into()));
    let numbers = |key: &str| -> Vec<String> {
        let list = answer[key].as_array().unwrap();
        list.iter().map(|one| one["number"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(numbers("not_ground"), ["K-149"]);
    assert_eq!(numbers("cutters"), ["K-104", "K-117"]);
    let sums: f64 =
        answer["lines"].as_array().unwrap().iter().map(|line| figure(&line["sum"])).sum();
    let beside = figure(&answer["per_lot"]) + figure(&answer["to_least_charge"]);
    assert!((figure(&answer["total"]) - sums - beside).abs() < 1e-6, "{answer}");

    // W-05 has a line of its own in the prices; with it K-117 costs another wheel than from a file.
    let alone = bench.json(&["quote", "--cutters", DULL, "--json"]);
    assert_ne!(alone["lines"][0]["each"], answer["lines"][1]["each"]);

    let text = bench.answer(&["quote", "--tray", "blue"]);
    for words in ["QUOTE  blue, in EUR", "TOTAL  ", "NOT GROUND", "K-149", "for the lot"] {
        assert!(text.contains(words), "{text}");
    }
}

/// Lives are counted by the cutter's own regrinds where the book has them, and the quote says so:
/// one that loses 0.15 mm each time has fewer than one that loses what the table says (by counting:
/// the room to the smallest size is the same but for what went off, and each takes more of it).
#[test]
fn lives_are_counted_by_its_own_grinds() {
    let of = |bench: &Bench| -> Value {
        let answer = bench.json(&["quote", "--tray", "blue", "--json"]);
        let all = answer["cutters"].as_array().unwrap().clone();
        all.into_iter().find(|one| one["number"] == "K-117").unwrap()
    };
    let bench = Bench::new();
    bench.shop();
    let table = of(&bench);
    assert_eq!(table["lives_by"], "no grind of its own yet: the table alone", "{table}");
    let each = geometry::Length::from_mm(0.15);
    written::in_book(&bench, async |book| written::reground(book, "K-117", 4, each).await);
    let own = of(&bench);
    let by = own["lives_by"].as_str().unwrap();
    assert!(by.contains("4 grinds of its own"), "{by}");
    let room_mm = 0.85 * -12.7 + 0.494 * 25.4 - 4.0 * 0.15;
    let lives = own["lives"].as_u64().unwrap() as f64;
    assert!(lives <= room_mm / 0.12 && lives >= (room_mm / 0.18).floor(), "{lives} in {room_mm}");
    let text = bench.answer(&["quote", "--tray", "blue"]);
    assert!(text.contains("counted by") && text.contains(by), "{text}");
}

#[test]
fn cutters_that_are_alike_share_a_set_up() {
    let bench = Bench::new();
    let one = bench.json(&["quote", "--cutters", DULL, "--prices", PRICES, "--json"]);
    let two = ["quote", "--cutters", DULL, "--cutters", DULL, "--prices", PRICES, "--json"];
    let two = bench.json(&two);
    assert_eq!(two["lines"].as_array().unwrap().len(), 1);
    assert_eq!(two["lines"][0]["count"], 2);
    let (one, two) = (figure(&one["lines"][0]["each"]), figure(&two["lines"][0]["each"]));
    let shared = (48.0 + 9.5) / 60.0 * 6.0 * 1.15;
    assert!((one - two - shared).abs() <= 0.05 + 1e-9, "{one} {two} {shared}");
}

/// An end or a face that is ground alone is work like any other, and is priced by its own surfaces.
#[test]
fn an_end_or_a_face_alone_is_quoted() {
    let bench = Bench::new();
    let of = |file: &str| -> Value {
        let answer = bench.json(&["quote", "--cutters", file, "--prices", PRICES, "--json"]);
        assert!(answer["not_ground"].as_array().unwrap().is_empty(), "{answer}");
        answer
    };
    for (file, part, teeth, surfaces) in [
        ("examples/cutters/k-160-corners-gone.toml", "end", 4.0, 2.0),
        ("examples/cutters/k-172-form-relieved.toml", "face", 12.0, 1.0),
    ] {
        let answer = of(file);
        let parts = answer["cutters"][0]["parts"].as_array().unwrap();
        assert_eq!(parts.len(), 1, "{answer}");
        assert_eq!(parts[0]["part"], part, "{answer}");
        assert_eq!(answer["cutters"][0]["stock_mm"], Value::Null);
        let depth = figure(&parts[0]["off_mm"]);
        let minutes = 12.0 + teeth * surfaces * (0.6 + 0.15 * depth / 0.05);
        assert!((figure(&answer["minutes_at_machine"]) - minutes).abs() < 1e-9, "{answer}");
    }
}

#[test]
fn what_cannot_be_quoted_is_refused() {
    let bench = Bench::new();
    let hopeless = "examples/cutters/k-149-hopeless.toml";
    let only = ["quote", "--cutters", hopeless, "--prices", PRICES];
    bench.refused(&only, 2, "a lot needs a cutter that can be ground");
    bench.refused(&["quote", "--cutters", DULL], 2, "no book is at ");
    bench.refused(&["quote"], 2, "--tray");
    bench.refused(&["quote", "--cutters", DULL, "--prices", DULL], 2, "k-117-half-inch-dull.toml:");
    bench.keep("cutter", "cutters/k-117-half-inch-dull.toml", &["--tray", "blue"]);
    bench.refused(&["quote", "--tray", "blue"], 2, "put one in with \"book keep prices\"");
    let text = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples/prices/bench-rates.toml"
    ));
    let numbered = text
        .unwrap()
        .replace("# every other wheel", "")
        .replace("price = 28.00", "number = \"W-99\"\nprice = 28.00");
    let file = bench.beside("numbered.toml");
    std::fs::write(&file, numbered).unwrap();
    let unknown = ["quote", "--tray", "blue", "--prices", &file];
    bench.refused(&unknown, 2, "no line for wheel of no number, and none without a number");
}
