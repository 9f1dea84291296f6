//! All joints of a machine, and where they put wheel and cutter.

use nalgebra::Isometry3;

use super::direction::Direction;
use super::joint::{Joint, Settings, Side};
use super::placement::Placement;
use super::relation::{Arrow, Body, Relation};
use crate::quantity::{Angle, Length};

/// The joints of a machine from the floor outward, those of both sides in one list, and where
/// wheel and cutter are when every joint stands at 0.
#[derive(Clone, Debug, PartialEq)]
pub struct Linkage {
    joints: Vec<Joint>,
    wheel: Placement,
    cutter: Placement,
}

impl Linkage {
    /// A machine of these joints, with wheel and cutter placed for all joints at 0.
    pub const fn new(joints: Vec<Joint>, wheel: Placement, cutter: Placement) -> Self {
        Self { joints, wheel, cutter }
    }

    /// A machine whose wheel faces the cutter squarely, with the cutter along the travel and its
    /// shank to the right, as a right-hand cutter is held; both at the origin.
    pub fn facing(joints: Vec<Joint>) -> Self {
        Self::new(joints, facing_wheel(), level_cutter(Direction::ALONG))
    }

    /// The same for a left-hand cutter, whose shank lies to the left.
    pub fn facing_left_hand(joints: Vec<Joint>) -> Self {
        Self::new(joints, facing_wheel(), level_cutter(-Direction::ALONG))
    }

    /// The joints, in order.
    pub fn joints(&self) -> &[Joint] {
        &self.joints
    }

    /// Every joint at 0.
    pub fn home(&self) -> Settings {
        Settings::at_home(self.joints.len())
    }

    /// Where a body is in the machine's frame.
    pub fn placement(&self, body: Body, settings: &Settings) -> Placement {
        let Some((side, home)) = self.of_body(body) else {
            return Placement::of(Isometry3::identity());
        };
        let carried = |motion, (index, joint): (usize, &Joint)| {
            if joint.side() == side { motion * joint.motion(settings.stand(index)) } else { motion }
        };
        let motion = self.joints.iter().enumerate().fold(Isometry3::identity(), carried);
        Placement::of(motion * home.motion)
    }

    /// Where one body is in the frame of another.
    pub fn relative(&self, body: Body, seen_from: Body, settings: &Settings) -> Placement {
        let frame = self.placement(seen_from, settings).inverse();
        frame.of_inner(&self.placement(body, settings))
    }

    /// The angle by which settings miss a relation.
    pub fn miss(&self, relation: &Relation, settings: &Settings) -> Angle {
        let (one, other) = relation.arrows();
        let seen = |arrow: &Arrow| self.placement(arrow.body, settings).direction(&arrow.direction);
        relation.miss(seen(one).angle_to(&seen(other)))
    }

    /// The side that carries a body and where it is at home; none for the floor.
    pub(super) const fn of_body(&self, body: Body) -> Option<(Side, &Placement)> {
        match body {
            Body::Floor => None,
            Body::Wheel => Some((Side::Wheel, &self.wheel)),
            Body::Cutter => Some((Side::Cutter, &self.cutter)),
        }
    }
}

/// A wheel at the origin whose face looks at the cutter, its own y up.
fn facing_wheel() -> Placement {
    placed(Direction::ALONG, -Direction::TOWARD_WHEEL)
}

/// A cutter at the origin with its shank in a direction along the travel, its own x toward the
/// wheel.
fn level_cutter(shank: Direction) -> Placement {
    placed(Direction::TOWARD_WHEEL, shank)
}

fn placed(x: Direction, z: Direction) -> Placement {
    // Both callers give axes that are square to each other.
    Placement::of_axes(x, z, [Length::ZERO; 3])
        .unwrap_or_else(|| Placement::of(Isometry3::identity()))
}
