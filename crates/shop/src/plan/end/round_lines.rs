//! The set-up of a round in the machine's own marks, its steps, and what an indicator says of its
//! pivot.

use geometry::end::{RoundBy, RoundHold};
use geometry::quantity::System;
use geometry::{Angle, Length};
use trade::Step;

use super::grind::EndJob;
use super::lines::head;
use super::round::{RoundGrind, RoundSet};
use super::swivels::Swung;
use crate::plan::clear::draw_clear;
use crate::plan::dial::Quantity;
use crate::plan::held::Held;
use crate::plan::pass::PassKind;
use crate::plan::setting::{RELIEF_SLACK_DEG, SetupItem, SetupLine, line};
use crate::plan::steps::{BenchStep, passes, set_up};

/// The lines of the primary.
pub(super) fn primary_lines(job: &EndJob<'_>, grind: &RoundGrind) -> Vec<SetupLine> {
    let kind = job.body.kind();
    let mut lines = vec![SetupLine {
        why: "it alone cuts, and the face clears the periphery".to_owned(),
        ..head(job.cutter, job.machine, kind, grind.lean)
    }];
    lines.push(relief(&grind.primary, "relief all round"));
    lines.extend(pivot(grind));
    let first = if grind.stops_short() {
        format!("end to the wheel; stop {} short of it", grind.from.show())
    } else {
        "end to the wheel; stop a degree beyond".to_owned()
    };
    let last = "periphery to the wheel; stop a degree beyond";
    lines.extend(swing(&grind.swivels.0, &first, "the round from its start"));
    lines.extend(swing(&grind.swivels.1, last, "the round to its end"));
    lines.push(held(grind.hold));
    lines
}

/// The lines of the secondary that differ from the primary's.
pub(super) fn behind_lines(grind: &RoundGrind) -> Vec<SetupLine> {
    vec![relief(&grind.behind, "clearance behind the land")]
}

/// What gives the relief.
fn relief(set: &RoundSet, why: &str) -> SetupLine {
    let (item, how) = match set.by {
        RoundBy::Tilt => (SetupItem::WheelTilt, "tip the wheel's upper side toward the cutter"),
        RoundBy::Height => (SetupItem::WheelHeight, "wheel axis above the edge"),
    };
    let level = match set.by {
        RoundBy::Tilt => ", its axis level with the edge",
        RoundBy::Height => "",
    };
    // What the tilt misses the relief misses; a height counts on the wheel's radius.
    let slack = Angle::from_degrees(RELIEF_SLACK_DEG);
    let tolerance = match set.by {
        RoundBy::Tilt => Quantity::Angle(slack),
        RoundBy::Height => {
            Quantity::Length(Length::from_mm(set.setup.wheel().radius_mm() * slack.radians()))
        }
    };
    SetupLine {
        value: Some(set.exact),
        dial: set.mark.clone(),
        tolerance: Some(tolerance),
        ..line(item, format!("{how}{level}"), why)
    }
}

fn pivot(grind: &RoundGrind) -> Vec<SetupLine> {
    let length = |length: Length| Some(Quantity::Length(length));
    let row = |value: Length, how: &str, why: &str| SetupLine {
        value: length(value),
        ..line(SetupItem::Pivot, how, why)
    };
    vec![
        line(
            SetupItem::Pivot,
            "the wheel's corner straight in front of it, at the edge's height",
            "there alone it cuts",
        ),
        row(
            grind.pivot.beside,
            "cutter's axis beside the pivot, for the new diameter",
            "the round meets the periphery at its height",
        ),
        row(
            grind.pivot.past,
            "end past the pivot, toward the wheel, when the end is done",
            "the round meets the end at its height",
        ),
    ]
}

fn swing(swung: &Swung, stop: &str, why: &str) -> Vec<SetupLine> {
    let line_of = |mark: &super::swivels::SwungMark| SetupLine {
        value: Some(Quantity::Angle(mark.exact)),
        dial: Some(mark.mark.clone()),
        ..line(SetupItem::WorkSwing, stop, why)
    };
    if swung.marks.is_empty() {
        let how = format!("every swivel straight: {stop}");
        return vec![line(SetupItem::WorkSwing, how, why)];
    }
    swung.marks.iter().map(line_of).collect()
}

fn held(hold: RoundHold) -> SetupLine {
    let (how, why) = match hold {
        RoundHold::Locked => (
            "edge level in the middle of the round, heel up, head locked; then index",
            "the relief is that of the wheel only where the edge lies level",
        ),
        RoundHold::Follows => (
            "rest fixed under the wheel's corner, at the edge's height; the spindle free to turn, \
             locked lengthways: keep the tooth on the rest all the way",
            "the flute turns the tooth as it swings, so that the edge stays level at the wheel",
        ),
    };
    line(SetupItem::Tooth, how, why)
}

/// What an indicator that stands still in front of the pivot says of it: set to zero on the round,
/// the cutter swung to a stop and the tip run off the round onto the straight edge there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PivotReading {
    /// At which stop.
    pub at: &'static str,
    /// Where the cutter goes for as much as the indicator rises there.
    pub rises: &'static str,
    /// Where it goes for as much as the indicator falls.
    pub falls: &'static str,
}

/// The readings at both stops.
///
/// **Source** \[own-derivation\] a round that is ground about its pivot reads alike all round about
/// it; periphery and end stand off it by what the pivot's offsets miss, one for one at their own
/// stop, and by 0.71 of it halfway. **Departs** nowhere. **Error** rounding. **Domain** both edges
/// finished.
pub const fn pivot_readings() -> [PivotReading; 2] {
    [
        PivotReading {
            at: "periphery",
            rises: "move the cutter's axis as much farther from the pivot",
            falls: "move the cutter's axis as much nearer to the pivot",
        },
        PivotReading {
            at: "end",
            rises: "draw the end back by as much, away from the wheel",
            falls: "bring the end forward by as much, toward the wheel",
        },
    ]
}

/// The steps of a round, as parts of that name.
pub(super) fn round_steps(
    part: &str,
    grind: &RoundGrind,
    held: Held,
    system: System,
) -> Vec<BenchStep> {
    let mut steps = set_up(part, &grind.lines, &[]);
    steps.push(kiss(part, grind));
    let why = "swing from stop to stop on every tooth; where it reads otherwise, nothing blends";
    steps.extend(passes(part, &grind.grinding, held).into_iter().map(|step| BenchStep {
        how: format!("{}: swing from one stop to the other on each", step.how),
        why: why.to_owned(),
        ..step
    }));
    let second = format!("{part} secondary");
    steps.push(draw_clear(&second));
    steps.extend(set_up(&second, &grind.behind_lines, &grind.lines));
    let how = format!(
        "Kiss the back of the land, then feed every tooth, swinging as before, until its land \
         reads {}",
        grind.land.show_both(system)
    );
    let why = "the land tells the depth, magnified".to_owned();
    let key = format!("{second}: grind");
    let (value, figure) = (Some(Quantity::Length(grind.land)), "land at which to stop");
    steps.push(BenchStep {
        value,
        figure,
        ..BenchStep::plain(&key, &second, Step::Grind, how, why)
    });
    steps
}

fn kiss(part: &str, grind: &RoundGrind) -> BenchStep {
    let how = format!(
        "Swing to {} from the end and bring the cutter in until the wheel just sparks on the tooth \
         that stands out farthest; set the dial to 0",
        grind.touch.show()
    );
    let why = "the wheel touches first there, and the feed to the radius counts from it".to_owned();
    let first = grind.grinding.passes.iter().find(|pass| pass.kind != PassKind::SparkOut);
    let dial = first.map(|pass| pass.dial.at_zero());
    let (key, title) = (format!("{part}: kiss"), format!("first touch, {part}"));
    BenchStep { dial, sets_zero: true, ..BenchStep::plain(&key, &title, Step::Grind, how, why) }
}
