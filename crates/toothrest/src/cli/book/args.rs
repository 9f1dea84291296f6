//! What can be written behind `toothrest book`.

use std::path::PathBuf;

use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, Subcommand, ValueEnum};
use shop::book::SubjectKind;
use shop::record::Named;

use crate::cli::args::UnitSystem;
use crate::cli::output::JsonArguments;
use crate::cli::place::{BookArguments, WriterArguments};
use crate::cli::print::PaperArguments;

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
    /// Show the history of a cutter, a wheel or anything else that has one
    History(HistoryArguments),
    /// Find what has words that begin so, in its number, its marks or its kind
    Find(FindArguments),
    /// Set the PIN with which a person signs in, and enter them where they are new
    Pin(PinArguments),
    /// Make the token with which another program reads from the bench, or withdraw it
    Token(TokenArguments),
    /// Put a file into the book: a machine, tables, prices, wheels, or a cutter that came in
    Keep(KeepArguments),
    /// Take in a list of cutters, .csv or .xlsx; shows what each column is taken for
    TakeIn(TakeInArguments),
}

#[derive(Debug, Args)]
pub(super) struct ToArguments {
    /// Where the copy goes; nothing may be there yet
    #[arg(value_name = "TO")]
    pub(super) to: PathBuf,
    #[command(flatten)]
    pub(super) json: JsonArguments,
}

#[derive(Debug, Args)]
pub(super) struct FromArguments {
    /// The backup: a file, or a folder that "book export" wrote
    #[arg(value_name = "FROM")]
    pub(super) from: PathBuf,
    #[command(flatten)]
    pub(super) json: JsonArguments,
}

#[derive(Debug, Args)]
pub(super) struct FolderArguments {
    /// The folder
    #[arg(value_name = "FOLDER")]
    pub(super) folder: PathBuf,
    #[command(flatten)]
    pub(super) json: JsonArguments,
}

#[derive(Debug, Args)]
pub(super) struct HistoryArguments {
    /// The number or name that people use
    #[arg(value_name = "NUMBER")]
    pub(super) number: String,
    /// What it is, where the number alone does not say
    #[arg(long, value_name = "KIND", value_parser = kinds(), ignore_case = true)]
    pub(super) kind: Option<SubjectKind>,
    /// The system that lengths are shown in; left out, the one a cutter was made in
    #[arg(long, value_enum, ignore_case = true)]
    pub(super) units: Option<UnitSystem>,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
    #[command(flatten)]
    pub(super) print: PaperArguments,
}

#[derive(Debug, Args)]
pub(super) struct FindArguments {
    /// Words, each of which must begin one of its own
    #[arg(value_name = "WORDS", required = true)]
    pub(super) words: Vec<String>,
    /// Only things of this kind
    #[arg(long, value_name = "KIND", value_parser = kinds(), ignore_case = true)]
    pub(super) kind: Option<SubjectKind>,
    /// Show what is done with too
    #[arg(long)]
    pub(super) all: bool,
    /// The most to show of one kind
    #[arg(long, value_name = "COUNT", default_value_t = 50)]
    pub(super) limit: u32,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct KeepArguments {
    /// What the file is
    #[arg(value_name = "KIND", value_enum, ignore_case = true)]
    pub(super) kind: KeptKind,
    /// The file
    #[arg(value_name = "FILE")]
    pub(super) file: PathBuf,
    /// What tables or prices are called; left out, the name of the file
    #[arg(long, value_name = "NAME")]
    pub(super) name: Option<String>,
    /// The tray that a cutter lies in, which is set out where there is none of that name
    #[arg(long, value_name = "NAME")]
    pub(super) tray: Option<String>,
    /// A cutter that is sharp goes on the shelf, and nothing is asked of it
    #[arg(long, conflicts_with = "tray")]
    pub(super) shelf: bool,
    #[command(flatten)]
    pub(super) writer: WriterArguments,
    #[command(flatten)]
    pub(super) json: JsonArguments,
}

#[derive(Debug, Args)]
pub(super) struct TakeInArguments {
    /// The list, with its headings in the first line
    #[arg(value_name = "FILE")]
    pub(super) file: PathBuf,
    /// The sheet of a workbook that has several
    #[arg(long, value_name = "NAME")]
    pub(super) sheet: Option<String>,
    /// The unit of lengths that have none of their own: mm, um, in or thou
    #[arg(long, value_name = "UNIT")]
    pub(super) unit: Option<String>,
    /// What holds for every cutter of which the list says nothing else, such as hand=right; may be
    /// given more than once
    #[arg(long, value_name = "FACT=VALUE")]
    pub(super) all: Vec<String>,
    /// The heading of a column that is not to be read; may be given more than once
    #[arg(long, value_name = "HEADING")]
    pub(super) leave_out: Vec<String>,
    /// Receive the cutters into this tray, which is set out where there is none of that name; left
    /// out, they go on the shelf
    #[arg(long, value_name = "NAME")]
    pub(super) tray: Option<String>,
    /// Keep them; left out, it is only shown what would be kept
    #[arg(long)]
    pub(super) keep: bool,
    #[command(flatten)]
    pub(super) writer: WriterArguments,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct PinArguments {
    /// Whose PIN, by initials
    #[arg(value_name = "INITIALS")]
    pub(super) initials: String,
    /// Their name, where they are new in the book
    #[arg(long, value_name = "NAME")]
    pub(super) name: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct TokenArguments {
    /// Initials for the program, which no person has
    #[arg(value_name = "INITIALS")]
    pub(super) initials: String,
    /// What the program is called, where it is new in the book
    #[arg(long, value_name = "NAME", conflicts_with = "withdraw")]
    pub(super) name: Option<String>,
    /// Days for which the token holds
    #[arg(long, value_name = "DAYS", default_value_t = 365)]
    #[arg(value_parser = clap::value_parser!(u32).range(1..=3650))]
    pub(super) days: u32,
    /// Withdraw every token of the program
    #[arg(long)]
    pub(super) withdraw: bool,
    #[command(flatten)]
    pub(super) json: JsonArguments,
}

/// What a file is that goes into the book.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum KeptKind {
    /// A machine's file
    Machine,
    /// The shop's own rows of the trade tables
    Tables,
    /// A list of prices
    Prices,
    /// A wheel's file, or a file of several
    Wheel,
    /// A dull cutter that came in
    Cutter,
}

/// The kinds of things by their names, which help and completions list.
fn kinds() -> impl TypedValueParser<Value = SubjectKind> {
    let names = SubjectKind::ALL.iter().map(|kind| kind.name());
    PossibleValuesParser::new(names).try_map(|name| {
        SubjectKind::from_name(&name.to_lowercase()).ok_or_else(|| "no such kind".to_owned())
    })
}
