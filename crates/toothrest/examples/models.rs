//! Writes models of the example cutters into a folder, for a page with the viewer to show:
//!
//! ```sh
//! cargo run -p toothrest --example models -- FOLDER
//! ```
//!
//! Each cutter gives two files: `NAME.model` as its plan leaves it, with wheel and rest, and
//! `NAME-alone.model` as its record says.

use std::error::Error;
use std::path::Path;
use std::{env, fs};

use sheets::model::{cutter_model, regrind_model};
use shop::Ctx;
use shop::learn::Known;
use shop::plan::{PlanRegrind, plan_regrind};
use toothrest::files::{read_cutter, read_machine, read_wheels};
use toothrest::model_bytes;
use trade::Tables;

/// A cutter, and the wheels to choose among.
const WORK: [(&str, &str); 4] = [
    ("k-117-half-inch-dull", "w-05-flaring-cup-cbn"),
    ("k-134-left-hand", "w-05-flaring-cup-cbn"),
    ("k-145-straight-tooth", "w-02-straight-cup-oxide"),
    ("k-126-one-inch-powder", "w-03-straight-oxide"),
];

const MACHINE: &str = "machines/left-bench.toml";

fn main() -> Result<(), Box<dyn Error>> {
    let folder = env::args().nth(1).ok_or("name a folder to write into")?;
    fs::create_dir_all(&folder)?;
    WORK.iter().try_for_each(|(cutter, wheel)| write(Path::new(&folder), cutter, wheel))
}

fn write(folder: &Path, cutter_name: &str, wheel_name: &str) -> Result<(), Box<dyn Error>> {
    let (cutter_path, text) = example(&format!("cutters/{cutter_name}.toml"))?;
    let cutter = read_cutter(&cutter_path, &text)?;
    let (machine_path, text) = example(MACHINE)?;
    let machine = read_machine(&machine_path, &text)?;
    let (wheel_path, text) = example(&format!("wheels/{wheel_name}.toml"))?;
    let wheels = read_wheels(&wheel_path, &text)?;
    let alone = cutter_model(&cutter).ok_or("the cutter cannot be drawn")?;
    fs::write(folder.join(format!("{cutter_name}-alone.model")), model_bytes(&alone))?;
    let request = PlanRegrind {
        cutter,
        machine,
        wheels,
        relief: None,
        to_size: None,
        known: Known::default(),
    };
    let plan = plan_regrind(&Ctx { tables: Tables::bundled()? }, request)?;
    let model = regrind_model(&plan).ok_or("the plan grinds no periphery")?;
    fs::write(folder.join(format!("{cutter_name}.model")), model_bytes(&model))?;
    Ok(())
}

/// An example's path and text.
fn example(path: &str) -> Result<(String, String), Box<dyn Error>> {
    let path = format!("{}/../../examples/{path}", env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(&path)?;
    Ok((path, text))
}
