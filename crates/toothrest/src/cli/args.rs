//! What can be written on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use geometry::quantity::System;
use shop::study::{SAMPLES_MAX, SAMPLES_MIN};

use super::book::BookCommand;
use super::give::GiveCommand;
use super::place::BookArguments;
use super::print::{DeliverArguments, PaperArguments, TagArguments};
use super::quote::QuoteArguments;
use super::swivel::{self, SwivelArguments};
use super::tray::TrayCommand;

/// Plan a regrind on the surface that the wheel really leaves.
///
/// Toothrest takes a dull end mill, a machine and a wheel, and answers with a set-up that can be
/// carried to the bench: every setting in the machine's own dial marks, every feed, and the
/// readings that prove the work. Without a command it opens the bench for a browser here.
#[derive(Debug, Parser)]
#[command(name = "toothrest", version, max_term_width = 100, after_help = AFTER)]
pub(super) struct Arguments {
    #[command(subcommand)]
    pub(super) command: Option<Command>,
}

const AFTER: &str = "Exit codes: 0 done; 1 an answer could not be written, or the book \
failed; 2 refused: the input or \
the set-up is wrong, or readings can hardly be meant, and the message says what would be right.";

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Open the bench: pages for a tablet or any browser, from arrival to tag
    #[command(after_help = SERVE_EXAMPLES)]
    Serve(ServeArguments),
    /// Plan the bundled example, to see what a set-up sheet looks like
    Example,
    /// Plan one regrind of an end mill, or the corrective grind after a check
    #[command(after_help = PLAN_EXAMPLES)]
    Plan(PlanArguments),
    /// Check a grind from readings taken at the bench: what is wrong, and what to do about it
    #[command(after_help = CHECK_EXAMPLES)]
    Check(CheckArguments),
    /// Study a plan: which setting matters, and how loosely each may be set
    #[command(after_help = STUDY_EXAMPLES)]
    Study(StudyArguments),
    /// Look after the shop's book: what it holds, histories, backups, files
    #[command(after_help = BOOK_EXAMPLES)]
    Book(BookCommand),
    /// Order the cutters that wait so that the set-up changes little
    #[command(after_help = TRAY_EXAMPLES)]
    Tray(TrayCommand),
    /// Quote for a lot of dull cutters by the shop's own prices, and say which are worth it
    #[command(after_help = QUOTE_EXAMPLES)]
    Quote(QuoteArguments),
    /// Print the tags of reground cutters as labels, on a roll or on sheets of them
    #[command(after_help = TAG_EXAMPLES)]
    Tag(TagArguments),
    /// Print the delivery note of cutters that go back
    #[command(after_help = DELIVER_EXAMPLES)]
    Deliver(DeliverArguments),
    /// Predict the section that a set-up leaves on the tooth; plans nothing
    #[command(after_help = SECTION_EXAMPLES)]
    Section(SectionArguments),
    /// Give other programs what they read: tables, assets, offset lines, drawings, solids
    #[command(after_help = GIVE_EXAMPLES)]
    Give(GiveCommand),
    /// Set a machine's swivels to a wanted angle: every way, in dial marks, the handiest first
    #[command(after_help = swivel::EXAMPLES)]
    Swivel(SwivelArguments),
    /// Show the values of the trade tables, their sources, and how those were read
    #[command(after_help = SOURCES_EXAMPLES)]
    Sources(SourcesArguments),
}

const SERVE_EXAMPLES: &str = "Examples:
  toothrest serve
  toothrest serve --demo
  toothrest serve --book postgres://bench@server/shop
  toothrest serve --listen 0.0.0.0 --name bench.local
Unless it is told to listen wider, only this machine reaches it. Listening wider, everybody signs \
in; put it behind a proxy with TLS where the network is not your own.";

const PLAN_EXAMPLES: &str = "Examples:
  toothrest plan --cutter k-117.toml --machine left-bench.toml --wheel w-05.toml
  toothrest plan --cutter k-117.toml --machine left-bench.toml --wheel rack.toml --units mm
  toothrest plan --cutter k-117.toml --machine m.toml --wheel w.toml --history grinds.toml
  toothrest plan --cutter k-117.toml --machine m.toml --wheel w.toml --svg pictures --json
  toothrest plan --cutter k-117.toml --machine m.toml --wheel w.toml --pdf sheet.pdf
  toothrest plan --after check.json
  toothrest plan --after check.json --leave taper --json > again.json";

const CHECK_EXAMPLES: &str = "Examples:
  toothrest plan --cutter c.toml --machine m.toml --wheel w.toml --json > plan.json
  toothrest check --plan plan.json --template -o readings.toml
  toothrest check --plan plan.json --readings readings.toml
  toothrest check --plan plan.json --readings lands.csv --svg pictures --json
  toothrest check --plan again.json --readings second.toml
Readings that can hardly be meant are asked about, and nothing is weighed until that is settled.";

const STUDY_EXAMPLES: &str = "Examples:
  toothrest plan --cutter c.toml --machine m.toml --wheel w.toml --json > plan.json
  toothrest study plan.json
  toothrest study plan.json --samples 20000 --seed 7 --svg pictures --json
How far a hand is ordinarily off stands in the topic habits of the tables; a shop's own table goes \
above it. The same plan, number and seed give the same answer.";

const BOOK_EXAMPLES: &str = "Examples:
  toothrest book look
  toothrest book keep machine left-bench.toml --by AB
  toothrest book keep cutter k-117.toml --tray blue --by AB
  toothrest book take-in drawer.csv --all hand=right --all helix_hand=right
  toothrest book history K-117
  toothrest book --book shop.sqlite backup monday.sqlite
  toothrest book --book postgres://bench@server/shop export everything
  toothrest book --book new.sqlite import everything
A server's password is better kept in TOOTHREST_BOOK than on a command line that others can see.";

const TRAY_EXAMPLES: &str = "Examples:
  toothrest tray order
  toothrest tray order --tray blue --machine \"left bench\"
  toothrest tray order --tray blue --keep --by AB
Ctrl-C stops the search with the best order so far. Head and relief are those of practice and of the
cutter's record; its plan may move them by a mark.";

const QUOTE_EXAMPLES: &str = "Examples:
  toothrest quote --tray blue
  toothrest quote --cutters k-117.toml --cutters k-126.toml --prices rates.toml
No price is bundled; examples/prices has one to start from.";

const TAG_EXAMPLES: &str = "Examples:
  toothrest tag K-117 --pdf tag.pdf
  toothrest tag K-117 K-121 --labels a4 --first 8 --pdf tags.pdf
  toothrest tag K-117 --labels my-labels.toml --pdf tag.pdf
Files of labels to start from are in examples/labels. Print at full size, not fitted to the page.";

const DELIVER_EXAMPLES: &str = "Examples:
  toothrest deliver K-117 K-121 --lot \"blue tray\" --to \"the mill at the door\" --pdf note.pdf";

const SECTION_EXAMPLES: &str = "Examples:
  toothrest section cup.toml
  toothrest section cup.toml --json";

const GIVE_EXAMPLES: &str = "Examples:
  toothrest give list cutters --units in -o cutters.xlsx
  toothrest give list records --units mm -o records.csv
  toothrest give symbols --cutter k-117.toml
  toothrest give assets -o assets.xml
  toothrest give offsets K-117=12:0.2480 --control window-mill.toml
  toothrest give section --plan plan.json --units mm -o tooth.dxf
  toothrest give solid --plan plan.json --state before -o k-117.stl";

const SOURCES_EXAMPLES: &str = "Examples:
  toothrest sources              list the topics
  toothrest sources relief       every row on relief, chosen or not
  toothrest sources bibliography every source";

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
    #[arg(long, value_enum)]
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
    #[arg(long, value_enum)]
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
    #[arg(long, value_enum)]
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
    #[arg(long, value_enum)]
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
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
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
