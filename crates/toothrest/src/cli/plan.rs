//! `toothrest plan`.

use std::path::Path;

use geometry::quantity::System;
use sheets::drawing::{drop_run, end_face, end_section, end_view, tooth_section};
use sheets::text::Units;
use shop::plan::RegrindPlan;
use shop::record::Cutter;
use shop::{Ctx, ShopError};

use super::args::{PlanArguments, UnitSystem};
use super::beside::Beside;
use super::failure::Failure;
use super::file::{failed, replace};
use super::inputs::{load_inputs, tables};
use super::made_from::after_check;
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
    let beside = Beside::asked_for(&ctx, &plan, &inputs)?;
    if let Some(directory) = &arguments.svg {
        write_pictures(directory, &pictures(&plan, &beside, units.system))?;
    }
    let (number, revision) = (plan.request.cutter.number(), paper::of_files(&inputs));
    let again = corrective.as_ref();
    let pages = |imprint: &_| paper::set_up(&plan, &beside, again, imprint);
    arguments.print.write(number, revision, units.system, pages)?;
    let json = |answer: serde_json::Result<String>| answer.map(|text| text + "\n");
    Ok(match (corrective, arguments.json) {
        (Some(again), true) => json(serde_json::to_string_pretty(&wire::again(&again, inputs)))?,
        (None, true) => {
            let end = beside.end.planned().map(|end| wire::end(&plan, end));
            let ball = beside.ball.planned().map(wire::ball);
            let face = beside.face.planned().map(|face| wire::face(&plan, face));
            let answer = wire::plan(&plan, inputs)
                .with_end(end, beside.end.refused())
                .with_ball(ball, beside.ball.refused())
                .with_face(face, beside.face.refused());
            json(serde_json::to_string_pretty(&answer))?
        }
        // A form feed, so that a printer starts each page on a new sheet.
        (again, false) => beside.sheets(&plan, again.as_ref(), units).join("\u{c}\n"),
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
fn pictures(plan: &RegrindPlan, beside: &Beside, system: System) -> Vec<(&'static str, String)> {
    let end = beside.end.planned();
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
    std::fs::create_dir_all(directory).map_err(failed(directory))?;
    for (name, svg) in pictures {
        let path = directory.join(format!("{name}.svg"));
        replace(&path, svg.as_bytes()).map_err(failed(&path))?;
    }
    Ok(())
}
