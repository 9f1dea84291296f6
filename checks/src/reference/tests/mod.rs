//! The two methods against closed forms, against each other, and against their own claims.

mod against_closed_forms;
mod against_each_other;
mod parts;

use super::setup::{Setup, Wheel};

/// A half-inch end mill under a 100 mm cup, square and straight; tests change what they need.
fn cup() -> Setup {
    Setup {
        wheel: Wheel::Cup,
        diameter_mm: 100.0,
        face_width_mm: 1.6,
        corner_radius_mm: 0.0,
        nominal_diameter_mm: 12.7,
        new_diameter_mm: 12.6,
        helix_rad: 0.0,
        same_hand: true,
        lean_rad: 0.0,
        toward_tip: true,
        inset_mm: 0.2,
        setting_rad: 10_f64.to_radians(),
        centre_above_mm: 0.0,
    }
}

/// The same cutter under a 125 mm straight wheel 10 mm wide.
fn disc() -> Setup {
    Setup { wheel: Wheel::Disc, diameter_mm: 125.0, face_width_mm: 10.0, inset_mm: 4.0, ..cup() }
}
