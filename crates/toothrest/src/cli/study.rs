//! `toothrest study`.

use std::ops::ControlFlow;

use geometry::quantity::System;
use sheets::drawing::{causes_view, spread_view};
use sheets::text::study_sheet;
use shop::Ctx;
use shop::study::{Study, StudyRegrind, study_regrind};

use super::args::StudyArguments;
use super::failure::Failure;
use super::inputs::tables;
use super::made_from::made_from;
use super::plan::{units, write_pictures};
use super::progress::Counted;
use super::remade::remade;
use crate::files::load;
use crate::wire;

pub(super) fn run(arguments: &StudyArguments) -> Result<String, Failure> {
    let (file, text) = load(&arguments.plan, |name, text| Ok((name.to_owned(), text.to_owned())))?;
    let made_from = made_from(&file, &text)?;
    let inputs = &made_from.inputs;
    if !inputs.after.is_empty() {
        let message = "this is the plan of a corrective grind; study the plan that it follows";
        return Err(Failure::Argument {
            argument: "PLAN",
            value: file,
            message: message.to_owned(),
        });
    }
    let tables = tables(inputs.tables.as_ref())?;
    let ctx = Ctx { tables: &tables };
    let plan = remade(&ctx, inputs)?.plan;
    let units = units(arguments.units, &plan.request.cutter);
    let changed = made_from.changed(&plan)?;
    let request = StudyRegrind { plan, samples: arguments.samples, seed: arguments.seed };
    let mut study = studied(&ctx, request)?;
    study.remarks.extend(changed);
    if let Some(directory) = &arguments.svg {
        write_pictures(directory, &pictures(&study, units.system))?;
    }
    if arguments.json {
        Ok(serde_json::to_string_pretty(&wire::study(&study, made_from.inputs))? + "\n")
    } else {
        Ok(study_sheet(&study, units))
    }
}

/// Studies with a bar that says how far it has come.
fn studied(ctx: &Ctx<'_>, request: StudyRegrind) -> Result<Study, Failure> {
    let bar = Counted::of("teeth", request.samples as usize);
    let study = study_regrind(ctx, request, &mut |progress| {
        bar.stand_at(progress.doing, progress.done, progress.of);
        ControlFlow::Continue(())
    });
    bar.done();
    Ok(study?)
}

/// The pictures of a study, each with the name of its file.
fn pictures(study: &Study, system: System) -> [(&'static str, String); 2] {
    [
        ("spread", spread_view(study, system).to_svg()),
        ("causes", causes_view(study, system).to_svg()),
    ]
}
