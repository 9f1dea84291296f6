//! `toothrest deliver`.

use sheets::paper::{DeliveryNote, delivery_note};

use super::tag::{cutters, system};
use super::{DeliverArguments, date, write_pages};
use crate::cli::failure::Failure;
use crate::cli::output::told;
use crate::paper;
use crate::wire;

/// Writes the delivery note of cutters that go back.
pub(in crate::cli) fn run(asked: &DeliverArguments) -> Result<String, Failure> {
    let cutters = asked.book.read(async |book| cutters(book, &asked.numbers).await)?;
    let system = system(asked.units, cutters.iter().map(|found| &found.state.cutter));
    let lines = cutters.iter().map(|found| paper::delivered(&found.state.cutter, system)).collect();
    let note = DeliveryNote { lot: asked.lot.clone(), to: asked.to.clone(), lines };
    let entries: u64 = cutters.iter().map(|found| found.seen).sum();
    let paper = asked.paper.map(super::args::PaperName::paper);
    let revision = format!("revision {entries} (entries of its cutters)");
    let date = date(asked.date.as_deref())?;
    let imprint = paper::imprint(paper, asked.lot.as_str(), revision, date, system);
    write_pages(&asked.pdf, &delivery_note(&note, &imprint))?;
    let (count, file) = (note.lines.len(), asked.pdf.display());
    let words = format!("a delivery note of {count} cutters in {file}\n");
    told(&asked.json, || wire::printed(file.to_string(), &asked.numbers), words)
}
