//! What can be written on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use geometry::quantity::System;
use shop::study::{SAMPLES_MAX, SAMPLES_MIN};

use super::book::BookCommand;
use super::colour::Colour;
use super::give::GiveCommand;
use super::output::JsonArguments;
use super::place::BookArguments;
use super::print::{DeliverArguments, PaperArguments, TagArguments};
use super::quote::QuoteArguments;
use super::swivel::SwivelArguments;
use super::tray::TrayCommand;

/// Plan a regrind on the surface that the wheel really leaves.
///
/// Toothrest takes a dull end mill, a machine and a wheel, and answers with a set-up that can be
/// carried to the bench: every setting in the machine's own dial marks, every feed, and the
/// readings that prove the work. Without a command it opens the bench for a browser here.
#[derive(Debug, Parser)]
#[command(name = "toothrest", version, max_term_width = 100)]
pub(super) struct Arguments {
    /// Colour on a terminal
    #[arg(
        long,
        value_name = "WHEN",
        alias = "colour",
        value_enum,
        ignore_case = true,
        default_value = "auto"
    )]
    #[arg(global = true, display_order = 900)]
    pub(super) color: Colour,
    #[command(subcommand)]
    pub(super) command: Option<Command>,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Open the bench: pages for a tablet or any browser, from arrival to tag
    Serve(ServeArguments),
    /// Plan the bundled example, or write files to start from
    Example(ExampleArguments),
    /// Plan one regrind of an end mill, or the corrective grind after a check
    Plan(PlanArguments),
    /// Check a grind from readings taken at the bench: what is wrong, and what to do about it
    Check(CheckArguments),
    /// Study a plan: which setting matters, and how loosely each may be set
    Study(StudyArguments),
    /// Look after the shop's book: what it holds, histories, backups, files
    Book(BookCommand),
    /// Order the cutters that wait so that the set-up changes little
    Tray(TrayCommand),
    /// Quote for a lot of dull cutters by the shop's own prices, and say which are worth it
    Quote(QuoteArguments),
    /// Print the tags of reground cutters as labels, on a roll or on sheets of them
    Tag(TagArguments),
    /// Print the delivery note of cutters that go back
    Deliver(DeliverArguments),
    /// Predict the section that a set-up leaves on the tooth; plans nothing
    Section(SectionArguments),
    /// Give other programs what they read: tables, assets, offset lines, drawings, solids
    Give(GiveCommand),
    /// Set a machine's swivels to a wanted angle: every way, in dial marks, the handiest first
    Swivel(SwivelArguments),
    /// Show the values of the trade tables, their sources, and how those were read
    Sources(SourcesArguments),
    /// Print what a shell needs to complete the commands
    Completions(CompletionsArguments),
    /// Write the manual, a page for each command
    Man(ManArguments),
    /// Show what the program is made of, and the licences
    Licences(LicencesArguments),
}

#[derive(Debug, Default, Args)]
pub(super) struct ServeArguments {
    #[command(flatten)]
    pub(super) book: BookArguments,
    /// Where to listen: a port, an address of this machine, or both [usual: 127.0.0.1:8817]
    #[arg(long, value_name = "ADDRESS")]
    pub(super) listen: Option<String>,
    /// A name by which other machines call this one; may be given more than once
    #[arg(long, value_name = "HOST")]
    pub(super) name: Vec<String>,
    /// Set up the invented demo shop beside the book
    #[arg(long)]
    pub(super) demo: bool,
}

#[derive(Debug, Args)]
pub(super) struct ExampleArguments {
    /// Write every example into this folder, and three files of it to be changed
    #[arg(long, value_name = "FOLDER", conflicts_with = "json")]
    pub(super) write: Option<PathBuf>,
    /// Answer in JSON: the plan of the example
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct CompletionsArguments {
    /// The shell
    #[arg(value_name = "SHELL", value_enum, ignore_case = true)]
    pub(super) shell: clap_complete::Shell,
}

#[derive(Debug, Args)]
pub(super) struct ManArguments {
    /// The folder, which is made where it is missing; pages of an earlier version are replaced
    #[arg(value_name = "FOLDER")]
    pub(super) folder: PathBuf,
}

#[derive(Debug, Args)]
pub(super) struct LicencesArguments {
    /// Show the texts of all licences too
    #[arg(long, conflicts_with = "json")]
    pub(super) texts: bool,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct PlanArguments {
    /// The cutter's file, with its wear
    #[arg(long, value_name = "FILE", required_unless_present = "after")]
    pub(super) cutter: Option<PathBuf>,
    /// The machine's file
    #[arg(long, value_name = "FILE", required_unless_present = "after")]
    pub(super) machine: Option<PathBuf>,
    /// A wheel's file, or a file of several; may be given more than once
    #[arg(long, value_name = "FILE", required_unless_present = "after")]
    pub(super) wheel: Vec<PathBuf>,
    /// Plan the corrective grind after a check: what "toothrest check … --json" printed
    #[arg(
        long,
        value_name = "CHECK.json",
        conflicts_with_all = [
            "cutter", "machine", "wheel", "wear", "history", "tables", "relief", "to_size", "end",
            "off_length",
        ]
    )]
    pub(super) after: Option<PathBuf>,
    /// Leave this fault of the check as it is, such as taper; may be given more than once
    #[arg(long, value_name = "FAULT", requires = "after")]
    pub(super) leave: Vec<String>,
    /// What the cross feed's dial really stood at after the last pass, where not as planned
    #[arg(long, value_name = "LENGTH", requires = "after")]
    pub(super) fed: Option<String>,
    /// The cutter's wear, where it is kept in a file of its own
    #[arg(long, value_name = "FILE")]
    pub(super) wear: Option<PathBuf>,
    /// What the cutter's and the wheels' own grinds took; the plan learns from it and says so
    #[arg(long, value_name = "FILE")]
    pub(super) history: Option<PathBuf>,
    /// The shop's own rows, which go before those of the trade tables
    #[arg(long, value_name = "FILE")]
    pub(super) tables: Option<PathBuf>,
    /// The kind of relief; left out, a cup grinds flat and a disc hollow
    #[arg(long, value_enum, ignore_case = true)]
    pub(super) relief: Option<Relief>,
    /// Grind to this size, such as "0.475 in", and not to the largest that cleans up
    #[arg(long, value_name = "LENGTH")]
    pub(super) to_size: Option<String>,
    /// Plan the end teeth too, where the verdict does not ask for them by itself
    #[arg(long)]
    pub(super) end: bool,
    /// Take this off the end, such as "0.020 in", and not what its corners ask for
    #[arg(long, value_name = "LENGTH")]
    pub(super) off_length: Option<String>,
    /// The system that lengths are shown in; left out, the one the cutter was made in
    #[arg(long, value_enum, ignore_case = true)]
    pub(super) units: Option<UnitSystem>,
    /// Show the other system beside it
    #[arg(long)]
    pub(super) both: bool,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
    /// Write the pictures of the plan into this directory, as SVG
    #[arg(long, value_name = "DIR")]
    pub(super) svg: Option<PathBuf>,
    #[command(flatten)]
    pub(super) print: PaperArguments,
}

#[derive(Debug, Args)]
pub(super) struct CheckArguments {
    /// The plan that was ground last: what "toothrest plan … --json" printed
    #[arg(long, value_name = "PLAN.json")]
    pub(super) plan: PathBuf,
    /// What was read at the bench, as TOML, or as CSV where the name ends so
    #[arg(long, value_name = "FILE", required_unless_present = "template")]
    pub(super) readings: Option<PathBuf>,
    /// Print a form for this plan's readings, to be filled in
    #[arg(long, conflicts_with_all = ["readings", "json", "svg", "units"])]
    pub(super) template: bool,
    /// Give the form as CSV, for a spreadsheet
    #[arg(long, requires = "template", conflicts_with = "readings")]
    pub(super) csv: bool,
    /// Write the form into this file, which must not be there yet
    #[arg(short, long, value_name = "FILE", requires = "template", conflicts_with = "readings")]
    pub(super) output: Option<PathBuf>,
    /// The system that lengths are shown in; left out, the one the cutter was made in
    #[arg(long, value_enum, ignore_case = true)]
    pub(super) units: Option<UnitSystem>,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
    /// Write the pictures of the check into this directory, as SVG
    #[arg(long, value_name = "DIR")]
    pub(super) svg: Option<PathBuf>,
}

/// How many teeth a study may be asked for.
const SAMPLES: std::ops::RangeInclusive<i64> = SAMPLES_MIN as i64..=SAMPLES_MAX as i64;

#[derive(Debug, Args)]
pub(super) struct StudyArguments {
    /// The plan to study: what "toothrest plan … --json" printed
    #[arg(value_name = "PLAN.json")]
    pub(super) plan: PathBuf,
    /// How many finished teeth are worked out
    #[arg(long, value_name = "N", default_value_t = 8192,
        value_parser = clap::value_parser!(u32).range(SAMPLES))]
    pub(super) samples: u32,
    /// What settles by how much each setting is off on each tooth
    #[arg(long, value_name = "S", default_value_t = 1)]
    pub(super) seed: u32,
    /// The system that lengths are shown in; left out, the one the cutter was made in
    #[arg(long, value_enum, ignore_case = true)]
    pub(super) units: Option<UnitSystem>,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
    /// Write the pictures of the study into this directory, as SVG
    #[arg(long, value_name = "DIR")]
    pub(super) svg: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct SectionArguments {
    /// The setting file
    #[arg(value_name = "FILE")]
    pub(super) file: PathBuf,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct SourcesArguments {
    /// A topic of the tables, or "bibliography"; left out, the topics are listed
    #[arg(value_name = "TOPIC")]
    pub(super) topic: Option<String>,
    /// The shop's own rows, which go before those of the trade tables
    #[arg(long, value_name = "FILE")]
    pub(super) tables: Option<PathBuf>,
    #[command(flatten)]
    pub(super) json: JsonArguments,
}

/// A kind of relief, as written on the command line.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum Relief {
    /// Straight, by the face of a cup
    Flat,
    /// Hollow, by the periphery of a disc
    Hollow,
    /// Convex, by a wide leaning face along the helix
    Eccentric,
}

/// A system of units, as written on the command line.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum UnitSystem {
    /// Inches
    In,
    /// Millimetres
    Mm,
}

impl UnitSystem {
    /// The system that is meant.
    pub(super) const fn system(self) -> System {
        match self {
            Self::In => System::Inch,
            Self::Mm => System::Millimetre,
        }
    }
}
