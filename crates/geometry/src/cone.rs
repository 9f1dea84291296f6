//! Closed forms of a taper ground along its side.

use crate::quantity::Angle;

/// Relief square to the side of a cone, from the relief square to its axis.
///
/// **Source** \[own-derivation\] a plane through the side's line meets the plane square to the axis
/// at tan a / cos τ where it meets the plane square to the line at tan a. **Departs** nowhere.
/// **Error** rounding. **Domain** straight teeth, taper τ of a side below 90 degrees.
pub fn normal_relief(relief: Angle, taper: Angle) -> Angle {
    Angle::from_tangent(relief.tan() * taper.cos())
}

/// Swivel that makes a taper under a flat face, where the tooth slides over a rest of one height.
///
/// **Source** \[own-derivation\] R² = h² + Y² with h the rest's height below centre, so that dR =
/// cos(setting) dY. **Departs** nowhere at one place; along the side the setting falls, and the
/// side comes out as a hyperbola. **Error** rounding at that place. **Domain** setting below 90
/// degrees.
pub fn swivel_over_rest(taper: Angle, setting: Angle) -> Angle {
    Angle::from_tangent(taper.tan() / setting.cos())
}

/// Swivel that makes a taper under a flat face, where the tooth does not turn on its way.
///
/// **Source** \[own-derivation\] the edge is a line of the cone turned below centre by the setting,
/// so that dY = cos(setting) dR. **Departs** nowhere. **Error** rounding. **Domain** straight
/// teeth.
pub fn swivel_held(taper: Angle, setting: Angle) -> Angle {
    Angle::from_tangent(taper.tan() * setting.cos())
}
