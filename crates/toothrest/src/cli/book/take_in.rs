//! `toothrest book take-in`: a list of cutters, shown first and kept where that is asked for.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::Read;
use std::path::Path;

use exchange::list::{CutterColumn, CutterList, FILE_BYTES_MAX, Meaning, Said, read_cutters};
use shop::book::Store;

use super::args::TakeInArguments;
use crate::cli::columns::Columns;
use crate::cli::failure::Failure;
use crate::cli::place::BookArguments;
use crate::cli::progress::Busy;
use crate::desk::{not_sharp, numbers_taken, of_list};
use crate::files::{input, is_input};
use crate::wire;

pub(super) fn run(place: &BookArguments, asked: &TakeInArguments) -> Result<String, Failure> {
    let bytes = bytes(&asked.file)?;
    let busy = Busy::with("reading the list");
    let mut list = read_cutters(&bytes, asked.sheet.as_deref(), &said(asked)?);
    if list.problems.is_empty() {
        let taken = place.read_if_there(async |book| Ok(numbers_taken(book, &list).await?))?;
        list.problems = taken.unwrap_or_default();
        list.problems.extend(not_sharp(&list, asked.tray.as_deref()));
    }
    let is_sound = list.problems.is_empty();
    let kept = if asked.keep && is_sound { Some(keep(place, asked, &list)?) } else { None };
    drop(busy);
    if asked.json {
        let answer = serde_json::to_string_pretty(&wire::take_in(&list, kept))? + "\n";
        return if is_sound { Ok(answer) } else { Err(Failure::AskedInJson(answer)) };
    }
    if is_sound {
        Ok(told(&list, asked.tray.as_deref(), kept))
    } else {
        Err(refused(&asked.file, &list))
    }
}

fn keep(
    place: &BookArguments,
    asked: &TakeInArguments,
    list: &CutterList,
) -> Result<usize, Failure> {
    let stamp = asked.writer.stamp()?;
    let tray = asked.tray.as_deref();
    place.work_or_begin(async |book| {
        book.append(of_list(book, list, tray, &stamp).await?).await?;
        Ok(list.cutters.len())
    })
}

/// No more is read than a list may have, so that a wrong file does not fill the memory.
fn bytes(path: &Path) -> Result<Vec<u8>, Failure> {
    let read = || {
        let mut bytes = Vec::new();
        let most = FILE_BYTES_MAX as u64 + 1;
        match is_input(path) {
            true => input(most)?.read_to_end(&mut bytes)?,
            false => File::open(path)?.take(most).read_to_end(&mut bytes)?,
        };
        Ok(bytes)
    };
    read().map_err(|error: std::io::Error| Failure::File {
        file: path.display().to_string(),
        reason: format!("cannot be loaded: {error}; name a list, .csv or .xlsx"),
    })
}

fn said(asked: &TakeInArguments) -> Result<Said, Failure> {
    let facts = asked.all.iter().map(|text| fact(text)).collect::<Result<BTreeMap<_, _>, _>>()?;
    Ok(Said { unit: asked.unit.clone(), facts, left_out: asked.leave_out.clone() })
}

fn fact(text: &str) -> Result<(CutterColumn, String), Failure> {
    let known = || {
        let all = CutterColumn::ALL.iter().filter(|column| column.may_be_said_once());
        all.map(|column| column.field()).collect::<Vec<_>>().join(", ")
    };
    let refused = || Failure::Argument {
        argument: "--all",
        value: text.to_owned(),
        message: format!("write a fact and its value, such as hand=right; facts: {}", known()),
    };
    let (name, value) = text.split_once('=').ok_or_else(refused)?;
    let column = CutterColumn::from_heading(name).filter(|column| column.may_be_said_once());
    Ok((column.ok_or_else(refused)?, value.trim().to_owned()))
}

/// What each column is taken for.
fn mapping(list: &CutterList) -> String {
    let mut table = Columns::new(["column", "taken for", "unit"]);
    for one in &list.columns {
        let (what, unit) = meaning(&one.meaning);
        table.row([one.heading.clone(), what, unit]);
    }
    for (column, value) in &list.said {
        let unit = String::new();
        table.row(["(said for all)".to_owned(), format!("{} = {value}", column.words()), unit]);
    }
    table.text()
}

fn meaning(meaning: &Meaning) -> (String, String) {
    let plain = |words: &str| (words.to_owned(), String::new());
    match meaning {
        Meaning::Fact { column, unit, is_of_heading } => {
            let unit = match (unit, is_of_heading) {
                (Some(unit), true) => unit.clone(),
                (Some(unit), false) => format!("{unit}, as said for the list"),
                (None, _) => String::new(),
            };
            (column.words(), unit)
        }
        Meaning::NotKept => plain("known, and not kept of a cutter"),
        Meaning::Unknown => plain("not known"),
        Meaning::LeftOut => plain("left out"),
    }
}

fn told(list: &CutterList, tray: Option<&str>, kept: Option<usize>) -> String {
    let count = list.cutters.len();
    let cutters = if count == 1 { "1 cutter".to_owned() } else { format!("{count} cutters") };
    let where_to = match tray {
        Some(tray) => format!("received into tray {tray}: see their wear there"),
        None => "on the shelf, as sharp".to_owned(),
    };
    let end = match kept {
        Some(_) => format!("Kept {cutters}, {where_to}."),
        None => format!(
            "{cutters} can be kept, {where_to}; nothing is written yet. Add --keep and --by."
        ),
    };
    format!("{}\n{end}\n", mapping(list))
}

fn refused(file: &Path, list: &CutterList) -> Failure {
    let file = file.display();
    let problems: Vec<String> =
        list.problems.iter().map(|problem| format!("{file}: {problem}")).collect();
    let mapping = if list.columns.is_empty() { String::new() } else { mapping(list) + "\n" };
    Failure::Unfit(format!("nothing was kept.\n{mapping}{}", problems.join("\n")))
}
