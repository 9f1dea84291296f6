//! What can be written behind `toothrest give`.

use std::path::PathBuf;

use clap::{Args, Subcommand, ValueEnum};

use crate::cli::args::UnitSystem;
use crate::cli::place::BookArguments;

#[derive(Debug, Args)]
pub(in crate::cli) struct GiveCommand {
    #[command(subcommand)]
    pub(super) what: Given,
}

#[derive(Debug, Subcommand)]
pub(super) enum Given {
    /// Cutters, trays, sizes or records of the book as a table: .csv or .xlsx
    List(ListArguments),
    /// Cutters by the symbols of ISO 13399, as JSON or CSV
    Symbols(SymbolsArguments),
    /// Cutters with their state as MTConnect assets, as XML
    Assets(AssetsArguments),
    /// Lines that set a control's offsets to the sizes that cutters were ground to
    Offsets(OffsetsArguments),
    /// The section of a planned tooth as a drawing: .dxf
    Section(SectionArguments),
    /// The outline of a cutter as a drawing: .dxf
    Outline(OutlineArguments),
    /// The cutter of a plan as a solid, before or after the grind: .stl or .glb
    Solid(SolidArguments),
}

/// What a table lists.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum Listed {
    /// Every cutter with its record
    Cutters,
    /// Trays with the cutters in them
    Trays,
    /// What every cutter really measures
    Sizes,
    /// A line for each regrind
    Records,
}

#[derive(Debug, Args)]
pub(super) struct ListArguments {
    /// What to list
    #[arg(value_name = "WHAT", value_enum, ignore_case = true)]
    pub(super) what: Listed,
    #[command(flatten)]
    pub(super) book: BookArguments,
    /// The system that lengths stand in
    #[arg(long, value_enum, ignore_case = true)]
    pub(super) units: UnitSystem,
    /// A new file that ends in .csv or .xlsx; left out, CSV is printed
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// Answer in JSON
    #[arg(long, conflicts_with = "output")]
    pub(super) json: bool,
}

/// Which cutters: by number out of the book, or files.
#[derive(Debug, Args)]
pub(super) struct CutterArguments {
    /// Numbers of cutters in the book; left out, all that are not done with
    #[arg(value_name = "NUMBER", conflicts_with = "cutter")]
    pub(super) numbers: Vec<String>,
    /// A cutter's file; may be given more than once
    #[arg(long, value_name = "FILE")]
    pub(super) cutter: Vec<PathBuf>,
    #[command(flatten)]
    pub(super) book: BookArguments,
}

#[derive(Debug, Args)]
pub(super) struct SymbolsArguments {
    #[command(flatten)]
    pub(super) cutters: CutterArguments,
    /// Give CSV and not JSON
    #[arg(long)]
    pub(super) csv: bool,
    /// Answer in JSON, as it does anyway
    #[arg(long, conflicts_with = "csv")]
    pub(super) json: bool,
    /// A new file; left out, it is printed
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct AssetsArguments {
    /// Numbers of cutters in the book, also of those done with; left out, all that are not
    #[arg(value_name = "NUMBER")]
    pub(super) numbers: Vec<String>,
    /// The UUID of the device that keeps the assets, as its agent has it
    #[arg(long, value_name = "UUID", default_value = "toothrest")]
    pub(super) device: String,
    #[command(flatten)]
    pub(super) book: BookArguments,
    /// A new file; left out, it is printed
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct OffsetsArguments {
    /// Cutters with their offsets, such as K-117=12, or K-117=12:0.2500 with the value that the
    /// control's screen shows now
    #[arg(value_name = "NUMBER=OFFSET[:VALUE]", required = true)]
    pub(super) assigned: Vec<String>,
    /// The file that describes the control
    #[arg(long, value_name = "FILE")]
    pub(super) control: PathBuf,
    /// A cutter's file, where it is not in the book; may be given more than once
    #[arg(long, value_name = "FILE")]
    pub(super) cutter: Vec<PathBuf>,
    #[command(flatten)]
    pub(super) book: BookArguments,
    /// Other cutters stood for these offsets before, so that a size may be larger than the old one
    #[arg(long)]
    pub(super) other_before: bool,
    /// A new file for the lines; left out, old and new are listed and nothing is written
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct SectionArguments {
    /// What "toothrest plan … --json" printed
    #[arg(long, value_name = "PLAN.json")]
    pub(super) plan: PathBuf,
    /// The system that the drawing is in
    #[arg(long, value_enum, ignore_case = true)]
    pub(super) units: UnitSystem,
    /// How far lines and arcs may stand off the computed curve
    #[arg(long, value_name = "LENGTH", default_value = "1 um")]
    pub(super) within: String,
    /// A new file that ends in .dxf; left out, it is printed
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct OutlineArguments {
    /// The cutter's number in the book
    #[arg(value_name = "NUMBER", required_unless_present = "cutter", conflicts_with = "cutter")]
    pub(super) number: Option<String>,
    /// The cutter's file
    #[arg(long, value_name = "FILE")]
    pub(super) cutter: Option<PathBuf>,
    #[command(flatten)]
    pub(super) book: BookArguments,
    /// The system that the drawing is in
    #[arg(long, value_enum, ignore_case = true)]
    pub(super) units: UnitSystem,
    /// A new file that ends in .dxf; left out, it is printed
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
}

/// Which state of the cutter.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum State {
    /// Dull, as it came in
    Before,
    /// As the plan leaves it
    After,
}

#[derive(Debug, Args)]
pub(super) struct SolidArguments {
    /// What "toothrest plan … --json" printed
    #[arg(long, value_name = "PLAN.json")]
    pub(super) plan: PathBuf,
    /// The state of the cutter
    #[arg(long, value_enum, ignore_case = true, default_value = "after")]
    pub(super) state: State,
    /// How far facets may stand off the true surfaces; left out, finer than a screen shows
    #[arg(long, value_name = "LENGTH")]
    pub(super) within: Option<String>,
    /// A new file that ends in .stl (millimetres) or .glb
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: PathBuf,
}
