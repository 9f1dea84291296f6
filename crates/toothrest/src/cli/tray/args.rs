//! What can be written behind `toothrest tray`.

use clap::{Args, Subcommand};

use crate::cli::place::{BookArguments, WriterArguments};
use crate::cli::print::PaperArguments;

#[derive(Debug, Args)]
pub(in crate::cli) struct TrayCommand {
    #[command(flatten)]
    pub(super) book: BookArguments,
    #[command(subcommand)]
    pub(super) action: Action,
}

#[derive(Debug, Subcommand)]
pub(super) enum Action {
    /// Put the cutters that wait into such an order that the set-up is changed as little as may be
    Order(OrderArguments),
}

#[derive(Debug, Args)]
pub(super) struct OrderArguments {
    /// Only the cutters of this tray; left out, all that wait
    #[arg(long, value_name = "NAME")]
    pub(super) tray: Option<String>,
    /// The machine in the book; left out, the only one there
    #[arg(long, value_name = "NAME")]
    pub(super) machine: Option<String>,
    /// Keep the order in the tray's history
    #[arg(long, requires_all = ["tray", "by"])]
    pub(super) keep: bool,
    #[command(flatten)]
    pub(super) writer: WriterArguments,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
    #[command(flatten)]
    pub(super) print: PaperArguments,
}
