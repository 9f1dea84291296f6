//! Straight teeth, where a circle of the wheel leaves the section and closed forms are exact.

use geometry::closed_form;
use geometry::section::{GroundSection, PieceKind};
use geometry::wheel::WheelKind;
use geometry::{Angle, Length};
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;

use crate::cases::{Case, PLAIN, bench, deg, mm};
use crate::funnel::{Outcome, check, good, near, outside, some};

/// Placing the wheel to 1e-8 mm turns a relief by 1e-8 mm over the radius, below this.
const RELIEF_DEG: f64 = 2e-6;

/// Placing the wheel to 1e-8 mm, doubled.
const PLACE_MM: f64 = 2e-8;

fn straight(kind: WheelKind, is_level: bool) -> impl Strategy<Value = Case> {
    let is_plain = move |case: &Case| case.radius() + case.above.abs() < 0.25 * case.wheel;
    bench()
        .prop_map(move |case| Case {
            kind,
            helix: 0.0,
            lean: if is_level { 0.0 } else { case.lean },
            walls: (0.0, 0.0),
            leading: 0.0,
            worn: (0.0, 0.0),
            trailing: 0.0,
            tilt: 0.0,
            ..case
        })
        .prop_filter("the edge is under the wheel", is_plain)
}

/// Closed form: relief = setting, drop = R − R·cos a / cos(c/R − a), wheel at R·cos a.
#[test]
fn a_plane_face_leaves_its_setting_as_relief() {
    check(200, (straight(WheelKind::Cup, true), 0.0..1.0_f64), |(case, share)| {
        let section = good("section", case.section())?;
        let (radius, setting) = (case.radius(), case.setting.to_radians());
        near("relief", relief_deg(&section)?, case.setting, RELIEF_DEG)?;
        near("plane", section.wheel_from_axis().mm(), radius * setting.cos(), PLACE_MM)?;
        let distance = share * radius * (0.9 * case.pitch()).min(1.0);
        let at = distance / radius;
        let wanted = radius - radius * setting.cos() / (at - setting).cos();
        let drop = some("drop", section.drop_at(mm(distance)))?;
        near("drop", drop.mm(), wanted, 1e-6)?;
        let formula = closed_form::plane_drop(mm(case.new), deg(case.setting), mm(distance));
        near("drop against its closed form", drop.mm(), formula.mm(), 1e-6)?;
        let mean = some("mean relief", section.mean_relief(mm(distance.max(0.02 * radius))))?;
        near("mean relief", mean.degrees(), case.setting, 2e-5)
    });
}

/// A plane leaves the circle at its foot and comes back to it at twice the setting.
#[test]
fn a_plane_face_drags_from_twice_its_setting() {
    check(100, straight(WheelKind::Cup, true), |case| {
        let section = good("section", case.section())?;
        let (radius, twice) = (case.radius(), 2.0 * case.setting.to_radians());
        if twice > case.pitch() {
            return Err(outside("the next tooth comes first"));
        }
        let drag = some("drag", section.heel_drag_from())?;
        // The section counts as outside the circle from 2e-5 mm on, which it gains along its slope.
        near("drag", drag.mm(), radius * twice, 3e-5 / case.setting.to_radians().tan())?;
        assert_eq!(section.relief_kind(), Some(PieceKind::Flat));
        Ok(())
    });
}

/// Closed form: relief = setting + asin((R·sin a + above) / wheel radius); the section is the
/// wheel's own circle.
#[test]
fn a_disc_leaves_its_circle() {
    check(200, (straight(WheelKind::Disc, true), 0.0..1.0_f64), |(case, share)| {
        let section = good("section", case.section())?;
        let (wheel, under) = (0.5 * case.wheel, case.under_axis());
        let wanted = case.setting + (under / wheel).asin().to_degrees();
        near("relief", relief_deg(&section)?, wanted, RELIEF_DEG)?;
        let formula = closed_form::disc_relief(
            mm(case.new),
            mm(case.wheel),
            deg(case.setting),
            mm(case.above),
        );
        near("closed form", some("closed form", formula)?.degrees(), wanted, 1e-9)?;
        let away = case.radius() * case.setting.to_radians().cos()
            + (wheel * wheel - under * under).sqrt();
        near("wheel's axis", section.wheel_from_axis().mm(), away, PLACE_MM)?;
        let at = share * case.pitch().min(0.6);
        let (sin, cos) = (at - case.setting.to_radians()).sin_cos();
        let (middle, across) = (away * cos + case.above * sin, away * sin - case.above * cos);
        let circle = middle - (wheel * wheel - across * across).sqrt();
        let contact = some("contact", section.contact_at(Angle::from_radians(at)))?;
        near("circle", contact.radius.mm(), circle, 1e-7)
    });
}

/// A wheel tipped by an angle leaves that much more relief: a plane face exactly; a disc's axis
/// comes to stand higher by the wheel's radius times the sine.
#[test]
fn a_tilt_adds_to_the_relief() {
    let kinds = prop_oneof![straight(WheelKind::Cup, true), straight(WheelKind::Disc, true)];
    check(200, (kinds, -2.0..12.0_f64), |(case, tilt)| {
        let section = good("section", Case { tilt, ..case }.section())?;
        let higher = case.under_axis() / (0.5 * case.wheel) + tilt.to_radians().sin();
        let added = if case.kind == WheelKind::Cup { tilt } else { higher.asin().to_degrees() };
        near("relief", relief_deg(&section)?, case.setting + added, RELIEF_DEG)
    });
}

/// Own derivation: seen along a straight tooth the leading corner's circle is an ellipse, flat by
/// sin(lean) for a cup and by cos(lean) for a disc; its slope adds to the setting.
#[test]
fn a_leaning_wheel_leaves_an_ellipse() {
    let kinds = prop_oneof![straight(WheelKind::Cup, false), straight(WheelKind::Disc, false)];
    check(200, kinds, |case| {
        let section = good("section", case.section())?;
        let around = (case.under_axis() / (0.5 * case.wheel)).asin();
        let lean = case.lean.to_radians();
        let flat = if case.kind == WheelKind::Cup { lean.sin() } else { lean.cos() };
        let wanted = case.setting + (flat * around.tan()).atan().to_degrees();
        near("relief", relief_deg(&section)?, wanted, RELIEF_DEG)
    });
}

/// The rest's offset and the relief that it gives are one another's inverse, and the plane leaves
/// that relief.
#[test]
fn an_offset_gives_the_relief_it_was_worked_out_for() {
    check(100, straight(WheelKind::Cup, true), |case| {
        let offset = closed_form::rest_offset(mm(case.new), deg(case.setting));
        let below = case.radius() * case.setting.to_radians().sin();
        near("offset", offset.mm(), below, 1e-12)?;
        let back = some("relief", closed_form::relief_from_offset(mm(case.new), offset))?;
        near("relief", back.degrees(), case.setting, 1e-9)?;
        let section = good("section", case.section())?;
        near("on the kernel", relief_deg(&section)?, back.degrees(), RELIEF_DEG)
    });
}

fn relief_deg(section: &GroundSection) -> Result<f64, TestCaseError> {
    Ok(some("relief", section.edge_relief())?.degrees())
}

/// One set-up by hand, so that no drawing of cases can hide a wrong frame: 12.6 mm, 10 deg, plane.
#[test]
fn one_plane_by_hand() -> Outcome {
    let case = Case { helix: 0.0, lean: 0.0, ..PLAIN };
    let section = good("section", case.section())?;
    // 6.3 · (1 − cos 10° / cos(1 rad · 0.127 / 6.3 − 10°)), worked out apart.
    let drop = some("drop", section.drop_at(Length::from_mm(0.127)))?;
    near("drop", drop.mm(), 0.021_041_461_7, 1e-9)
}
