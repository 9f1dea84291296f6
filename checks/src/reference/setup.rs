//! The plain numbers of one set-up, as both methods read them.

use std::f64::consts::FRAC_PI_2;

pub use super::random::random_setups;

/// The kind of wheel, which fixes how the body lies about the leading corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wheel {
    /// A straight cup: it grinds on the flat annulus at the end of its rim.
    Cup,
    /// A straight wheel: it grinds on its periphery.
    Disc,
}

/// One set-up of cutter, wheel and tooth rest. Lengths in millimetres, angles in radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setup {
    /// Cup or disc.
    pub wheel: Wheel,
    /// Outer diameter of the wheel.
    pub diameter_mm: f64,
    /// Cup: radial width of the annulus. Disc: width of the periphery.
    pub face_width_mm: f64,
    /// Radius of the tangent arc that rounds the leading corner; zero for a sharp one.
    pub corner_radius_mm: f64,
    /// Nominal diameter of the cutter, which fixes the lead.
    pub nominal_diameter_mm: f64,
    /// Diameter of the circle on which the edge stands after grinding.
    pub new_diameter_mm: f64,
    /// Helix angle, zero for a straight tooth; never negative.
    pub helix_rad: f64,
    /// True where hand of cut and hand of helix agree.
    pub same_hand: bool,
    /// How far the spindle is turned from square (cup) or parallel (disc) to the cutter's axis.
    pub lean_rad: f64,
    /// True where the face runs from the leading corner toward the cutter's tip.
    pub toward_tip: bool,
    /// Distance along the cutter from the virtual leading corner, into the face, to the rest.
    pub inset_mm: f64,
    /// How far the tooth at the rest is turned below centre.
    pub setting_rad: f64,
    /// Height of the wheel's axis above the cutter's axis.
    pub centre_above_mm: f64,
}

impl Setup {
    /// How many new radii from the cutter's axis both methods look for the wheel.
    pub const REACH_IN_RADII: f64 = 1.5;

    /// Radius of the new cutting circle, in millimetres.
    pub fn radius_mm(&self) -> f64 {
        self.new_diameter_mm / 2.0
    }

    /// Outer radius of the wheel, in millimetres.
    pub fn wheel_radius_mm(&self) -> f64 {
        self.diameter_mm / 2.0
    }

    /// Radius of the cup's bore, in millimetres; `None` for a disc, which is solid here.
    pub fn bore_radius_mm(&self) -> Option<f64> {
        match self.wheel {
            Wheel::Cup => Some(self.wheel_radius_mm() - self.face_width_mm),
            Wheel::Disc => None,
        }
    }

    /// Furthest radius at which the wheel is looked for, in millimetres.
    pub fn reach_mm(&self) -> f64 {
        Self::REACH_IN_RADII * self.radius_mm()
    }

    /// Turn of the tooth per millimetre of slide toward the tip, in radians, with the sign `s` of
    /// the contract: `s * 2 pi / lead`, where the lead is `pi * nominal diameter / tan(helix)`.
    pub fn twist_per_mm(&self) -> f64 {
        let size = 2.0 * self.helix_rad.tan() / self.nominal_diameter_mm;
        if self.same_hand { size } else { -size }
    }

    /// +1 where the face runs toward the tip, else -1.
    pub fn facing(&self) -> f64 {
        if self.toward_tip { 1.0 } else { -1.0 }
    }

    /// Place along the cutter of the virtual leading corner, in millimetres.
    pub fn corner_t_mm(&self) -> f64 {
        -self.facing() * self.inset_mm
    }

    /// Machine angle of the ray that shows the section's angle `theta_rad` in the slice at `t_mm`.
    pub fn machine_angle_rad(&self, theta_rad: f64, t_mm: f64) -> f64 {
        theta_rad - self.setting_rad - self.twist_per_mm() * t_mm
    }

    /// What `wheel_from_axis` adds to the distance of the virtual leading corner: nothing for a
    /// cup; for a disc the way from the corner's nearest point along `y` to the wheel's axis.
    pub fn axis_behind_corner_mm(&self) -> f64 {
        match self.wheel {
            Wheel::Cup => 0.0,
            Wheel::Disc => self.wheel_radius_mm() / self.lean_rad.cos(),
        }
    }

    /// True where the numbers describe a wheel and a cutter at all: finite, of positive size,
    /// with a face that fits on its wheel and a corner that fits on its face.
    pub fn is_sound(&self) -> bool {
        let lengths = [self.diameter_mm, self.face_width_mm, self.nominal_diameter_mm];
        let sized = lengths.iter().chain([&self.new_diameter_mm]).all(|&length| length > 0.0);
        let angles = [self.helix_rad, self.lean_rad, self.setting_rad];
        let turned = angles.iter().all(|&angle| (0.0..FRAC_PI_2).contains(&angle));
        let rounded = (0.0..=self.face_width_mm).contains(&self.corner_radius_mm)
            && self.corner_radius_mm < self.wheel_radius_mm();
        let bored = self.bore_radius_mm().is_none_or(|bore| bore > 0.0);
        sized && turned && rounded && bored && self.centre_above_mm.is_finite()
    }
}
