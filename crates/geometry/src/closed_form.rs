//! Closed forms of the trade's handbooks: what an ideal wheel would leave, and what readings mean.
//!
//! The kernel in [`crate::section`] computes the real surface; these stand beside it so that a
//! plan can show the handbook's figure and what the real wheel makes of it.

use crate::quantity::{Angle, Length};

/// How far a tooth rest stands below centre for a relief ground by a plane face.
///
/// **Source** \[own-derivation\] D/2 · sin(relief); \[tc-9-524\] and \[navy-machinery-repairman\]
/// give it as a constant of 0.0088 or 0.0087 times degrees and diameter. **Departs** from the
/// manuals' straight line by −0.2 % at 5 degrees and +4.4 % at 30. **Error** rounding. **Domain**
/// −90 to 90 degrees.
pub fn rest_offset(diameter: Length, relief: Angle) -> Length {
    diameter * (0.5 * relief.sin())
}

/// The relief that a rest standing this far below centre gives on a plane face; None where the
/// offset is larger than the cutter's radius.
///
/// **Source** \[own-derivation\] inverse of [`rest_offset`]. **Departs** nowhere. **Error**
/// rounding. **Domain** offset up to D/2.
pub fn relief_from_offset(diameter: Length, offset: Length) -> Option<Angle> {
    let sine = 2.0 * (offset / diameter);
    (sine.abs() <= 1.0).then(|| Angle::from_radians(sine.asin()))
}

/// The manuals' straight-line rule for an offset: a constant times degrees times diameter.
///
/// **Source** \[tc-9-524\] ch. 5, constant 0.0088; \[navy-machinery-repairman\] constant 0.0087.
/// **Departs** nowhere: the constant is given by the caller. **Error** rounding. **Domain** as the
/// manuals use it, up to about 15 degrees.
pub fn straight_line_offset(constant: f64, diameter: Length, relief: Angle) -> Length {
    diameter * (constant * relief.degrees())
}

/// Drop of a plane relief at a distance behind the edge, measured along the cutting circle.
///
/// **Source** \[own-derivation\] R − R cos a / cos(c/R − a), the polar equation of a line.
/// **Departs** nowhere. **Error** rounding. **Domain** |c/R − a| < 90 degrees.
pub fn plane_drop(diameter: Length, relief: Angle, distance: Length) -> Length {
    let radius = diameter * 0.5;
    let heelward = distance / radius;
    radius - radius * (relief.cos() / (heelward - relief.radians()).cos())
}

/// Relief at the edge of a straight tooth ground on the periphery of a disc whose axis stands
/// `axis_above` the cutter's, the edge itself turned `setting` below centre; None where the wheel
/// does not reach.
///
/// **Source** \[own-derivation\] setting + asin((R sin setting + above) / wheel radius); with
/// setting zero it is the handbooks' asin(offset / wheel radius) \[machinerys-handbook\], which
/// falls as the wheel grows \[rose-1880s\]. **Departs** nowhere. **Error** rounding. **Domain** |R
/// sin setting + above| below the wheel's radius.
pub fn disc_relief(
    cutter: Length,
    wheel: Length,
    setting: Angle,
    axis_above: Length,
) -> Option<Angle> {
    let height = cutter * (0.5 * setting.sin()) + axis_above;
    let sine = height / (wheel * 0.5);
    (sine.abs() < 1.0).then(|| Angle::from_radians(setting.radians() + sine.asin()))
}

/// Lean of a wide face that grinds an eccentric (convex, constant) relief along a helix.
///
/// **Source** \[machinerys-handbook\] tan(lean) = tan(relief) · tan(helix), from memory; it is the
/// support-function statement tan(relief) = d′/d. **Departs** in taking the helix at the cutting
/// circle; exactly it is the helix at the distance d of the face from the axis, d = R cos(relief).
/// **Error** relative 1 − cos(relief), 1.5 % at 10 degrees. **Domain** helix above 0.
pub fn eccentric_lean(relief: Angle, helix: Angle) -> Angle {
    Angle::from_tangent(relief.tan() * helix.tan())
}

/// Relief lost on the leading corner's cut for a rest inset, on a helix.
///
/// **Source** \[own-derivation\] inset · tan(helix) / R, with the diameter that fixes the lead.
/// **Departs** in taking the wheel's corner as a straight line; the kernel follows its circle.
/// **Error** relative (R / wheel radius) · (sin(lean) + 4 tan(helix) sin(setting)) at most, for a
/// cup at least four times as large as the cutter. **Domain** any helix; positive where hand of cut
/// and helix agree and the face runs to the tip, or where both are turned round.
pub fn inset_cost(diameter: Length, helix: Angle, inset: Length) -> Angle {
    Angle::from_radians(2.0 * (inset / diameter) * helix.tan())
}

/// How far a feed turns a tooth whose rest keeps its place at the wheel, below centre by the
/// setting: the rest comes nearer to the axis by the feed, at one height, and slides along the
/// tooth's face. Positive where it lowers the edge.
///
/// **Source** \[own-derivation\] the rest bears where the edge now stands, at radius R and, for a
/// setting a, h = R sin a below centre; before the feed f it bore at ρ = √((R cos a + f)² + h²). A
/// face straight with rake g has its point at ρ ahead of the edge by g − asin(R sin g / ρ), so the
/// edge falls by a − asin(h / ρ) + g − asin(R sin g / ρ). **Departs** in taking the rest as a point
/// and the face as straight. **Error** rounding. **Domain** |g| below 60 degrees, a from −60 to 60,
/// f from 0 up.
pub fn feed_turn(diameter: Length, rake: Angle, setting: Angle, feed: Length) -> Angle {
    let radius_mm = 0.5 * diameter.mm();
    let below_mm = radius_mm * setting.sin();
    let before_mm = (radius_mm * setting.cos() + feed.mm()).hypot(below_mm);
    let fallen_rad = setting.radians() - (below_mm / before_mm).asin();
    let ahead_rad = rake.radians() - (radius_mm * rake.sin() / before_mm).asin();
    Angle::from_radians(fallen_rad + ahead_rad)
}

/// Depth, along the radius, from the original edge down to the worn edge that a wear land leaves.
///
/// **Source** \[own-derivation\] VB · tan a / (1 − tan a · tan g) for a wear land along the cutting
/// direction, relief a and rake g. **Departs** in taking the circle as straight over the wear land.
/// **Error** relative VB/D. **Domain** tan a · tan g < 1; zero for no wear land.
pub fn worn_depth(wear_land: Length, relief: Angle, rake: Angle) -> Length {
    let tangent = relief.tan();
    wear_land * (tangent / (1.0 - tangent * rake.tan()))
}

/// Growth of a land, per length taken off the radius, where the primary is moved in and the
/// secondary stays.
///
/// **Source** \[own-derivation\] w · sin(a2 − a1) = s · cos a2 on two planes, with the edge
/// following a face of rake g: dw/ds = (cos a2 + sin a2 · tan g) / sin(a2 − a1). **Departs** in
/// taking planes for the ground surfaces; the plan uses the real curves. **Error** a few per cent.
/// **Domain** a2 > a1.
pub fn land_growth(primary: Angle, secondary: Angle, rake: Angle) -> f64 {
    (secondary.cos() + secondary.sin() * rake.tan()) / (secondary - primary).sin()
}

/// Surface speed of a wheel, in metres per second.
///
/// **Source** \[own-derivation\] π · D · n. **Departs** nowhere. **Error** rounding. **Domain**
/// all.
pub fn surface_speed_m_per_s(diameter: Length, turns_per_minute: f64) -> f64 {
    std::f64::consts::PI * diameter.mm() / 1000.0 * turns_per_minute / 60.0
}

/// Reading over flat anvils of a cutter with an odd number of even-spaced teeth: one tooth bears on
/// one anvil, two on the other. Even teeth read the diameter itself.
///
/// **Source** \[own-derivation\] R (1 + cos(180°/N)); the factors D/M are 1.3333, 1.1056, 1.0521
/// and 1.0311 for 3, 5, 7 and 9 teeth. **Departs** nowhere. **Error** rounding. **Domain** the tips
/// under the anvils stand in one plane: straight teeth, or anvils narrow against the helix.
pub fn flat_anvil_reading(diameter: Length, teeth: u32) -> Length {
    if teeth.is_multiple_of(2) {
        return diameter;
    }
    let half_pitch = std::f64::consts::PI / f64::from(teeth);
    diameter * (0.5 * (1.0 + half_pitch.cos()))
}

/// Reading of a micrometer, turned to its largest, over two edges on one circle that stand an angle
/// apart: the chord between them. Unequal teeth seldom stand straight across.
///
/// **Source** \[own-derivation\] D sin(angle / 2), the chord. **Departs** nowhere. **Error**
/// rounding. **Domain** both edges under the anvils in one plane: straight teeth, or at the tip.
pub fn pair_reading(diameter: Length, apart: Angle) -> Length {
    diameter * (apart / 2.0).sin().abs()
}

/// Diameter from a reading over flat anvils; the inverse of [`flat_anvil_reading`].
///
/// **Source** \[own-derivation\] as [`flat_anvil_reading`]. **Departs** nowhere. **Error**
/// rounding. **Domain** as there.
pub fn diameter_from_flat_anvils(reading: Length, teeth: u32) -> Length {
    reading * (Length::from_mm(1.0) / flat_anvil_reading(Length::from_mm(1.0), teeth))
}

/// Included angle of the vee anvil on which an odd-toothed cutter's three bearing teeth read its
/// diameter directly.
///
/// **Source** \[own-derivation\] 180° − 360°/N: the normals of the vee's flanks pass through the
/// two teeth opposite the spindle; 60 degrees for 3 teeth, 108 for 5. **Departs** nowhere.
/// **Error** rounding. **Domain** odd N of at least 3.
pub fn vee_anvil_angle(teeth: u32) -> Angle {
    Angle::from_degrees(180.0 - 360.0 / f64::from(teeth))
}
