//! The set-up, line by line, in the machine's own marks.

use geometry::wheel::WheelKind;
use geometry::{Angle, Length};
use trade::{PracticeItem, ToleranceKind};

use super::dial::{DialMark, Quantity};
use super::stance::{ReliefBy, Stanced};
use crate::context::Ctx;
use crate::error::ShopError;
use crate::record::{
    Axis, AxisRole, Cutter, Finger, FingerKind, Fixture, HeadZero, Machine, Motion,
};

/// What a line of the set-up sets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SetupItem {
    /// The swivel of the wheel head.
    Head,
    /// The work fixture, square to the travel.
    Squaring,
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

/// A relief that may be off by this much is still good.
const RELIEF_SLACK_DEG: f64 = 0.5;

/// How far past the tip the stroke runs, so that the corner is ground too.
const OVERRUN_MM: f64 = 0.5;

/// The lines for the primary.
pub fn primary_setup(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    machine: &Machine,
    stanced: &Stanced,
    diameter: Length,
) -> Vec<SetupLine> {
    let mut lines = vec![head(machine, stanced), squaring(ctx, cutter, machine)];
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
    lines.extend(stops(cutter, machine, stanced));
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
            let why = format!("{} lies beyond the end of \"{}\"", line.item.name(), mark.axis);
            return Err(ShopError::refused("every setting must be on its scale", why));
        }
    }
    Ok(())
}

/// The largest error of a setting that keeps the relief within its slack.
fn slack(per_unit: Option<f64>) -> Option<f64> {
    per_unit.filter(|per| per.abs() > 1e-3).map(|per| RELIEF_SLACK_DEG / per.abs())
}

fn length_slack(per_mm: Option<f64>) -> Option<Quantity> {
    slack(per_mm).map(|mm| Quantity::Length(Length::from_mm(mm)))
}

fn angle_slack(per_degree: Option<f64>) -> Option<Quantity> {
    slack(per_degree).map(|degrees| Quantity::Angle(Angle::from_degrees(degrees)))
}

fn line(item: SetupItem, how: impl Into<String>, why: impl Into<String>) -> SetupLine {
    SetupLine { item, value: None, dial: None, tolerance: None, how: how.into(), why: why.into() }
}

fn head(machine: &Machine, stanced: &Stanced) -> SetupLine {
    let stance = stanced.stance();
    let square = Angle::from_degrees(90.0);
    let head_angle = match stanced.setup.wheel().kind() {
        WheelKind::Cup => square - stance.lean,
        WheelKind::Disc => stance.lean,
    };
    let reading = match machine.head_zero() {
        HeadZero::ParallelToTravel => head_angle,
        HeadZero::SquareToTravel => square - head_angle,
    };
    let axis = machine.axis(AxisRole::HeadSwivel);
    let dial = axis.and_then(|axis| Some(DialMark::swivel(axis, axis.swivel()?, reading)));
    let lead_end = stance.face_toward.opposite().name();
    let slack = slack(stanced.sensitivities.per_lean_degree).unwrap_or(f64::INFINITY);
    let tolerance = slack.min(0.5 * stance.lean.degrees().max(0.5));
    SetupLine {
        value: Some(Quantity::Angle(head_angle)),
        dial,
        tolerance: Some(Quantity::Angle(Angle::from_degrees(tolerance))),
        ..line(SetupItem::Head, format!("corner toward the {lead_end} leads"), "it alone cuts")
    }
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

/// The finger that suits the helix: an offset one for steep flutes, a plain one for straight.
fn choose_finger<'a>(cutter: &Cutter, machine: &'a Machine) -> Option<&'a Finger> {
    let wanted: &[FingerKind] = if cutter.is_straight() {
        &[FingerKind::Plain, FingerKind::Hooked, FingerKind::Offset]
    } else {
        &[FingerKind::Offset, FingerKind::Hooked, FingerKind::Plain]
    };
    let fingers = machine.rest().fingers();
    wanted.iter().find_map(|kind| fingers.iter().find(|finger| finger.kind == *kind))
}

fn finger(cutter: &Cutter, machine: &Machine, stanced: &Stanced) -> SetupLine {
    let finger = choose_finger(cutter, machine);
    let how = finger.map_or_else(
        || "any finger that fits the flute".to_owned(),
        |finger| format!("\"{}\" ({})", finger.name, finger.kind.name()),
    );
    let toward = stanced.stance().face_toward.opposite().name();
    let shape = if cutter.is_straight() {
        "its top level".to_owned()
    } else {
        format!("its top dressed to the helix, high toward the {toward}")
    };
    let how = format!("{how}, {shape}");
    let why = "bear under the tooth being ground, near its edge";
    SetupLine {
        value: finger.map(|finger| Quantity::Length(finger.width)),
        ..line(SetupItem::Finger, how, why)
    }
}

fn rest_along(machine: &Machine, stanced: &Stanced) -> SetupLine {
    let stance = stanced.stance();
    let axis = machine.axis(AxisRole::RestAlong);
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

/// The relief on its own dial. A height whose dial grows downward reads a drop as plus.
fn relief_mark(axis: &Axis, stanced: &Stanced, value: Quantity) -> Option<DialMark> {
    match value {
        Quantity::Angle(angle) => Some(DialMark::swivel(axis, axis.swivel()?, angle)),
        Quantity::Length(length) => {
            let drops = stanced.relief_by != ReliefBy::WheelAbove;
            let grows_down = axis.positive().to_lowercase().contains("down");
            let travel = if drops == grows_down { length } else { -length };
            Some(DialMark::slide(axis, axis.slide()?, travel))
        }
    }
}

fn stops(cutter: &Cutter, machine: &Machine, stanced: &Stanced) -> [SetupLine; 2] {
    let stance = stanced.stance();
    let inset = stance.rest_inset.mm() * stance.face_toward.sign();
    let axis = machine.axis(AxisRole::TableTravel);
    let mark =
        |travel: Length| axis.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, travel)));
    // The leading corner lies toward the shank from the rest by the inset when the face runs to
    // the tip, so the tip must come past the rest by as much before the corner has ground it.
    let past_tip = Length::from_mm(OVERRUN_MM + inset.max(0.0));
    let to_shank = cutter.flute_length();
    let stop = |item, travel: Length, how: &str, why: &str| SetupLine {
        value: Some(Quantity::Length(travel)),
        dial: mark(travel),
        tolerance: Some(Quantity::Length(Length::from_mm(OVERRUN_MM))),
        ..line(item, how, why)
    };
    [
        stop(SetupItem::StopTip, -past_tip, "tip past the rest", "the corner must pass it"),
        stop(SetupItem::StopShank, to_shank, "from the tip at the rest", "whole flute"),
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
