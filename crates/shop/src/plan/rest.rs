//! The tooth rest: its finger, its place, and how far the table may travel past it.

use geometry::Length;
use geometry::wheel::FaceToward;

use super::dial::{DialMark, Quantity, snapped_up, system_of};
use super::held::Held;
use super::setting::{SetupItem, SetupLine, length_slack, line};
use super::stance::{ReliefBy, Stanced};
use crate::record::{Axis, AxisRole, Cutter, Finger, FingerKind, Machine, RestStand};

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

/// The finger for a stance that is not worked out yet.
pub(crate) fn finger_for<'a>(
    cutter: &Cutter,
    machine: &'a Machine,
    face_toward: FaceToward,
    rest_inset: Length,
) -> Option<&'a Finger> {
    choose_finger(cutter, machine, past_tip_of(face_toward, rest_inset))
}

pub(super) fn finger(cutter: &Cutter, machine: &Machine, stanced: &Stanced) -> SetupLine {
    let past = past_tip(Held::on(machine), stanced);
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

pub(super) fn rest_along(machine: &Machine, stanced: &Stanced) -> SetupLine {
    let stance = stanced.stance();
    if Held::on(machine) == Held::RestWithWork {
        let how = "under the middle of the tooth, where the wheel does not come";
        return line(SetupItem::RestAlong, how, "a straight tooth may rest anywhere");
    }
    let axis = fine_rest_along(machine);
    let dial = axis.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, stance.rest_inset)));
    SetupLine {
        value: Some(Quantity::Length(stance.rest_inset)),
        dial,
        tolerance: length_slack(stanced.sensitivities.per_inset_mm),
        ..line(
            SetupItem::RestAlong,
            format!(
                "from the leading corner ({}) toward the {}",
                leading_side(stance.face_toward),
                stance.face_toward.name()
            ),
            "relief follows it",
        )
    }
}

/// The side on which the leading corner lies: away from which the face runs.
const fn leading_side(toward: FaceToward) -> &'static str {
    match toward {
        FaceToward::Tip => "shank's side",
        FaceToward::Shank => "tip's side",
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
pub(super) fn below_centre(stanced: &Stanced, diameter: Length) -> Length {
    diameter * (0.5 * stanced.stance().relief_setting.sin())
}

pub(super) fn rest_height(machine: &Machine, stanced: &Stanced, diameter: Length) -> SetupLine {
    let (value, how, why) = match stanced.relief_by {
        ReliefBy::Dial => {
            (below_centre(stanced, diameter), "below centre, up to the tooth", "checks the dial")
        }
        _ => (Length::ZERO, "on centre first", "relief counts from it"),
    };
    let how = match machine.holding().centres().height {
        Some(height) if machine.rest().stands_on() == RestStand::Table => {
            let system = system_of(machine.cross_feed().graduation);
            format!("{how}, its top {} above the table", (height - value).show(system))
        }
        _ => how.to_owned(),
    };
    SetupLine {
        value: Some(Quantity::Length(value)),
        tolerance: length_slack(stanced.sensitivities.per_rest_height_mm),
        ..line(SetupItem::RestHeight, how, why)
    }
}

/// How far past the tip the stroke runs, so that the corner is ground too (own choice, no source).
const OVERRUN_MM: f64 = 0.1;

/// How far the tip must pass the rest before the corner that cuts has passed the tip; where the
/// rest travels along, or there is none, the tip is counted from that corner itself.
pub(super) fn past_tip(held: Held, stanced: &Stanced) -> Length {
    if !held.lets_turn() {
        return Length::from_mm(OVERRUN_MM);
    }
    let stance = stanced.stance();
    past_tip_of(stance.face_toward, stance.rest_inset)
}

fn past_tip_of(face_toward: FaceToward, rest_inset: Length) -> Length {
    // The leading corner lies toward the shank from the rest by the inset when the face runs to
    // the tip; a face that runs to the shank reaches beyond the rest by itself.
    let behind = match face_toward {
        FaceToward::Tip => rest_inset,
        FaceToward::Shank => Length::ZERO,
    };
    behind + Length::from_mm(OVERRUN_MM)
}

/// The stops, counted on the table's own scale from where the tip stands at the rest, each moved
/// out to the next mark.
pub(super) fn stops(machine: &Machine, stanced: &Stanced, flute: Length) -> [SetupLine; 2] {
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
    let held = Held::on(machine);
    let (how, why) = if held.lets_turn() {
        ("counted from the tip at the rest, tip past it", "the corner must pass it")
    } else {
        ("counted from the tip at the wheel's leading corner, tip past it", "the corner passes it")
    };
    [
        stop(SetupItem::StopTip, past_tip(held, stanced), how, why),
        stop(
            SetupItem::StopShank,
            flute,
            "from the tip at the rest toward the shank",
            "the whole flute",
        ),
    ]
}
