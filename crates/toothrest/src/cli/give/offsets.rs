//! `toothrest give offsets`.

use exchange::offset::{Assigned, Control, OFFSET_CAUTIONS, OffsetRefusal, Offsets, offsets};
use geometry::quantity::System;
use shop::book::key;
use shop::record::Cutter;

use super::args::OffsetsArguments;
use super::{gathered, out};
use crate::cli::columns::Columns;
use crate::cli::failure::Failure;
use crate::files::{load, read_control};
use crate::paper;
use crate::wire;

/// What stands for a cutter on the command line.
struct Named {
    number: String,
    offset: u32,
    old: Option<f64>,
}

pub(super) fn run(asked: &OffsetsArguments) -> Result<String, Failure> {
    let control = load(&asked.control, read_control)?;
    let named: Vec<Named> =
        asked.assigned.iter().map(|text| read(text)).collect::<Result<_, _>>()?;
    let cutters = cutters(asked, &named)?;
    let assigned: Vec<Assigned> = named
        .into_iter()
        .zip(cutters)
        .map(|(named, cutter)| Assigned {
            cutter,
            number: named.offset,
            old: named.old,
            was_other: asked.other_before,
        })
        .collect();
    let made = offsets(&control, &assigned).map_err(|refusals| refused(&refusals))?;
    if asked.json {
        return Ok(serde_json::to_string_pretty(&wire::offsets(&control, &made))? + "\n");
    }
    match &asked.output {
        Some(path) => Ok(listing(&control, &made) + &out::bytes(path, made.program.as_bytes())?),
        None => Ok(listing(&control, &made) + "Nothing is written yet; name a file with -o.\n"),
    }
}

fn read(text: &str) -> Result<Named, Failure> {
    let refused = || Failure::Argument {
        argument: "NUMBER=OFFSET",
        value: text.to_owned(),
        message: "write the cutter's number and its offset, such as K-117=12, or K-117=12:0.2500 \
                  with the value on the control's screen"
            .to_owned(),
    };
    let (number, rest) = text.rsplit_once('=').ok_or_else(refused)?;
    let (offset, old) = match rest.split_once(':') {
        Some((offset, old)) => (offset, Some(old.trim().parse().map_err(|_| refused())?)),
        None => (rest, None),
    };
    let offset = offset.trim().parse().map_err(|_| refused())?;
    if old.is_some_and(|old: f64| !old.is_finite()) || number.trim().is_empty() {
        return Err(refused());
    }
    Ok(Named { number: number.trim().to_owned(), offset, old })
}

/// The cutters in the order in which they were named: out of files where one has the number, else
/// out of the book.
fn cutters(asked: &OffsetsArguments, named: &[Named]) -> Result<Vec<Cutter>, Failure> {
    let files = gathered::of_files(&asked.cutter)?;
    let of_file = |number: &str| files.iter().find(|one| key(one.number()) == key(number)).cloned();
    let missing: Vec<String> = named
        .iter()
        .filter(|one| of_file(&one.number).is_none())
        .map(|one| one.number.clone())
        .collect();
    let of_book = if missing.is_empty() {
        Vec::new()
    } else {
        asked.book.read(async |book| Ok(gathered::cutters(book, &missing).await?))?
    };
    if let Some(why) = of_book.iter().find_map(|one| paper::unsettled(&one.state)) {
        return Err(Failure::Unfit(format!("{why}\nNo line was written.")));
    }
    let mut of_book = of_book.into_iter().map(|one| one.state.cutter);
    Ok(named.iter().filter_map(|one| of_file(&one.number).or_else(|| of_book.next())).collect())
}

fn refused(refusals: &[OffsetRefusal]) -> Failure {
    let line = |one: &OffsetRefusal| format!("{}: {}; {}", one.cutter, one.why, one.right);
    let lines: Vec<String> = refusals.iter().map(line).collect();
    Failure::Unfit(format!("{}\nNo line was written.", lines.join("\n")))
}

/// Old beside new, and what to heed.
fn listing(control: &Control, made: &Offsets) -> String {
    let unit = match control.units() {
        System::Inch => "in",
        System::Millimetre => "mm",
    };
    let mut table = Columns::new(["cutter", "diameter", "offset", "old", "new", "written"]);
    let shown = |value: f64| format!("{value:.4} {unit}");
    for line in &made.lines {
        table.row([
            line.cutter.clone(),
            line.diameter.show(control.units()).to_string(),
            line.number.to_string(),
            line.old.map_or_else(|| "not said".to_owned(), shown),
            shown(line.new),
            shown(line.written),
        ]);
    }
    let besides = made
        .lines
        .iter()
        .flat_map(|line| line.besides.iter().map(|words| format!("* {}: {words}\n", line.cutter)));
    let besides: String = besides.collect();
    let cautions: String = OFFSET_CAUTIONS.iter().map(|one| format!("- {one}.\n")).collect();
    format!("Offsets for {}\n{}{besides}\n{cautions}", control.name(), table.text())
}
