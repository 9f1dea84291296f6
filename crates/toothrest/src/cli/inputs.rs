//! The files a plan is made from, read whole, so that an answer can carry them and be made again.

use std::path::{Path, PathBuf};

use geometry::Length;
use shop::plan::{PlanRegrind, ReliefKind};
use shop::record::Wheel;
use trade::Tables;

use super::args::{PlanArguments, Relief};
use super::failure::Failure;
use crate::files::{
    FileProblems, load, read_cutter, read_history, read_machine, read_wear, read_wheels,
};
use crate::wire::{Inputs, NamedText};

/// Loads every file that the arguments name.
pub(super) fn load_inputs(arguments: &PlanArguments) -> Result<Inputs, Failure> {
    let mut problems = Vec::new();
    let mut needed = |path: &Option<PathBuf>| {
        path.as_deref().map(|path| text(path, &mut problems)).unwrap_or_default()
    };
    let (cutter, machine) = (needed(&arguments.cutter), needed(&arguments.machine));
    let wheels = arguments.wheel.iter().map(|path| text(path, &mut problems)).collect();
    let wear = arguments.wear.as_deref().map(|path| text(path, &mut problems));
    let history = arguments.history.as_deref().map(|path| text(path, &mut problems));
    let tables = arguments.tables.as_deref().map(|path| text(path, &mut problems));
    if !problems.is_empty() {
        return Err(Failure::Files(problems));
    }
    let relief = arguments.relief.map(|relief| relief_kind(relief).name().to_owned());
    let to_size = arguments.to_size.clone();
    let (end, off_length) = (arguments.end, arguments.off_length.clone());
    Ok(Inputs {
        cutter,
        machine,
        wheels,
        wear,
        history,
        tables,
        relief,
        to_size,
        end,
        off_length,
        after: Vec::new(),
    })
}

fn text(path: &Path, problems: &mut Vec<FileProblems>) -> NamedText {
    let named = |file: &str, text: &str| (file.to_owned(), text.to_owned());
    let read = load(path, |file, text| Ok(named(file, text)));
    let (file, text) = read.map_err(|found| problems.push(found)).unwrap_or_default();
    NamedText { file, text }
}

/// The bundled tables, with the shop's own laid over them.
pub(crate) fn tables(shop: Option<&NamedText>) -> Result<Tables, Failure> {
    let unsound = |file: &str| {
        let file = file.to_owned();
        move |error: trade::TableError| Failure::Tables { file, message: error.to_string() }
    };
    let bundled = Tables::bundled().map_err(unsound("bundled tables"))?;
    match shop {
        None => Ok(bundled.clone()),
        Some(named) => bundled.with_shop(&named.text).map_err(unsound(&named.file)),
    }
}

/// Reads every input, so that all that is wrong is said at once.
pub(crate) fn request(inputs: &Inputs) -> Result<PlanRegrind, Failure> {
    let mut problems: Vec<FileProblems> = Vec::new();
    let read_named = |named: &NamedText| (named.file.clone(), named.text.clone());
    let (file, text) = read_named(&inputs.cutter);
    let cutter = kept(read_cutter(&file, &text), &mut problems);
    let (file, text) = read_named(&inputs.machine);
    let machine = kept(read_machine(&file, &text), &mut problems);
    let mut wheels: Vec<Wheel> = Vec::new();
    for named in &inputs.wheels {
        let read = read_wheels(&named.file, &named.text);
        wheels.extend(kept(read, &mut problems).unwrap_or_default());
    }
    let cutter = match (&inputs.wear, cutter) {
        (Some(wear), Some(cutter)) => {
            kept(read_wear(&wear.file, &wear.text, &cutter), &mut problems)
        }
        (_, cutter) => cutter,
    };
    let known = match (&inputs.history, &cutter) {
        (Some(history), Some(cutter)) => {
            kept(read_history(&history.file, &history.text, cutter), &mut problems)
        }
        _ => None,
    };
    let known = known.unwrap_or_default();
    let to_size = inputs.to_size.as_deref().map(|size| length("--to-size", size)).transpose()?;
    let relief = inputs.relief.as_deref().map(kind).transpose()?;
    match (cutter, machine) {
        (Some(cutter), Some(machine)) if problems.is_empty() => {
            Ok(PlanRegrind { cutter, machine, wheels, relief, to_size, known })
        }
        _ => Err(Failure::Files(problems)),
    }
}

fn kept<T>(read: Result<T, FileProblems>, problems: &mut Vec<FileProblems>) -> Option<T> {
    read.map_err(|found| problems.push(found)).ok()
}

/// What is to come off the length of the end, where the hand says so.
pub(crate) fn off_length(inputs: &Inputs) -> Result<Option<Length>, Failure> {
    inputs.off_length.as_deref().map(|text| length("--off-length", text)).transpose()
}

pub(super) fn length(argument: &'static str, text: &str) -> Result<Length, Failure> {
    text.parse::<Length>().map_err(|error| Failure::Argument {
        argument,
        value: text.to_owned(),
        message: error.to_string(),
    })
}

fn kind(name: &str) -> Result<ReliefKind, Failure> {
    let named = ReliefKind::ALL.into_iter().find(|kind| kind.name() == name);
    named.ok_or_else(|| Failure::Argument {
        argument: "--relief",
        value: name.to_owned(),
        message: "not a kind of relief; write flat, hollow or eccentric".to_owned(),
    })
}

const fn relief_kind(relief: Relief) -> ReliefKind {
    match relief {
        Relief::Flat => ReliefKind::Flat,
        Relief::Hollow => ReliefKind::Hollow,
        Relief::Eccentric => ReliefKind::Eccentric,
    }
}
