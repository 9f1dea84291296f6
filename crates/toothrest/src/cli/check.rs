//! `toothrest check`.

use std::path::Path;

use geometry::quantity::System;
use sheets::drawing::{before_after, land_ring, residuals};
use sheets::text::check_sheet;
use shop::Ctx;
use shop::check::{Check, CheckRegrind, Checked, Question, check_regrind};
use shop::plan::RegrindPlan;

use super::args::CheckArguments;
use super::failure::Failure;
use super::file;
use super::inputs::tables;
use super::made_from::{MadeFrom, made_from};
use super::plan::{units, write_pictures};
use super::remade::remade;
use crate::files::{TemplateForm, load, read_readings, readings_template};
use crate::wire::{self, NamedText};

pub(super) fn run(arguments: &CheckArguments) -> Result<String, Failure> {
    let (file, text) = load(&arguments.plan, |name, text| Ok((name.to_owned(), text.to_owned())))?;
    let made_from = made_from(&file, &text)?;
    let inputs = &made_from.inputs;
    let tables = tables(inputs.tables.as_ref())?;
    let ctx = Ctx { tables: &tables };
    let plan = remade(&ctx, inputs)?.plan;
    match &arguments.readings {
        None => template(arguments, &plan),
        Some(readings) => weighed(&ctx, arguments, readings, plan, made_from),
    }
}

/// Weighs a file of readings.
fn weighed(
    ctx: &Ctx<'_>,
    arguments: &CheckArguments,
    readings: &Path,
    plan: RegrindPlan,
    made_from: MadeFrom,
) -> Result<String, Failure> {
    let (named, readings) = load(readings, |file, text| {
        let read = read_readings(file, text, &plan.request.cutter)?;
        Ok((NamedText { file: file.to_owned(), text: text.to_owned() }, read))
    })?;
    let units = units(arguments.units, &plan.request.cutter);
    let changed = made_from.changed(&plan)?;
    match check_regrind(ctx, CheckRegrind { plan, readings })? {
        Checked::Asked(questions) => Err(asked(arguments, &named.file, questions)?),
        Checked::Weighed(mut check) => {
            check.remarks.extend(changed);
            if let Some(directory) = &arguments.svg {
                write_pictures(directory, &pictures(&check, units.system))?;
            }
            if arguments.json {
                let answer = wire::check(&check, made_from.inputs, named);
                Ok(serde_json::to_string_pretty(&answer)? + "\n")
            } else {
                Ok(check_sheet(&check, units))
            }
        }
    }
}

/// Readings that can hardly be meant are no answer, whatever form it was to have.
fn asked(
    arguments: &CheckArguments,
    file: &str,
    questions: Vec<Question>,
) -> Result<Failure, Failure> {
    Ok(if arguments.json {
        let answer = wire::questions(&questions);
        Failure::AskedInJson(serde_json::to_string_pretty(&answer)? + "\n")
    } else {
        Failure::Asked { stands: stands(file), file: file.to_owned(), questions }
    })
}

/// How a file says that its readings stand as they are.
pub(super) fn stands(file: &str) -> &'static str {
    if is_csv(Path::new(file)) { "# looked again: yes" } else { "looked_again = true" }
}

fn is_csv(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv"))
}

/// The pictures of a check, each with the name of its file.
fn pictures(check: &Check, system: System) -> Vec<(&'static str, String)> {
    let scenes = [
        ("lands", land_ring(check, system)),
        ("residuals", residuals(check, system)),
        ("before-after", before_after(check, system)),
    ];
    scenes.into_iter().filter_map(|(name, scene)| Some((name, scene?.to_svg()))).collect()
}

/// A form to fill in, printed or written to a file that is not there yet.
fn template(arguments: &CheckArguments, plan: &RegrindPlan) -> Result<String, Failure> {
    let form = form(arguments)?;
    let text = readings_template(plan, form).ok_or_else(|| Failure::File {
        file: arguments.plan.display().to_string(),
        reason: "this plan grinds no periphery, so there is nothing to read; plan the work that \
                 was done"
            .to_owned(),
    })?;
    let Some(path) = &arguments.output else { return Ok(text) };
    write_new(path, &text)?;
    Ok(format!(
        "{path} is ready to be filled in. Then:\n  \
         toothrest check --plan {plan} --readings {path}\n",
        path = path.display(),
        plan = arguments.plan.display()
    ))
}

/// CSV where it is asked for, or where the name of the file says so.
fn form(arguments: &CheckArguments) -> Result<TemplateForm, Failure> {
    match &arguments.output {
        Some(path) if arguments.csv && !is_csv(path) => Err(Failure::Argument {
            argument: "--output",
            value: path.display().to_string(),
            message: "with --csv the name must end in .csv, or it would be read back as TOML; \
                      write such a name, or leave --csv out"
                .to_owned(),
        }),
        Some(path) if is_csv(path) => Ok(TemplateForm::Csv),
        _ if arguments.csv => Ok(TemplateForm::Csv),
        _ => Ok(TemplateForm::Toml),
    }
}

/// Writes a file that must not be there: it may hold an afternoon's readings.
fn write_new(path: &Path, text: &str) -> Result<(), Failure> {
    match file::write_new(path, text.as_bytes()) {
        Ok(()) => Ok(()),
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => Err(Failure::Argument {
            argument: "--output",
            value: path.display().to_string(),
            message: "is there already and may hold readings; give another name, or take it away \
                      first"
                .to_owned(),
        }),
        Err(error) => Err(file::failed(path)(error)),
    }
}
