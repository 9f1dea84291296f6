//! The whole section on helical teeth, against two methods that share no code with the kernel. The
//! set-ups here are a few of every kind; `section_agreement` draws hundreds at random.

use checks::reference::dense::DenseSection;
use checks::reference::polygons::polygon_section;
use checks::reference::setup::{Setup, Wheel};
use geometry::Angle;
use geometry::section::GroundSection;

use crate::common::kernel;
use crate::ledger::{Grade, Topic};

/// A cup on a half-inch cutter with its rest a little inside the corner.
const CUP: Setup = Setup {
    wheel: Wheel::Cup,
    diameter_mm: 100.0,
    face_width_mm: 1.6,
    corner_radius_mm: 0.0,
    nominal_diameter_mm: 12.7,
    new_diameter_mm: 12.6,
    helix_rad: std::f64::consts::FRAC_PI_6,
    same_hand: true,
    lean_rad: 0.013,
    toward_tip: true,
    inset_mm: 0.2,
    setting_rad: 0.174_532_9,
    centre_above_mm: 0.0,
};

/// A straight wheel above centre.
const DISC: Setup = Setup {
    wheel: Wheel::Disc,
    diameter_mm: 150.0,
    face_width_mm: 6.0,
    lean_rad: 0.02,
    setting_rad: 0.07,
    centre_above_mm: 6.0,
    ..CUP
};

fn setups() -> [(&'static str, Setup); 8] {
    [
        ("cup", CUP),
        ("cup, worn corner", Setup { corner_radius_mm: 0.4, ..CUP }),
        ("cup, hands differ", Setup { same_hand: false, toward_tip: false, ..CUP }),
        (
            "cup, eccentric",
            Setup { face_width_mm: 8.0, lean_rad: 0.1, toward_tip: false, inset_mm: 4.0, ..CUP },
        ),
        ("disc", DISC),
        ("disc, worn corner", Setup { corner_radius_mm: 0.8, inset_mm: 1.5, ..DISC }),
        ("disc, square", Setup { lean_rad: 0.0, inset_mm: 3.0, setting_rad: 0.12, ..DISC }),
        (
            "disc, eccentric",
            Setup {
                lean_rad: 0.1,
                toward_tip: false,
                inset_mm: 3.0,
                setting_rad: 0.174_532_9,
                centre_above_mm: 0.0,
                ..DISC
            },
        ),
    ]
}

/// Rays on which sections are compared, in radians behind the edge.
const RAYS_RAD: [f64; 4] = [0.01, 0.04, 0.1, 0.2];

/// The kernel's radius on a ray, from its contact with the wheel.
fn radius_mm(kernel: &GroundSection, at: f64) -> f64 {
    let contact = kernel.contact_at(Angle::from_radians(at));
    contact.map_or(f64::NAN, |contact| contact.radius.mm())
}

/// The dense scan states 0.05 um and 0.005 deg as its own error.
pub(crate) fn sections_against_a_dense_scan() -> Topic {
    let source = ("own-derivation", "half-lines sent at a solid wheel, slice by slice");
    let topic = Topic::new("Ground section, dense scan", source, Grade::D, "um");
    setups().into_iter().fold(topic, |topic, (name, setup)| {
        let (ours, dense) =
            (kernel(&setup, 4), DenseSection::new(&setup).expect("a dense section"));
        let place = 1000.0 * (ours.wheel_from_axis().mm() - dense.wheel_from_axis_mm());
        let topic = topic.near(format!("{name}: wheel from axis"), 0.0, 0.05, place);
        RAYS_RAD.into_iter().fold(topic, |topic, at| {
            let theirs = dense.radius_mm(at).unwrap_or(f64::NAN);
            let off = 1000.0 * (radius_mm(&ours, at) - theirs);
            topic.near(format!("{name}: {at} rad"), 0.0, 0.05, off)
        })
    })
}

pub(crate) fn reliefs_against_a_dense_scan() -> Topic {
    let source = ("own-derivation", "differences on the same scan, extrapolated");
    let topic = Topic::new("Relief at the edge, dense scan", source, Grade::D, "deg");
    setups().into_iter().fold(topic, |topic, (name, setup)| {
        let dense = DenseSection::new(&setup).expect("a dense section");
        let theirs = dense.edge_relief().map_or(f64::NAN, |edge| edge.relief_rad.to_degrees());
        let ours = kernel(&setup, 4).edge_relief().map_or(f64::NAN, Angle::degrees);
        topic.near(name, theirs, 0.005, ours)
    })
}

/// Polygons stand outside the true section, by no more than the bound that comes with each ray.
pub(crate) fn sections_against_polygon_booleans() -> Topic {
    let source = ("The polygon library i_overlay, version 9", "slices of the wheel, joined");
    let topic = Topic::new("Ground section, polygon booleans", source, Grade::C, "um");
    setups().into_iter().fold(topic, |topic, (name, setup)| {
        let ours = kernel(&setup, 4);
        let away = ours.wheel_from_axis().mm();
        let polygons = polygon_section(&setup, away, &RAYS_RAD, 1500, 160);
        let found = polygons.radii_mm.iter().zip(&polygons.bounds_mm);
        RAYS_RAD.into_iter().zip(found).fold(topic, |topic, (at, (theirs, bound))| {
            let outside = 1000.0 * (theirs.unwrap_or(f64::NAN) - radius_mm(&ours, at));
            let bound = 1000.0 * (bound + polygons.sagitta_mm);
            topic.near(format!("{name}: {at} rad"), 0.0, bound, outside).above(
                format!("{name}: {at} rad, not inside"),
                -0.05,
                outside,
            )
        })
    })
}
