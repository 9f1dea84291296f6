//! `toothrest give assets`.

use exchange::asset::{Answerer, AtRest, CutterAsset, assets_xml};
use shop::book::Clock;
use trade::Tables;

use super::args::AssetsArguments;
use super::gathered::{self, Gathered, outlook};
use super::out;
use crate::cli::failure::Failure;
use crate::cli::shelf;
use crate::surroundings::SystemClock;

pub(super) fn run(asked: &AssetsArguments) -> Result<String, Failure> {
    let assets = asked.book.read(async |book| {
        let tables = shelf::tables(book).await?;
        let cutters = gathered::cutters_and_gone(book, &asked.numbers).await?;
        Ok(cutters.iter().map(|one| asset(&tables, one)).collect::<Vec<_>>())
    })?;
    let sender = "toothrest".to_owned();
    let answerer = Answerer { sender, device: asked.device.clone(), at: SystemClock.now() };
    out::text(asked.output.as_deref(), assets_xml(&answerer, &assets))
}

fn asset(tables: &Tables, one: &Gathered) -> CutterAsset {
    let rest = AtRest { is_gone: one.latest.retired.is_some(), at: one.latest.last.at };
    let outlook = outlook(tables, &one.state.cutter, &one.history);
    CutterAsset::of(&one.subject.id, &one.state, rest, outlook)
}
