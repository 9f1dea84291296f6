//! Plain set-ups on the real kernel, in inches and degrees as the handbooks write them.

use geometry::screw::{Flutes, Hand};
use geometry::section::{GroundSection, Setup, Stance};
use geometry::solve::{Adjusted, ReliefTarget, solve_relief};
use geometry::wheel::{Corner, CupShape, DiscShape, FaceToward, WheelBody};
use geometry::{Angle, Length};

pub(crate) fn inches(value: f64) -> Length {
    Length::from_inches(value)
}

pub(crate) fn degrees(value: f64) -> Angle {
    Angle::from_degrees(value)
}

/// A straight cup with sharp corners; sizes in inches.
pub(crate) fn cup(diameter: f64, face: f64) -> WheelBody {
    let shape = CupShape {
        diameter_mm: inches(diameter).mm(),
        face_width_mm: inches(face).mm(),
        outer_wall_rad: 0.0,
        inner_wall_rad: 0.0,
        leading: Corner::Sharp,
        trailing: Corner::Sharp,
    };
    WheelBody::cup(&shape).expect("a cup")
}

/// A straight wheel with sharp corners; sizes in inches.
pub(crate) fn disc(diameter: f64, face: f64) -> WheelBody {
    let shape = DiscShape {
        diameter_mm: inches(diameter).mm(),
        face_width_mm: inches(face).mm(),
        leading: Corner::Sharp,
        trailing: Corner::Sharp,
    };
    WheelBody::disc(&shape).expect("a straight wheel")
}

/// A head that stands square to its work, the rest on the leading corner, the tooth on centre.
pub(crate) const SQUARE: Stance = Stance {
    lean: Angle::ZERO,
    face_toward: FaceToward::Tip,
    rest_inset: Length::ZERO,
    relief_setting: Angle::ZERO,
    axis_above: Length::ZERO,
    tilt: Angle::ZERO,
};

/// A right-hand cutter of six teeth: its diameter in inches, its helix in degrees.
pub(crate) fn cutter(diameter: f64, helix: f64) -> Flutes {
    Flutes {
        nominal_diameter: inches(diameter),
        teeth: 6,
        hand: Hand::Right,
        helix: degrees(helix),
        helix_hand: Hand::Right,
    }
}

pub(crate) fn setup(flutes: Flutes, wheel: WheelBody, stance: Stance) -> Setup {
    Setup::new(flutes, wheel, stance).expect("a set-up")
}

/// The section at the cutter's nominal diameter.
pub(crate) fn section(flutes: Flutes, wheel: WheelBody, stance: Stance) -> GroundSection {
    setup(flutes, wheel, stance).section(flutes.nominal_diameter).expect("a section")
}

/// Relief at the edge, in degrees.
pub(crate) fn relief_of(section: &GroundSection) -> f64 {
    section.edge_relief().expect("a relief").degrees()
}

/// A straight tooth of a diameter on a straight wheel whose axis stands above the cutter's.
pub(crate) fn relief_on_disc(cutter_in: f64, wheel_in: f64, above_in: f64) -> f64 {
    let stance = Stance { axis_above: inches(above_in), ..SQUARE };
    relief_of(&section(cutter(cutter_in, 0.0), disc(wheel_in, 0.25), stance))
}

/// How far the axis of a straight wheel must stand above a straight tooth's centre for a relief, in
/// inches: the kernel run backwards.
pub(crate) fn axis_above_for(cutter_in: f64, wheel_in: f64, relief: f64) -> f64 {
    let flutes = cutter(cutter_in, 0.0);
    let setup = setup(flutes, disc(wheel_in, 0.25), SQUARE);
    solved(&setup, flutes.nominal_diameter, relief, Adjusted::AxisAbove).axis_above.inches()
}

/// How far the rest must stand below a straight tooth's centre for a relief by a level cup, in
/// inches: the kernel run backwards.
pub(crate) fn rest_below_for(cutter_in: f64, cup_in: f64, relief: f64) -> f64 {
    let flutes = cutter(cutter_in, 0.0);
    let setup = setup(flutes, cup(cup_in, 0.125), SQUARE);
    let setting = solved(&setup, flutes.nominal_diameter, relief, Adjusted::ReliefSetting);
    0.5 * cutter_in * setting.relief_setting.radians().sin()
}

fn solved(setup: &Setup, diameter: Length, relief: f64, adjusted: Adjusted) -> Stance {
    let target = ReliefTarget { relief: degrees(relief), over: None };
    solve_relief(setup, diameter, target, adjusted).expect("a setting")
}
