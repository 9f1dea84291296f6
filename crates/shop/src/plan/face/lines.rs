//! The set-up for the face, line by line.

use geometry::{Angle, Length};

use super::grind::{FaceGrind, FacePlan};
use crate::plan::RegrindPlan;
use crate::plan::dial::{DialMark, Quantity, system_of};
use crate::plan::head::turned;
use crate::plan::held::{Held, index_line};
use crate::plan::setting::{RELIEF_SLACK_DEG, SetupItem, SetupLine, line};
use crate::record::{AxisRole, Cutter, Hand, Machine};

/// The lines that set the machine up for the face.
pub fn face_setup(plan: &RegrindPlan, face: &FacePlan) -> Vec<SetupLine> {
    let (cutter, machine) = (&plan.request.cutter, &plan.request.machine);
    let grind = &face.grind;
    let mut lines = vec![head(cutter, machine, grind), tooth(cutter)];
    lines.push(offset(machine, face));
    lines.push(height(machine, grind));
    lines.push(match Held::on(machine) {
        Held::ByPlate => index_line(cutter, machine),
        _ => rest(cutter),
    });
    lines.push(feed(machine, face));
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
    let past = if offset < Length::ZERO { "short of" } else { "past" };
    let axis = machine.axis(AxisRole::CrossFeed);
    let dial = axis.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, offset.abs())));
    SetupLine {
        value: Some(Quantity::Length(offset.abs())),
        dial,
        tolerance: Some(Quantity::Length(within)),
        ..line(
            SetupItem::FaceOffset,
            format!("flat side so far {past} centre, dial 0 on centre by the centre gauge"),
            "it makes the rake",
        )
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
        format!("on the back of the tooth being ground{along}; grind the backs true first"),
        "teeth then come alike whatever their faces were",
    )
}

/// A dial that has fewer marks than this in the whole feed does not set it; the edge is then fed by
/// the rest's screw or under an indicator (own choice, no source).
const FEED_MARKS: f64 = 5.0;

fn feed(machine: &Machine, face: &FacePlan) -> SetupLine {
    let turn = face.grind.turn;
    let roles = [AxisRole::ReliefDial, AxisRole::SpindleDial];
    let axis = roles.into_iter().find_map(|role| machine.axis(role));
    let dial = axis.and_then(|axis| {
        let scale = axis.swivel().filter(|scale| scale.finest() * FEED_MARKS <= turn)?;
        Some(DialMark::swivel(axis, scale, turn.snapped_to(scale.finest())))
    });
    let arc = face.expected.diameter * (0.5 * turn.radians());
    let system = system_of(machine.cross_feed().graduation);
    SetupLine {
        value: Some(Quantity::Angle(turn)),
        dial,
        ..line(
            SetupItem::FaceFeed,
            format!("in all from the first touch, {} at the edge", arc.show(system)),
            "the tooth is turned into the wheel, every one the same",
        )
    }
}

fn stops(machine: &Machine, cutter: &Cutter, grind: &FaceGrind) -> [SetupLine; 2] {
    let axis = machine.axis(AxisRole::TableTravel);
    let overrun = grind.setup.overrun();
    let stop = |item, travel: Length, how: &str, why: &str| SetupLine {
        value: Some(Quantity::Length(travel)),
        dial: axis.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, travel))),
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
            "from the tip the other way, or where the flute runs out",
            "the whole flute",
        ),
    ]
}
