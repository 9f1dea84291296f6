//! What the lines of a CSV file say that begin with `#`: facts that no row has a place for. A
//! line that names none of them is a comment.

use shop::record::{LandStage, Named};

use super::cells::{Cells, Refused};
use super::column::spaced;
use super::lines::NoteLine;
use super::tool::Tool;
use crate::files::value::{Wrong, wrong};

/// A word at least this much like a known one is a slip for it and no comment. It is high, since
/// comments are free.
const LIKENESS_MIN: f64 = 0.8;

/// The facts that a note can give.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Fact {
    Resolution,
    Repeatability,
    Stage,
    Cutter,
    GroundOrder,
    TeethRun,
    LookedAgain,
}

impl Named for Fact {
    const ALL: &'static [Self] = &[
        Self::Resolution,
        Self::Repeatability,
        Self::Stage,
        Self::Cutter,
        Self::GroundOrder,
        Self::TeethRun,
        Self::LookedAgain,
    ];

    fn name(self) -> &'static str {
        match self {
            Self::Resolution => "resolution",
            Self::Repeatability => "repeatability",
            Self::Stage => "stage",
            Self::Cutter => "cutter",
            Self::GroundOrder => "ground order",
            Self::TeethRun => "teeth run",
            Self::LookedAgain => "looked again",
        }
    }
}

/// What the notes say of every row that does not say otherwise.
#[derive(Default)]
pub(super) struct Notes {
    /// With what was read, where that is noted.
    pub(super) tool: Option<Result<Tool, Refused>>,
    /// When the lands were read, where that is noted.
    pub(super) stage: Option<Result<LandStage, Refused>>,
}

/// One note that gives a fact.
struct Noted {
    fact: Fact,
    line: usize,
    path: String,
    text: String,
}

impl Notes {
    /// Reads the notes; what they say of the whole file goes into its draft.
    pub(super) fn read(lines: &[NoteLine], cells: &mut Cells<'_>) -> Self {
        let mut found: Vec<Noted> = Vec::new();
        for line in lines {
            let Some(noted) = fact_of(line, cells) else { continue };
            if found.iter().any(|other| other.fact == noted.fact) {
                cells.refuse(&noted.path, wrong("stands a second time", "write it once"));
            } else {
                found.push(noted);
            }
        }
        let of = |fact| found.iter().find(|noted: &&Noted| noted.fact == fact);
        let tool = tool(of(Fact::Resolution), of(Fact::Repeatability), cells);
        let stage = of(Fact::Stage);
        let stage =
            stage.map(|noted| cells.choose(&noted.path, &noted.text, "a stage of the work"));
        found.iter().for_each(|noted| whole(noted, cells));
        Self { tool, stage }
    }
}

/// The fact that a line gives, if it is no comment.
fn fact_of(line: &NoteLine, cells: &mut Cells<'_>) -> Option<Noted> {
    let (name, text) = line.text.split_once([':', '='])?;
    let text = text.trim_matches([' ', '\t', ',', ';']);
    let name = spaced(name);
    if let Some(fact) = Fact::from_name(&name) {
        let path = cells.place(fact.name(), line.line, text);
        return Some(Noted { fact, line: line.line, path, text: text.to_owned() });
    }
    let like =
        |fact: &&Fact| strsim::normalized_damerau_levenshtein(&name, fact.name()) >= LIKENESS_MIN;
    let near = Fact::ALL.iter().find(like)?;
    let path = cells.place(&name, line.line, text);
    cells.refuse(&path, slip(near.name()));
    None
}

fn slip(near: &str) -> Wrong {
    let right = format!("the nearest known is \"{near}\"; of a comment, change the first word");
    wrong("no such note", right)
}

fn tool(
    resolution: Option<&Noted>,
    repeatability: Option<&Noted>,
    cells: &mut Cells<'_>,
) -> Option<Result<Tool, Refused>> {
    let Some(step) = resolution else {
        let alone = repeatability?;
        let right = "write a line # resolution: with the smallest step that is read";
        return Some(Err(cells.refuse(&alone.path, wrong("stands without a resolution", right))));
    };
    let resolution = cells.length(&step.path, &step.text, None);
    let repeats = repeatability.map(|noted| cells.length(&noted.path, &noted.text, None));
    let tool = resolution.map(|resolution| Tool::new(step.line, resolution));
    let line = repeatability.unwrap_or(step).line;
    Some(tool.and_then(|tool| Ok(tool.with(line, repeats.transpose()?, None))))
}

/// What a note says of the whole file.
fn whole(noted: &Noted, cells: &mut Cells<'_>) {
    let Noted { fact, path, text, .. } = noted;
    match fact {
        Fact::Cutter => cells.name_cutter(path, text),
        Fact::GroundOrder => cells.order_teeth(path, text),
        Fact::TeethRun => {
            cells.draft.teeth_run = cells.choose(path, text, "a way for the numbers to run").ok();
        }
        Fact::LookedAgain => {
            let read = truth(text);
            cells.draft.looked_again = cells.take(path, read).unwrap_or(false);
        }
        Fact::Resolution | Fact::Repeatability | Fact::Stage => {}
    }
}

fn truth(text: &str) -> Result<bool, Wrong> {
    match text.to_lowercase().as_str() {
        "yes" | "true" => Ok(true),
        "no" | "false" => Ok(false),
        _ => Err(wrong("neither yes nor no", "write yes or no")),
    }
}
