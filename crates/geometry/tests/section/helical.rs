//! Teeth on a helix: the eccentric relief of a wide face, the cut of the leading corner.

use geometry::closed_form;
use geometry::section::PieceKind;
use geometry::wheel::{FaceToward, Part, WheelKind};
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;

use crate::cases::{Case, bench, deg, mm};
use crate::funnel::{check, good, holds, near, outside, some};

/// A wide plane face that leans so as to grind `relief` along the helix, with room for its contact
/// on both sides of the rest.
fn eccentric() -> impl Strategy<Value = (Case, f64)> {
    let angles = (3.0..20.0_f64, 12.0..45.0_f64, -2.0..2.0_f64);
    (bench(), angles, 100.0..300.0_f64).prop_map(|(case, (relief, helix, astray), wheel)| {
        let tangent = relief.to_radians().sin() * helix.to_radians().tan() * case.new;
        let toward = if case.agree() > 0.0 { FaceToward::Shank } else { FaceToward::Tip };
        let case = Case {
            kind: WheelKind::Cup,
            helix,
            wheel,
            face: 20.0,
            leading: 0.0,
            worn: (0.0, 0.0),
            trailing: 0.0,
            lean: (tangent / case.nominal).atan().to_degrees(),
            toward,
            inset: 8.0,
            setting: relief + astray,
            above: 0.0,
            tilt: 0.0,
            ..case
        };
        (case, relief)
    })
}

/// Closed form, from the support function of the curve that a plane envelops on a screw:
/// tan(relief) = d′/d with d the distance of the face at the contact, so sin(relief) · r is the
/// same all along the face. The setting only moves the contact along the wheel.
#[test]
fn a_wide_face_leaves_an_eccentric_relief() {
    check(200, (eccentric(), -0.5..1.0_f64), |((case, relief), share)| {
        if case.twist().abs() * (2.0 * case.face + case.nominal) > std::f64::consts::PI {
            return Err(outside("so long a face meets the tooth again a turn farther on"));
        }
        let section = good("section", case.section())?;
        let edge = some("contact", section.contact_at(deg(0.0)))?;
        holds(edge.part == Part::Face, || format!("the {:?} is at the edge", edge.part))?;
        let got = some("relief", section.edge_relief())?;
        near("relief", got.degrees(), relief, 2e-6)?;
        holds(section.relief_kind() == Some(PieceKind::Convex), || "not convex".to_owned())?;
        let there = deg(share * 10.0);
        let Some(contact) = section.contact_at(there).filter(|at| at.part == Part::Face) else {
            return Err(outside("beyond the face"));
        };
        let slope = contact.slope_mm_per_rad / contact.radius.mm();
        let constant = case.lean.to_radians().tan() / case.twist().abs();
        near("support", -slope.atan().sin() * contact.radius.mm(), constant, 1e-7)
    });
}

/// The handbooks' tan(lean) = tan(relief) · tan(helix) departs by 1 − cos(relief) and no more.
#[test]
fn the_handbook_lean_is_near_the_real_one() {
    check(100, eccentric(), |(case, relief)| {
        let handbook = closed_form::eccentric_lean(deg(relief), deg(case.helix)).tan();
        let real = case.lean.to_radians().tan() * case.nominal / case.new;
        near("share", real / handbook, relief.to_radians().cos(), 1e-12)
    });
}

/// A case whose edge the sharp leading corner is likely to cut.
fn on_corner() -> impl Strategy<Value = Case> {
    (bench(), 5.0..45.0_f64, 0.0..0.25_f64).prop_map(|(case, helix, share)| {
        let toward = if case.agree() > 0.0 { FaceToward::Tip } else { FaceToward::Shank };
        let lean = case.lean.max(0.2);
        // So far in that the corner, on the helix, still leaves a relief.
        let reach = share * case.setting.to_radians() / case.twist_of(helix).abs();
        let inset = reach.min(0.9 * case.face);
        Case {
            helix,
            toward,
            lean,
            inset,
            leading: 0.0,
            worn: (0.0, 0.0),
            walls: (0.0, 0.0),
            tilt: 0.0,
            ..case
        }
    })
}

/// Own derivation: the corner is a circle of the wheel on a screw. Where it stands at the edge is
/// one equation in the angle round the wheel's axis; the relief follows from its tangent.
fn corner_relief_deg(case: &Case) -> f64 {
    let (wheel, radius, twist) = (0.5 * case.wheel, case.radius(), case.twist());
    let (sin, cos) = case.lean.to_radians().sin_cos();
    // How the circle falls back from its nearest point: along the cutter and away from it.
    let (back_t, back_y) = match case.kind {
        WheelKind::Cup => (case.along() * cos, sin),
        WheelKind::Disc => (-case.along() * sin, cos),
    };
    let t = |around: f64| -case.along() * case.inset + wheel * (1.0 - around.cos()) * back_t;
    let turned = |around: f64| -case.setting.to_radians() - twist * t(around);
    let miss = |around: f64| case.above + wheel * around.sin() - radius * turned(around).sin();
    let (mut low, mut high) = (-1.2, 1.2);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if miss(middle) > 0.0 { high = middle } else { low = middle }
    }
    let around = 0.5 * (low + high);
    let (y, z) = (radius * turned(around).cos(), radius * turned(around).sin());
    let (rise_t, rise_y) = (wheel * around.sin() * back_t, wheel * around.sin() * back_y);
    let rise_z = wheel * around.cos();
    let radial = (y * rise_y + z * rise_z) / radius;
    let turning = (y * rise_z - z * rise_y) / (radius * radius) + twist * rise_t;
    (-radial / (radius * turning)).atan().to_degrees()
}

#[test]
fn a_sharp_corner_cuts_as_its_circle_does() {
    check(300, on_corner(), |case| {
        let section = good("section", case.section())?;
        let edge = some("contact", section.contact_at(deg(0.0)))?;
        if edge.part != Part::LeadingCorner {
            return Err(outside("the face is at the edge"));
        }
        let relief = some("relief", section.edge_relief())?;
        near("relief", relief.degrees(), corner_relief_deg(&case), 1e-5)
    });
}

/// In the limit of a large wheel the corner is a straight line, and an inset of i costs
/// i · tan(helix) / R on the nominal circle.
#[test]
fn an_inset_costs_what_the_closed_form_says_on_a_large_wheel() {
    check(200, on_corner(), |case| {
        let case = Case { wheel: 1e5, above: 0.0, kind: WheelKind::Cup, ..case };
        let section = good("section", case.section())?;
        let cost = closed_form::inset_cost(mm(case.nominal), deg(case.helix), mm(case.inset));
        let relief = some("relief", section.edge_relief())?;
        // What is left of the circle falls back by (R sin a)² / (2 · wheel radius).
        let left = (2.0 * case.radius() / (0.5 * case.wheel)).to_degrees();
        near("relief", relief.degrees(), case.setting - cost.degrees(), left)
    });
}

/// On a wheel of the usual size it is off by no more than the share that its docs state.
#[test]
fn an_inset_costs_about_that_on_a_real_wheel() {
    check(200, on_corner(), |case| {
        let wheel = case.wheel.max(4.0 * case.nominal);
        let case = Case { wheel, above: 0.0, kind: WheelKind::Cup, ..case };
        let relief = |inset: f64| -> Result<f64, TestCaseError> {
            let section = good("section", Case { inset, ..case }.section())?;
            Ok(some("relief", section.edge_relief())?.degrees())
        };
        let cost = closed_form::inset_cost(mm(case.nominal), deg(case.helix), mm(case.inset));
        let [lean, setting, helix] = [case.lean, case.setting, case.helix].map(f64::to_radians);
        let share = case.nominal / case.wheel * (lean.sin() + 4.0 * helix.tan() * setting.sin());
        near("cost", relief(0.0)? - relief(case.inset)?, cost.degrees(), share * cost.degrees())
    });
}
