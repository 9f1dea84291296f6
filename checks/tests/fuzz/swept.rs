//! Points of the wheel itself, carried to the tooth's section by the contract's own words: what the
//! curve says of them is held against where they are.

use checks::reference::random::Splitmix;
use geometry::Angle;
use geometry::section::{Contact, GroundSection};
use geometry::wheel::ElementShape;

use super::laws::{Held, holds};

/// Points of the wheel that are looked at for each section.
const POINTS: u32 = 40;

/// Points that stand inside the cutting circle by so much of it are held against the curve: there
/// the wheel's near half alone cuts. Farther out its far half may go on where the curve ends.
const INSIDE_SHARE: f64 = 1.0 - 1e-6;

/// Wheels with a wider face than so much of their radius are left out: on them the border of the
/// near half can cut, which no curve follows.
const FACE_SHARE: f64 = 0.5;

/// A wheel smaller than the cutter, far from its height or tipped far: its near half's border can
/// cut, and it can pass one place of a back at several stands.
pub(crate) fn is_askew(section: &GroundSection) -> bool {
    let setup = section.setup();
    let (wheel_mm, stance) = (setup.wheel().radius_mm(), setup.stance());
    let is_small = wheel_mm < section.circle_radius().mm();
    let is_high = stance.axis_above.mm().abs() > 0.2 * wheel_mm;
    is_small || is_high || stance.tilt.degrees().abs() > 10.0
}

/// How far a contact may lie off the wheel and off its angle, in millimetres.
const CONTACT_MM: f64 = 1e-6;

/// Heelward angle and radius of a machine point (along, across, up) in the tooth's own section: μ +
/// setting + s 2π t / lead.
fn carried(section: &GroundSection, [t, y, z]: [f64; 3]) -> (f64, f64) {
    use std::f64::consts::{PI, TAU};
    let setup = section.setup();
    let flutes = setup.flutes();
    let sign = if flutes.hand == flutes.helix_hand { 1.0 } else { -1.0 };
    let lead = PI * flutes.nominal_diameter.mm() / flutes.helix.tan();
    let twist = if flutes.helix > Angle::ZERO { sign * TAU / lead } else { 0.0 };
    let theta = z.atan2(y) + setup.stance().relief_setting.radians() + twist * t;
    (theta, y.hypot(z))
}

/// A point of a stretch of the half section, by its share: (from the wheel's axis, along it).
fn place(shape: &ElementShape, share: f64) -> (f64, f64) {
    match *shape {
        ElementShape::Line { from, direction, length_mm } => {
            let along = share * length_mm;
            (from.radius_mm + direction.0 * along, from.axial_mm + direction.1 * along)
        }
        ElementShape::Arc { centre, radius_mm, from_rad, to_rad } => {
            let (sin, cos) = (from_rad + share * (to_rad - from_rad)).sin_cos();
            (centre.radius_mm + radius_mm * cos, centre.axial_mm + radius_mm * sin)
        }
    }
}

/// How far a point of the half section lies from a stretch.
fn beside(shape: &ElementShape, (out, along): (f64, f64)) -> f64 {
    let to = |(r, a): (f64, f64)| (out - r).hypot(along - a);
    let share = match *shape {
        ElementShape::Line { from, direction, length_mm } => {
            let way = (out - from.radius_mm) * direction.0 + (along - from.axial_mm) * direction.1;
            way / length_mm.max(f64::MIN_POSITIVE)
        }
        ElementShape::Arc { centre, from_rad, to_rad, .. } => {
            let turn = (along - centre.axial_mm).atan2(out - centre.radius_mm) - from_rad;
            let turn = turn - std::f64::consts::TAU * (turn / std::f64::consts::TAU).round();
            turn / (to_rad - from_rad).max(f64::MIN_POSITIVE)
        }
    };
    to(place(shape, share.clamp(0.0, 1.0)))
}

/// A contact lies on the wheel's own surface, and on the ray and the radius that it is told for.
pub(crate) fn lies_on_wheel(
    section: &GroundSection,
    contact: &Contact,
    at_rad: f64,
    radius_mm: f64,
) -> Held {
    let point = [contact.along.mm(), contact.across.mm(), contact.up.mm()];
    let pose = section.wheel_pose();
    let from = [0, 1, 2].map(|index| point[index] - pose.origin[index]);
    let axial = (0..3).map(|index| from[index] * pose.axis[index]).sum::<f64>();
    let square = from.iter().map(|part| part * part).sum::<f64>() - axial * axial;
    let at = (square.max(0.0).sqrt(), axial);
    let elements = section.setup().wheel().profile().elements();
    let off_mm = elements.iter().map(|element| beside(&element.shape, at));
    let off_mm = off_mm.fold(f64::INFINITY, f64::min);
    // The distance from the axis comes out of a difference of squares.
    let rounding = 1e-13 * square / at.0.max(1e-3);
    holds(off_mm < CONTACT_MM + rounding, || {
        format!("the contact at {at_rad} rad lies {off_mm} mm off the wheel")
    })?;
    let (theta, radius) = carried(section, point);
    let turned = theta - at_rad;
    let turned = turned - std::f64::consts::TAU * (turned / std::f64::consts::TAU).round();
    let off_mm = (radius - radius_mm).abs().max(radius * turned.abs());
    let far = 1.0 + (contact.along.mm() / radius_mm).abs();
    holds(off_mm < CONTACT_MM * far, || {
        format!("the contact at {at_rad} rad stands {off_mm} mm from where it is told")
    })
}

/// No point of the wheel's near half, which is what the section counts, stands inside the curve;
/// gives how many points came before it. Points that come round the cutter once more are left out:
/// of a wall that does so, farther along than the face is wide, no curve is followed.
pub(crate) fn stays_outside(section: &GroundSection, random: &mut Splitmix) -> Result<u64, String> {
    use std::f64::consts::{FRAC_PI_2, PI};
    let (setup, pose) = (section.setup(), section.wheel_pose());
    let circle_mm = section.circle_radius().mm();
    let pitch_rad = setup.flutes().pitch_rad().min(PI);
    let wheel = setup.wheel();
    if wheel.face_width_mm() > FACE_SHARE * wheel.radius_mm() || is_askew(section) {
        return Ok(0);
    }
    let elements = wheel.profile().elements();
    let mut met = 0;
    for _ in 0..POINTS {
        let element = &elements[(random.bits() % elements.len() as u64) as usize];
        let (out, along) = place(&element.shape, random.even(0.0, 1.0));
        // Most points lie where the wheel comes near.
        let turn = FRAC_PI_2 * random.even(-1.0, 1.0).powi(3);
        let point = [0, 1, 2].map(|index| {
            let square = pose.near[index] * turn.cos() + pose.side[index] * turn.sin();
            pose.origin[index] + pose.axis[index] * along + square * out
        });
        let (theta, radius_mm) = carried(section, point);
        if !(0.0..pitch_rad).contains(&theta) || radius_mm > INSIDE_SHARE * circle_mm {
            continue;
        }
        met += 1;
        let curve_mm = section.contact_at(Angle::from_radians(theta)).map(|it| it.radius.mm());
        let outside = (radius_mm / circle_mm).max(1.0).powi(3);
        let is_outside = curve_mm.is_some_and(|curve| radius_mm > curve - 2e-5 * outside);
        holds(is_outside, || {
            format!("the wheel reaches {radius_mm} mm at {theta} rad, the curve {curve_mm:?}")
        })?;
    }
    Ok(met)
}
