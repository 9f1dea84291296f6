//! The head angle, on the side on which the head must lean.

use geometry::Angle;
use geometry::wheel::{FaceToward, WheelKind};

use super::dial::{DialMark, Quantity};
use super::setting::{SetupItem, SetupLine, beyond_scale, line, slack};
use super::stance::Stanced;
use crate::error::ShopError;
use crate::record::{Axis, AxisRole, Cutter, Grows, Hand, HeadZero, Machine};

/// What the head reads in a stance, and what it would read leaning to the other side.
struct HeadReading {
    reading: Angle,
    other: Angle,
    /// Whether the reading grows with the lean; none where the machine's file does not say.
    grows: Option<bool>,
}

fn reading(
    cutter: &Cutter,
    machine: &Machine,
    kind: WheelKind,
    toward: FaceToward,
    lean: Angle,
) -> HeadReading {
    let axis = machine.axis(AxisRole::HeadSwivel);
    let grows = axis.and_then(|axis| grows_with_lean(axis, cutter, toward));
    let sign = if grows == Some(true) { 1.0 } else { -1.0 };
    let upright = upright(machine, kind);
    HeadReading { reading: upright + lean * sign, other: upright - lean * sign, grows }
}

/// What the head reads where the flat side of a cup or dish is turned from along the travel, seen
/// from above; what it would read turned the other way; and whether the file says which it is.
pub(super) fn turned(
    cutter: &Cutter,
    machine: &Machine,
    by: Angle,
    clockwise: bool,
) -> (Angle, Angle, bool) {
    // A lean turns the head clockwise where hand and direction agree.
    let toward = if (cutter.hand() == Hand::Right) == clockwise {
        FaceToward::Tip
    } else {
        FaceToward::Shank
    };
    let HeadReading { reading, other, grows } =
        reading(cutter, machine, WheelKind::Cup, toward, by);
    (reading, other, grows.is_some())
}

/// What the head reads where a wheel of this kind does not lean.
fn upright(machine: &Machine, kind: WheelKind) -> Angle {
    match (machine.head_zero(), kind) {
        (HeadZero::ParallelToTravel, WheelKind::Cup)
        | (HeadZero::SquareToTravel, WheelKind::Disc) => Angle::from_degrees(90.0),
        _ => Angle::ZERO,
    }
}

/// Refuses a lean at which the head would stand beyond the end of its scale.
pub(super) fn check_head(
    cutter: &Cutter,
    machine: &Machine,
    kind: WheelKind,
    toward: FaceToward,
    lean: Angle,
) -> Result<(), ShopError> {
    on_scale(machine, &[reading(cutter, machine, kind, toward, lean).reading])
}

/// Refuses a kind of wheel for which the head can stand on its scale at neither side of a lean.
pub(super) fn check_head_of(
    machine: &Machine,
    kind: WheelKind,
    lean: Angle,
) -> Result<(), ShopError> {
    let upright = upright(machine, kind);
    on_scale(machine, &[upright - lean, upright + lean])
}

/// Refuses readings of which none is on the head's scale.
fn on_scale(machine: &Machine, readings: &[Angle]) -> Result<(), ShopError> {
    let axis = machine.axis(AxisRole::HeadSwivel);
    let Some((axis, scale)) = axis.and_then(|axis| Some((axis, axis.swivel()?))) else {
        return Ok(());
    };
    let is_on = |reading: &Angle| {
        scale.range.is_none_or(|(low, high)| {
            let slack = Angle::from_degrees(ROUNDING_DEG);
            (low - slack..=high + slack).contains(reading)
        })
    };
    match readings {
        readings if readings.iter().any(is_on) => Ok(()),
        [first, ..] => Err(beyond_scale(
            SetupItem::Head,
            &super::setting::shown(&DialMark::swivel(axis, scale, *first)),
            axis.name(),
        )),
        [] => Ok(()),
    }
}

/// Room for the rounding of sums of degrees.
const ROUNDING_DEG: f64 = 1e-9;

pub(super) fn head(cutter: &Cutter, machine: &Machine, stanced: &Stanced) -> SetupLine {
    let stance = stanced.stance();
    let square = Angle::from_degrees(90.0);
    let kind = stanced.setup.wheel().kind();
    let head_angle = match kind {
        WheelKind::Cup => square - stance.lean,
        WheelKind::Disc => stance.lean,
    };
    let axis = machine.axis(AxisRole::HeadSwivel);
    let HeadReading { reading, other, grows } =
        reading(cutter, machine, kind, stance.face_toward, stance.lean);
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
