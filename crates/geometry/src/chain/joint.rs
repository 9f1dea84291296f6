//! Swivels and slides, and where they stand.

use nalgebra::{Isometry3, Point3, Translation3, Unit, UnitQuaternion, Vector3};

use super::direction::Direction;
use crate::quantity::{Angle, Length};

/// What a joint carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// The wheel.
    Wheel,
    /// The cutter.
    Cutter,
}

/// How a joint moves what it carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum JointKind {
    /// It turns about an axis, by the right-hand rule.
    Swivel {
        /// The axis, as it lies when every joint stands at 0.
        axis: Direction,
        /// A point of the axis, in millimetres in the machine's frame.
        through: Point3<f64>,
    },
    /// It moves along a direction.
    Slide {
        /// The direction, as it lies when every joint stands at 0.
        along: Direction,
    },
}

/// One swivel or slide of a machine, with the ends of its way where they are known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    side: Side,
    kind: JointKind,
    /// In radians or millimetres.
    ends: Option<(f64, f64)>,
}

/// Where every joint of a linkage stands, in its order; radians for a swivel, millimetres for a
/// slide.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    stands: Vec<f64>,
}

impl Joint {
    /// A swivel whose axis passes the origin; where it passes decides no direction.
    pub const fn swivel(side: Side, axis: Direction) -> Self {
        let through = Point3::new(0.0, 0.0, 0.0);
        Self { side, kind: JointKind::Swivel { axis, through }, ends: None }
    }

    /// A slide.
    pub const fn slide(side: Side, along: Direction) -> Self {
        Self { side, kind: JointKind::Slide { along }, ends: None }
    }

    /// The same swivel about an axis through a point; a slide stays as it is.
    pub fn through(mut self, [x, y, z]: [Length; 3]) -> Self {
        if let JointKind::Swivel { through, .. } = &mut self.kind {
            *through = Point3::new(x.mm(), y.mm(), z.mm());
        }
        self
    }

    /// The same swivel between two stops; a slide stays as it is.
    pub fn turning_within(mut self, low: Angle, high: Angle) -> Self {
        if self.turns() {
            self.ends = Some((low.radians(), high.radians()));
        }
        self
    }

    /// The same slide between two stops; a swivel stays as it is.
    pub fn moving_within(mut self, low: Length, high: Length) -> Self {
        if !self.turns() {
            self.ends = Some((low.mm(), high.mm()));
        }
        self
    }

    /// What it carries.
    pub const fn side(&self) -> Side {
        self.side
    }

    /// How it moves.
    pub const fn kind(&self) -> &JointKind {
        &self.kind
    }

    /// Whether it is a swivel.
    pub const fn turns(&self) -> bool {
        matches!(self.kind, JointKind::Swivel { .. })
    }

    /// Lowest and highest stand of a swivel that has stops.
    pub fn turn_ends(&self) -> Option<(Angle, Angle)> {
        let ends = self.ends.filter(|_| self.turns());
        ends.map(|(low, high)| (Angle::from_radians(low), Angle::from_radians(high)))
    }

    /// Lowest and highest stand of a slide that has stops.
    pub fn way_ends(&self) -> Option<(Length, Length)> {
        let ends = self.ends.filter(|_| !self.turns());
        ends.map(|(low, high)| (Length::from_mm(low), Length::from_mm(high)))
    }

    /// Its axis, if it turns.
    pub(super) fn axis(&self) -> Option<Vector3<f64>> {
        match self.kind {
            JointKind::Swivel { axis, .. } => Some(axis.vector()),
            JointKind::Slide { .. } => None,
        }
    }

    /// The motion that it makes when it goes from 0 to a stand.
    pub(super) fn motion(&self, stand: f64) -> Isometry3<f64> {
        match self.kind {
            JointKind::Swivel { axis, through } => {
                let axis = Unit::new_unchecked(axis.vector());
                let turn = UnitQuaternion::from_axis_angle(&axis, stand);
                Isometry3::rotation_wrt_point(turn, through)
            }
            JointKind::Slide { along } => Isometry3::from_parts(
                Translation3::from(along.vector() * stand),
                UnitQuaternion::identity(),
            ),
        }
    }
}

impl Settings {
    pub(super) fn at_home(count: usize) -> Self {
        Self { stands: vec![0.0; count] }
    }

    /// The angle at which a swivel stands; 0 where there is no such joint.
    pub fn turn(&self, joint: usize) -> Angle {
        Angle::from_radians(self.stand(joint))
    }

    /// How far along its way a slide stands; 0 where there is no such joint.
    pub fn way(&self, joint: usize) -> Length {
        Length::from_mm(self.stand(joint))
    }

    /// The same settings with a swivel at another angle.
    pub fn with_turn(self, joint: usize, turn: Angle) -> Self {
        self.with_stand(joint, turn.radians())
    }

    /// The same settings with a slide elsewhere.
    pub fn with_way(self, joint: usize, way: Length) -> Self {
        self.with_stand(joint, way.mm())
    }

    pub(super) fn stand(&self, joint: usize) -> f64 {
        self.stands.get(joint).copied().unwrap_or(0.0)
    }

    pub(super) fn with_stand(mut self, joint: usize, stand: f64) -> Self {
        if let Some(place) = self.stands.get_mut(joint) {
            *place = stand;
        }
        self
    }
}
