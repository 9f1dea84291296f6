//! `toothrest plan`.

use std::path::Path;

use geometry::quantity::System;
use sheets::drawing::{drop_run, end_face, end_section, end_view, tooth_section};
use sheets::text::{Units, end_not_planned, end_sheet, plan_sheet};
use shop::plan::{RegrindPlan, plan_regrind};
use shop::record::Cutter;
use shop::{Ctx, ShopError};

use super::args::{PlanArguments, UnitSystem};
use super::failure::Failure;
use super::inputs::{load_inputs, request, tables};
use super::plan_end::PlannedEnd;
use crate::wire::{self, Inputs};

pub(super) fn run(arguments: &PlanArguments) -> Result<String, Failure> {
    let inputs = load_inputs(arguments)?;
    let tables = tables(inputs.tables.as_ref())?;
    let request = request(&inputs)?;
    let units = Units { both: arguments.both, ..units(arguments.units, &request.cutter) };
    let ctx = Ctx { tables: &tables };
    let plan = plan_regrind(&ctx, request).map_err(|error| located(&inputs, error))?;
    let end = PlannedEnd::of(&ctx, &plan, &inputs)?;
    if let Some(directory) = &arguments.svg {
        write_pictures(directory, &pictures(&plan, &end, units.system))?;
    }
    if arguments.json {
        let refused = end.refused().map(str::to_owned);
        let end = end.planned().map(|end| wire::end(&plan, end));
        let answer = wire::plan(&plan, inputs).with_end(end, refused);
        Ok(serde_json::to_string_pretty(&answer)? + "\n")
    } else {
        Ok(sheets(&plan, &end, units))
    }
}

/// The sheet of the periphery, and that of the end behind it.
fn sheets(plan: &RegrindPlan, end: &PlannedEnd, units: Units) -> String {
    let mut text = plan_sheet(plan, units);
    if let Some(end) = end.planned() {
        // A form feed, so that a printer starts the end's page on a new sheet.
        text += "\u{c}\n";
        text += &end_sheet(plan, end, units);
    }
    if let Some(why) = end.refused() {
        text += "\u{c}\n";
        text += &end_not_planned(why);
    }
    text
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

/// The pictures of a plan, each with the name of its file; of the periphery and of the end, as far
/// as they are ground.
fn pictures(plan: &RegrindPlan, end: &PlannedEnd, system: System) -> Vec<(&'static str, String)> {
    let end = end.planned();
    let scenes = [
        ("tooth-section", tooth_section(plan, system)),
        ("end-view", end_view(plan, system)),
        ("drop-run", drop_run(plan, system)),
        ("end-teeth", end.map(|end| end_face(plan, end, system))),
        ("end-tooth", end.map(|end| end_section(plan, end, system))),
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
