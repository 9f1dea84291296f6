//! `toothrest plan`.

use std::path::Path;

use geometry::quantity::System;
use sheets::drawing::{drop_run, end_face, end_section, end_view, tooth_section};
use sheets::text::{
    Units, corrective_sheet, end_not_planned, end_sheet, face_not_planned, face_sheet, plan_sheet,
};
use shop::plan::RegrindPlan;
use shop::record::Cutter;
use shop::{Ctx, ShopError};

use super::args::{PlanArguments, UnitSystem};
use super::failure::Failure;
use super::inputs::{load_inputs, tables};
use super::made_from::after_check;
use super::plan_end::PlannedEnd;
use super::plan_face::PlannedFace;
use super::remade::{Remade, remade};
use crate::files::load;
use crate::paper;
use crate::wire::{self, Inputs};

pub(super) fn run(arguments: &PlanArguments) -> Result<String, Failure> {
    let inputs = match &arguments.after {
        Some(check) => load_after(check, arguments)?,
        None => load_inputs(arguments)?,
    };
    let tables = tables(inputs.tables.as_ref())?;
    let ctx = Ctx { tables: &tables };
    let Remade { plan, corrective } = remade(&ctx, &inputs)?;
    let units = Units { both: arguments.both, ..units(arguments.units, &plan.request.cutter) };
    let end = PlannedEnd::of(&ctx, &plan, &inputs)?;
    let face = PlannedFace::of(&ctx, &plan);
    if let Some(directory) = &arguments.svg {
        write_pictures(directory, &pictures(&plan, &end, units.system))?;
    }
    let (number, revision) = (plan.request.cutter.number(), paper::of_files(&inputs));
    let again = corrective.as_ref();
    let pages = |imprint: &_| paper::set_up(&plan, end.planned(), again, imprint);
    arguments.print.write(number, revision, units.system, pages)?;
    let json = |answer: serde_json::Result<String>| answer.map(|text| text + "\n");
    Ok(match (corrective, arguments.json) {
        (Some(again), true) => json(serde_json::to_string_pretty(&wire::again(&again, inputs)))?,
        (Some(again), false) => corrective_sheet(&again, units),
        (None, true) => {
            let refused = end.refused().map(str::to_owned);
            let end = end.planned().map(|end| wire::end(&plan, end));
            let why = face.refused().map(str::to_owned);
            let face = face.planned().map(|face| wire::face(&plan, face));
            let answer = wire::plan(&plan, inputs).with_end(end, refused).with_face(face, why);
            json(serde_json::to_string_pretty(&answer))?
        }
        (None, false) => sheets(&plan, (&end, &face), units),
    })
}

/// What the plan of a corrective grind is made from: all that the check was, and its readings.
fn load_after(check: &Path, arguments: &PlanArguments) -> Result<Inputs, Failure> {
    let (file, text) = load(check, |name, text| Ok((name.to_owned(), text.to_owned())))?;
    let mut inputs = after_check(&file, &text)?;
    if let Some(last) = inputs.after.last_mut() {
        (last.left, last.fed) = (arguments.leave.clone(), arguments.fed.clone());
    }
    Ok(inputs)
}

/// The sheet of the periphery, and those of the end and of the face behind it.
fn sheets(plan: &RegrindPlan, (end, face): (&PlannedEnd, &PlannedFace), units: Units) -> String {
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
    if let Some(face) = face.planned() {
        text += "\u{c}\n";
        text += &face_sheet(plan, face, units);
    }
    if let Some(why) = face.refused() {
        text += "\u{c}\n";
        text += &face_not_planned(why);
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
