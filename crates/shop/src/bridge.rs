//! From records to the kernel's own types.

use geometry::screw::Flutes;
use geometry::wheel::{Corner, CupShape, DiscShape, WheelBody, WheelKind};
use geometry::{Angle, Length};

use crate::error::ShopError;
use crate::record::{Cutter, Wheel, WheelForm};

/// How far the inner side of a dish's rim draws in from the wheel's axis (own choice, no source:
/// the relief does not depend on it).
const DISH_INNER_WALL_DEG: f64 = 70.0;

/// How far the wall of a flaring cup draws in where its record gives no angle (own choice, no
/// source: the relief does not depend on it).
const FLARE_DEG: f64 = 20.0;

/// The cutter's flutes, as the kernel takes them.
pub(crate) fn flutes(cutter: &Cutter) -> Flutes {
    Flutes {
        nominal_diameter: cutter.diameter(),
        teeth: cutter.teeth(),
        hand: cutter.hand(),
        helix: cutter.helix(),
        helix_hand: cutter.helix_hand().unwrap_or(cutter.hand()),
    }
}

/// On what a wheel grinds.
pub(crate) const fn kind(wheel: &Wheel) -> WheelKind {
    if wheel.shape().form().grinds_on_face() { WheelKind::Cup } else { WheelKind::Disc }
}

/// The wheel's body with a working face of `face_width`.
pub(crate) fn body(wheel: &Wheel, face_width: Length) -> Result<WheelBody, ShopError> {
    let (diameter, corner_radius) = (wheel.diameter(), wheel.corner_radius());
    body_of(wheel, WorkingFace { diameter, face_width, corner_radius })
}

/// The sizes of a wheel's working face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct WorkingFace {
    pub(crate) diameter: Length,
    pub(crate) face_width: Length,
    pub(crate) corner_radius: Length,
}

/// The wheel's body with a working face of other sizes than its record's.
pub(crate) fn body_of(wheel: &Wheel, face: WorkingFace) -> Result<WheelBody, ShopError> {
    let diameter_mm = face.diameter.mm();
    let face_width_mm = face.face_width.mm();
    let leading = Corner::round(face.corner_radius.mm());
    let trailing = Corner::Sharp;
    let flare = wheel.wall_angle().unwrap_or(Angle::from_degrees(FLARE_DEG));
    let (outer, inner) = match wheel.shape().form() {
        WheelForm::Straight => {
            let shape = DiscShape { diameter_mm, face_width_mm, leading, trailing };
            return WheelBody::disc(&shape).map_err(|error| invalid_wheel(wheel, &error));
        }
        WheelForm::StraightCup => (Angle::ZERO, Angle::ZERO),
        WheelForm::FlaringCup => (flare, flare),
        WheelForm::Dish => (flare, Angle::from_degrees(DISH_INNER_WALL_DEG)),
    };
    let (outer_wall_rad, inner_wall_rad) = (outer.radians(), inner.radians());
    let shape =
        CupShape { diameter_mm, face_width_mm, outer_wall_rad, inner_wall_rad, leading, trailing };
    WheelBody::cup(&shape).map_err(|error| invalid_wheel(wheel, &error))
}

fn invalid_wheel(wheel: &Wheel, error: &dyn std::fmt::Display) -> ShopError {
    ShopError::invalid(format!("wheel {}", wheel.number()), error.to_string())
}
