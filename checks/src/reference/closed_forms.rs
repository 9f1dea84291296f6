//! Special cases of the ground section that have an answer in closed form.
//!
//! All are derived from the frame of the contract, so they are exact for ideal wheels; each says
//! where it holds. Letters: `R` radius of the new cutting circle, `W` radius of the wheel, `a`
//! the relief setting, `c` a distance along the cutting circle, `k` the twist per millimetre,
//! `w` the lean.

use super::setup::{Setup, Wheel};

/// Drop in millimetres at the distance `c` behind the edge, under a plane face square to `y`:
/// `R - R cos a / cos(c / R - a)`.
///
/// **Source** \[own-derivation\]: the plane stands at `y = R cos a`, and the ray at `theta` looks
/// at it under the machine angle `theta - a`.
/// **Departs** nowhere.
/// **Error** none but rounding.
/// **Domain** straight tooth, cup without lean, heights within the rim; `|c / R - a|` below a
/// right angle.
pub fn plane_drop_mm(radius_mm: f64, setting_rad: f64, distance_mm: f64) -> f64 {
    let angle = distance_mm / radius_mm - setting_rad;
    radius_mm - radius_mm * setting_rad.cos() / angle.cos()
}

/// Edge relief in radians under a disc's periphery: `a + asin((h + R sin a) / W)`, with the
/// wheel's axis at the height `h` above the cutter's. With `a = 0` it is `asin(h / W)`, the rule
/// of the shop; with `h = 0` it is `a + asin(R sin a / W)`.
///
/// **Source** \[own-derivation\]: the edge stands at the height `-R sin a`, so the normal of the
/// wheel there is turned from `y` by `asin((h + R sin a) / W)` and the cutter's by `a`, each the
/// other way.
/// **Departs** nowhere.
/// **Error** none but rounding.
/// **Domain** straight tooth, disc without lean.
pub fn disc_relief_rad(setup: &Setup) -> f64 {
    let edge_below = setup.centre_above_mm + setup.radius_mm() * setup.setting_rad.sin();
    setup.setting_rad + (edge_below / setup.wheel_radius_mm()).asin()
}

/// Radius in millimetres at the angle `theta`, under a disc's periphery: the first crossing of
/// the ray with a circle of radius `W` about `(Y, h)`.
///
/// **Source** \[own-derivation\]: the nearer root of the quadratic of a ray and a circle.
/// **Departs** nowhere.
/// **Error** none but rounding.
/// **Domain** straight tooth, disc without lean; `None` where the ray misses the circle.
pub fn disc_radius_mm(setup: &Setup, theta_rad: f64) -> Option<f64> {
    let (sin, cos) = (theta_rad - setup.setting_rad).sin_cos();
    let (y, z) = (disc_from_axis_mm(setup), setup.centre_above_mm);
    let (ahead, beside) = (y * cos + z * sin, y * sin - z * cos);
    let wheel = setup.wheel_radius_mm();
    let half_chord = ((wheel - beside) * (wheel + beside)).max(0.0).sqrt();
    (beside.abs() <= wheel).then_some(ahead - half_chord)
}

/// Distance in millimetres of a disc's axis from the cutter's, along `y`:
/// `R cos a + sqrt(W^2 - (h + R sin a)^2)`.
///
/// **Source** \[own-derivation\]: the edge stands on the wheel's circle.
/// **Departs** nowhere.
/// **Error** none but rounding.
/// **Domain** straight tooth, disc without lean, edge within the wheel's height.
pub fn disc_from_axis_mm(setup: &Setup) -> f64 {
    let (sin, cos) = setup.setting_rad.sin_cos();
    let below = setup.centre_above_mm + setup.radius_mm() * sin;
    setup.radius_mm() * cos + (setup.wheel_radius_mm().powi(2) - below * below).sqrt()
}

/// A point of the section that a leaning plane face leaves along the helix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EccentricPoint {
    /// Heelward angle from the edge, in radians.
    pub theta_rad: f64,
    /// Radius, in millimetres.
    pub radius_mm: f64,
    /// Relief of the section at that point, in radians.
    pub relief_rad: f64,
}

/// The eccentric relief: the section under a leaning plane, at the point whose tangent plane has
/// come in by `inward_mm` since the edge.
///
/// **Source** \[own-derivation\]: in the tooth's section the plane is a line whose distance `d`
/// from the axis falls by `q = tan w / |k|` per radian of its normal's turn; a line of support
/// touches its envelope at the radius `hypot(d, q)`, where `tan(relief) = -d' / d = q / d`. At the
/// edge `hypot(d, q) = R`, so `sin(relief) = q / R`. For `R = D / 2` this is the rule of the shop
/// `tan(lean) = tan(relief) tan(helix)`, with the sine in place of the tangent because that rule
/// takes the plane's distance for the radius.
/// **Departs** nowhere.
/// **Error** none but rounding.
/// **Domain** cup whose face runs against the helix and touches between its borders; `q < R`.
pub fn eccentric_point(setup: &Setup, inward_mm: f64) -> EccentricPoint {
    let fall = setup.lean_rad.tan() / setup.twist_per_mm().abs();
    let at_edge = (setup.radius_mm().powi(2) - fall * fall).sqrt();
    let distance = at_edge - inward_mm;
    let relief = |distance: f64| (fall / distance).atan();
    EccentricPoint {
        theta_rad: inward_mm / fall - (relief(distance) - relief(at_edge)),
        radius_mm: distance.hypot(fall),
        relief_rad: relief(distance),
    }
}

/// What the leading corner cuts when it is the corner that makes the edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CornerCut {
    /// Rest inset at which the corner makes the edge at the asked-for height, in millimetres; as
    /// the set-up has it for a straight tooth.
    pub inset_mm: f64,
    /// Edge relief, in radians.
    pub relief_rad: f64,
    /// Distance of the wheel from the cutter's axis, as the contract measures it.
    pub wheel_from_axis_mm: f64,
}

/// The cut of the sharp leading corner's circle, given the height `z_mm` at which the circle
/// makes the edge (for a straight tooth, `-R sin a`).
///
/// **Source** \[own-derivation\]: a point of the circle at the height `z` stands
/// `v = W - sqrt(W^2 - (z - h)^2)` away from the corner's nearest point, level and square to the
/// axis. Hence `y`, `t`, the machine angle and `theta` as functions of `z`, and
/// `tan(relief) = -(d rho / dz) / (rho d theta / dz)`. The inset follows from `theta = 0`. Far
/// from the wheel's edge this is the rule that an inset `i` costs `i tan(helix) / R` radians.
/// **Departs** nowhere.
/// **Error** none but rounding.
/// **Domain** sharp corner that governs the section at the edge; `|z| < R` and
/// `|z - h| < W`.
pub fn corner_cut(setup: &Setup, z_mm: f64) -> CornerCut {
    let (sin, cos) = setup.lean_rad.sin_cos();
    let (y_per_v, t_per_v) = match setup.wheel {
        Wheel::Cup => (sin, setup.facing() * cos),
        Wheel::Disc => (cos, -setup.facing() * sin),
    };
    let (wheel, height) = (setup.wheel_radius_mm(), z_mm - setup.centre_above_mm);
    let level = ((wheel - height) * (wheel + height)).sqrt();
    let (v, v_per_z) = (wheel - level, height / level);
    let radius = setup.radius_mm();
    let y = ((radius - z_mm) * (radius + z_mm)).sqrt();
    let rho_per_z = (y * y_per_v * v_per_z + z_mm) / radius;
    let mu_per_z = (y - z_mm * y_per_v * v_per_z) / (radius * radius);
    let twist = setup.twist_per_mm();
    let theta_per_z = mu_per_z + twist * t_per_v * v_per_z;
    let corner_t = if twist == 0.0 {
        setup.corner_t_mm()
    } else {
        -(z_mm.atan2(y) + setup.setting_rad) / twist - t_per_v * v
    };
    CornerCut {
        inset_mm: -setup.facing() * corner_t,
        relief_rad: (-rho_per_z / (radius * theta_per_z)).atan(),
        wheel_from_axis_mm: y - y_per_v * v + setup.axis_behind_corner_mm(),
    }
}
