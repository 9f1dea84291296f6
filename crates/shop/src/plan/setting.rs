//! The set-up, line by line, in the machine's own marks.

use geometry::quantity::System;
use geometry::{Angle, Length};
use trade::{PracticeItem, ToleranceKind};

use super::aslant::is_on_scale;
use super::dial::{DialMark, Quantity, system_of};
use super::head::head;
use super::held::{Held, centres_line, crank_turned, held_lines};
use super::rest::{below_centre, finger, rest_along, rest_height, stops};
use super::stance::{ReliefBy, Stanced};
use crate::context::Ctx;
use crate::error::ShopError;
use crate::record::{Axis, AxisRole, Cutter, Fixture, Grows, Hand, Machine, Motion, ReadsZero};

/// What a line of the set-up sets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SetupItem {
    /// The swivel of the wheel head.
    Head,
    /// The work fixture, square to the travel.
    Squaring,
    /// The end at which the shank is held.
    WorkHead,
    /// The wheel's axis against the cutter's.
    WheelHeight,
    /// The wheel tipped out of level.
    WheelTilt,
    /// The finger of the tooth rest, and where across the tooth it bears.
    Finger,
    /// The rest along the cutter.
    RestAlong,
    /// The rest's height.
    RestHeight,
    /// The relief setting.
    Relief,
    /// The air of a floating spindle.
    Air,
    /// Table stop at the tip.
    StopTip,
    /// Table stop at the shank.
    StopShank,
    /// A swivel that swings the work.
    WorkSwing,
    /// A swivel that tilts the work.
    WorkTilt,
    /// How the tooth is held.
    Tooth,
    /// The centres and the tailstock.
    Centres,
    /// What the tooth rest stands on.
    RestStand,
    /// From tooth to tooth on an index head.
    Index,
    /// The wheel's flat side against the cutter's axis.
    FaceOffset,
    /// How far the tooth is turned into the wheel.
    FaceFeed,
    /// The swivel that lays a tapered side along the travel.
    TableSwivel,
    /// The edge along the travel.
    Level,
    /// Table stop at the centre of the end.
    StopCentre,
    /// Table stop clear of the wheel.
    StopClear,
    /// The pivot below a round corner.
    Pivot,
    /// The corner of the wheel.
    WheelCorner,
}

impl SetupItem {
    /// The words used on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Head => "head angle",
            Self::Squaring => "fixture",
            Self::WorkHead => "work head",
            Self::WheelHeight => "wheel height",
            Self::WheelTilt => "wheel tilt",
            Self::Finger => "rest finger",
            Self::RestAlong => "rest along",
            Self::RestHeight => "rest height",
            Self::Relief => "relief",
            Self::Air => "air",
            Self::StopTip => "stop, tip",
            Self::StopShank => "stop, shank",
            Self::WorkSwing => "work swing",
            Self::WorkTilt => "work tilt",
            Self::Tooth => "tooth",
            Self::Centres => "centres",
            Self::RestStand => "rest stand",
            Self::Index => "index",
            Self::FaceOffset => "face offset",
            Self::FaceFeed => "feed by turn",
            Self::TableSwivel => "table swivel",
            Self::Level => "edge level",
            Self::StopCentre => "stop, centre",
            Self::StopClear => "stop, clear",
            Self::Pivot => "pivot",
            Self::WheelCorner => "wheel corner",
        }
    }
}

impl SetupItem {
    /// What the true amount of a line without a dial is, where its name does not say it.
    pub const fn figure(self) -> &'static str {
        match self {
            Self::Finger => "width of the finger",
            Self::RestAlong => "from the wheel's leading corner, into its face",
            Self::RestHeight => "from the centre's height down to the finger's top",
            Self::WheelHeight => "wheel axis above the cutter's",
            Self::StopTip | Self::StopShank | Self::StopCentre | Self::StopClear => "table travel",
            _ => "",
        }
    }
}

/// One line of the set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct SetupLine {
    /// What it sets.
    pub item: SetupItem,
    /// The true amount.
    pub value: Option<Quantity>,
    /// The mark on the machine's dial, where it has one for this.
    pub dial: Option<DialMark>,
    /// How closely.
    pub tolerance: Option<Quantity>,
    /// What to do.
    pub how: String,
    /// Why.
    pub why: String,
}

/// A relief that may be off by this much is still good (own choice, no source).
pub(crate) const RELIEF_SLACK_DEG: f64 = 0.5;

/// A slack wider than this is no tolerance: the setting does not matter so much.
const SLACK_MM_MAX: f64 = 1.0;

/// The lines for a stance; `flute` is the length of flute to be ground.
pub fn primary_setup(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    machine: &Machine,
    stanced: &Stanced,
    diameter: Length,
    flute: Length,
) -> Vec<SetupLine> {
    let mut lines = vec![head(cutter, machine, stanced), squaring(ctx, cutter, machine)];
    lines.push(work_head(cutter));
    lines.extend(air(ctx, machine));
    let held = Held::on(machine);
    let setting = stanced.stance().relief_setting;
    let by = machine.axis(AxisRole::ReliefDial).filter(|_| stanced.relief_by == ReliefBy::Dial);
    lines.extend(held_lines(cutter, machine, (diameter, setting), by));
    if held.has_rest() {
        lines.push(finger(cutter, machine, stanced));
        lines.push(rest_along(machine, stanced));
    }
    if stanced.relief_by != ReliefBy::HeadWithRest && stanced.relief_by != ReliefBy::WheelAbove {
        lines.push(wheel_height(machine, stanced));
    }
    if held.has_rest() && stanced.relief_by != ReliefBy::RestHeight {
        lines.push(rest_height(machine, stanced, diameter));
    }
    lines.push(relief_line(machine, stanced, diameter));
    lines.extend(stops(machine, stanced, flute));
    lines
}

/// The lines that say how the fixture itself stands: square, its air, its centres.
pub(super) fn holding_lines(ctx: &Ctx<'_>, cutter: &Cutter, machine: &Machine) -> Vec<SetupLine> {
    let square = SetupLine { tolerance: None, ..squaring(ctx, cutter, machine) };
    let mut lines = vec![square];
    lines.extend(air(ctx, machine));
    lines.extend(centres_line(cutter, machine));
    lines
}

/// Refuses a set-up of which a setting lies beyond the end of its scale, or whose stroke is longer
/// than the table's way.
pub(crate) fn check_reach(machine: &Machine, lines: &[SetupLine]) -> Result<(), ShopError> {
    for line in lines {
        let Some(mark) = &line.dial else { continue };
        let axis = machine.axes().iter().find(|axis| axis.name() == mark.axis);
        let beyond =
            axis.is_some_and(|axis| is_absolute(line.item, axis) && lies_beyond(axis, mark));
        if beyond {
            return Err(beyond_scale(line.item, &shown(mark), &mark.axis));
        }
    }
    check_stroke(machine, lines)
}

/// Whether a line's mark is what the scale itself reads, and not counted from somewhere else.
fn is_absolute(item: SetupItem, axis: &Axis) -> bool {
    match item {
        SetupItem::Head | SetupItem::Relief => true,
        SetupItem::WheelHeight => axis.reads_zero() == Some(ReadsZero::Straight),
        SetupItem::TableSwivel | SetupItem::WorkSwing => is_on_scale(axis),
        _ => false,
    }
}

fn lies_beyond(axis: &Axis, mark: &DialMark) -> bool {
    match (mark.reading, axis.motion()) {
        (Quantity::Length(reading), Motion::Slide(scale)) => {
            scale.range.is_some_and(|(low, high)| !(low..=high).contains(&reading))
        }
        (Quantity::Angle(reading), Motion::Swivel(scale)) => {
            scale.range.is_some_and(|(low, high)| !(low..=high).contains(&reading))
        }
        _ => false,
    }
}

/// Refuses a stroke that is longer than the table's way from stop to stop.
fn check_stroke(machine: &Machine, lines: &[SetupLine]) -> Result<(), ShopError> {
    let table = machine.axis(AxisRole::TableTravel);
    let Some((axis, (low, high))) = table.and_then(|axis| Some((axis, axis.slide()?.range?)))
    else {
        return Ok(());
    };
    let is_stop =
        |line: &&SetupLine| matches!(line.item, SetupItem::StopTip | SetupItem::StopShank);
    let readings = lines.iter().filter(is_stop).filter_map(|line| line.dial.as_ref());
    let stroke = readings.fold(Length::ZERO, |stroke, mark| match mark.reading {
        Quantity::Length(reading) => stroke + reading,
        Quantity::Angle(_) => stroke,
    });
    if stroke <= high - low {
        return Ok(());
    }
    let system = system_of(axis.slide().map_or(stroke, |scale| scale.finest()));
    let why = format!(
        "from stop to stop it is {}, and \"{}\" has {} in all: grind the flute in two lengths, or \
         on another machine",
        stroke.show(system),
        axis.name(),
        (high - low).show(system)
    );
    Err(ShopError::refused("the stroke must be within the table's way", why))
}

/// The refusal of a setting beyond the end of its scale.
pub(super) fn beyond_scale(item: SetupItem, mark: &str, axis: &str) -> ShopError {
    let item = item.name();
    let why = format!("{item} would have to stand at {mark}, beyond the end of \"{axis}\"");
    ShopError::refused("every setting must be on its scale", why)
}

/// A reading in the scale's own divisions.
pub(super) fn shown(mark: &DialMark) -> String {
    match (mark.reading, mark.finest) {
        (Quantity::Length(reading), Quantity::Length(step)) => {
            reading.show_to(system_of(step), step).to_string()
        }
        (Quantity::Angle(reading), Quantity::Angle(step)) => reading.show_to(step).to_string(),
        (Quantity::Length(reading), _) => reading.show_both(System::Inch).to_string(),
        (Quantity::Angle(reading), _) => reading.show().to_string(),
    }
}

/// The largest error of a setting that keeps the relief within its slack.
pub(super) fn slack(per_unit: Option<f64>) -> Option<f64> {
    per_unit.filter(|per| per.abs() > 1e-3).map(|per| RELIEF_SLACK_DEG / per.abs())
}

pub(super) fn length_slack(per_mm: Option<f64>) -> Option<Quantity> {
    let near = slack(per_mm).filter(|mm| *mm <= SLACK_MM_MAX);
    near.map(|mm| Quantity::Length(Length::from_mm(mm)))
}

pub(super) fn angle_slack(per_degree: Option<f64>) -> Option<Quantity> {
    slack(per_degree).map(|degrees| Quantity::Angle(Angle::from_degrees(degrees)))
}

pub(super) fn line(item: SetupItem, how: impl Into<String>, why: impl Into<String>) -> SetupLine {
    SetupLine { item, value: None, dial: None, tolerance: None, how: how.into(), why: why.into() }
}

fn squaring(ctx: &Ctx<'_>, cutter: &Cutter, machine: &Machine) -> SetupLine {
    let allowed =
        ctx.tables.tolerance(ToleranceKind::BackTaper, cutter.diameter()).and_then(|row| {
            let row = &row.chosen.value;
            // Back taper is counted on the diameter; the fixture is off by half of it.
            Some(Angle::from_tangent(0.5 * (row.at_most? / row.over_length?)))
        });
    let true_to = if cutter.taper() > Angle::ZERO {
        "true to the travel, before the table is swivelled"
    } else {
        "true to the travel"
    };
    SetupLine {
        tolerance: allowed.map(Quantity::Angle),
        ..line(
            SetupItem::Squaring,
            format!("{true_to}: indicate {}", machine.holding().squaring()),
            "an error is taper",
        )
    }
}

/// Where the shank lies: all that is said of sides and directions counts on it.
fn work_head(cutter: &Cutter) -> SetupLine {
    let side = if cutter.hand() == Hand::Right { "right" } else { "left" };
    line(
        SetupItem::WorkHead,
        format!("shank to your {side} as you look at the wheel, heel up, edge down"),
        "sides count on it",
    )
}

fn air(ctx: &Ctx<'_>, machine: &Machine) -> Option<SetupLine> {
    let Fixture::AirSpindle { psi } = machine.holding().fixture() else {
        return None;
    };
    let row = &ctx.tables.practice(PracticeItem::AirSupply)?.chosen.value;
    let never_over = row.never_over?.pressure()?.middle().psi();
    let how = format!("{psi} psi, never over {never_over:.0}; drain the water first");
    Some(line(SetupItem::Air, how, "its maker's figure goes first"))
}

fn wheel_height(machine: &Machine, stanced: &Stanced) -> SetupLine {
    let above = stanced.stance().axis_above;
    let axis = machine.axis(AxisRole::WheelHeadHeight);
    let dial = axis.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, above)));
    SetupLine {
        value: Some(Quantity::Length(above)),
        dial,
        tolerance: length_slack(stanced.sensitivities.per_axis_height_mm),
        ..line(
            SetupItem::WheelHeight,
            "wheel axis at the cutter's centre",
            "the relief counts from it",
        )
    }
}

/// The line that sets the relief.
pub(super) fn relief_line(machine: &Machine, stanced: &Stanced, diameter: Length) -> SetupLine {
    let setting = Quantity::Angle(stanced.stance().relief_setting);
    let below = Quantity::Length(below_centre(stanced, diameter));
    let above = Quantity::Length(stanced.stance().axis_above);
    let found = &stanced.sensitivities;
    let (role, value, tolerance, how) = match stanced.relief_by {
        ReliefBy::Dial => (
            AxisRole::ReliefDial,
            setting,
            angle_slack(found.per_setting_degree),
            "turn the tooth down",
        ),
        ReliefBy::RestHeight => {
            (AxisRole::RestHeight, below, length_slack(found.per_rest_height_mm), "lower the rest")
        }
        ReliefBy::HeadWithRest => (
            AxisRole::WheelHeadHeight,
            below,
            length_slack(found.per_rest_height_mm),
            "lower head and rest",
        ),
        ReliefBy::WheelAbove => (
            AxisRole::WheelHeadHeight,
            above,
            length_slack(found.per_axis_height_mm),
            if Held::on(machine).has_rest() {
                "raise the wheel, rest on centre"
            } else {
                "raise the wheel, tooth on centre"
            },
        ),
    };
    let axis = machine.axis(role);
    let dial = axis.and_then(|axis| relief_mark(axis, stanced, value));
    let turned = axis.filter(|_| stanced.relief_by == ReliefBy::Dial);
    let turned =
        turned.and_then(|axis| crank_turned(machine, axis, stanced.stance().relief_setting));
    let how = turned.map_or_else(|| how.to_owned(), |turned| format!("{how}, {turned}"));
    let why = "for the real face";
    SetupLine { value: Some(value), dial, tolerance, ..line(SetupItem::Relief, how, why) }
}

/// The relief on its own dial. Where the machine's file does not say whether a height's reading
/// grows upward or downward, the mark is the bare amount.
fn relief_mark(axis: &Axis, stanced: &Stanced, value: Quantity) -> Option<DialMark> {
    match value {
        Quantity::Angle(angle) => Some(DialMark::swivel(axis, axis.swivel()?, angle)),
        Quantity::Length(length) => {
            let drops = stanced.relief_by != ReliefBy::WheelAbove;
            let travel = match grows_downward(axis) {
                Some(downward) if downward != drops => -length,
                _ => length,
            };
            Some(DialMark::slide(axis, axis.slide()?, travel))
        }
    }
}

/// Whether a height's reading grows downward; None where the words do not say. Words that are none
/// of the list's are looked through for the way they speak of, as papers from before it had them.
fn grows_downward(axis: &Axis) -> Option<bool> {
    match axis.grows() {
        Some(Grows::Down) => return Some(true),
        Some(Grows::Up) => return Some(false),
        _ => {}
    }
    let words = axis.positive().to_lowercase();
    let says = |needles: [&str; 3]| needles.iter().any(|needle| words.contains(needle));
    match (says(["down", "lower", "sinks"]), says(["up", "raise", "rises"])) {
        (true, false) => Some(true),
        (false, true) => Some(false),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slack_is_the_relief_slack_over_the_sensitivity() {
        assert_eq!(slack(Some(-2.0)), Some(0.25));
        assert_eq!(slack(Some(0.0)), None);
        assert_eq!(slack(None), None);
    }
}
