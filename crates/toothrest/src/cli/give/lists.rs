//! `toothrest give list` and `give symbols`.

use std::collections::BTreeMap;

use book::Book;
use exchange::list::{
    CutterRow, SizeRow, Table, TrayRow, cutters_table, records_table, sizes_table, table_csv,
    table_workbook, trays_table,
};
use exchange::symbol::{symbols_csv, symbols_json};
use geometry::quantity::System;
use shop::book::{Id, Stage};

use super::args::{ListArguments, Listed, SymbolsArguments};
use super::gathered::{self, Gathered, wheel_and_machine_names};
use super::out;
use crate::cli::failure::Failure;
use crate::wire;

pub(super) fn run(asked: &ListArguments) -> Result<String, Failure> {
    let form = match &asked.output {
        Some(path) => out::ending(path, &["csv", "xlsx"])?,
        None => "csv",
    };
    let system = asked.units.system();
    let table = asked.book.read(async |book| table(book, asked.what, system).await)?;
    if asked.json {
        return Ok(serde_json::to_string_pretty(&wire::list(&table))? + "\n");
    }
    match &asked.output {
        Some(path) if form == "xlsx" => {
            let bytes = table_workbook(&table).map_err(Failure::Unfit)?;
            out::bytes(path, &bytes)
        }
        output => out::text(output.as_deref(), table_csv(&table)),
    }
}

async fn table(book: &Book, what: Listed, system: System) -> Result<Table, Failure> {
    if matches!(what, Listed::Trays) {
        let trays = gathered::trays(book).await?;
        let row = trays.iter().map(|(state, held)| TrayRow { state, cutters: held });
        let rows: Vec<_> = row.collect();
        return Ok(trays_table(&rows));
    }
    let cutters = gathered::cutters(book, &[]).await?;
    Ok(match what {
        Listed::Sizes => {
            let rows: Vec<_> = cutters.iter().map(size).collect();
            sizes_table(&rows, system)
        }
        Listed::Records => {
            let names = wheel_and_machine_names(book).await?;
            let history = |one: Gathered| (one.state.cutter.number().to_owned(), one.history);
            let histories: Vec<_> = cutters.into_iter().map(history).collect();
            records_table(&histories, &names, system)
        }
        _ => {
            let trays = gathered::tray_names(book).await?;
            let rows: Vec<_> = cutters.iter().map(|one| cutter_row(one, &trays)).collect();
            cutters_table(&rows, system)
        }
    })
}

fn cutter_row<'a>(one: &'a Gathered, trays: &'a BTreeMap<Id, String>) -> CutterRow<'a> {
    let tray = one.state.tray.as_ref().and_then(|id| trays.get(id)).map(String::as_str);
    CutterRow { state: &one.state, tray, last: one.latest.last.at }
}

fn size(one: &Gathered) -> SizeRow<'_> {
    let stage = if one.latest.retired.is_some() { Stage::Gone } else { one.state.stage };
    SizeRow { cutter: &one.state.cutter, stage, last: one.latest.last.at }
}

pub(super) fn symbols(asked: &SymbolsArguments) -> Result<String, Failure> {
    let cutters = gathered::records(&asked.cutters)?;
    let text = if asked.csv { symbols_csv(&cutters) } else { symbols_json(&cutters) };
    out::text(asked.output.as_deref(), text)
}
