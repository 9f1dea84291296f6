//! What the phrases of a machine's file mean in the machine's frame.

use geometry::Angle;
use geometry::chain::{Direction, Joint, Side as Carried};

use crate::record::{Axis, AxisRole, Grows, Hand, Motion, ReadsZero, Side};

/// A joint whose stand grows with its scale's reading, and what the scale reads where the joint
/// stands at 0.
pub(super) struct Counted {
    pub(super) joint: Joint,
    pub(super) home: Angle,
}

/// The shank's direction as a cutter of some hand is held.
pub(super) fn shank(hand: Hand) -> Direction {
    match hand {
        Hand::Right => Direction::ALONG,
        Hand::Left => -Direction::ALONG,
    }
}

/// An axis as a joint; None where its words do not say how it stands.
///
/// Where a slide reads 0 turns nothing, so that only its way must be told.
pub(super) fn counted(axis: &Axis, hand: Hand) -> Option<Counted> {
    let carried = match axis.side() {
        Side::Wheel => Carried::Wheel,
        Side::Work => Carried::Cutter,
    };
    let grows = axis.grows()?;
    match axis.motion() {
        Motion::Slide(_) => {
            let along = way(grows, carried)?;
            Some(Counted { joint: Joint::slide(carried, along), home: Angle::ZERO })
        }
        Motion::Swivel(scale) => {
            let about = turn(grows, hand)?;
            let home = home(axis.reads_zero()?, &about, hand)?;
            let joint = Joint::swivel(carried, about);
            let joint = match scale.range {
                Some((low, high)) => joint.turning_within(low - home, high - home),
                None => joint,
            };
            Some(Counted { joint, home })
        }
    }
}

/// Whether an axis carries wheel or cutter at all; the rest's own axes do not.
pub(super) const fn carries(role: AxisRole) -> bool {
    !matches!(role, AxisRole::RestHeight | AxisRole::RestAlong)
}

/// Whether an axis turns the cutter about itself only.
pub(super) const fn turns_cutter_only(role: AxisRole) -> bool {
    matches!(role, AxisRole::ReliefDial | AxisRole::SpindleDial | AxisRole::WorkSpindleIndex)
}

fn way(grows: Grows, carried: Carried) -> Option<Direction> {
    let toward_each_other = match carried {
        Carried::Wheel => -Direction::TOWARD_WHEEL,
        Carried::Cutter => Direction::TOWARD_WHEEL,
    };
    match grows {
        Grows::Up => Some(Direction::UP),
        Grows::Down => Some(-Direction::UP),
        Grows::Right => Some(Direction::ALONG),
        Grows::Left => Some(-Direction::ALONG),
        Grows::Together => Some(toward_each_other),
        Grows::Apart => Some(-toward_each_other),
        _ => None,
    }
}

/// The axis about which a growing reading turns by the right-hand rule.
fn turn(grows: Grows, hand: Hand) -> Option<Direction> {
    let collet = -shank(hand);
    match grows {
        Grows::Counterclockwise => Some(Direction::UP),
        Grows::Clockwise => Some(-Direction::UP),
        Grows::WheelEndDown => Some(Direction::ALONG),
        Grows::WheelEndUp => Some(-Direction::ALONG),
        Grows::RightSideDown => Some(Direction::TOWARD_WHEEL),
        Grows::LeftSideDown => Some(-Direction::TOWARD_WHEEL),
        Grows::ColletTowardWheel => collet.square_to(&Direction::TOWARD_WHEEL),
        Grows::ColletFromWheel => Direction::TOWARD_WHEEL.square_to(&collet),
        Grows::ColletDown => Direction::UP.square_to(&collet),
        Grows::ColletUp => collet.square_to(&Direction::UP),
        Grows::TopTowardWheel => Some(-Direction::ALONG),
        Grows::TopFromWheel => Some(Direction::ALONG),
        Grows::EdgeDown => Some(-Direction::ALONG),
        Grows::EdgeUp => Some(Direction::ALONG),
        Grows::ClockwiseFromTip => Some(shank(hand)),
        Grows::CounterclockwiseFromTip => Some(collet),
        _ => None,
    }
}

/// What a scale reads where everything stands straight.
fn home(zero: ReadsZero, about: &Direction, hand: Hand) -> Option<Angle> {
    let quarter = Angle::from_degrees(90.0);
    let collet = -shank(hand);
    match zero {
        ReadsZero::Straight => Some(Angle::ZERO),
        // Whichever way it grows, such a circle reads 90 where the wheel faces the work.
        ReadsZero::AlongTravel => Some(quarter),
        ReadsZero::ColletAtWheel => turned_from(&collet, &Direction::TOWARD_WHEEL, about),
        ReadsZero::ColletUp => turned_from(&collet, &Direction::UP, about),
        _ => None,
    }
}

/// What a circle reads where the collet lies straight, if it reads 0 where the collet has swung a
/// quarter turn to `zero_at`.
fn turned_from(collet: &Direction, zero_at: &Direction, about: &Direction) -> Option<Angle> {
    let swung = collet.square_to(zero_at)?.angle_to(about).degrees();
    let quarter = Angle::from_degrees(90.0);
    if swung < 1.0 {
        Some(-quarter)
    } else if swung > 179.0 {
        Some(quarter)
    } else {
        None
    }
}
