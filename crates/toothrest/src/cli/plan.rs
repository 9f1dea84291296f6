//! `toothrest plan`.

use std::path::Path;

use geometry::quantity::System;
use sheets::drawing::{drop_run, end_view, tooth_section};
use sheets::paper::setup_sheet;
use sheets::text::{Units, plan_sheet};
use shop::plan::{RegrindPlan, plan_regrind};
use shop::record::Cutter;
use shop::{Ctx, ShopError};

use super::args::{PlanArguments, UnitSystem};
use super::failure::Failure;
use super::inputs::{load_inputs, request, tables};
use crate::paper;
use crate::wire::{self, Inputs};

pub(super) fn run(arguments: &PlanArguments) -> Result<String, Failure> {
    let inputs = load_inputs(arguments)?;
    let tables = tables(inputs.tables.as_ref())?;
    let request = request(&inputs)?;
    let units = Units { both: arguments.both, ..units(arguments.units, &request.cutter) };
    let plan =
        plan_regrind(&Ctx { tables: &tables }, request).map_err(|error| located(&inputs, error))?;
    if let Some(directory) = &arguments.svg {
        write_pictures(directory, &pictures(&plan, units.system))?;
    }
    let (number, revision) = (plan.request.cutter.number(), paper::of_files(&inputs));
    arguments.print.write(number, revision, units.system, |imprint| setup_sheet(&plan, imprint))?;
    if arguments.json {
        Ok(serde_json::to_string_pretty(&wire::plan(&plan, inputs))? + "\n")
    } else {
        Ok(plan_sheet(&plan, units))
    }
}

/// Puts the line of the cutter's file to a complaint about one of its values.
pub(super) fn located(inputs: &Inputs, error: ShopError) -> Failure {
    match error {
        ShopError::Invalid { field, reason } if field.starts_with("cutter.") => {
            Failure::about(&inputs.cutter.file, &inputs.cutter.text, &field, reason)
        }
        other => other.into(),
    }
}

/// The system asked for, else the one in which the cutter's nominal size is a round figure.
pub(super) fn units(asked: Option<UnitSystem>, cutter: &Cutter) -> Units {
    let system = asked.map_or_else(|| cutter.system(), UnitSystem::system);
    Units { system, both: false }
}

/// The pictures of a plan, each with the name of its file; none where the periphery is not ground.
fn pictures(plan: &RegrindPlan, system: System) -> Vec<(&'static str, String)> {
    let scenes = [
        ("tooth-section", tooth_section(plan, system)),
        ("end-view", end_view(plan, system)),
        ("drop-run", drop_run(plan, system)),
    ];
    scenes.into_iter().filter_map(|(name, scene)| Some((name, scene?.to_svg()))).collect()
}

/// Writes pictures into a directory, which is made where it is missing.
pub(super) fn write_pictures(directory: &Path, pictures: &[(&str, String)]) -> Result<(), Failure> {
    let failed = |path: &Path| {
        let what = path.display().to_string();
        move |source| Failure::Write { what, source }
    };
    std::fs::create_dir_all(directory).map_err(failed(directory))?;
    for (name, svg) in pictures {
        let path = directory.join(format!("{name}.svg"));
        std::fs::write(&path, svg).map_err(failed(&path))?;
    }
    Ok(())
}
