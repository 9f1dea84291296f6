//! What can be written of paper on the command line.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use sheets::paper::Paper;

use crate::cli::args::UnitSystem;
use crate::cli::output::JsonArguments;
use crate::cli::place::BookArguments;

/// A sheet beside the answer.
#[derive(Clone, Debug, Default, Args)]
pub(in crate::cli) struct PaperArguments {
    /// Write it as pages for the printer into this PDF file too
    #[arg(long, value_name = "FILE.pdf")]
    pub(super) pdf: Option<PathBuf>,
    /// The paper; left out, letter where lengths are in inches, else A4
    #[arg(long, value_enum, ignore_case = true, requires = "pdf")]
    pub(super) paper: Option<PaperName>,
    /// The date on its pages, such as 2031-03-05; left out, today
    #[arg(long, value_name = "DATE", requires = "pdf")]
    pub(super) date: Option<String>,
}

/// A paper, as written on the command line.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum PaperName {
    /// 210 by 297 mm
    A4,
    /// 8 1/2 by 11 in
    Letter,
}

impl PaperName {
    pub(super) const fn paper(self) -> Paper {
        match self {
            Self::A4 => Paper::A4,
            Self::Letter => Paper::Letter,
        }
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct TagArguments {
    #[command(flatten)]
    pub(super) book: BookArguments,
    /// The numbers of cutters that were ground here
    #[arg(value_name = "NUMBER", required = true)]
    pub(super) numbers: Vec<String>,
    /// The file of the labels, or the name of bundled ones: roll (62 mm), a4 (3 by 7) or letter
    /// (3 by 10)
    #[arg(long, value_name = "FILE", default_value = "roll")]
    pub(super) labels: String,
    /// The first label of the sheet to use, counted row by row from 1
    #[arg(long, value_name = "COUNT", default_value_t = 1)]
    pub(super) first: u32,
    /// The PDF file to write
    #[arg(long, value_name = "FILE.pdf")]
    pub(super) pdf: PathBuf,
    /// The system that lengths are shown in; left out, the one the first cutter was made in
    #[arg(long, value_enum, ignore_case = true)]
    pub(super) units: Option<UnitSystem>,
    #[command(flatten)]
    pub(super) json: JsonArguments,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct DeliverArguments {
    #[command(flatten)]
    pub(super) book: BookArguments,
    /// The numbers of the cutters that go back
    #[arg(value_name = "NUMBER", required = true)]
    pub(super) numbers: Vec<String>,
    /// What the lot is called
    #[arg(long, value_name = "NAME", default_value = "lot")]
    pub(super) lot: String,
    /// Where it goes
    #[arg(long, value_name = "NAME")]
    pub(super) to: Option<String>,
    /// The system that lengths are shown in; left out, the one the first cutter was made in
    #[arg(long, value_enum, ignore_case = true)]
    pub(super) units: Option<UnitSystem>,
    /// The PDF file to write
    #[arg(long, value_name = "FILE.pdf")]
    pub(super) pdf: PathBuf,
    /// The paper; left out, letter where lengths are in inches, else A4
    #[arg(long, value_enum, ignore_case = true)]
    pub(super) paper: Option<PaperName>,
    /// The date on its pages, such as 2031-03-05; left out, today
    #[arg(long, value_name = "DATE")]
    pub(super) date: Option<String>,
    #[command(flatten)]
    pub(super) json: JsonArguments,
}
