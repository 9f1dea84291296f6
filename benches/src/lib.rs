//! What the benches measure: real set-ups, the same for every route.

use checks::reference::setup as reference;
use geometry::screw::{Flutes, Hand};
use geometry::section::{Setup, Stance};
use geometry::wheel::{Corner, CupShape, FaceToward, WheelBody};
use geometry::{Angle, Length};
use shop::learn::Known;
use shop::plan::PlanRegrind;
use toothrest::files::{read_cutter, read_machine, read_wheels};

/// Rays of one section, from the edge to 0.35 rad behind it.
pub const RAYS: usize = 400;

/// Angle of the last ray.
pub const LAST_RAD: f64 = 0.35;

/// Diameter to which the cutter of the benches is ground.
pub const NEW_DIAMETER_MM: f64 = 12.6;

/// A half-inch end mill on a cup: the kernel's set-up.
pub fn kernel_setup() -> Setup {
    let flutes = Flutes {
        nominal_diameter: Length::from_mm(12.7),
        teeth: 4,
        hand: Hand::Right,
        helix: Angle::from_degrees(30.0),
        helix_hand: Hand::Right,
    };
    let cup = CupShape {
        diameter_mm: 100.0,
        face_width_mm: 1.6,
        outer_wall_rad: 0.0,
        inner_wall_rad: 0.0,
        leading: Corner::Sharp,
        trailing: Corner::Sharp,
    };
    let stance = Stance {
        lean: Angle::from_degrees(0.75),
        face_toward: FaceToward::Tip,
        rest_inset: Length::from_mm(0.2),
        relief_setting: Angle::from_degrees(10.0),
        axis_above: Length::ZERO,
        tilt: Angle::ZERO,
    };
    let body = WheelBody::cup(&cup).expect("the bench's wheel is sound");
    Setup::new(flutes, body, stance).expect("the bench's set-up is sound")
}

/// The same set-up for the polygon route.
pub fn reference_setup() -> reference::Setup {
    reference::Setup {
        wheel: reference::Wheel::Cup,
        diameter_mm: 100.0,
        face_width_mm: 1.6,
        corner_radius_mm: 0.0,
        nominal_diameter_mm: 12.7,
        new_diameter_mm: NEW_DIAMETER_MM,
        helix_rad: 30.0_f64.to_radians(),
        same_hand: true,
        lean_rad: 0.75_f64.to_radians(),
        toward_tip: true,
        inset_mm: 0.2,
        setting_rad: 10.0_f64.to_radians(),
        centre_above_mm: 0.0,
    }
}

/// The angles of the rays.
pub fn rays_rad() -> Vec<f64> {
    (0..RAYS).map(|ray| LAST_RAD * ray as f64 / (RAYS - 1) as f64).collect()
}

macro_rules! example {
    ($read:path, $path:literal) => {
        $read($path, include_str!(concat!("../../examples/", $path))).expect("the example reads")
    };
}

/// The bundled regrind.
pub fn request() -> PlanRegrind {
    PlanRegrind {
        cutter: example!(read_cutter, "cutters/k-117-half-inch-dull.toml"),
        machine: example!(read_machine, "machines/left-bench.toml"),
        wheels: example!(read_wheels, "wheels/w-05-flaring-cup-cbn.toml"),
        relief: None,
        to_size: None,
        known: Known::default(),
    }
}
