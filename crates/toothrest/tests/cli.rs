//! The program as a person runs it: what it prints, what it refuses, what it leaves on the disk.

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;

/// Lines of a sheet that still fit one A4 page at 7.5 points, with 100 columns across: a cutter
/// whose teeth are unalike or that tapers needs them. Most sheets have ten fewer.
const LINES_MAX: usize = 101;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn run(arguments: &[&str]) -> Output {
    let program = env!("CARGO_BIN_EXE_toothrest");
    Command::new(program).current_dir(root()).args(arguments).output().unwrap()
}

/// Runs the program with something on its standard input.
fn run_with(arguments: &[&str], input: &str) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_toothrest"));
    command.current_dir(root()).args(arguments);
    let piped = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut program = piped.spawn().unwrap();
    program.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    program.wait_with_output().unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// Runs the program, which must succeed and say nothing on standard error.
fn answer(arguments: &[&str]) -> String {
    let output = run(arguments);
    let said = text(&output.stderr);
    assert!(output.status.success() && said.is_empty(), "{arguments:?}: {said}");
    text(&output.stdout)
}

/// Runs the program, which must refuse with exit code 2, print nothing and say `reason`.
fn check_refused(arguments: &[&str], reason: &str) {
    let output = run(arguments);
    let said = text(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{arguments:?}: {said}");
    assert!(output.stdout.is_empty(), "{arguments:?} printed something beside its refusal");
    assert!(said.contains(reason), "{arguments:?} said\n{said}\nand not\n{reason}");
}

fn examples(folder: &str) -> Vec<String> {
    let entries = std::fs::read_dir(root().join("examples").join(folder)).unwrap();
    let name = |entry: std::io::Result<std::fs::DirEntry>| entry.unwrap().file_name();
    let mut names: Vec<String> = entries
        .map(|entry| format!("examples/{folder}/{}", name(entry).to_string_lossy()))
        .collect();
    names.sort();
    names
}

fn plan_arguments<'a>(cutter: &'a str, machine: &'a str, wheels: &'a [String]) -> Vec<&'a str> {
    let mut arguments = vec!["plan", "--cutter", cutter, "--machine", machine];
    wheels.iter().for_each(|wheel| arguments.extend(["--wheel", wheel]));
    arguments
}

const CUTTER: &str = "examples/cutters/k-117-half-inch-dull.toml";
const MACHINE: &str = "examples/machines/left-bench.toml";
const WHEEL: &str = "examples/wheels/w-02-straight-cup-oxide.toml";

fn bundled() -> Vec<&'static str> {
    vec!["plan", "--cutter", CUTTER, "--machine", MACHINE, "--wheel", WHEEL]
}

#[test]
fn the_main_job_runs_on_the_example() {
    let sheet = answer(&["example"]);
    for expected in ["SET-UP SHEET  K-117", "VERDICT    REGRIND ON THE DIAMETER", "Next:"] {
        assert!(sheet.contains(expected), "{expected} is missing from\n{sheet}");
    }
}

/// Why an example cutter may have no plan on one of the example machines.
const KNOWN: [&str; 5] =
    ["does not fit", "no extraction", "a helix must turn", "equal teeth", "a table that swivels"];

#[test]
fn every_example_cutter_has_a_plan_on_some_machine() {
    let (machines, wheels) = (examples("machines"), examples("wheels"));
    for cutter in examples("cutters") {
        let planned = machines.iter().filter(|machine| {
            let output = run(&plan_arguments(&cutter, machine, &wheels));
            match output.status.code() {
                Some(0) => check_sheet(&text(&output.stdout)),
                Some(2) => {
                    let said = text(&output.stderr);
                    let known = KNOWN.iter().any(|refusal| said.contains(refusal));
                    assert!(known, "{said}");
                }
                code => panic!("{cutter} on {machine} ended with {code:?}"),
            }
            output.status.success()
        });
        assert!(planned.count() > 0, "{cutter} has no plan on any machine");
    }
}

fn check_sheet(sheet: &str) {
    let longest = sheet.lines().map(|line| line.chars().count()).max().unwrap();
    assert!(longest <= 100, "a line of {longest} columns in\n{sheet}");
    for page in sheet.split('\u{c}') {
        let lines = page.lines().count();
        assert!(lines <= LINES_MAX, "{lines} lines in\n{page}");
    }
    assert!(!sheet.contains("NaN") && !sheet.contains("inf "), "{sheet}");
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let mut json = bundled();
    json.push("--json");
    assert_eq!(answer(&bundled()), answer(&bundled()));
    assert_eq!(answer(&json), answer(&json));
}

#[test]
fn a_plan_carries_its_numbers_and_its_inputs() {
    let mut arguments = bundled();
    arguments.push("--json");
    let plan: Value = serde_json::from_str(&answer(&arguments)).unwrap();
    let number = |path: &str| plan.pointer(path).and_then(Value::as_f64).unwrap_or(f64::NAN);
    // A 1/2 in cutter may shrink by 15 % (an end-mill maker's technical-tips sheet).
    assert!((number("/verdict/smallest_useful/mm") - 0.85 * 12.7).abs() < 1e-9);
    assert_eq!(plan["stock"]["governing_tooth"], 3);
    assert_eq!(plan["verdict"]["route"], "regrind on the diameter");
    let relief = number("/peripheral/relief/set_deg");
    let wanted = number("/peripheral/relief/wanted_deg");
    let cost = number("/peripheral/relief/snapping_costs_deg");
    assert!((relief - wanted - cost).abs() < 1e-9 && cost.abs() < 0.25, "{relief} {wanted} {cost}");
    assert!(number("/peripheral/expect/diameter_mm") <= number("/stock/clean_diameter_mm") + 1e-6);
    assert!(number("/peripheral/wheel/spindle_rpm") <= number("/peripheral/wheel/marked_rpm"));
    let text = std::fs::read_to_string(root().join(CUTTER)).unwrap();
    assert_eq!(plan["inputs"]["cutter"]["text"], Value::String(text));
}

#[test]
fn a_size_that_was_asked_for_is_met_or_refused() {
    let mut arguments = bundled();
    arguments.extend(["--to-size", "0.475 in", "--json"]);
    let plan: Value = serde_json::from_str(&answer(&arguments)).unwrap();
    let diameter = plan.pointer("/peripheral/expect/diameter_mm").and_then(Value::as_f64).unwrap();
    // Half a division of the dial, 0.0005 in on the radius.
    assert!((diameter - 0.475 * 25.4).abs() <= 0.0005 * 25.4 + 1e-9, "{diameter}");
    let mut arguments = bundled();
    arguments.extend(["--to-size", "0.490"]);
    check_refused(&arguments, "--to-size = 0.490: \"0.490\" has no unit");
    let mut arguments = bundled();
    arguments.extend(["--to-size", "0.490 in"]);
    check_refused(&arguments, "leaves the worst tooth unclean: ask for 0.4879 in");
}

#[test]
fn both_systems_stand_side_by_side_on_request() {
    let mut arguments = bundled();
    arguments.push("--both");
    let sheet = answer(&arguments);
    assert!(sheet.contains("0.4950 in (12.573 mm)"), "{sheet}");
    arguments.extend(["--units", "mm"]);
    assert!(answer(&arguments).contains("12.573 mm (0.4950 in)"));
}

#[test]
fn pictures_are_written_only_with_a_plan() {
    let folder = tempfile::tempdir().unwrap();
    let target = folder.path().join("pictures");
    let shown = target.display().to_string();
    let mut arguments = bundled();
    arguments.extend(["--svg", &shown]);
    answer(&arguments);
    let mut names: Vec<String> = std::fs::read_dir(&target)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    assert_eq!(names, ["drop-run.svg", "end-view.svg", "tooth-section.svg"]);
    let other = folder.path().join("none");
    let shown = other.display().to_string();
    let wheel = "examples/wheels/w-07-flaring-cup-diamond.toml";
    let arguments =
        ["plan", "--cutter", CUTTER, "--machine", MACHINE, "--wheel", wheel, "--svg", &shown];
    check_refused(&arguments, "diamond is not for HSS");
    assert!(!other.exists(), "a refusal left something on the disk");
}

const UNIVERSAL: &str = "examples/machines/universal-bench.toml";

/// The plan of an end on the universal bench, as JSON.
fn end_of(cutter: &str, more: &[&str]) -> Value {
    let mut arguments = vec!["plan", "--cutter", cutter, "--machine", UNIVERSAL];
    arguments.extend(["--wheel", WHEEL, "--json"]);
    arguments.extend(more);
    serde_json::from_str(&answer(&arguments)).unwrap()
}

#[test]
fn an_end_that_the_verdict_asks_for_is_planned() {
    let plan = end_of("examples/cutters/k-160-corners-gone.toml", &[]);
    assert_eq!(plan["verdict"]["route"], "regrind the end only");
    let end = &plan["end"];
    let number = |path: &str| end.pointer(path).and_then(Value::as_f64).unwrap_or(f64::NAN);
    // Tooth 2 has lost 0.60 mm of its corner; tooth 1, with the least, is met first.
    assert_eq!((&end["governing_tooth"], &end["highest_tooth"]), (&2.into(), &1.into()));
    let off = number("/off_mm");
    // Past the worst corner, and no more than a mark of the dial beyond what is asked for.
    let asked = number("/off_why/mm");
    assert!(off >= 0.60 && off >= asked - 1e-9 && off < asked + 0.0005 * 25.4 * 1.02, "{off}");
    assert!((number("/expect/overall_length_mm") - (92.0 - off)).abs() < 1e-9);
    assert!((number("/expect/tool_length_change_mm") + off).abs() < 1e-9);
    let (dish, cost) = (number("/primary/dish_deg"), number("/primary/dish_cost_deg"));
    assert!((dish - 1.0 - cost).abs() < 1e-9 && cost.abs() < 0.3, "{dish} {cost}");
    // The dish is read again under a straightedge, at the inner end.
    let last = end["expect"]["dish"].as_array().unwrap().last().unwrap();
    let gap = last["gap_mm"].as_f64().unwrap();
    assert!((gap - 7.9 * dish.to_radians().tan()).abs() < 0.01, "{gap}");
    assert_eq!(end["corner"]["form"], "chamfer");
    assert!((number("/corner/width_mm") - 0.25).abs() < 0.06, "{end}");
    assert_eq!(end["gash"]["needed"], true, "0.6 mm off takes the mouth out by more than allowed");
    let marks = end["setup"].as_array().unwrap().iter();
    let dialled = marks.filter(|line| line["item"].as_str().unwrap().starts_with("work"));
    assert!(
        dialled.clone().count() >= 2 && dialled.into_iter().all(|line| line["dial"].is_object())
    );
}

#[test]
fn an_end_is_planned_beside_the_periphery_where_it_is_asked_for() {
    let plan = end_of(CUTTER, &[]);
    assert!(plan["end"].is_null() && plan["end_not_planned"].is_null());
    let plan = end_of(CUTTER, &["--end", "--off-length", "0.030 in"]);
    let off = plan["end"]["off_mm"].as_f64().unwrap();
    assert!((off - 0.030 * 25.4).abs() <= 0.0005 * 25.4 * 1.02, "{off}");
    assert_eq!(plan["inputs"]["end"], true);
    let mut arguments = bundled();
    arguments.extend(["--off-length", "3"]);
    check_refused(&arguments, "--off-length = 3: \"3\" has no unit");
    arguments.pop();
    arguments.push("2 in");
    check_refused(&arguments, "length to take off: 2.0000 in (50.800 mm) cannot come off an end");
}

/// A ball has a page and an answer of its own: the swing, the feed to a radius that is half of the
/// new diameter, and the pivot for it.
#[test]
fn a_helical_ball_is_planned_on_a_rest() {
    let ball = "examples/cutters/k-156-ball.toml";
    let wheel = "examples/wheels/w-07-flaring-cup-diamond.toml";
    let mut arguments =
        vec!["plan", "--cutter", ball, "--machine", UNIVERSAL, "--wheel", wheel, "--end"];
    let sheet = answer(&arguments);
    assert!(sheet.contains("THE BALL  K-156") && sheet.contains("It runs true to its circle"));
    arguments.push("--json");
    let plan: Value = serde_json::from_str(&answer(&arguments)).unwrap();
    let (ball, number) = (&plan["ball"], |value: &Value| value.as_f64().unwrap());
    let round = &ball["round"];
    let half = 0.5 * number(&plan["peripheral"]["expect"]["diameter_mm"]);
    assert!((number(&round["radius_mm"]) - half).abs() < 1e-9);
    assert!((number(&round["end_past_pivot_mm"]) - half).abs() < 1e-5);
    assert!(number(&round["axis_beside_pivot_mm"]).abs() < 1e-5);
    // The tip comes off by what is fed from the first touch, which is at the tip.
    assert!((number(&round["grind"]["travel_mm"]) - number(&ball["off_mm"])).abs() < 1e-9);
    assert_eq!(round["held"], "follows the rest");
    assert!(plan["end"].is_null());
}

#[test]
fn an_end_that_cannot_be_ground_is_refused_with_the_reason() {
    let ball = "examples/cutters/k-156-ball.toml";
    let wheel = "examples/wheels/w-07-flaring-cup-diamond.toml";
    let left = "examples/machines/left-bench.toml";
    let mut arguments =
        vec!["plan", "--cutter", ball, "--machine", left, "--wheel", wheel, "--end"];
    check_refused(&arguments, "the relief of a round must come from the wheel");
    arguments[4] = "examples/machines/right-bench.toml";
    arguments[2] = CUTTER;
    arguments[6] = WHEEL;
    check_refused(&arguments, "between centres one centre stands in the end");
    arguments[4] = "examples/machines/corner-bench.toml";
    check_refused(&arguments, "no swivel of this machine swings or tilts the work");
}

#[test]
fn pictures_of_an_end_are_written_with_it() {
    let folder = tempfile::tempdir().unwrap();
    let shown = folder.path().display().to_string();
    end_of("examples/cutters/k-160-corners-gone.toml", &["--svg", &shown]);
    for name in ["end-teeth.svg", "end-tooth.svg"] {
        let picture = std::fs::read_to_string(folder.path().join(name)).unwrap();
        assert!(picture.contains("land"), "{name}");
    }
}

#[test]
fn a_section_answers_the_contract() {
    let json = answer(&["section", "examples/settings/cup.toml", "--json"]);
    let section: Value = serde_json::from_str(&json).unwrap();
    for key in ["edge_relief_deg", "wheel_from_axis_mm", "far_side_gap_mm", "heel_drag_from_mm"] {
        assert!(section[key].is_f64(), "{key} is missing from {json}");
    }
    assert_eq!(section["next_tooth_clear"], true);
    assert_eq!(section["drops"].as_array().unwrap().len(), 2);
    assert!(answer(&["section", "examples/settings/cup.toml"]).contains("Relief at the edge"));
    let disc = answer(&["section", "examples/settings/disc.toml", "--json"]);
    let disc: Value = serde_json::from_str(&disc).unwrap();
    assert!(disc["far_side_gap_mm"].is_null(), "a disc has no far side");
    // asin(9.14 / 75), the handbooks' offset for a disc, from the example's own numbers.
    let relief = disc["edge_relief_deg"].as_f64().unwrap();
    assert!((relief - (9.14_f64 / 75.0).asin().to_degrees()).abs() < 1e-6, "{relief}");
}

/// A setting file with one line changed must be refused with a message.
fn check_setting(from: &str, to: &str, reason: &str) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("setting.toml");
    let whole = std::fs::read_to_string(root().join("examples/settings/cup.toml")).unwrap();
    assert!(whole.contains(from), "the example has no {from}");
    std::fs::write(&path, whole.replace(from, to)).unwrap();
    check_refused(&["section", &path.display().to_string()], reason);
}

#[test]
fn impossible_settings_are_refused_with_their_line() {
    let off = "setting.toml:21: setting.rest_inset = \"2.2 mm\": the rest is off the wheel's face";
    check_setting("rest_inset = \"0.2 mm\"", "rest_inset = \"2.2 mm\"", off);
    let lean = "setting.head_angle = \"91 deg\": the lean is -1.0000 deg";
    check_setting("\"89.25 deg\"", "\"91 deg\"", lean);
    let wide = "wheel.face_width = \"60 mm\": the wheel's face width is 60 mm";
    check_setting("face_width = \"1.6 mm\"", "face_width = \"60 mm\"", wide);
    let corner = "wheel.corner_radius = \"2 mm\": the wheel's corners take";
    check_setting("corner_radius = \"0 mm\"", "corner_radius = \"2 mm\"", corner);
    let hand = "cutter.helix_hand = \"rihgt\": not a hand of helix";
    check_setting("helix_hand = \"right\"", "helix_hand = \"rihgt\"", hand);
    let helix = "cutter.helix = \"65 deg\": more than 60 deg";
    check_setting("helix = \"30 deg\"", "helix = \"65 deg\"", helix);
}

#[test]
fn impossible_plans_are_refused() {
    let straight = "examples/cutters/k-145-straight-tooth.toml";
    let mut eccentric = plan_arguments(straight, MACHINE, &[]);
    eccentric.extend(["--wheel", WHEEL, "--relief", "eccentric"]);
    check_refused(&eccentric, "an eccentric relief needs a helix");
    let narrow = "examples/wheels/w-01-flaring-cup-oxide.toml";
    let coarse = "examples/cutters/k-130-two-inch-chipped.toml";
    let mut eccentric = plan_arguments(coarse, MACHINE, &[]);
    eccentric.extend(["--wheel", narrow, "--relief", "eccentric"]);
    check_refused(&eccentric, "needs a face of at least");
    let mut hollow = bundled();
    hollow.extend(["--relief", "hollow"]);
    check_refused(&hollow, "a hollow relief wants a wheel that grinds on its periphery");
    let cutter = "examples/cutters/k-152-fifty-mm.toml";
    let large = ["plan", "--cutter", cutter, "--machine", MACHINE, "--wheel", WHEEL];
    check_refused(&large, "cutter.shank_diameter = \"50 mm\": 50.000 mm does not fit air spindle");
    check_refused(&["plan", "--cutter", "nowhere.toml"], "required arguments");
    let missing = ["plan", "--cutter", "nowhere.toml", "--machine", MACHINE, "--wheel", WHEEL];
    check_refused(&missing, "nowhere.toml: cannot be loaded");
}

#[test]
fn a_wheel_marked_below_every_spindle_speed_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("slow.toml");
    let whole = std::fs::read_to_string(root().join(WHEEL)).unwrap();
    let marked = whole.lines().find(|line| line.starts_with("marked_rpm")).unwrap();
    std::fs::write(&path, whole.replace(marked, "marked_rpm = 1200")).unwrap();
    let shown = path.display().to_string();
    let arguments = ["plan", "--cutter", CUTTER, "--machine", MACHINE, "--wheel", &shown];
    check_refused(&arguments, "every spindle speed is above the wheel's mark");
}

#[test]
fn sources_show_values_and_how_they_were_read() {
    assert!(answer(&["sources"]).contains("relief"));
    let relief = answer(&["sources", "relief"]);
    assert!(relief.contains("[machinerys-handbook]") && relief.contains("(memory)"), "{relief}");
    assert!(answer(&["sources", "bibliography"]).contains("[osha-1910-215]"));
    check_refused(&["sources", "releif"], "did you mean \"relief\"?");
}

#[test]
fn a_shop_table_overrides_a_row_of_the_plan() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.toml");
    let row = "[[stock]]\nkey = \"fresh edge\"\noff_diameter = \"0.020 in\"\n";
    std::fs::write(&path, row).unwrap();
    let shown = path.display().to_string();
    let mut arguments = bundled();
    arguments.extend(["--tables", &shown, "--json"]);
    let plan: Value = serde_json::from_str(&answer(&arguments)).unwrap();
    let ordinary = plan.pointer("/stock/ordinary").unwrap();
    assert_eq!(ordinary["source"], "shop");
    assert!((ordinary["mm"].as_f64().unwrap() - 0.508).abs() < 1e-9, "{ordinary}");
}

/// The block of plain text in README.md that begins so.
fn readme_block(start: &str) -> String {
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    let mut blocks =
        readme.split("```text\n").skip(1).map(|rest| rest.split("```").next().unwrap());
    blocks.find(|block| block.starts_with(start)).unwrap().to_owned()
}

#[test]
fn the_readme_shows_what_the_program_says() {
    let sheet = answer(&["example"]);
    for line in readme_block("SET-UP SHEET").lines() {
        assert!(sheet.contains(line), "README shows\n{line}\nand the program says\n{sheet}");
    }
    let folder = tempfile::tempdir().unwrap();
    let plan = folder.path().join("plan.json");
    let wheel = "examples/wheels/w-02-straight-cup-oxide.toml";
    let cutter = "examples/cutters/k-117-half-inch-dull.toml";
    let machine = "examples/machines/left-bench.toml";
    let asked = ["plan", "--cutter", cutter, "--machine", machine, "--wheel", wheel, "--json"];
    std::fs::write(&plan, answer(&asked)).unwrap();
    let readings = "examples/readings/k-117-every-land-different.csv";
    let checked = answer(&["check", "--plan", &plan.display().to_string(), "--readings", readings]);
    for line in readme_block("VERDICT    RUNOUT").lines() {
        assert!(checked.contains(line), "README shows\n{line}\nand the program says\n{checked}");
    }
    let section = answer(&["section", "examples/settings/cup.toml"]);
    for line in readme_block("Relief at the edge").lines() {
        assert!(section.contains(line), "README shows\n{line}\nand the program says\n{section}");
    }
}

#[test]
fn what_a_check_asked_for_is_in_the_next_plan() {
    let text = std::fs::read_to_string(root().join(CUTTER)).unwrap();
    let (before, after) = text.split_once("[as_ground]").unwrap();
    let changed = format!("{before}[as_ground]\nnext_primary = \"9.5 deg\"{after}");
    let folder = tempfile::tempdir().unwrap();
    let cutter = folder.path().join("cutter.toml");
    std::fs::write(&cutter, changed).unwrap();
    let wheels = ["examples/wheels/w-02-straight-cup-oxide.toml".to_owned()];
    let cutter = cutter.display().to_string();
    let mut arguments = plan_arguments(&cutter, "examples/machines/left-bench.toml", &wheels);
    arguments.push("--json");
    let plan: Value = serde_json::from_str(&answer(&arguments)).unwrap();
    let primary = &plan["wanted"]["primary"];
    assert!((primary["deg"].as_f64().unwrap() - 9.5).abs() < 1e-9);
    assert!(primary["source"].as_str().unwrap().contains("last check"), "{primary}");
}

/// What one command prints another reads, with no file between them; one input cannot be two files.
#[test]
fn a_file_named_by_a_dash_is_standard_input() {
    let plan = answer(&["example", "--json"]);
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plan.json");
    std::fs::write(&file, &plan).unwrap();
    let of_file = answer(&["check", "--plan", &file.display().to_string(), "--template"]);
    let piped = run_with(&["check", "--plan", "-", "--template"], &plan);
    assert_eq!((text(&piped.stdout), text(&piped.stderr)), (of_file, String::new()));
    let wheels = ["examples/wheels/w-02-straight-cup-oxide.toml".to_owned()];
    let machine = "examples/machines/left-bench.toml";
    let broken = run_with(&plan_arguments("-", machine, &wheels), "teeth = 4");
    let said = text(&broken.stderr);
    assert_eq!(broken.status.code(), Some(2), "{said}");
    assert!(said.contains("standard input"), "{said}");
    let readings = root().join("examples/readings/k-117-half-empty.csv");
    let readings = std::fs::read_to_string(readings).unwrap();
    let mut of_k_117 = plan_arguments(CUTTER, machine, &wheels);
    of_k_117.push("--json");
    std::fs::write(&file, answer(&of_k_117)).unwrap();
    let file = file.display().to_string();
    let checked = run_with(&["check", "--plan", &file, "--readings", "-"], &readings);
    assert!(text(&checked.stdout).contains("VERDICT"), "{}", text(&checked.stderr));
    let list = std::fs::read_to_string(root().join("examples/lists/drawer.csv")).unwrap();
    let taken = run_with(&["book", "take-in", "-", "--unit", "in"], &list);
    assert!(text(&taken.stderr).contains("nothing says the hand"), "{}", text(&taken.stderr));
    let twice = run_with(&["plan", "--cutter", "-", "--machine", "-", "--wheel", "w"], "teeth = 4");
    assert!(text(&twice.stderr).contains("name \"-\" once"), "{}", text(&twice.stderr));
}

/// A file without an end is refused before it fills the memory.
#[cfg(target_os = "linux")]
#[test]
fn a_file_without_end_is_not_read_to_its_end() {
    let endless = Path::new("/dev/zero");
    for arguments in [
        ["section", &endless.display().to_string()].map(str::to_owned).to_vec(),
        plan_arguments(CUTTER, &endless.display().to_string(), &[CUTTER.to_owned()])
            .into_iter()
            .map(str::to_owned)
            .collect(),
    ] {
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        check_refused(&arguments, "it is longer than 32 MB");
    }
}
