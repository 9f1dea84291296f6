//! The head angle, on the side on which the head must lean.

use geometry::Angle;
use geometry::wheel::{FaceToward, WheelKind};

use super::dial::{DialMark, Quantity};
use super::setting::{SetupItem, SetupLine, line, slack};
use super::stance::Stanced;
use crate::record::{Axis, AxisRole, Cutter, Grows, Hand, HeadZero, Machine};

pub(super) fn head(cutter: &Cutter, machine: &Machine, stanced: &Stanced) -> SetupLine {
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
    let leans_clockwise = (cutter.hand() == Hand::Right) == (toward == FaceToward::Tip);
    Some(grows_clockwise(axis, cutter.hand())? == leans_clockwise)
}

/// Whether a swivel's reading grows as it turns clockwise, seen from above, with a cutter of some
/// hand in the work head; None where the file does not say it. Words that are none of the list's
/// are looked through for the turn they speak of, as papers from before it had them.
pub(crate) fn grows_clockwise(axis: &Axis, hand: Hand) -> Option<bool> {
    match axis.grows() {
        Some(Grows::Clockwise) => return Some(true),
        Some(Grows::Counterclockwise) => return Some(false),
        Some(Grows::ColletTowardWheel) => return Some(hand == Hand::Right),
        Some(Grows::ColletFromWheel) => return Some(hand == Hand::Left),
        _ => {}
    }
    let words = axis.positive().to_lowercase();
    let counter = ["counterclockwise", "counter-clockwise", "anticlockwise", "anti-clockwise"];
    if counter.iter().any(|word| words.contains(word)) {
        return Some(false);
    }
    words.contains("clockwise").then_some(true)
}
