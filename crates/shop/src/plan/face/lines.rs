//! The set-up for the face, line by line.

use geometry::{Angle, Length};

use super::grind::{FaceGrind, FacePlan};
use crate::plan::RegrindPlan;
use crate::plan::dial::{DialMark, Quantity, snapped_travel, snapped_up, system_of};
use crate::plan::head::turned;
use crate::plan::held::{Held, index_line};
use crate::plan::setting::{RELIEF_SLACK_DEG, SetupItem, SetupLine, line};
use crate::record::{Axis, AxisRole, Cutter, Grows, Hand, Machine};

/// The lines that set the machine up for the face.
pub fn face_setup(plan: &RegrindPlan, face: &FacePlan) -> Vec<SetupLine> {
    let (cutter, machine) = (&plan.request.cutter, &plan.request.machine);
    let grind = &face.grind;
    let mut lines = vec![head(cutter, machine, grind)];
    lines.extend(face.holding.iter().cloned());
    lines.push(tooth(cutter));
    lines.push(offset(machine, face));
    lines.push(height(machine, grind));
    lines.push(match Held::on(machine) {
        Held::ByPlate => index_line(cutter, machine, feed_axis(machine, grind.turn)),
        _ => rest(cutter),
    });
    lines.push(feed(cutter, machine, face));
    lines.extend(stops(machine, cutter, grind));
    lines
}

fn head(cutter: &Cutter, machine: &Machine, grind: &FaceGrind) -> SetupLine {
    let helix = grind.setup.stance().swivel.abs();
    let clockwise = cutter.helix_hand().unwrap_or(Hand::Right) == Hand::Right;
    let (reading, other, is_sure) = turned(cutter, machine, helix, clockwise);
    let axis = machine.axis(AxisRole::HeadSwivel);
    let dial = axis.and_then(|axis| Some(DialMark::swivel(axis, axis.swivel()?, reading)));
    let turn = if clockwise { "clockwise" } else { "counterclockwise" };
    let how = match (helix > Angle::ZERO, is_sure) {
        (false, _) => "flat side along the travel".to_owned(),
        (true, true) => format!("turned {turn} seen from above, the way the flutes run"),
        (true, false) => {
            format!("or {}, so that it turns {turn} seen from above", other.show())
        }
    };
    SetupLine {
        value: Some(Quantity::Angle(helix)),
        dial,
        ..line(SetupItem::Head, how, "the rim must lie along the flute")
    }
}

fn tooth(cutter: &Cutter) -> SetupLine {
    let side = if cutter.hand() == Hand::Right { "right" } else { "left" };
    line(
        SetupItem::Tooth,
        format!("up, its face to the wheel; shank to your {side} as you look at the wheel"),
        "the wheel comes down into the flute before it",
    )
}

/// Where the wheel's flat side stands: this alone makes the rake.
fn offset(machine: &Machine, face: &FacePlan) -> SetupLine {
    let offset = face.grind.setup.stance().offset;
    let edge = face.expected.diameter / 2.0;
    let within = edge * (RELIEF_SLACK_DEG.to_radians() * face.grind.rake.cos());
    let way = match side(offset) {
        Side::On => "flat side on centre by the centre gauge".to_owned(),
        Side::Past => {
            "flat side so far past centre: dial 0 on centre by the centre gauge, then feed on"
                .to_owned()
        }
        Side::ShortOf => {
            "flat side so far short of centre: dial 0 on centre by the centre gauge, then back off"
                .to_owned()
        }
    };
    let axis = machine.axis(AxisRole::CrossFeed);
    let dial = axis.and_then(|axis| {
        let scale = axis.slide()?;
        // Past centre is where wheel and work have come nearer to each other.
        let travel = match axis.grows() {
            Some(Grows::Together) => offset,
            Some(Grows::Apart) => -offset,
            _ => offset.abs(),
        };
        Some(DialMark::slide(axis, scale, snapped_travel(scale, travel)))
    });
    SetupLine {
        value: Some(Quantity::Length(offset.abs())),
        dial,
        tolerance: Some(Quantity::Length(within)),
        ..line(SetupItem::FaceOffset, way, "it makes the rake")
    }
}

/// On which side of centre the flat side of the wheel stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    On,
    Past,
    ShortOf,
}

/// No hand sets an offset to less than this (own choice, no source).
const ON_CENTRE_UM: f64 = 1.0;

/// The side of an offset.
pub(super) fn side(offset: Length) -> Side {
    if offset.abs() < Length::from_um(ON_CENTRE_UM) {
        Side::On
    } else if offset < Length::ZERO {
        Side::ShortOf
    } else {
        Side::Past
    }
}

fn height(machine: &Machine, grind: &FaceGrind) -> SetupLine {
    let above = grind.setup.axis_above();
    let axis = machine.axis(AxisRole::WheelHeadHeight);
    let dial = axis.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, above)));
    SetupLine {
        value: Some(Quantity::Length(above)),
        dial,
        ..line(
            SetupItem::WheelHeight,
            "wheel axis above the cutter's: the rim just clears the root",
            "deeper it cuts the root, higher it leaves a step",
        )
    }
}

fn rest(cutter: &Cutter) -> SetupLine {
    let along = if cutter.is_straight() { "" } else { ", before the lowest of the rim" };
    line(
        SetupItem::Finger,
        format!(
            "on the back of the tooth being ground{along}; grind those backs true first, only \
             where the finger bears: the formed surface behind the edge is never ground"
        ),
        "teeth then come alike whatever their faces were",
    )
}

/// A dial that has fewer marks than this in the whole feed does not set it; the edge is then fed by
/// the rest's screw or under an indicator (own choice, no source).
const FEED_MARKS: f64 = 5.0;

/// The dial that turns the tooth through a whole feed; none where none is fine enough.
pub(super) fn feed_axis(machine: &Machine, turn: Angle) -> Option<&Axis> {
    let roles = [AxisRole::ReliefDial, AxisRole::SpindleDial];
    let axis = roles.into_iter().find_map(|role| machine.axis(role));
    let is_fine = |axis: &&Axis| {
        axis.swivel().is_some_and(|scale| scale.finest() * FEED_MARKS <= turn * (1.0 + 1e-9))
    };
    axis.filter(is_fine)
}

/// What that dial reads when the tooth, which stands up with its face to the wheel, has been turned
/// so far toward the wheel.
pub(super) fn turn_mark(axis: &Axis, hand: Hand, turned: Angle) -> Option<DialMark> {
    let sign = if grows_into(axis, hand) == Some(false) { -1.0 } else { 1.0 };
    Some(DialMark::swivel(axis, axis.swivel()?, turned * sign))
}

/// Whether a dial's reading grows as a tooth that stands up turns toward the wheel; none where its
/// words do not say. An edge that stands level before the wheel goes down by the same turn.
fn grows_into(axis: &Axis, hand: Hand) -> Option<bool> {
    match axis.grows()? {
        Grows::EdgeDown => Some(true),
        Grows::EdgeUp => Some(false),
        Grows::ClockwiseFromTip => Some(hand == Hand::Left),
        Grows::CounterclockwiseFromTip => Some(hand == Hand::Right),
        _ => None,
    }
}

fn feed(cutter: &Cutter, machine: &Machine, face: &FacePlan) -> SetupLine {
    let turn = face.grind.turn;
    let axis = feed_axis(machine, turn);
    let arc = face.expected.diameter * (0.5 * turn.radians());
    let system = system_of(machine.cross_feed().graduation);
    let way = match axis.map(|axis| grows_into(axis, cutter.hand())) {
        Some(Some(true)) => "; the reading grows",
        Some(Some(false)) => "; the reading falls",
        Some(None) => "",
        None if Held::on(machine).has_rest() => "; by the rest's screw, or under an indicator",
        None => "; no hole is fine enough: turn the cutter in its collet, under an indicator",
    };
    let seen = if cutter.hand() == Hand::Right { "counterclockwise" } else { "clockwise" };
    SetupLine {
        value: Some(Quantity::Angle(turn)),
        dial: axis.and_then(|axis| turn_mark(axis, cutter.hand(), turn)),
        ..line(
            SetupItem::FaceFeed,
            format!(
                "in all from the first touch, {} at the edge, top toward the wheel: {seen} seen \
                 from the tip{way}",
                arc.show(system)
            ),
            "the tooth is turned into the wheel, every one the same",
        )
    }
}

fn stops(machine: &Machine, cutter: &Cutter, grind: &FaceGrind) -> [SetupLine; 2] {
    let axis = machine.axis(AxisRole::TableTravel);
    let overrun = grind.setup.overrun();
    let stop = |item, travel: Length, how: &str, why: &str| SetupLine {
        value: Some(Quantity::Length(travel)),
        dial: axis.and_then(|axis| {
            let scale = axis.slide()?;
            Some(DialMark::slide(axis, scale, snapped_up(scale, travel)))
        }),
        ..line(item, how, why)
    };
    [
        stop(
            SetupItem::StopTip,
            overrun,
            "the wheel's middle so far past the tip",
            "the rim is round: nearer it leaves the edge unground",
        ),
        stop(
            SetupItem::StopShank,
            cutter.flute_length(),
            &format!(
                "from the tip toward the shank, or where the flute runs out; the rim reaches {} \
                 further: it must clear shank, arbor and head there, tried by hand",
                overrun.show(system_of(machine.cross_feed().graduation))
            ),
            "the whole flute",
        ),
    ]
}
