//! What other programs read and write, as a person runs it: a list comes in, tables, offset lines,
//! drawings and solids go out.

#![expect(clippy::unwrap_used, reason = "a test that cannot run the program must stop")]

#[path = "book/bench.rs"]
mod bench;

use std::collections::HashMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use bench::{Bench, text};
use dxf::entities::EntityType;

fn run(arguments: &[&str]) -> Output {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let program = env!("CARGO_BIN_EXE_toothrest");
    Command::new(program).current_dir(root).args(arguments).output().unwrap()
}

fn answer(arguments: &[&str]) -> String {
    let output = run(arguments);
    assert!(output.status.success(), "{arguments:?}: {}", text(&output.stderr));
    text(&output.stdout)
}

fn refused(arguments: &[&str]) -> String {
    let output = run(arguments);
    assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", text(&output.stderr));
    text(&output.stderr)
}

const LIST: &str = "examples/lists/drawer.csv";
const SAID: [&str; 10] = [
    "--all",
    "hand=right",
    "--all",
    "helix_hand=right",
    "--all",
    "rake=10",
    "--all",
    "profile=plain",
    "--all",
    "end=square",
];

#[test]
fn a_list_is_shown_then_kept_then_given_again() {
    let bench = Bench::new();
    let book = bench.beside("list.sqlite");
    let take_in = |more: &[&'static str]| {
        let mut arguments = vec!["book", "--book", &book, "take-in", LIST];
        arguments.extend(SAID);
        arguments.extend(more);
        arguments.into_iter().map(str::to_owned).collect::<Vec<String>>()
    };
    let with = |more: &[&'static str], run: fn(&[&str]) -> String| {
        let arguments = take_in(more);
        run(&arguments.iter().map(String::as_str).collect::<Vec<_>>())
    };
    let shown = with(&[], answer);
    assert!(
        shown.contains("3 cutters can be kept, on the shelf, as sharp; nothing is written yet"),
        "{shown}"
    );
    assert!(shown.lines().any(|line| line.starts_with("DC (in)") && line.contains("diameter")));
    assert!(!Path::new(&book).exists(), "a look begins no book");
    let asked = refused(&["book", "--book", &book, "take-in", LIST]);
    assert!(asked.contains("nothing says the hand of the cutters"), "{asked}");
    assert!(
        with(&["--keep", "--by", "AB", "--tray", "blue"], answer)
            .contains("Kept 3 cutters, received into tray blue: see their wear there.")
    );
    let again = with(&["--keep", "--by", "AB"], refused);
    assert!(again.contains("line 4: column \"number\" = K-201: the book has"), "{again}");
    let csv = answer(&["give", "list", "cutters", "--book", &book, "--units", "in"]);
    let line = csv.lines().find(|line| line.starts_with("K-202,0.375,4,right,30,right,10,"));
    assert!(line.is_some_and(|line| line.contains(",waiting,blue,")), "{csv}");
    // What waited there was not sharp, and on a shelf it would be.
    let list = bench.beside("given.csv");
    answer(&["give", "list", "cutters", "--book", &book, "--units", "mm", "-o", &list]);
    let elsewhere = bench.beside("elsewhere.sqlite");
    let take = ["book", "--book", &elsewhere, "take-in", &list, "--keep", "--by", "AB"];
    let dull = refused(&take);
    for words in
        ["\"stands\" = waiting: it was not sharp there", "name a tray to receive them into"]
    {
        assert!(dull.contains(words), "{dull}");
    }
    assert!(!Path::new(&elsewhere).exists());
    answer(&[&take[..], &["--tray", "blue"]].concat());
    let trays = answer(&["give", "list", "trays", "--book", &book, "--units", "in"]);
    assert_eq!(trays.lines().nth(1), Some("blue,,1,K-201"));
    let sizes = bench.beside("sizes.xlsx");
    answer(&["give", "list", "sizes", "--book", &book, "--units", "mm", "-o", &sizes]);
    assert!(fs::read(&sizes).unwrap().starts_with(b"PK"));
    let twice = refused(&["give", "list", "sizes", "--book", &book, "--units", "mm", "-o", &sizes]);
    assert!(twice.contains("is there already"), "{twice}");
    let assets = answer(&["give", "assets", "--book", &book, "K-202"]);
    assert!(assets.contains("serialNumber=\"K-202\"") && assets.contains("TAGGED_OUT"));
    let outline = answer(&["give", "outline", "K-203", "--book", &book, "--units", "in"]);
    assert!(outline.contains("Lengths in inches"));
}

#[test]
fn offsets_follow_the_example_controls() {
    let cutter = "examples/cutters/k-126-one-inch-powder.toml";
    let control = "examples/controls/window-mill.toml";
    let offsets = |assigned: &str, control: &str, run: fn(&[&str]) -> String| {
        run(&["give", "offsets", assigned, "--control", control, "--cutter", cutter])
    };
    let listing = offsets("K-126=7:0.5020", control, answer);
    for part in ["K-126", "0.5020 in", "Nothing is written yet", "touch off its length anew"] {
        assert!(listing.contains(part), "{part}: {listing}");
    }
    assert!(offsets("K-126", control, refused).contains("such as K-117=12"));
    let added = offsets("K-126=7", "examples/controls/door-mill.toml", refused);
    assert!(added.contains("nobody says what is there"), "{added}");
    let json =
        answer(&["give", "offsets", "k-126=7", "--control", control, "--cutter", cutter, "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["offsets"][0]["offset"], 7);
    assert!(json["program"].as_str().unwrap().contains("\nG10 L12 P7 R0."));
}

#[test]
fn a_description_that_lacks_a_fact_is_refused() {
    let bench = Bench::new();
    let whole = fs::read_to_string(
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/controls/window-mill.toml"),
    );
    let whole = whole.unwrap();
    let cutter = "examples/cutters/k-126-one-inch-powder.toml";
    for (place, key) in
        ["mode = \"absolute\"", "number = \"P\"", "select = \"L12\""].iter().enumerate()
    {
        let file = bench.beside(&format!("control-{place}.toml"));
        fs::write(&file, whole.replacen(key, "", 1)).unwrap();
        let said = refused(&["give", "offsets", "K-126=7", "--control", &file, "--cutter", cutter]);
        let name = key.split(' ').next().unwrap();
        assert!(said.contains(name) && said.contains("missing"), "{key}: {said}");
    }
}

/// The plan of the everyday example, as JSON in a file.
fn plan(bench: &Bench) -> String {
    let file = bench.beside("plan.json");
    let json = answer(&[
        "plan",
        "--cutter",
        "examples/cutters/k-117-half-inch-dull.toml",
        "--machine",
        "examples/machines/left-bench.toml",
        "--wheel",
        "examples/wheels/w-02-straight-cup-oxide.toml",
        "--json",
    ]);
    fs::write(&file, json).unwrap();
    file
}

fn diameter_mm(plan: &str) -> f64 {
    let plan: serde_json::Value = serde_json::from_str(&fs::read_to_string(plan).unwrap()).unwrap();
    plan.pointer("/peripheral/expect/diameter_mm").unwrap().as_f64().unwrap()
}

/// Read by a general-purpose library for drawings.
#[test]
fn a_section_is_a_drawing_with_the_planned_radius() {
    let bench = Bench::new();
    let plan = plan(&bench);
    let file = bench.beside("tooth.dxf");
    answer(&["give", "section", "--plan", &plan, "--units", "mm", "-o", &file]);
    let drawing = dxf::Drawing::load_file(&file).unwrap();
    let radius = diameter_mm(&plan) / 2.0;
    let (mut circle, mut edge, mut shapes) = (0.0, f64::INFINITY, 0);
    for entity in drawing.entities() {
        let layer = entity.common.layer.as_str();
        match &entity.specific {
            EntityType::Arc(arc) if layer == "CIRCLE" => circle = arc.radius,
            EntityType::Arc(_) | EntityType::Line(_) if layer == "GROUND" => shapes += 1,
            _ => {}
        }
        if let (EntityType::Line(line), "GROUND") = (&entity.specific, layer) {
            for point in [&line.p1, &line.p2] {
                if point.x.abs() < 1e-5 {
                    edge = edge.min((point.y - radius).abs());
                }
            }
        }
    }
    assert!((circle - radius).abs() < 2e-5, "{circle} {radius}");
    assert!(edge < 2e-4 || shapes > 0, "the edge lies on the circle: {edge}");
    assert!((2..60).contains(&shapes), "{shapes} lines and arcs");
}

/// Edges that two facets do not run along in opposite ways, by where their ends are.
fn open_edges(read: &stl_io::IndexedMesh) -> usize {
    let mut edges: HashMap<[[u32; 3]; 2], i32> = HashMap::new();
    for face in &read.faces {
        let corners = face.vertices.map(|at| {
            let corner = read.vertices[at];
            [0, 1, 2].map(|axis| (corner[axis] + 0.0).to_bits())
        });
        for (from, to) in [(0, 1), (1, 2), (2, 0)] {
            let (from, to) = (corners[from], corners[to]);
            let way = if from < to { 1 } else { -1 };
            *edges.entry([from.min(to), from.max(to)]).or_default() += way;
        }
    }
    // A facet so small that two of its corners fall together has an edge of no length.
    edges.iter().filter(|([from, to], sum)| from != to && **sum != 0).count()
}

/// Read by a general-purpose library for solids.
#[test]
fn solids_lose_metal_in_the_grind() {
    let bench = Bench::new();
    let plan = plan(&bench);
    let volume = |state: &str| {
        let file = bench.beside(&format!("{state}.stl"));
        answer(&["give", "solid", "--plan", &plan, "--state", state, "-o", &file]);
        let read = stl_io::read_stl(&mut fs::File::open(&file).unwrap()).unwrap();
        assert_eq!(open_edges(&read), 0, "{state}");
        let corner = |at: usize| read.vertices[at];
        let widest = read.vertices.iter().map(|at| f64::from(at[0]).hypot(f64::from(at[1])));
        let triple = |face: &stl_io::IndexedTriangle| {
            let [a, b, c] =
                face.vertices.map(|at| [0, 1, 2].map(|axis| f64::from(corner(at)[axis])));
            (a[0] * (b[1] * c[2] - b[2] * c[1])
                + a[1] * (b[2] * c[0] - b[0] * c[2])
                + a[2] * (b[0] * c[1] - b[1] * c[0]))
                / 6.0
        };
        let volume: f64 = read.faces.iter().map(triple).sum();
        (volume, widest.fold(0.0, f64::max))
    };
    let (before, after) = (volume("before"), volume("after"));
    assert!(after.0 < before.0 && after.0 > 0.9 * before.0, "{before:?} {after:?}");
    // The shank of the half-inch cutter is the widest, before and after.
    assert!((after.1 - 6.35).abs() < 0.02, "{after:?}");
    let glb = bench.beside("k.glb");
    answer(&["give", "solid", "--plan", &plan, "-o", &glb, "--within", "0.05 mm"]);
    assert!(fs::read(&glb).unwrap().starts_with(b"glTF"));
    let wrong = refused(&["give", "solid", "--plan", &plan, "-o", &bench.beside("k.obj")]);
    assert!(wrong.contains("must end in .stl or .glb"), "{wrong}");
}
