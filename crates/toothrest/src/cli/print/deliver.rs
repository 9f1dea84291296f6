//! `toothrest deliver`.

use sheets::paper::{DeliveryNote, delivery_note};
use shop::book::key;

use super::tag::{Found, cutters, system};
use super::{DeliverArguments, date, write_pages};
use crate::cli::failure::Failure;
use crate::cli::output::told;
use crate::paper;
use crate::wire;

/// Writes the delivery note of cutters that go back.
pub(in crate::cli) fn run(asked: &DeliverArguments) -> Result<String, Failure> {
    let cutters = asked.book.read(async |book| cutters(book, &asked.numbers).await)?;
    check(&asked.numbers, &cutters)?;
    let system = system(asked.units, cutters.iter().map(|found| &found.state.cutter));
    let lines = cutters.iter().map(|found| paper::delivered(&found.state, system)).collect();
    let note = DeliveryNote { lot: asked.lot.clone(), to: asked.to.clone(), lines };
    let entries: u64 = cutters.iter().map(|found| found.seen()).sum();
    let paper = asked.paper.map(super::args::PaperName::paper);
    let revision = format!("revision {entries} (entries of its cutters)");
    let date = date(asked.date.as_deref())?;
    let imprint = paper::imprint(paper, asked.lot.as_str(), revision, date, system);
    write_pages(&asked.pdf, &delivery_note(&note, &imprint))?;
    let (count, file) = (note.lines.len(), asked.pdf.display());
    let noun = if count == 1 { "cutter" } else { "cutters" };
    let words = format!("a delivery note of {count} {noun} in {file}\n");
    told(&asked.json, || wire::printed(file.to_string(), &asked.numbers), words)
}

/// Refuses a cutter that is named twice, and one that is still at the bench.
fn check(numbers: &[String], cutters: &[Found]) -> Result<(), Failure> {
    let is_again = |(at, number): &(usize, &String)| {
        numbers[..*at].iter().any(|other| key(other) == key(number))
    };
    if let Some((_, number)) = numbers.iter().enumerate().find(is_again) {
        return Err(Failure::Argument {
            argument: "NUMBER",
            value: number.clone(),
            message: "it is named twice; name each cutter once".to_owned(),
        });
    }
    let at_bench = cutters.iter().find(|found| !found.state.is_away());
    match at_bench.and_then(|found| paper::unsettled(&found.state)) {
        Some(why) => Err(Failure::Unfit(why)),
        None => Ok(()),
    }
}
