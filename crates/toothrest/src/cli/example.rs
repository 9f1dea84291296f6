//! The main job on the bundled example, files to start from, and what to do next.

use std::fs;
use std::path::{Path, PathBuf};

use geometry::quantity::System;
use sheets::text::{Units, plan_sheet};
use shop::Ctx;
use shop::plan::plan_regrind;

use super::args::ExampleArguments;
use super::bundled::{CUTTER, EXAMPLES, MACHINE, TO_CHANGE, WHEELS};
use super::failure::Failure;
use super::file::{failed, write_new};
use super::inputs::{request, tables};
use crate::wire::{self, Inputs, NamedText};

const NEXT: &str = "
This is the bundled example. Next:
  toothrest example --write bench   files to start from, in a new folder
  toothrest plan --help             plan your own cutter, from three small files
  toothrest check --help            weigh what you read on a ground cutter, and correct it
  toothrest section --help          predict what one set-up leaves on the tooth
  toothrest sources                 every table value, its source, and how that was read
";

pub(super) fn run(asked: &ExampleArguments) -> Result<String, Failure> {
    if let Some(folder) = &asked.write {
        return write_all(folder);
    }
    let inputs = inputs();
    let tables = tables(None)?;
    let plan = plan_regrind(&Ctx { tables: &tables }, request(&inputs)?)?;
    if asked.json {
        return Ok(serde_json::to_string_pretty(&wire::plan(&plan, inputs))? + "\n");
    }
    let units = Units { system: System::Inch, both: false };
    Ok(plan_sheet(&plan, units) + NEXT)
}

/// What the plan of the example is made from, as if the files had been named.
fn inputs() -> Inputs {
    let named = |(file, text): (&str, &str)| NamedText { file: file.into(), text: text.into() };
    let wheels = WHEELS.into_iter().map(named).collect();
    Inputs { cutter: named(CUTTER), machine: named(MACHINE), wheels, ..Inputs::default() }
}

/// Writes every example into a folder, and beside them those that are to be changed.
fn write_all(folder: &Path) -> Result<String, Failure> {
    let copies = TO_CHANGE.iter().filter_map(|(name, of)| {
        EXAMPLES.iter().find(|(path, _)| path == of).map(|(_, bytes)| (folder.join(name), *bytes))
    });
    let all = EXAMPLES.iter().map(|(path, bytes)| (folder.join("examples").join(path), *bytes));
    let files: Vec<(PathBuf, &[u8])> = copies.chain(all).collect();
    if let Some((path, _)) = files.iter().find(|(path, _)| path.exists()) {
        return Err(Failure::Argument {
            argument: "--write",
            value: folder.display().to_string(),
            message: format!("{} is there already; name a new folder", path.display()),
        });
    }
    for (path, bytes) in &files {
        let made = path.parent().map_or(Ok(()), fs::create_dir_all);
        made.and_then(|()| write_new(path, bytes)).map_err(failed(path))?;
    }
    Ok(told(folder, files.len()))
}

fn told(folder: &Path, count: usize) -> String {
    let shown = folder.display();
    let names = TO_CHANGE.map(|(name, _)| name).join(", ");
    format!(
        "Wrote {count} files into {shown}. Change {names}; examples has more of each kind. Next:
  cd {shown}
  toothrest plan --cutter cutter.toml --machine machine.toml --wheel wheel.toml
"
    )
}
