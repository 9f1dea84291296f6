//! Closed forms of a taper ground along its side.

use crate::quantity::Angle;

/// Relief square to the side of a cone, from the relief square to its axis.
///
/// **Source** \[own-derivation\] the plane that touches the relief at the edge holds the edge's own
/// direction (sin τ, tan H cos τ, cos τ), outward, heelward and along the axis toward the wide end,
/// and the way back from it, (−tan a, 1, 0); the plane square to the side's line meets it at tan a
/// cos τ / (1 + tan H tan a sin τ cos τ). **Departs** nowhere at the edge itself. **Error**
/// rounding. **Domain** taper τ of a side below 90 degrees; helix H at the place, square to the
/// axis, positive where the edge runs heelward toward the wide end, that is where hand of cut and
/// hand of helix agree and the cutter widens to its shank; nothing for straight teeth.
pub fn normal_relief(relief: Angle, taper: Angle, helix: Angle) -> Angle {
    let run = helix.tan() * relief.tan() * taper.sin() * taper.cos();
    Angle::from_tangent(relief.tan() * taper.cos() / (1.0 + run))
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
