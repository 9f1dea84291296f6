//! What is wanted between wheel, cutter and floor.

use super::direction::Direction;
use crate::quantity::Angle;

/// A body that has directions of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Body {
    /// The machine itself: X along the travel, Y toward the wheel, Z up.
    Floor,
    /// The wheel; z out of its face.
    Wheel,
    /// The cutter; z toward its shank.
    Cutter,
}

/// A direction fixed to a body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrow {
    /// The body that carries it.
    pub body: Body,
    /// The direction in that body's own frame.
    pub direction: Direction,
}

/// Which way round two parallel arrows lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sense {
    /// Both the same way.
    Same,
    /// One against the other.
    Opposite,
    /// Either way will do.
    Either,
}

/// One wanted relation of directions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Relation {
    /// Two arrows are parallel. It takes two swivels.
    Along {
        /// One arrow.
        of: Arrow,
        /// The other.
        to: Arrow,
        /// Which way round.
        sense: Sense,
    },
    /// Two arrows stand at an angle to each other. It takes one swivel.
    AtAngle {
        /// One arrow.
        of: Arrow,
        /// The other.
        to: Arrow,
        /// The angle between them, from 0 to 180 degrees.
        angle: Angle,
    },
}

impl Arrow {
    /// An arrow of the machine.
    pub const fn of_floor(direction: Direction) -> Self {
        Self { body: Body::Floor, direction }
    }

    /// An arrow of the wheel.
    pub const fn of_wheel(direction: Direction) -> Self {
        Self { body: Body::Wheel, direction }
    }

    /// An arrow of the cutter.
    pub const fn of_cutter(direction: Direction) -> Self {
        Self { body: Body::Cutter, direction }
    }
}

impl Relation {
    /// A plane of the cutter lies in the wheel's face; `normal` points out of the cutter's metal,
    /// in the cutter's frame.
    pub const fn plane_in_face(normal: Direction) -> Self {
        Self::Along {
            of: Arrow::of_cutter(normal),
            to: Arrow::of_wheel(Direction::OWN_AXIS),
            sense: Sense::Opposite,
        }
    }

    /// A direction of the cutter lies along the table's travel, either way round.
    pub const fn along_travel(edge: Direction) -> Self {
        Self::Along {
            of: Arrow::of_cutter(edge),
            to: Arrow::of_floor(Direction::ALONG),
            sense: Sense::Either,
        }
    }

    /// A direction of the cutter lies along one of the wheel, the same way round.
    pub const fn cutter_along_wheel(cutter: Direction, wheel: Direction) -> Self {
        Self::Along { of: Arrow::of_cutter(cutter), to: Arrow::of_wheel(wheel), sense: Sense::Same }
    }

    /// The wheel's axis stands at an angle to the cutter's: out of the face against toward the
    /// shank.
    pub const fn axes_at(angle: Angle) -> Self {
        Self::AtAngle {
            of: Arrow::of_wheel(Direction::OWN_AXIS),
            to: Arrow::of_cutter(Direction::OWN_AXIS),
            angle,
        }
    }

    /// Its two arrows.
    pub const fn arrows(&self) -> (&Arrow, &Arrow) {
        match self {
            Self::Along { of, to, .. } | Self::AtAngle { of, to, .. } => (of, to),
        }
    }

    /// How far settings are from it: the angle by which the arrows miss, given the angle between
    /// them.
    pub fn miss(&self, between: Angle) -> Angle {
        let half_turn = Angle::from_degrees(180.0);
        match *self {
            Self::Along { sense: Sense::Same, .. } => between,
            Self::Along { sense: Sense::Opposite, .. } => half_turn - between,
            Self::Along { sense: Sense::Either, .. } => between.min(half_turn - between),
            Self::AtAngle { angle, .. } => (between - angle).abs(),
        }
    }
}
