//! What is read off a section: lands, heel drag, the gaps to the next tooth and to the far rim.

use geometry::Angle;
use geometry::closed_form;
use geometry::section::GroundSection;
use geometry::wheel::{FaceToward, Part, WheelKind};
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;

use crate::cases::{Case, PLAIN, bench, deg, mm};
use crate::funnel::{check, good, holds, near, outside, some};

/// A straight tooth under a level cup: the surfaces are planes.
fn plane(diameter: f64, setting: f64) -> Result<GroundSection, TestCaseError> {
    let case = Case { nominal: diameter, new: diameter, helix: 0.0, lean: 0.0, setting, ..PLAIN };
    good("section", Case { wheel: 20.0 * diameter, teeth: 2, ..case }.section())
}

/// Radius and the two reliefs of a land, and its width as a share of the radius.
fn two_planes() -> impl Strategy<Value = (f64, f64, f64, f64)> {
    (1.5..25.0_f64, 3.0..14.0_f64, 4.0..14.0_f64, 0.002..0.2_f64)
}

/// Two planes at a1 and a2 meet at a width w behind the edge where the second stands
/// w·sin(a2 − a1) outside the first's parallel through the edge.
#[test]
fn a_land_ends_where_two_planes_meet() {
    check(200, two_planes(), |(radius, first, more, share)| {
        let (second, width) = (first + more, share * radius);
        let outside_mm = width * more.to_radians().sin() / second.to_radians().cos();
        let primary = plane(2.0 * radius, first)?;
        let secondary = plane(2.0 * (radius + outside_mm), second)?;
        let land = some("land", primary.land_before(&secondary))?;
        // Both curves may be off by their interpolation, and the land shows it magnified.
        near("land", land.mm(), width, 4e-5 / more.to_radians().sin())
    });
}

/// The rate at which a land grows as the primary is fed in under a secondary that stays.
#[test]
fn a_land_grows_as_the_closed_form_says() {
    check(200, two_planes(), |(radius, first, more, share)| {
        let (second, width) = (first + more, (0.02 + share) * radius);
        let step = 0.1 * width * more.to_radians().sin();
        let outside_mm = width * more.to_radians().sin() / second.to_radians().cos();
        let secondary = plane(2.0 * (radius + outside_mm), second)?;
        let land = |taken: f64| -> Result<f64, TestCaseError> {
            let primary = plane(2.0 * (radius - taken), first)?;
            Ok(some("land", primary.land_before(&secondary))?.mm())
        };
        let rate = (land(step)? - land(-step)?) / (2.0 * step);
        let closed = closed_form::land_growth(deg(first), deg(second), Angle::ZERO);
        near("growth", rate, closed, 2e-3 * closed)
    });
}

/// The end of a land lies on both sections.
#[test]
fn a_land_ends_on_both_sections() {
    check(200, (bench(), 3.0..10.0_f64, 0.01..0.1_f64), |(case, more, out)| {
        let behind =
            Case { setting: case.setting + more, new: case.new * (1.0 + 0.02 * out), ..case };
        let (primary, secondary) = (case.made()?, behind.made()?);
        let Some(land) = primary.land_before(&secondary) else {
            return Err(outside("they do not cross"));
        };
        // The angle at which the chord from the edge has that length.
        let (mut low, mut high) = (0.0, case.pitch());
        for _ in 0..80 {
            let middle = 0.5 * (low + high);
            let radius = primary.radius_at(Angle::from_radians(middle));
            let Some(radius) = radius.map(geometry::Length::mm) else {
                high = middle;
                continue;
            };
            let chord = (case.radius() - radius * middle.cos()).hypot(radius * middle.sin());
            if chord < land.mm() { low = middle } else { high = middle }
        }
        let at = Angle::from_radians(low);
        let radii = [&primary, &secondary].map(|section| section.radius_at(at));
        let [Some(one), Some(other)] = radii else { return Err(outside("at the end of a piece")) };
        near("both", one.mm(), other.mm(), 1e-6 * case.radius() + 1e-5)
    });
}

/// Up to where the heel drags the section stands inside the circle, and there it comes out of it.
#[test]
fn a_heel_drags_from_where_the_drop_ends() {
    check(200, (bench(), prop::collection::vec(0.001..0.999_f64, 24)), |(case, shares)| {
        let section = case.made()?;
        let drag = section.heel_drag_from().map(geometry::Length::mm);
        let end = drag.unwrap_or(case.pitch().min(3.1) * case.radius());
        for share in shares {
            let Some(drop) = section.drop_at(mm(share * end)) else { continue };
            holds(drop.mm() > -4e-5, || format!("{drop:?} at {share} of {end} mm"))?;
        }
        if let Some(drag) = drag.filter(|drag| *drag > 0.0) {
            let drop = some("drop", section.drop_at(mm(drag)))?;
            holds(drop.mm() < 4e-5, || format!("{drop:?} where it drags, at {drag} mm"))?;
        }
        Ok(())
    });
}

/// Under a plane the next tooth's edge, a pitch ahead, is cleared by R·cos a / cos(pitch − a) − R.
#[test]
fn a_plane_clears_the_next_tooth() {
    check(100, (bench(), 4_u32..12), |(case, teeth)| {
        let flat = Case { helix: 0.0, lean: 0.0, tilt: 0.0, kind: WheelKind::Cup, ..case };
        let sharp = Case { leading: 0.0, worn: (0.0, 0.0), walls: (0.0, 0.0), ..flat };
        let case = Case { teeth, wheel: 20.0 * case.nominal, above: 0.0, ..sharp };
        let section = good("section", case.section())?;
        let (setting, pitch) = (case.setting.to_radians(), case.pitch());
        let next = case.radius() * setting.cos() / (pitch - setting).cos();
        if !(0.0..4.0 * case.radius()).contains(&next) {
            return Err(outside("too far out"));
        }
        let gap = some("gap", section.next_tooth_gap())?;
        near("gap", gap.mm(), next - case.radius(), case.error(pitch, next))
    });
}

/// The far side of a cup's rim stands away by the lean over the wheel, less the face; on a level
/// cup it stands inside the circle, which is what a lean is for.
#[test]
fn the_far_side_of_a_cup_stands_off_by_its_lean() {
    check(200, bench(), |case| {
        let case = Case { kind: WheelKind::Cup, above: 0.0, tilt: 0.0, worn: (0.0, 0.0), ..case };
        let case = Case { leading: 0.0, trailing: 0.0, ..case };
        let section = good("section", case.section())?;
        let lean = case.lean.to_radians();
        let away = section.leading_corner_from_axis().mm() + (case.wheel - case.face) * lean.sin();
        if away.abs() * lean.sin() > 0.4 * case.wheel {
            return Err(outside("not nearest at the rim's far end"));
        }
        let gap = some("gap", section.far_side_gap())?;
        near("gap", gap.mm(), away.abs() - case.radius(), 1e-6)
    });
    let level = Case { lean: 0.0, ..PLAIN };
    let gap = level.section().ok().and_then(|section| section.far_side_gap());
    assert!(gap.is_some_and(|gap| gap.mm() < 0.0));
}

/// A disc has no far side, and its axis is told where it passes the leading corner.
#[test]
fn a_discs_axis_is_told_at_the_leading_corner() {
    check(100, bench(), |case| {
        let case = Case { kind: WheelKind::Disc, walls: (0.0, 0.0), tilt: 0.0, ..case };
        let section = case.made()?;
        holds(section.far_side_gap().is_none(), || "a far side".to_owned())?;
        let corner = section.leading_corner_from_axis().mm();
        let axis = corner + 0.5 * case.wheel / case.lean.to_radians().cos();
        near("axis", section.wheel_from_axis().mm(), axis, 1e-9)
    });
}

/// The rest on the leading corner of an agreeing helix leaves its edge to that corner.
#[test]
fn the_corner_at_the_rest_cuts_the_edge() {
    let case = Case { inset: 0.0, toward: FaceToward::Tip, ..PLAIN };
    let edge = case.section().ok().and_then(|section| section.contact_at(Angle::ZERO));
    assert!(edge.is_some_and(|edge| edge.part == Part::LeadingCorner));
}
