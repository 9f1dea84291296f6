//! The motion of a tooth on its rest: a screw.

use nalgebra::Vector3;

use crate::quantity::{Angle, Length};

/// The hand of a cut or of a helix.
///
/// A right-hand cutter turns clockwise seen from the spindle that drives it. A right-hand helix
/// climbs like an ordinary screw thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Hand {
    /// Right hand.
    Right,
    /// Left hand.
    Left,
}

impl std::fmt::Display for Hand {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name())
    }
}

impl Hand {
    /// Both hands.
    pub const ALL: [Self; 2] = [Self::Right, Self::Left];

    /// The word used in files and on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Left => "left",
        }
    }
}

/// How the flutes run round a cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flutes {
    /// Nominal diameter; it fixes the lead.
    pub nominal_diameter: Length,
    /// Number of teeth, evenly spaced.
    pub teeth: u32,
    /// Hand of cut.
    pub hand: Hand,
    /// Helix angle at the nominal diameter; zero for straight teeth.
    pub helix: Angle,
    /// Hand of the helix.
    pub helix_hand: Hand,
}

impl Flutes {
    /// Lead of the helix, always positive; None for straight teeth.
    ///
    /// **Source** \[machinerys-handbook\] lead of a helix: π D / tan H. **Departs** nowhere.
    /// **Error** rounding only. **Domain** 0 < H < 90 degrees.
    pub fn lead(&self) -> Option<Length> {
        let tangent = self.helix.tan();
        (tangent > 0.0).then(|| self.nominal_diameter * std::f64::consts::PI / tangent)
    }

    /// Angle from one tooth to the next.
    pub fn pitch_rad(&self) -> f64 {
        std::f64::consts::TAU / f64::from(self.teeth)
    }

    /// Twist heelward for each millimetre toward the tip: positive where hand of cut and hand of
    /// helix agree.
    pub fn twist_rad_per_mm(&self) -> f64 {
        let sign = if self.hand == self.helix_hand { 1.0 } else { -1.0 };
        sign * 2.0 * self.helix.tan() / self.nominal_diameter.mm()
    }
}

/// The screw motion of a cutter whose tooth rides on a rest.
///
/// A point of the machine at t (toward the tip) and angle μ (heelward from the y axis) stands in
/// the tooth's own section at the heelward angle θ = μ + setting + twist · t. The edge at the rest
/// has θ = 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screw {
    /// Twist heelward per millimetre toward the tip.
    pub twist_rad_per_mm: f64,
    /// How far the edge at the rest stands below centre.
    pub setting_rad: f64,
}

impl Screw {
    /// Heelward angle of a machine point in the tooth's section.
    pub fn heelward_rad(&self, point: &Vector3<f64>) -> f64 {
        point.z.atan2(point.y) + self.setting_rad + self.twist_rad_per_mm * point.x
    }

    /// The way along which a machine point keeps its place in the tooth's section: the tangent of
    /// the screw through it, per millimetre of t.
    pub fn direction(&self, point: &Vector3<f64>) -> Vector3<f64> {
        let twist = self.twist_rad_per_mm;
        Vector3::new(1.0, twist * point.z, -twist * point.y)
    }
}
