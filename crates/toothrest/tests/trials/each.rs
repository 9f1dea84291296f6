//! What is tried: for each reader its sound examples, and what must hold of whatever goes in.
//!
//! `fuzz` takes this file in by its path, so that a smoke run and a long run try the same.

use std::path::PathBuf;
use std::sync::LazyLock;

use exchange::list::{Said, read_cutters};
use geometry::{Angle, Length};
use shop::record::Cutter;
use toothrest::files::{
    FileProblems, cutter_text, history_text, machine_text, read_control, read_cutter, read_history,
    read_labels, read_machine, read_prices, read_readings, read_setting, read_wear, read_wheels,
    readings_text, wear_text, wheel_text,
};
use toothrest::trials::{check_answer, plan_answer};
use trade::Tables;

/// Nothing, or the promise that was broken.
pub(crate) type Outcome = Result<(), String>;

/// The longest message that a reader may make.
const MESSAGE_BYTES_MAX: usize = 2_000;

/// One reader.
pub(crate) struct Trial {
    pub(crate) name: &'static str,
    /// Folders of the examples, and endings of the files in them that it reads.
    pub(crate) examples: &'static [(&'static str, &'static str)],
    /// More of what it reads.
    pub(crate) more: fn() -> Vec<String>,
    pub(crate) run: fn(&[u8]) -> Outcome,
}

const fn trial(
    name: &'static str,
    examples: &'static [(&'static str, &'static str)],
    run: fn(&[u8]) -> Outcome,
) -> Trial {
    Trial { name, examples, more: Vec::new, run }
}

const fn with(name: &'static str, more: fn() -> Vec<String>, run: fn(&[u8]) -> Outcome) -> Trial {
    Trial { name, examples: &[], more, run }
}

/// Every reader there is, but for the pages of the bench around them.
pub(crate) const TRIALS: [Trial; 21] = [
    trial("cutter", &[("cutters", "toml")], cutter),
    trial("wear", &[("wear", "toml")], wear),
    trial("history", &[("history", "toml")], history),
    trial("machine", &[("machines", "toml")], machine),
    trial("wheels", &[("wheels", "toml")], wheels),
    trial("readings", &[("readings", "toml")], readings),
    trial("readings-csv", &[("readings", "csv")], readings_csv),
    trial("setting", &[("settings", "toml")], |bytes| only_reads(bytes, read_setting)),
    trial("prices", &[("prices", "toml")], |bytes| only_reads(bytes, read_prices)),
    trial("labels", &[("labels", "toml")], |bytes| only_reads(bytes, read_labels)),
    trial("control", &[("controls", "toml")], |bytes| only_reads(bytes, read_control)),
    trial("list-csv", &[("lists", "csv")], list),
    with("tables", super::seeds::tables, tables),
    with("list-workbook", Vec::new, list),
    with("list-sheet", super::seeds::sheets, sheet),
    with("plan-answer", super::seeds::plan_answers, |bytes| answer(bytes, plan_answer, "")),
    with("check-answer", super::seeds::check_answers, |bytes| answer(bytes, check_answer, "check")),
    with("body", super::seeds::bodies, super::kept::body),
    with("export", super::seeds::lines, super::kept::line),
    with("quantity", super::seeds::quantities, quantity),
    with("forms", super::sent::seeds, super::sent::form),
];

impl Trial {
    /// What it reads as it should be.
    pub(crate) fn seeds(&self) -> Vec<Vec<u8>> {
        let mut seeds: Vec<Vec<u8>> = (self.more)().into_iter().map(String::into_bytes).collect();
        for (folder, ending) in self.examples {
            let files = super::seeds::files(folder);
            let fit = files.iter().filter(|file| file.extension().is_some_and(|is| is == *ending));
            seeds.extend(fit.map(|file| std::fs::read(file).unwrap_or_default()));
        }
        if self.name == "list-workbook" {
            seeds.extend(super::seeds::workbooks());
        }
        seeds
    }
}

/// The example cutter of that file.
fn example(name: &str) -> Cutter {
    let path: PathBuf = super::seeds::examples().join("cutters").join(name);
    toothrest::files::load(&path, read_cutter).expect("the examples can be read")
}

/// The cutter that wear and readings are of.
static CUTTER: LazyLock<Cutter> = LazyLock::new(|| example("k-117-half-inch-dull.toml"));

/// The same before anybody looked at its wear.
static SHARP: LazyLock<Cutter> = LazyLock::new(|| example("k-126-one-inch-powder.toml"));

fn cutter(bytes: &[u8]) -> Outcome {
    kept_as_written(bytes, "t.toml", read_cutter, |cutter| Some(cutter_text(cutter)))
}

fn wear(bytes: &[u8]) -> Outcome {
    let read = |file: &str, text: &str| read_wear(file, text, &SHARP);
    kept_as_written(bytes, "t.toml", read, |worn| worn.wear().map(wear_text))
}

fn history(bytes: &[u8]) -> Outcome {
    let read = |file: &str, text: &str| read_history(file, text, &CUTTER);
    kept_as_written(bytes, "t.toml", read, |known| Some(history_text(Some(CUTTER.number()), known)))
}

fn machine(bytes: &[u8]) -> Outcome {
    kept_as_written(bytes, "t.toml", read_machine, |machine| Some(machine_text(machine)))
}

fn wheels(bytes: &[u8]) -> Outcome {
    let text = &shown(bytes);
    let Some(wheels) = read_or_told(text, "t.toml", read_wheels)? else { return Ok(()) };
    for wheel in wheels {
        let text = wheel_text(&wheel);
        same(&vec![wheel], &text, |text| read_wheels("again.toml", text))?;
    }
    Ok(())
}

fn readings(bytes: &[u8]) -> Outcome {
    readings_of(bytes, "t.toml")
}

fn readings_csv(bytes: &[u8]) -> Outcome {
    readings_of(bytes, "t.csv")
}

/// Either form is written again as TOML.
fn readings_of(bytes: &[u8], file: &str) -> Outcome {
    let read = |file: &str, text: &str| read_readings(file, text, &CUTTER);
    kept_as_written(bytes, file, read, |readings| Some(readings_text(&readings.draft(), &CUTTER)))
}

/// What is read and never written.
fn only_reads<T: std::fmt::Debug>(
    bytes: &[u8],
    read: impl Fn(&str, &str) -> Result<T, FileProblems>,
) -> Outcome {
    read_or_told(&shown(bytes), "t.toml", read).map(drop)
}

/// What reads is written so that it reads again as the very same.
fn kept_as_written<T: std::fmt::Debug + PartialEq>(
    bytes: &[u8],
    file: &str,
    read: impl Fn(&str, &str) -> Result<T, FileProblems>,
    written: impl Fn(&T) -> Option<String>,
) -> Outcome {
    let Some(record) = read_or_told(&shown(bytes), file, &read)? else { return Ok(()) };
    let Some(text) = written(&record) else { return Ok(()) };
    same(&record, &text, |text| read("again.toml", text))
}

fn same<T: std::fmt::Debug, U: std::fmt::Debug + PartialEq<T> + ?Sized>(
    record: &U,
    text: &str,
    read: impl Fn(&str) -> Result<T, FileProblems>,
) -> Outcome {
    match read(text) {
        Ok(again) if *record == again => Ok(()),
        Ok(again) => Err(format!("was {record:?}\nis  {again:?}\nas\n{text}")),
        Err(problems) => Err(format!("what was written does not read: {problems}\n{text}")),
    }
}

/// A file that is no text is turned away before any of these readers sees it.
fn shown(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// The record; nothing where what is wrong was told as it should be.
fn read_or_told<T: std::fmt::Debug>(
    text: &str,
    file: &str,
    read: impl Fn(&str, &str) -> Result<T, FileProblems>,
) -> Result<Option<T>, String> {
    match read(file, text) {
        Ok(record) => has_only_numbers(text, &record).map(|()| Some(record)),
        Err(problems) => told(text, &problems).map(|()| None),
    }
}

/// No figure of a record is not a number or has no end, unless the text itself has such a word.
fn has_only_numbers(text: &str, record: &impl std::fmt::Debug) -> Outcome {
    let record = format!("{record:?}");
    let has = |text: &str, word: &str| text.to_ascii_lowercase().contains(word);
    let is_odd = record.contains("NaN") && !has(text, "nan");
    if is_odd || (record.contains(" inf") && !has(text, "inf")) {
        return Err(format!("a figure that is none: {record}"));
    }
    Ok(())
}

/// Whoever reads the messages can find the place and knows what to do.
fn told(text: &str, problems: &FileProblems) -> Outcome {
    let lines_max = text.split('\n').count();
    let mut last = 0;
    if problems.problems().is_empty() {
        return Err("refused without a word".to_owned());
    }
    for problem in problems.problems() {
        let shown = problem.to_string();
        let line = problem.line.unwrap_or(1);
        let before = std::mem::replace(&mut last, line);
        let is_fit = (1..=lines_max).contains(&line) && line >= before;
        if !is_fit || problem.message.is_empty() || problem.right.is_empty() {
            return Err(format!("line {line} of {lines_max} after {before}: {shown:?}"));
        }
        is_plain(&shown)?;
    }
    Ok(())
}

/// A message is no page long. What would move a cursor is written out where messages are shown.
pub(crate) fn is_short(message: &str) -> Outcome {
    if message.len() > MESSAGE_BYTES_MAX {
        return Err(format!("no short message: {message:?}"));
    }
    Ok(())
}

/// The same where it is shown as it stands.
fn is_plain(message: &str) -> Outcome {
    if message.chars().any(char::is_control) {
        return Err(format!("no plain message: {message:?}"));
    }
    is_short(message)
}

fn tables(bytes: &[u8]) -> Outcome {
    let bundled = Tables::bundled().map_err(|error| error.to_string())?;
    match bundled.with_shop(&shown(bytes)) {
        Ok(_) => Ok(()),
        Err(error) if error.to_string().is_empty() => Err("refused without a word".to_owned()),
        Err(error) => is_short(&error.to_string()),
    }
}

/// What is said of a list beside its cells, as somebody would who knows the drawer.
fn said() -> Said {
    let facts =
        super::drawer::REST.map(|(column, value)| (column, value.to_owned())).into_iter().collect();
    Said { unit: Some("mm".to_owned()), facts, left_out: Vec::new() }
}

fn list(bytes: &[u8]) -> Outcome {
    for said in [Said::default(), said()] {
        let list = read_cutters(bytes, None, &said);
        for problem in &list.problems {
            let shown = problem.to_string();
            if problem.message.is_empty() || problem.right.is_empty() {
                return Err(format!("refused without a word: {shown:?}"));
            }
            is_short(&shown)?;
        }
        for listed in &list.cutters {
            same(&listed.cutter, &cutter_text(&listed.cutter), |text| {
                read_cutter("again.toml", text)
            })?;
        }
    }
    Ok(())
}

/// The same with the bytes as the cells of an otherwise sound workbook, for what reads XML.
fn sheet(bytes: &[u8]) -> Outcome {
    list(&super::workbook::workbook_of(bytes))
}

/// What an answer was made from goes into another and comes out the same.
fn answer(bytes: &[u8], read: fn(&str) -> Result<String, String>, of: &str) -> Outcome {
    let inputs = match read(&shown(bytes)) {
        Ok(inputs) => inputs,
        Err(told) => return is_short(&told),
    };
    if of == "check" {
        return Ok(());
    }
    match read(&format!("{{\"schema\":1,\"inputs\":{inputs}}}")) {
        Ok(again) if again == inputs => Ok(()),
        other => Err(format!("was {inputs}\nis  {other:?}")),
    }
}

/// A length or an angle as somebody may type it is shown so that it reads as nearly the same.
fn quantity(bytes: &[u8]) -> Outcome {
    let text = shown(bytes);
    match text.parse::<Length>() {
        Ok(length) if !length.mm().is_finite() => return Err(format!("{length:?} is no length")),
        Ok(length) => reads_back(length)?,
        Err(error) => is_short(&error.to_string())?,
    }
    match text.parse::<Angle>() {
        Ok(angle) if !angle.degrees().is_finite() => Err(format!("{angle:?} is no angle")),
        Ok(_) => Ok(()),
        Err(error) => is_short(&error.to_string()),
    }
}

/// Shown to its last place, a length that a shop could have reads as itself within that place.
fn reads_back(length: Length) -> Outcome {
    if length.mm().abs() > 1e4 {
        return Ok(());
    }
    for system in [geometry::System::Millimetre, geometry::System::Inch] {
        let shown = length.show(system).to_string();
        let again: Length = shown.parse().map_err(|error| format!("{shown}: {error}"))?;
        if (again - length).abs() > Length::from_mm(0.01) {
            return Err(format!("{length:?} is shown as {shown}, which is {again:?}"));
        }
    }
    Ok(())
}
