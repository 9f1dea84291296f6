//! Fluted bodies to test with.

use geometry::outline::OutlinePoint;
use geometry::screw::{Flutes, Hand};
use geometry::solid::{Fluted, ToothForm};
use geometry::{Angle, Length};

/// Radius of the edge of the test body.
pub(crate) const EDGE_MM: f64 = 6.35;

/// Where its land ends, and its heel.
pub(crate) const LAND_RAD: f64 = 0.1;
pub(crate) const HEEL_RAD: f64 = 0.6;

/// Radius of the test body's back: a spiral, steeper behind the land.
pub(crate) fn back_mm(at_rad: f64) -> f64 {
    EDGE_MM * (1.0 - 0.15 * at_rad - 0.3 * (at_rad - LAND_RAD).max(0.0))
}

pub(crate) fn back() -> Vec<OutlinePoint> {
    let point = |step: u32| {
        let at_rad = HEEL_RAD * f64::from(step) / 1200.0;
        OutlinePoint {
            heelward: Angle::from_radians(at_rad),
            radius: Length::from_mm(back_mm(at_rad)),
        }
    };
    (0..=1200).map(point).collect()
}

pub(crate) fn flutes(helix_deg: f64, hand: Hand, helix_hand: Hand) -> Flutes {
    Flutes {
        nominal_diameter: Length::from_mm(12.7),
        teeth: 4,
        hand,
        helix: Angle::from_degrees(helix_deg),
        helix_hand,
    }
}

/// A body of flutes alone, 20 mm long.
pub(crate) fn bar(back: &[OutlinePoint], helix_deg: f64) -> Fluted<'_> {
    Fluted {
        tooth: ToothForm {
            back,
            land_end: Angle::from_radians(LAND_RAD),
            rake: Angle::from_degrees(10.0),
            core_diameter: Length::from_mm(7.2),
        },
        flutes: flutes(helix_deg, Hand::Right, Hand::Right),
        edge_at_end: Angle::from_degrees(25.0),
        fluted_length: Length::from_mm(20.0),
        overall_length: Length::from_mm(20.0),
        shank_diameter: Length::from_mm(12.7),
    }
}

/// The same with a shank.
pub(crate) fn cutter(back: &[OutlinePoint], shank_mm: f64) -> Fluted<'_> {
    Fluted {
        overall_length: Length::from_mm(70.0),
        shank_diameter: Length::from_mm(shank_mm),
        ..bar(back, 30.0)
    }
}
