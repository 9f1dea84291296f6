//! What can be written behind `toothrest book`.

use std::path::PathBuf;

use clap::{Args, Subcommand};

use crate::cli::place::BookArguments;

#[derive(Debug, Args)]
pub(in crate::cli) struct BookCommand {
    #[command(flatten)]
    pub(super) book: BookArguments,
    #[command(subcommand)]
    pub(super) action: Action,
}

#[derive(Debug, Subcommand)]
pub(super) enum Action {
    /// Show where the book lies, what it holds, and what to know about the place
    Look(JsonArguments),
    /// Look through the whole book for faults
    Check(JsonArguments),
    /// Copy the book while it is in use, into a new file or folder
    Backup(ToArguments),
    /// Bring a backup back to where no book is
    Restore(FromArguments),
    /// Write everything into a new folder, as files that a person can read
    Export(FolderArguments),
    /// Take in a folder that "book export" wrote
    Import(FolderArguments),
}

#[derive(Debug, Args)]
pub(super) struct JsonArguments {
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct ToArguments {
    /// Where the copy goes; nothing may be there yet
    #[arg(value_name = "TO")]
    pub(super) to: PathBuf,
}

#[derive(Debug, Args)]
pub(super) struct FromArguments {
    /// The backup: a file, or a folder that "book export" wrote
    #[arg(value_name = "FROM")]
    pub(super) from: PathBuf,
}

#[derive(Debug, Args)]
pub(super) struct FolderArguments {
    /// The folder
    #[arg(value_name = "FOLDER")]
    pub(super) folder: PathBuf,
}
