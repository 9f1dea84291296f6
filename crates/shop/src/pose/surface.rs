//! Surfaces of a tooth that a wheel's face is to leave, by the angles a hand asks for.

use geometry::Angle;
use geometry::chain::{Arrow, Body, Direction, Relation, Settings};

use super::chain::MachineChain;
use crate::record::Hand;

/// What is ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Surface {
    /// The relief of an end tooth. The dish is the angle by which its edge falls from the corner
    /// to the centre.
    End {
        /// Positive where the centre is lower.
        dish: Angle,
    },
    /// The relief of a chamfered corner.
    Corner {
        /// Between its edge and the end, from 0 to 90 degrees.
        chamfer: Angle,
    },
    /// The relief of a straight tooth on the periphery.
    Periphery {
        /// Between its edge and the cutter's axis; positive where the cutter is smaller at its tip.
        taper: Angle,
    },
}

/// A surface with its relief: what a hand asks for, and what settings really give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SurfaceAngles {
    /// What is ground.
    pub surface: Surface,
    /// The relief, measured square to the edge.
    pub relief: Angle,
}

impl Surface {
    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::End { .. } => "end",
            Self::Corner { .. } => "corner",
            Self::Periphery { .. } => "periphery",
        }
    }

    /// What its own angle is called.
    pub const fn angle_name(self) -> &'static str {
        match self {
            Self::End { .. } => "dish",
            Self::Corner { .. } => "chamfer",
            Self::Periphery { .. } => "taper",
        }
    }

    /// Its own angle.
    pub const fn angle(self) -> Angle {
        match self {
            Self::End { dish } => dish,
            Self::Corner { chamfer } => chamfer,
            Self::Periphery { taper } => taper,
        }
    }

    /// The slope of its edge: outward along the radius, how far it climbs toward the shank.
    fn slope(self) -> Angle {
        match self {
            Self::End { dish } => -dish,
            Self::Corner { chamfer } => chamfer,
            Self::Periphery { taper } => Angle::from_degrees(90.0) - taper,
        }
    }

    /// The same surface with its edge at another slope.
    fn with_slope(self, slope: Angle) -> Self {
        match self {
            Self::End { .. } => Self::End { dish: -slope },
            Self::Corner { .. } => Self::Corner { chamfer: slope },
            Self::Periphery { .. } => Self::Periphery { taper: Angle::from_degrees(90.0) - slope },
        }
    }
}

impl SurfaceAngles {
    /// The direction out of the metal, in the cutter's frame with the tooth's edge in the plane of
    /// x and z.
    ///
    /// **Source** \[own-derivation\] (sin s cos a, ±sin a, −cos s cos a), with s the edge's slope
    /// and a the relief; the sign is that of the heel. **Departs** from tables that measure the
    /// relief of an end tooth along the axis by the cosine of the dish in its tangent. **Error**
    /// rounding. **Domain** any angles.
    pub fn normal(&self, hand: Hand) -> Option<Direction> {
        let (slope, relief) = (self.surface.slope(), self.relief);
        Direction::new(
            slope.sin() * relief.cos(),
            heel(hand) * relief.sin(),
            -slope.cos() * relief.cos(),
        )
    }

    /// The same kind of surface with the angles that a direction out of the metal has.
    ///
    /// **Source** \[own-derivation\] the inverse of [`SurfaceAngles::normal`]. **Departs** nowhere.
    /// **Error** rounding. **Domain** any direction; the slope of a surface that looks along the
    /// cut is 0.
    pub fn of_normal(&self, normal: &Direction, hand: Hand) -> Self {
        let [x, y, z] = normal.parts();
        let relief = Angle::from_radians((heel(hand) * y).atan2(x.hypot(z)));
        let slope = Angle::from_radians(x.atan2(-z));
        Self { surface: self.surface.with_slope(slope), relief }
    }

    /// What the wheel's face leaves with these settings.
    pub fn as_set(&self, chain: &MachineChain, settings: &Settings) -> Self {
        let face = chain.linkage().relative(Body::Wheel, Body::Cutter, settings);
        self.of_normal(&-face.direction(&Direction::OWN_AXIS), chain.hand())
    }

    /// The relations that settings must meet so that the wheel's face leaves it: the surface lies
    /// in the face, and the face along the travel where the work is carried past.
    pub fn relations(&self, hand: Hand, carried_past: bool) -> Vec<Relation> {
        let in_face = self.normal(hand).map(Relation::plane_in_face);
        let square = Relation::AtAngle {
            of: Arrow::of_wheel(Direction::OWN_AXIS),
            to: Arrow::of_floor(Direction::ALONG),
            angle: Angle::from_degrees(90.0),
        };
        in_face.into_iter().chain(carried_past.then_some(square)).collect()
    }
}

/// +1 where the heel lies toward the cutter's own +y.
const fn heel(hand: Hand) -> f64 {
    match hand {
        Hand::Right => 1.0,
        Hand::Left => -1.0,
    }
}
