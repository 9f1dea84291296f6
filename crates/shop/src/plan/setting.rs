//! The set-up, line by line, in the machine's own marks.

use geometry::quantity::System;
use geometry::wheel::{FaceToward, WheelKind};
use geometry::{Angle, Length};
use trade::{PracticeItem, ToleranceKind};

use super::dial::{DialMark, Quantity, snapped_up, system_of};
use super::stance::{ReliefBy, Stanced};
use crate::context::Ctx;
use crate::error::ShopError;
use crate::record::{
    Axis, AxisRole, Cutter, Finger, FingerKind, Fixture, Hand, HeadZero, Machine, Motion,
};

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
}

impl SetupItem {
    /// The words used on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Head => "head angle",
            Self::Squaring => "fixture",
            Self::WorkHead => "work head",
            Self::WheelHeight => "wheel height",
            Self::Finger => "rest finger",
            Self::RestAlong => "rest along",
            Self::RestHeight => "rest height",
            Self::Relief => "relief",
            Self::Air => "air",
            Self::StopTip => "stop, tip",
            Self::StopShank => "stop, shank",
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
const RELIEF_SLACK_DEG: f64 = 0.5;

/// A slack wider than this is no tolerance: the setting does not matter so much.
const SLACK_MM_MAX: f64 = 1.0;

/// How far past the tip the stroke runs, so that the corner is ground too (own choice, no source).
const OVERRUN_MM: f64 = 0.1;

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
    lines.push(finger(cutter, machine, stanced));
    lines.push(rest_along(machine, stanced));
    if stanced.relief_by != ReliefBy::HeadWithRest && stanced.relief_by != ReliefBy::WheelAbove {
        lines.push(wheel_height(machine, stanced));
    }
    if stanced.relief_by != ReliefBy::RestHeight {
        lines.push(rest_height(stanced, diameter));
    }
    lines.push(relief(machine, stanced, diameter));
    lines.extend(stops(machine, stanced, flute));
    lines
}

/// Refuses a set-up whose head or relief lies beyond the end of its scale.
pub(crate) fn check_reach(machine: &Machine, lines: &[SetupLine]) -> Result<(), ShopError> {
    let absolute = [SetupItem::Head, SetupItem::Relief];
    for line in lines.iter().filter(|line| absolute.contains(&line.item)) {
        let Some(mark) = &line.dial else { continue };
        let axis = machine.axes().iter().find(|axis| axis.name() == mark.axis);
        let beyond = axis.is_some_and(|axis| match (mark.reading, axis.motion()) {
            (Quantity::Length(reading), Motion::Slide(scale)) => {
                scale.range.is_some_and(|(low, high)| !(low..=high).contains(&reading))
            }
            (Quantity::Angle(reading), Motion::Swivel(scale)) => {
                scale.range.is_some_and(|(low, high)| !(low..=high).contains(&reading))
            }
            _ => false,
        });
        if beyond {
            let why = format!(
                "{} would have to stand at {}, beyond the end of \"{}\"",
                line.item.name(),
                shown(mark),
                mark.axis
            );
            return Err(ShopError::refused("every setting must be on its scale", why));
        }
    }
    Ok(())
}

/// A reading in the scale's own divisions.
fn shown(mark: &DialMark) -> String {
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
fn slack(per_unit: Option<f64>) -> Option<f64> {
    per_unit.filter(|per| per.abs() > 1e-3).map(|per| RELIEF_SLACK_DEG / per.abs())
}

fn length_slack(per_mm: Option<f64>) -> Option<Quantity> {
    let near = slack(per_mm).filter(|mm| *mm <= SLACK_MM_MAX);
    near.map(|mm| Quantity::Length(Length::from_mm(mm)))
}

fn angle_slack(per_degree: Option<f64>) -> Option<Quantity> {
    slack(per_degree).map(|degrees| Quantity::Angle(Angle::from_degrees(degrees)))
}

fn line(item: SetupItem, how: impl Into<String>, why: impl Into<String>) -> SetupLine {
    SetupLine { item, value: None, dial: None, tolerance: None, how: how.into(), why: why.into() }
}

fn head(cutter: &Cutter, machine: &Machine, stanced: &Stanced) -> SetupLine {
    let stance = stanced.stance();
    let square = Angle::from_degrees(90.0);
    let kind = stanced.setup.wheel().kind();
    let head_angle = match kind {
        WheelKind::Cup => square - stance.lean,
        WheelKind::Disc => stance.lean,
    };
    let axis = machine.axis(AxisRole::HeadSwivel);
    let grows = axis.and_then(|axis| grows_with_lean(axis, cutter, stance.face_toward));
    let sign = if grows == Some(true) { 1.0 } else { -1.0 };
    let upright = match (machine.head_zero(), kind) {
        (HeadZero::ParallelToTravel, WheelKind::Cup)
        | (HeadZero::SquareToTravel, WheelKind::Disc) => square,
        _ => Angle::ZERO,
    };
    let (reading, other) = (upright + stance.lean * sign, upright - stance.lean * sign);
    let dial = axis.and_then(|axis| Some(DialMark::swivel(axis, axis.swivel()?, reading)));
    let lead_end = stance.face_toward.opposite().name();
    let slack = slack(stanced.sensitivities.per_lean_degree).unwrap_or(f64::INFINITY);
    let tolerance = slack.min(0.5 * stance.lean.degrees().max(0.5));
    let how = match grows {
        Some(_) => format!("corner toward the {lead_end} leads"),
        None => format!("or {}, so that the corner toward the {lead_end} leads", other.show()),
    };
    let why = if stanced.target.over.is_none() { "the face cuts" } else { "it alone cuts" };
    SetupLine {
        value: Some(Quantity::Angle(head_angle)),
        dial,
        tolerance: Some(Quantity::Angle(Angle::from_degrees(tolerance))),
        ..line(SetupItem::Head, how, why)
    }
}

/// Whether the head's reading grows with the lean; None where the machine's file does not say which
/// way it grows as clockwise or counterclockwise seen from above.
///
/// Seen from above, with the cutter before the wheel and its heel up, a right-hand cutter's shank
/// lies to the right; a face that runs to its tip then leans clockwise.
fn grows_with_lean(axis: &Axis, cutter: &Cutter, toward: FaceToward) -> Option<bool> {
    let words = axis.positive().to_lowercase();
    let counter = ["counterclockwise", "counter-clockwise", "anticlockwise", "anti-clockwise"];
    let grows_clockwise = if counter.iter().any(|word| words.contains(word)) {
        false
    } else if words.contains("clockwise") {
        true
    } else {
        return None;
    };
    let leans_clockwise = (cutter.hand() == Hand::Right) == (toward == FaceToward::Tip);
    Some(grows_clockwise == leans_clockwise)
}

fn squaring(ctx: &Ctx<'_>, cutter: &Cutter, machine: &Machine) -> SetupLine {
    let allowed =
        ctx.tables.tolerance(ToleranceKind::BackTaper, cutter.diameter()).and_then(|row| {
            let row = &row.chosen.value;
            // Back taper is counted on the diameter; the fixture is off by half of it.
            Some(Angle::from_tangent(0.5 * (row.at_most? / row.over_length?)))
        });
    SetupLine {
        tolerance: allowed.map(Quantity::Angle),
        ..line(
            SetupItem::Squaring,
            format!("true to the travel: indicate {}", machine.holding().squaring()),
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

/// The finger that suits the helix: an offset one for steep flutes, a plain one for straight; of
/// that kind the narrowest that still holds the tooth when its tip has passed the rest.
fn choose_finger<'a>(cutter: &Cutter, machine: &'a Machine, past: Length) -> Option<&'a Finger> {
    let wanted: &[FingerKind] = if cutter.is_straight() {
        &[FingerKind::Plain, FingerKind::Hooked, FingerKind::Offset]
    } else {
        &[FingerKind::Offset, FingerKind::Hooked, FingerKind::Plain]
    };
    let reaches = |finger: &&Finger| finger.width >= past * 2.0;
    let of_kind = |kind: &FingerKind, wide: bool| {
        let fingers = machine.rest().fingers().iter().filter(|finger| finger.kind == *kind);
        fingers
            .filter(|finger| !wide || reaches(finger))
            .min_by(|a, b| a.width.mm().total_cmp(&b.width.mm()))
    };
    let with = |wide: bool| wanted.iter().find_map(|kind| of_kind(kind, wide));
    with(true).or_else(|| with(false))
}

fn finger(cutter: &Cutter, machine: &Machine, stanced: &Stanced) -> SetupLine {
    let past = past_tip(stanced);
    let finger = choose_finger(cutter, machine, past);
    let how = finger.map_or_else(
        || "any finger that fits the flute".to_owned(),
        |finger| format!("\"{}\" ({})", finger.name, finger.kind.name()),
    );
    let shape = if cutter.is_straight() { "its top level" } else { "its top dressed to the helix" };
    let narrow = finger.is_some_and(|finger| finger.width < past * 2.0);
    let why = if narrow {
        "under this tooth, near its edge; TOO NARROW to hold the tip: ease off there"
    } else {
        "bear under the tooth being ground, near its edge"
    };
    SetupLine {
        value: finger.map(|finger| Quantity::Length(finger.width)),
        ..line(SetupItem::Finger, format!("{how}, {shape}"), why)
    }
}

fn rest_along(machine: &Machine, stanced: &Stanced) -> SetupLine {
    let stance = stanced.stance();
    let axis = fine_rest_along(machine);
    let dial = axis.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, stance.rest_inset)));
    SetupLine {
        value: Some(Quantity::Length(stance.rest_inset)),
        dial,
        tolerance: length_slack(stanced.sensitivities.per_inset_mm),
        ..line(
            SetupItem::RestAlong,
            format!("from that corner toward the {}", stance.face_toward.name()),
            "relief follows it",
        )
    }
}

/// The rest's scale along the cutter, where it is fine enough to set an inset by.
pub(crate) fn fine_rest_along(machine: &Machine) -> Option<&Axis> {
    let fine = |axis: &&Axis| {
        axis.slide().is_some_and(|scale| scale.finest_travel().mm() <= REST_STEP_MM_MAX)
    };
    machine.axis(AxisRole::RestAlong).filter(fine)
}

/// A rest scale coarser than this is left alone, and the inset set by feeler (own choice).
const REST_STEP_MM_MAX: f64 = 0.1;

/// How far below centre the edge at the rest stands.
fn below_centre(stanced: &Stanced, diameter: Length) -> Length {
    diameter * (0.5 * stanced.stance().relief_setting.sin())
}

fn rest_height(stanced: &Stanced, diameter: Length) -> SetupLine {
    let (value, how, why) = match stanced.relief_by {
        ReliefBy::Dial => {
            (below_centre(stanced, diameter), "below centre, up to the tooth", "checks the dial")
        }
        _ => (Length::ZERO, "on centre first", "relief counts from it"),
    };
    SetupLine {
        value: Some(Quantity::Length(value)),
        tolerance: length_slack(stanced.sensitivities.per_rest_height_mm),
        ..line(SetupItem::RestHeight, how, why)
    }
}

fn relief(machine: &Machine, stanced: &Stanced, diameter: Length) -> SetupLine {
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
            "raise the wheel, rest on centre",
        ),
    };
    let dial = machine.axis(role).and_then(|axis| relief_mark(axis, stanced, value));
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

/// Whether a height's reading grows downward; None where the words do not say.
fn grows_downward(axis: &Axis) -> Option<bool> {
    let words = axis.positive().to_lowercase();
    let says = |needles: [&str; 3]| needles.iter().any(|needle| words.contains(needle));
    match (says(["down", "lower", "sinks"]), says(["up", "raise", "rises"])) {
        (true, false) => Some(true),
        (false, true) => Some(false),
        _ => None,
    }
}

/// How far the tip must pass the rest before the corner that cuts has passed the tip.
fn past_tip(stanced: &Stanced) -> Length {
    let stance = stanced.stance();
    // The leading corner lies toward the shank from the rest by the inset when the face runs to
    // the tip; a face that runs to the shank reaches beyond the rest by itself.
    let behind = match stance.face_toward {
        FaceToward::Tip => stance.rest_inset,
        FaceToward::Shank => Length::ZERO,
    };
    behind + Length::from_mm(OVERRUN_MM)
}

/// The stops, counted on the table's own scale from where the tip stands at the rest, each moved
/// out to the next mark.
fn stops(machine: &Machine, stanced: &Stanced, flute: Length) -> [SetupLine; 2] {
    let axis = machine.axis(AxisRole::TableTravel);
    let mark = |travel: Length| {
        axis.and_then(|axis| {
            let scale = axis.slide()?;
            Some(DialMark::slide(axis, scale, snapped_up(scale, travel)))
        })
    };
    let stop = |item, travel: Length, how: &str, why: &str| SetupLine {
        value: Some(Quantity::Length(travel)),
        dial: mark(travel),
        ..line(item, how, why)
    };
    [
        stop(
            SetupItem::StopTip,
            past_tip(stanced),
            "counted from the tip at the rest, tip past it",
            "the corner must pass it",
        ),
        stop(SetupItem::StopShank, flute, "from there the other way", "the whole flute"),
    ]
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
