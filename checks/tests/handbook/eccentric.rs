//! Eccentric relief: a wide leaning face along a helix.

use geometry::closed_form::eccentric_lean;
use geometry::section::{GroundSection, Stance};
use geometry::wheel::FaceToward;

use crate::bench::{SQUARE, cup, cutter, degrees, relief_of, section};
use crate::ledger::{Grade, Topic};

/// tan W = tan R · tan H: W the lean, R the relief, H the helix.
pub(crate) fn the_handbooks_identity() -> Topic {
    let source = ("machinerys-handbook", "eccentric relief, tan W = tan R tan H (from memory)");
    let lean = |relief: f64, helix: f64| eccentric_lean(degrees(relief), degrees(helix)).degrees();
    let mut topic = Topic::new("Lean for an eccentric relief", source, Grade::B, "deg").near(
        "R 10, H 30",
        5.81,
        0.005,
        lean(10.0, 30.0),
    );
    for relief in [2.0, 6.0, 10.0, 15.0] {
        topic = topic
            .near(format!("R {relief}, H 45 gives W = R"), relief, 1e-9, lean(relief, 45.0))
            .near(format!("R {relief}, H 0 gives none"), 0.0, 1e-9, lean(relief, 0.0));
    }
    topic
}

/// A face 1/2 in wide that leans toward the shank, with the rest in its middle.
fn leaning(diameter: f64, helix: f64, lean: f64, setting: f64) -> GroundSection {
    let stance = Stance {
        lean: degrees(lean),
        face_toward: FaceToward::Shank,
        rest_inset: geometry::Length::from_inches(0.25),
        relief_setting: degrees(setting),
        ..SQUARE
    };
    section(cutter(diameter, helix), cup(10.0, 0.5), stance)
}

/// Diameter in inches, relief and helix in degrees.
const CASES: [(f64, f64, f64); 6] = [
    (0.5, 10.0, 30.0),
    (0.5, 6.0, 30.0),
    (0.75, 8.0, 38.0),
    (1.0, 7.0, 30.0),
    (1.0, 12.0, 45.0),
    (2.0, 9.0, 20.0),
];

/// Own derivation, from the support function of the section. The face is a plane y = d + m·t, and
/// the tooth turns by κ for each millimetre, so the plane touches the section where its support
/// function p(ψ) has p′/p = m/(κ·p): tan(relief) = m/(κ·d), with d = R·cos(relief) the distance of
/// the plane at the contact. That is sin(relief) = tan(lean)/(κ·R), whatever the rest's setting.
pub(crate) fn the_support_function() -> Topic {
    let source = ("own-derivation", "tan(relief) = tan(lean) / (twist · d)");
    let topic = Topic::new("Eccentric relief, kernel", source, Grade::D, "deg");
    CASES.into_iter().fold(topic, |topic, (diameter, relief, helix)| {
        let radius_mm = 12.7 * diameter;
        let twist = degrees(helix).tan() / radius_mm;
        let d = radius_mm * degrees(relief).cos();
        let lean = (degrees(relief).tan() * twist * d).atan().to_degrees();
        [relief, relief - 1.0].into_iter().fold(topic, |topic, setting| {
            let got = relief_of(&leaning(diameter, helix, lean, setting));
            topic.near(format!("{diameter} in, helix {helix}, {setting} set"), relief, 1e-4, got)
        })
    })
}

/// The handbook takes the helix on the circle, the section has it at d: the sine of the relief
/// stands where the handbook has its tangent, 1 − cos(relief) apart.
pub(crate) fn the_identity_on_the_kernel() -> Topic {
    let source = ("machinerys-handbook", "eccentric relief (from memory), on the kernel");
    let because =
        "the handbook's helix is that of the circle: tan for sin, about 1 - cos(relief) apart";
    let topic = Topic::new("Eccentric relief by the handbook's lean", source, Grade::B, "deg");
    CASES.into_iter().fold(topic, |topic, (diameter, relief, helix)| {
        let lean = eccentric_lean(degrees(relief), degrees(helix)).degrees();
        let got = relief_of(&leaning(diameter, helix, lean, relief));
        let width = 1.1 * relief * (1.0 - degrees(relief).cos());
        topic.widened(format!("{diameter} in, helix {helix}"), (relief, width), because, got)
    })
}
