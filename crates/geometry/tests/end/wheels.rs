//! Figures and wheels of the tests of a cutter's end and its round.

use geometry::wheel::{Corner, CupShape, DiscShape, WheelBody};
use geometry::{Angle, Length};

pub(super) fn deg(degrees: f64) -> Angle {
    Angle::from_degrees(degrees)
}

pub(super) fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

pub(super) fn near(found: f64, expected: f64, error: f64) {
    assert!((found - expected).abs() <= error, "{found} is not {expected} within {error}");
}

/// A cup whose walls stand so far from square.
pub(super) fn cup(wall_rad: f64) -> WheelBody {
    let shape = CupShape {
        diameter_mm: 100.0,
        face_width_mm: 2.0,
        outer_wall_rad: wall_rad,
        inner_wall_rad: wall_rad,
        leading: Corner::Sharp,
        trailing: Corner::Sharp,
    };
    WheelBody::cup(&shape).unwrap()
}

pub(super) fn disc() -> WheelBody {
    let shape = DiscShape {
        diameter_mm: 150.0,
        face_width_mm: 6.0,
        leading: Corner::Sharp,
        trailing: Corner::Sharp,
    };
    WheelBody::disc(&shape).unwrap()
}
