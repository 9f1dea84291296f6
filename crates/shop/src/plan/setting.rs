//! The set-up, line by line, in the machine's own marks.

use geometry::wheel::WheelKind;
use geometry::{Angle, Length};
use trade::ToleranceKind;

use super::dial::{DialMark, Quantity};
use super::stance::{ReliefBy, Stanced};
use crate::context::Ctx;
use crate::record::{Axis, AxisRole, Cutter, Finger, FingerKind, HeadZero, Machine};

/// What a line of the set-up sets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SetupItem {
    /// The swivel of the wheel head.
    Head,
    /// The work fixture, square to the travel.
    Squaring,
    /// The wheel's axis against the cutter's.
    WheelHeight,
    /// The finger of the tooth rest.
    Finger,
    /// The rest along the cutter.
    RestAlong,
    /// The rest across: where on the face of the tooth it bears.
    RestAcross,
    /// The rest's height.
    RestHeight,
    /// The relief setting.
    Relief,
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
            Self::RestAcross => "rest across",
            Self::RestHeight => "rest height",
            Self::Relief => "relief setting",
            Self::StopTip => "stop at the tip",
            Self::StopShank => "stop at the shank",
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
    lines.push(wheel_height(machine, stanced));
    lines.push(finger(cutter, machine, stanced));
    lines.push(rest_along(machine, stanced));
    lines.push(rest_across());
    lines.push(rest_height(machine, stanced, diameter));
    lines.push(relief(machine, stanced, diameter));
    lines.extend(stops(cutter, machine, stanced));
    lines
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
    SetupLine {
        item: SetupItem::Head,
        value: Some(Quantity::Angle(head_angle)),
        dial,
        tolerance: Some(Quantity::Angle(Angle::from_degrees(
            slack.min(0.5 * stance.lean.degrees().max(0.5)),
        ))),
        how: format!("swing it so that the corner toward the {lead_end} comes nearest the cutter"),
        why: "one corner does the cutting and the far side of the wheel stays clear".to_owned(),
    }
}

fn squaring(ctx: &Ctx<'_>, cutter: &Cutter, machine: &Machine) -> SetupLine {
    let allowed =
        ctx.tables.tolerance(ToleranceKind::BackTaper, cutter.diameter()).and_then(|row| {
            let row = &row.chosen.value;
            // Back taper is counted on the diameter; the table turns by half of it.
            Some(Angle::from_tangent(0.5 * (row.at_most? / row.over_length?)))
        });
    SetupLine {
        item: SetupItem::Squaring,
        value: Some(Quantity::Angle(Angle::ZERO)),
        dial: None,
        tolerance: allowed.map(Quantity::Angle),
        how: format!("square to the travel by indicator along {}", machine.holding().squaring()),
        why: "any error grinds taper".to_owned(),
    }
}

fn wheel_height(machine: &Machine, stanced: &Stanced) -> SetupLine {
    let above = stanced.stance().axis_above;
    let axis = machine.axis(AxisRole::WheelHeadHeight);
    let dial = axis.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, above)));
    let (how, why) = match stanced.relief_by {
        ReliefBy::WheelAbove => ("raise the wheel above centre", "this is what makes the relief"),
        ReliefBy::HeadWithRest => {
            ("lower the head, rest and all, below centre", "this is what makes the relief")
        }
        _ => ("wheel axis at the cutter's height", "the figures hold for a wheel on centre"),
    };
    SetupLine {
        item: SetupItem::WheelHeight,
        value: Some(Quantity::Length(above)),
        dial,
        tolerance: length_slack(stanced.sensitivities.per_axis_height_mm),
        how: how.to_owned(),
        why: why.to_owned(),
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
    let face = Length::from_mm(stanced.setup.wheel().face_width_mm());
    let how = finger.map_or_else(
        || "any finger that fits the flute".to_owned(),
        |finger| format!("{} ({})", finger.name, finger.kind.name()),
    );
    let why = if cutter.is_straight() {
        "its top must bear on the face of the tooth being ground".to_owned()
    } else {
        "a helical tooth bears on one point of it: dress its top to the helix, so that the point \
         stays where the rest is set"
            .to_owned()
    };
    SetupLine {
        item: SetupItem::Finger,
        value: finger.map(|finger| Quantity::Length(finger.width.min(face.max(finger.width)))),
        dial: None,
        tolerance: None,
        how,
        why,
    }
}

fn rest_along(machine: &Machine, stanced: &Stanced) -> SetupLine {
    let stance = stanced.stance();
    let axis = machine.axis(AxisRole::RestAlong);
    let dial = axis.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, stance.rest_inset)));
    SetupLine {
        item: SetupItem::RestAlong,
        value: Some(Quantity::Length(stance.rest_inset)),
        dial,
        tolerance: length_slack(stanced.sensitivities.per_inset_mm),
        how: format!(
            "in from the wheel's corner nearest the cutter, toward the {}",
            stance.face_toward.name()
        ),
        why: "on a helix the relief follows the distance from the corner to the rest".to_owned(),
    }
}

fn rest_across() -> SetupLine {
    SetupLine {
        item: SetupItem::RestAcross,
        value: None,
        dial: None,
        tolerance: None,
        how: "bearing on the face of the tooth being ground, close behind its edge".to_owned(),
        why: "rested on another tooth, the spacing errors of the cutter are ground in".to_owned(),
    }
}

/// How far below centre the edge at the rest stands.
fn below_centre(stanced: &Stanced, diameter: Length) -> Length {
    diameter * (0.5 * stanced.stance().relief_setting.sin())
}

fn rest_height(machine: &Machine, stanced: &Stanced, diameter: Length) -> SetupLine {
    let below = below_centre(stanced, diameter);
    let axis = machine.axis(AxisRole::RestHeight);
    let with_dial = |axis: &Axis| Some(DialMark::slide(axis, axis.slide()?, -below));
    let sets_relief = stanced.relief_by == ReliefBy::RestHeight;
    let why = match stanced.relief_by {
        ReliefBy::RestHeight => "this is what makes the relief",
        ReliefBy::Dial => {
            "bring the rest up to the tooth once the dial is set; a check on the dial"
        }
        ReliefBy::WheelAbove | ReliefBy::HeadWithRest => "the rest is set on centre first",
    };
    let value = match stanced.relief_by {
        ReliefBy::WheelAbove | ReliefBy::HeadWithRest => Length::ZERO,
        _ => below,
    };
    SetupLine {
        item: SetupItem::RestHeight,
        value: Some(Quantity::Length(value)),
        dial: axis.filter(|_| sets_relief).and_then(with_dial),
        tolerance: length_slack(stanced.sensitivities.per_rest_height_mm),
        how: "rest below the cutter's centre".to_owned(),
        why: why.to_owned(),
    }
}

fn relief(machine: &Machine, stanced: &Stanced, diameter: Length) -> SetupLine {
    let setting = stanced.stance().relief_setting;
    let role = match stanced.relief_by {
        ReliefBy::Dial => AxisRole::ReliefDial,
        ReliefBy::RestHeight => AxisRole::RestHeight,
        ReliefBy::WheelAbove | ReliefBy::HeadWithRest => AxisRole::WheelHeadHeight,
    };
    let mark = |axis: &Axis| match stanced.relief_by {
        ReliefBy::Dial => Some(DialMark::swivel(axis, axis.swivel()?, setting)),
        ReliefBy::RestHeight => {
            Some(DialMark::slide(axis, axis.slide()?, -below_centre(stanced, diameter)))
        }
        ReliefBy::WheelAbove | ReliefBy::HeadWithRest => {
            Some(DialMark::slide(axis, axis.slide()?, stanced.stance().axis_above))
        }
    };
    SetupLine {
        item: SetupItem::Relief,
        value: Some(Quantity::Angle(setting)),
        dial: machine.axis(role).and_then(mark),
        tolerance: angle_slack(stanced.sensitivities.per_setting_degree),
        how: "turns the tooth at the rest below centre".to_owned(),
        why: "solved on the surface that this wheel really leaves".to_owned(),
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
    let line = |item, travel: Length, how: &str, why: &str| SetupLine {
        item,
        value: Some(Quantity::Length(travel)),
        dial: mark(travel),
        tolerance: Some(Quantity::Length(Length::from_mm(OVERRUN_MM))),
        how: how.to_owned(),
        why: why.to_owned(),
    };
    [
        line(
            SetupItem::StopTip,
            -past_tip,
            "the tip this far past the rest, no more: a wide finger must still hold the tooth",
            "the corner that cuts must reach the very end of the tooth",
        ),
        line(
            SetupItem::StopShank,
            to_shank,
            "table travel counted from the tip standing at the rest",
            "the whole flute, and no step into the shank",
        ),
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
