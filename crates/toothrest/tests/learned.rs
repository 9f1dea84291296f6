//! A plan that knows the cutter's and the wheel's own grinds: what it makes of them, and that it
//! makes nothing of none.
//!
//! What is held against these plans is the plan made without a history, arithmetic by hand, and the
//! promise that a ratio of dial to stock turns the dial and nothing else.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that stops a test is part of it")]

use std::path::PathBuf;
use std::process::{Command, Output};

use geometry::Length;
use serde_json::Value;
use sheets::text::{Units, plan_sheet};
use shop::Ctx;
use shop::book::event::{CutterEntered, Ground, Planned, WheelEntered};
use shop::book::{Append, Entry, Event, Id, Initials, Moment, Stamp, Subject, SubjectKind};
use shop::learn::{CutterGrind, CutterHistory, Known, WheelGrind, WheelHistory, wheel_history};
use shop::plan::{Peripheral, PlanRegrind, RegrindPlan, plan_regrind};
use shop::record::{CutterDraft, Reads};
use toothrest::files::{history_text, read_cutter, read_history, read_machine, read_wheels};
use trade::Tables;

fn example(path: &str) -> String {
    let root: PathBuf = [env!("CARGO_MANIFEST_DIR"), "..", "..", "examples", path].iter().collect();
    std::fs::read_to_string(root).unwrap()
}

const CUTTER: &str = "cutters/k-117-half-inch-dull.toml";
const MACHINE: &str = "machines/left-bench.toml";
const WHEEL: &str = "wheels/w-05-flaring-cup-cbn.toml";

/// The everyday plan, with what is known and on a cross feed of this graduation.
fn planned(known: Known, graduation: &str) -> RegrindPlan {
    let machine = example(MACHINE).replacen("\"0.0005 in\"", graduation, 1);
    let request = PlanRegrind {
        cutter: read_cutter("c", &example(CUTTER)).unwrap(),
        machine: read_machine("m", &machine).unwrap(),
        wheels: read_wheels("w", &example(WHEEL)).unwrap(),
        relief: None,
        to_size: None,
        known,
    };
    plan_regrind(&Ctx { tables: Tables::bundled().unwrap() }, request).unwrap()
}

/// A dial so fine that rounding to its marks cannot be seen.
const FINE: &str = "\"0.000001 in\"";
const OWN: &str = "\"0.0005 in\"";

/// Forty long feeds of which this share came off: the table counts as less than one of them.
fn wheel(ratio: f64) -> Known {
    let grind = |place: u32| WheelGrind {
        entry: place.to_string(),
        fed: Some(Length::from_mm(0.5)),
        came_off: Some(Length::from_mm(0.5 * ratio)),
        face_lost: None,
        cutters: 1,
    };
    let history = WheelHistory::new((0..40).map(grind).collect()).unwrap();
    Known { wheels: [("W-05".to_owned(), history)].into(), ..Known::default() }
}

fn peripheral(plan: &RegrindPlan) -> &Peripheral {
    plan.peripheral.as_ref().unwrap()
}

fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} is not {wanted} within {within}");
}

#[test]
fn a_lagging_dial_goes_further_to_the_same_diameter() {
    let (plain, turned) = (planned(Known::default(), FINE), planned(wheel(0.9), FINE));
    let (plain, turned) = (peripheral(&plain), peripheral(&turned));
    let ratio = turned.known.ratio.value;
    assert!((0.9..0.905).contains(&ratio), "{ratio}");
    near(turned.grinding.ratio, ratio, 0.0);
    near(turned.grinding.travel / plain.grinding.travel, 1.0 / ratio, 0.001);
    near(turned.expected.diameter.inches(), plain.expected.diameter.inches(), 0.000_01);
    let land = |peripheral: &Peripheral| peripheral.secondary.land_after.unwrap().inches();
    near(land(turned), land(plain), 0.000_2);
    let secondary = |peripheral: &Peripheral| {
        peripheral.secondary.grinding.as_ref().map(|grinding| grinding.travel.mm()).unwrap()
    };
    near(secondary(turned) / secondary(plain), 1.0 / ratio, 0.002);
    // The set-up itself knows nothing of the dial.
    near(turned.stanced.relief.degrees(), plain.stanced.relief.degrees(), 1e-3);
}

#[test]
fn a_dial_rounded_up_still_cleans_the_worst_tooth() {
    for ratio in [0.7, 0.8, 0.85, 0.93, 0.97, 1.0, 1.04, 1.15, 1.3] {
        let plan = planned(wheel(ratio), OWN);
        let work = peripheral(&plan);
        let size = work.expected.diameter;
        assert!(size <= plan.stock.clean_diameter + Length::from_um(0.1), "{ratio}: {size:?}");
        // No farther than one mark beyond what cleans it.
        let mark = Length::from_thou(0.5) * work.grinding.ratio * 2.0;
        let least = plan.stock.clean_diameter - mark * 1.05;
        assert!(size >= least, "{ratio}: {size:?} under {least:?}");
        let fed: Length = work.grinding.passes.iter().map(|pass| pass.feed).sum();
        near(fed.mm(), work.grinding.travel.mm(), 1e-9);
        let exact = work.grinding.feed.travel();
        near(exact.mm(), work.grinding.travel.mm() * work.grinding.ratio, 1e-5);
    }
}

#[test]
fn where_more_comes_off_than_is_fed_no_pass_is_deeper_for_it() {
    let plan = planned(wheel(1.3), FINE);
    let grinding = &peripheral(&plan).grinding;
    let deepest = grinding.passes.iter().map(|pass| pass.feed).fold(Length::ZERO, Length::max);
    // Passes may exceed the limit by a twentieth where that makes a whole division.
    assert!(deepest * grinding.ratio <= grinding.pass_max.value * 1.05, "{deepest:?}");
}

#[test]
fn a_ratio_out_of_all_measure_is_not_believed() {
    let plan = planned(wheel(0.5), OWN);
    let work = peripheral(&plan);
    near(work.grinding.ratio, 1.0, 0.0);
    let plain = planned(Known::default(), OWN);
    assert_eq!(work.grinding.passes, peripheral(&plain).grinding.passes);
    let sheet = plan_sheet(&plan, Units { system: plan.request.cutter.system(), both: false });
    let said = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("likelier a slip of radius for diameter"), "{said}");
}

#[test]
fn the_wheel_of_another_number_says_nothing() {
    let mut known = wheel(0.9);
    let other = known.wheels.remove("W-05").unwrap();
    known.wheels.insert("W-06".to_owned(), other);
    let plan = planned(known, OWN);
    near(peripheral(&plan).grinding.ratio, 1.0, 0.0);
}

/// Four grinds of 0.020 in: the table's 0.010 in counts as two of them, so 0.0167 in each. By hand,
/// and with the table's own scatter, since the grinds agree: 4 degrees beforehand and 3 more leave
/// 4/7 of its square.
#[test]
fn lives_follow_the_cutters_own_grinds() {
    let grind = |place: u32| CutterGrind {
        entry: place.to_string(),
        sharp_before: Some(Length::from_inches(0.520 - 0.020 * f64::from(place))),
        dull: None,
        after: Length::from_inches(0.500 - 0.020 * f64::from(place)),
        wear_land: None,
        worn_on: None,
    };
    let cutter = CutterHistory::new((0..4).map(grind).collect()).unwrap();
    let plan = planned(Known { cutter, ..Known::default() }, OWN);
    let reading = 2.0_f64.sqrt() * 0.005 / 25.4;
    let of_one = (0.0042_f64.powi(2) + reading.powi(2)) * 4.0 / 7.0;
    let (table, own) = (0.003_f64.powi(-2), 4.0 / of_one);
    let by_hand = (0.010 * table + 0.020 * own) / (table + own);
    near(plan.stock.per_grind.value.inches(), by_hand, 1e-6);
    let lives = plan.verdict.lives().unwrap();
    // As before, lives are counted from the diameter at which the worst tooth is whole.
    let room = plan.stock.clean_diameter.inches() - 0.425;
    assert_eq!(lives.expected, (room / by_hand).floor() as u32);
    assert_eq!(plan.verdict.chosen().unwrap().lives_left, Some(lives.expected));
    assert!(lives.least <= lives.expected && lives.expected <= lives.greatest);
    assert!(lives.from.starts_with("4 grinds of its own, the table counts as 1."), "{lives:?}");
}

/// A plan that was followed to the mark and came out as foretold teaches the ratio that it was made
/// with, on a dial that counts radius and on one that counts diameter.
#[test]
fn a_grind_that_went_as_planned_teaches_the_ratio_it_was_planned_with() {
    for (bench, diameter) in [(MACHINE, false), ("machines/right-bench.toml", true)] {
        for ratio in [0.85, 1.0, 1.1] {
            let request = PlanRegrind {
                machine: read_machine("m", &example(bench)).unwrap(),
                wheels: read_wheels("w", &example(WHEEL)).unwrap(),
                ..planned(wheel(ratio), OWN).request
            };
            assert_eq!(request.machine.cross_feed().reads == Reads::Diameter, diameter);
            let plan = plan_regrind(&Ctx { tables: Tables::bundled().unwrap() }, request).unwrap();
            let used = peripheral(&plan).grinding.ratio;
            let (cutter, wheel) = written_down(&plan);
            let learned = wheel_history(&wheel, &[cutter]);
            let [grind] = learned.history.grinds() else { panic!("{learned:?}") };
            near(grind.came_off.unwrap() / grind.fed.unwrap(), used, 1e-4);
        }
    }
}

/// The histories of a cutter that was ground by this plan, and of its wheel.
fn written_down(plan: &RegrindPlan) -> (Vec<Entry>, Vec<Entry>) {
    let wheel = Some(Id::from_bits(9));
    let planned = Planned { wheel: wheel.clone(), ..Planned::of(plan) };
    let ground = Ground {
        plan: Some(2),
        wheel,
        travel: planned.travel,
        diameter_after: planned.diameter_after,
        ..Ground::default()
    };
    let cutter = plan.request.cutter.clone().without_wear();
    let entered = Event::CutterEntered(Box::new(CutterEntered { cutter, marks: Vec::new() }));
    let mounted = plan.request.wheels[0].clone();
    let wheel = Event::WheelEntered(Box::new(WheelEntered { wheel: mounted, marks: Vec::new() }));
    let cutter = vec![entered, Event::Planned(planned), Event::Ground(ground)];
    (history(SubjectKind::Cutter, 1, cutter), history(SubjectKind::Wheel, 9, vec![wheel]))
}

fn history(kind: SubjectKind, id: u128, events: Vec<Event>) -> Vec<Entry> {
    let (at, by) = (Moment::from_micros(0).unwrap(), Initials::new("AB").unwrap());
    let (subject, stamp) = (Subject::new(kind, Id::from_bits(id)), Stamp { at, by });
    Append { subject, seen: 0, stamp, events }.entries()
}

/// The book names a grind by its cutter and its entry; with the longest number that a record takes
/// that must still read back from the file that carries it.
#[test]
fn a_history_out_of_the_book_reads_back_whatever_the_cutter_is_called() {
    let mut plan = planned(Known::default(), OWN);
    let number = "K".repeat(60);
    let draft = CutterDraft { number: number.clone(), ..plan.request.cutter.draft() };
    plan.request.cutter = draft.build().unwrap();
    let (cutter, wheel) = written_down(&plan);
    let learned = wheel_history(&wheel, &[cutter]).history;
    assert_eq!(learned.grinds()[0].entry, format!("{number}, entry 3"));
    let known = Known { wheels: [("W-05".to_owned(), learned)].into(), ..Known::default() };
    let text = history_text(Some(&number), &known);
    assert_eq!(read_history("h", &text, &plan.request.cutter).unwrap(), known);
}

#[test]
fn without_wear_the_stock_is_what_its_own_grinds_took() {
    let text = example(CUTTER);
    let sharp = &text[..text.find("[wear]").unwrap()];
    let history = "[[grind]]\nsharp_before = \"0.500 in\"\nafter = \"0.490 in\"\n";
    let plan = |history: &str| {
        let cutter = read_cutter("c", sharp).unwrap();
        let known = read_history("h", history, &cutter).unwrap();
        let request = PlanRegrind {
            cutter,
            machine: read_machine("m", &example(MACHINE)).unwrap(),
            wheels: read_wheels("w", &example(WHEEL)).unwrap(),
            relief: None,
            to_size: None,
            known,
        };
        plan_regrind(&Ctx { tables: Tables::bundled().unwrap() }, request).unwrap()
    };
    near(plan("").stock.clean_diameter.inches(), 0.494 - 0.010, 1e-9);
    let heavy = plan(&history.replace("0.490", "0.470"));
    let taken = 0.494 - heavy.stock.clean_diameter.inches();
    near(taken, heavy.stock.per_grind.value.inches(), 1e-9);
    assert!(taken > 0.012, "{taken}");
}

fn run(folder: &std::path::Path, arguments: &[&str]) -> Output {
    let program = env!("CARGO_BIN_EXE_toothrest");
    Command::new(program).current_dir(folder).args(arguments).output().unwrap()
}

fn answer(folder: &std::path::Path, arguments: &[&str]) -> String {
    let output = run(folder, arguments);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// A folder with the files of the everyday plan, and the arguments that make it.
fn bench() -> (tempfile::TempDir, Vec<&'static str>) {
    let folder = tempfile::tempdir().unwrap();
    let files = [("c", CUTTER), ("m", MACHINE), ("w", WHEEL), ("h", "history/k-117.toml")];
    for (name, path) in files {
        std::fs::write(folder.path().join(format!("{name}.toml")), example(path)).unwrap();
    }
    let plan = ["plan", "--cutter", "c.toml", "--machine", "m.toml", "--wheel", "w.toml"];
    (folder, plan.to_vec())
}

#[test]
fn a_history_that_holds_nothing_changes_nothing() {
    let (folder, mut plan) = bench();
    plan.push("--json");
    let without: Value = serde_json::from_str(&answer(folder.path(), &plan)).unwrap();
    std::fs::write(folder.path().join("h.toml"), "cutter = \"K-117\"\n").unwrap();
    plan.extend(["--history", "h.toml"]);
    let mut with: Value = serde_json::from_str(&answer(folder.path(), &plan)).unwrap();
    assert!(with["inputs"].as_object_mut().unwrap().remove("history").is_some());
    assert_eq!(with, without);
    assert_eq!(
        without["verdict"]["routes"][0]["lives"]["from"],
        "no grind of its own yet: the table alone"
    );
    assert_eq!(without["peripheral"]["grind"]["dial_to_stock"], 1.0);
}

#[test]
fn the_sheet_says_what_was_learned_and_from_how_much() {
    let (folder, mut plan) = bench();
    let plain = answer(folder.path(), &plan);
    assert!(plain.contains("Lives from the table."), "{plain}");
    assert!(!plain.contains("of what it is fed"), "{plain}");
    plan.extend(["--history", "h.toml"]);
    let sheet = answer(folder.path(), &plan);
    let said = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "at 0.0087 in a grind: 1 grind of its own, the table counts as 2.",
        "By its own grinds a wear land like this costs",
        "W-05 takes off 0.93 (0.83 to 1.04) of what it is fed, 4 grinds of its own",
        "the dial goes 0.0003 in further than the cutter asks for",
        "allow for that before the last pass",
    ] {
        assert!(said.contains(words), "{words} in {said}");
    }
}

#[test]
fn a_check_makes_the_plan_with_its_history_again() {
    let (folder, mut plan) = bench();
    plan.extend(["--history", "h.toml", "--json"]);
    let text = answer(folder.path(), &plan);
    std::fs::write(folder.path().join("plan.json"), &text).unwrap();
    let readings = example("readings/k-117-as-planned.toml");
    std::fs::write(folder.path().join("r.toml"), readings).unwrap();
    let check = ["check", "--plan", "plan.json", "--readings", "r.toml", "--json"];
    let said = answer(folder.path(), &check);
    assert!(!said.contains("made again, the plan is not the one"), "{said}");
    // Without its history it is another plan, and the check says so.
    let mut bare: Value = serde_json::from_str(&text).unwrap();
    bare["inputs"].as_object_mut().unwrap().remove("history");
    std::fs::write(folder.path().join("plan.json"), bare.to_string()).unwrap();
    let said = answer(folder.path(), &check);
    assert!(said.contains("made again, the plan is not the one"), "{said}");
}

#[test]
fn a_history_of_another_cutter_is_refused() {
    let (folder, mut plan) = bench();
    let other = example("history/k-117.toml").replace("\"K-117\"", "\"K-118\"");
    std::fs::write(folder.path().join("h.toml"), other).unwrap();
    plan.extend(["--history", "h.toml"]);
    let output = run(folder.path(), &plan);
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("this history belongs to another cutter"), "{said}");
}
