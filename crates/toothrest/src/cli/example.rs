//! The main job on the bundled example, and what to do next.

use geometry::quantity::System;
use sheets::text::{Units, plan_sheet};
use shop::Ctx;
use shop::learn::Known;
use shop::plan::{PlanRegrind, plan_regrind};

use super::bundled::{CUTTER, MACHINE, WHEELS};
use super::failure::Failure;
use super::inputs::tables;
use crate::files::{read_cutter, read_machine, read_wheels};

const NEXT: &str = "
This is the bundled example. Next:
  toothrest plan --help           plan your own cutter, from three small files
  toothrest check --help          weigh what you read on a ground cutter, and correct it
  toothrest section --help        predict what one set-up leaves on the tooth
  toothrest sources               every table value, its source, and how that was read
Start your files from those in examples/: cutters, machines, wheels and settings.
";

pub(super) fn run() -> Result<String, Failure> {
    let tables = tables(None)?;
    let mut wheels = Vec::new();
    for (file, text) in WHEELS {
        wheels.extend(read_wheels(file, text)?);
    }
    let request = PlanRegrind {
        cutter: read_cutter(CUTTER.0, CUTTER.1)?,
        machine: read_machine(MACHINE.0, MACHINE.1)?,
        wheels,
        relief: None,
        to_size: None,
        known: Known::default(),
    };
    let plan = plan_regrind(&Ctx { tables: &tables }, request)?;
    let units = Units { system: System::Inch, both: false };
    Ok(plan_sheet(&plan, units) + NEXT)
}
