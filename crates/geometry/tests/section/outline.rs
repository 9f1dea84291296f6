//! A tooth's outline before and after the wheel: what is cut, and where the wheel first touches.

use geometry::outline::{Outline, OutlinePoint, WornTooth};
use geometry::section::GroundSection;
use geometry::wheel::WheelKind;
use geometry::{Angle, Length};
use proptest::prelude::*;

use crate::cases::{Case, PLAIN, bench, deg, mm};
use crate::funnel::{check, good, holds, near, outside, some};

/// A tooth that fits a case: land, thickness and wear as shares of the radius, stock to be taken.
fn tooth() -> impl Strategy<Value = (Case, WornTooth)> {
    let angles = (-5.0..20.0_f64, 4.0..14.0_f64, 4.0..14.0_f64);
    let sizes = (0.02..0.12_f64, 0.15..0.5_f64, prop_oneof![Just(0.0), 0.002..0.03_f64]);
    (bench(), angles, sizes, 0.001..0.02_f64).prop_map(|(case, angles, sizes, stock)| {
        let (rake, primary, more) = angles;
        let (land, thickness, wear) = sizes;
        let radius = case.radius();
        let tooth = WornTooth {
            sharp_radius: mm(radius * (1.0 + stock)),
            rake: deg(rake),
            primary: deg(primary),
            secondary: deg(primary + more),
            land: mm(land * radius),
            thickness: mm((thickness * radius).min(0.9 * case.pitch() * radius)),
            wear_land: mm(wear * radius),
        };
        (case, tooth)
    })
}

/// Angles all along an outline, its own points among them.
fn along(outline: &Outline) -> impl Iterator<Item = Angle> {
    let points = outline.points();
    let own = points.iter().map(|point| point.heelward);
    let ends = points
        .first()
        .zip(points.last())
        .map(|(first, last)| (first.heelward.radians(), last.heelward.radians()));
    let (from, to) = ends.unwrap_or_default();
    let even = (0..=800)
        .map(move |step| Angle::from_radians(from + (to - from) * f64::from(step) / 800.0));
    even.chain(own)
}

/// The most by which the outline stands outside a section, and it is never less than nothing
/// where the two meet.
fn overlap(outline: &Outline, section: &GroundSection) -> Option<f64> {
    let over = |at: Angle| Some(outline.radius_at(at)?.mm() - section.contact_at(at)?.radius.mm());
    along(outline).filter_map(over).max_by(f64::total_cmp)
}

#[test]
fn a_cut_takes_metal_and_never_adds_any() {
    check(200, tooth(), |(case, tooth)| {
        let (section, before) = (case.made()?, tooth.outline(mm(case.radius())));
        let after = before.cut_by(&section);
        for at in along(&after) {
            let (Some(left), Some(was)) = (after.radius_at(at), before.radius_at(at)) else {
                continue;
            };
            holds(left.mm() <= was.mm() + 1e-9, || format!("{left:?} of {was:?} at {at:?}"))?;
            let Some(cut) = section.radius_at(at) else { continue };
            // Between its points, 1/400 radian apart, the outline is straight: it stands out by a
            // sagitta, and where the section has a corner by a small share of that step.
            let corner = 0.02 * case.radius() / 400.0;
            let most = cut.mm() + corner + case.error(at.radians(), cut.mm());
            holds(left.mm() <= most, || format!("{left:?} outside {cut:?} at {at:?}"))?;
        }
        Ok(())
    });
}

/// What is left after a cut is all that both leave.
#[test]
fn a_cut_leaves_what_neither_takes() {
    check(200, tooth(), |(case, tooth)| {
        let (section, before) = (case.made()?, tooth.outline(mm(case.radius())));
        let after = before.cut_by(&section);
        for point in after.points() {
            let was = some("before", before.radius_at(point.heelward))?;
            let cut = section.radius_at(point.heelward);
            let left = cut.map_or(was, |cut| cut.min(was));
            near("left", point.radius.mm(), left.mm(), 1e-9)?;
        }
        let again = after.cut_by(&section);
        for point in again.points() {
            let Some(once) = after.radius_at(point.heelward) else { continue };
            near("again", point.radius.mm(), once.mm(), 2e-5)?;
        }
        Ok(())
    });
}

/// The wheel that just kisses a dull tooth touches it and cuts nothing.
#[test]
fn a_kiss_touches_and_cuts_nothing() {
    check(200, tooth(), |(case, tooth)| {
        let outline = tooth.outline(mm(case.radius()));
        let section = case.made()?;
        let setup = good("set-up", case.setup())?;
        let Ok(kissing) = outline.kissed_by(&setup, &section) else {
            return Err(outside("the wheel does not come to the outline"));
        };
        let over = some("overlap", overlap(&outline, &kissing))?;
        near("overlap", over, 0.0, 1e-5)
    });
}

/// A small disc bulges far into the long straight back of a large tooth: it touches where its round
/// is nearest, and neither end nor middle of the stretch will do for that. The touch is worked out
/// from the disc as a circle and the back as a line.
#[test]
fn a_round_wheel_kisses_a_long_back_between_its_ends() {
    let case = Case {
        nominal: 60.0,
        new: 59.0,
        helix: 0.0,
        lean: 0.0,
        kind: WheelKind::Disc,
        wheel: 40.0,
        face: 5.0,
        inset: 1.0,
        setting: 15.0,
        above: 2.0,
        ..PLAIN
    };
    let tooth = WornTooth {
        sharp_radius: mm(30.0),
        rake: deg(0.0),
        primary: deg(4.0),
        secondary: deg(9.0),
        land: mm(8.0),
        thickness: mm(14.0),
        wear_land: Length::ZERO,
    };
    let outline = tooth.outline(mm(case.radius()));
    let (setup, section) = (case.setup().expect("a set-up"), case.section().expect("a section"));
    let kissing = outline.kissed_by(&setup, &section).expect("a kiss");
    let over = overlap(&outline, &kissing).expect("they meet");
    assert!(over.abs() < 1e-5, "overlap of {over} mm");
    // The tooth stands 15 degrees below centre; in its own section the disc's axis, 2 mm above the
    // cutter's, is turned back by as much. The wheel comes along y, so its centre lies on the level
    // line 2 mm up; it stops where its circle first touches one of the two straight stretches.
    let (sin, cos) = 15.0_f64.to_radians().sin_cos();
    let turned = |point: &OutlinePoint| {
        let (r, at) = (point.radius.mm(), point.heelward.radians());
        let (y, z) = (r * at.cos(), r * at.sin());
        (y * cos + z * sin, z * cos - y * sin)
    };
    let corners: Vec<(f64, f64)> = outline.points().iter().map(turned).collect();
    let points = corners.windows(2).flat_map(|pair| {
        let ((y0, z0), (y1, z1)) = (pair[0], pair[1]);
        (0..=40_000).map(move |step| {
            let share = f64::from(step) / 40_000.0;
            (y0 + (y1 - y0) * share, z0 + (z1 - z0) * share)
        })
    });
    let stops = points.map(|(y, z)| y + (20.0_f64.powi(2) - (z - 2.0).powi(2)).max(0.0).sqrt());
    let axis = stops.fold(f64::NEG_INFINITY, f64::max);
    let told = kissing.wheel_from_axis().mm();
    assert!((axis - told).abs() < 1e-5, "{axis} by points, {told} told");
}

/// The outline of a sharp tooth starts at its edge and runs back at its two reliefs.
#[test]
fn a_sharp_tooth_is_drawn_as_it_was_ground() {
    check(200, tooth(), |(_, tooth)| {
        let tooth = WornTooth { wear_land: Length::ZERO, ..tooth };
        let outline = tooth.outline(tooth.sharp_radius);
        let radius = tooth.sharp_radius.mm();
        let edge = some("edge", outline.points().first())?;
        near("edge", edge.heelward.radians(), 0.0, 1e-12)?;
        near("edge", edge.radius.mm(), radius, 1e-12)?;
        // A straight primary is the plane drop of its relief.
        let at = 0.5 * tooth.land.mm() * tooth.primary.cos() / radius;
        let wanted = radius * tooth.primary.cos() / (at - tooth.primary.radians()).cos();
        let found = some("radius", outline.radius_at(Angle::from_radians(at)))?;
        near("primary", found.mm(), wanted, 1e-9)
    });
}

/// A new edge on a smaller circle lies on the old face: ahead of it stands the old edge, by the
/// rake, straight.
#[test]
fn the_new_edge_lies_on_the_old_face() {
    check(200, tooth(), |(case, tooth)| {
        let tooth = WornTooth { wear_land: Length::ZERO, ..tooth };
        let outline = tooth.outline(mm(case.radius()));
        let old = some("edge", outline.points().first())?;
        let (sin, cos) = (old.heelward.sin(), old.heelward.cos());
        let out = old.radius.mm() * cos - case.radius();
        let ahead = -old.radius.mm() * sin;
        near("old edge", old.radius.mm(), tooth.sharp_radius.mm(), 1e-9)?;
        near("rake", ahead, out * tooth.rake.tan(), 1e-9 * case.radius())
    });
}

#[test]
fn a_land_ends_where_the_old_back_falls_below_the_wheel() {
    check(200, tooth(), |(case, tooth)| {
        let (section, before) = (case.made()?, tooth.outline(mm(case.radius())));
        let Some(land) = before.land_left_by(&section) else { return Ok(()) };
        // The place at that chord, found from the chord alone.
        let chord = |at: f64| {
            let radius = section.radius_at(Angle::from_radians(at))?.mm();
            let edge = case.radius();
            Some((edge * edge + radius * radius - 2.0 * edge * radius * at.cos()).sqrt())
        };
        let (mut low, mut high) = (0.0, before.heel().heelward.radians());
        for _ in 0..80 {
            let middle = 0.5 * (low + high);
            if chord(middle).is_some_and(|c| c < land.mm()) { low = middle } else { high = middle }
        }
        let above = |at: f64| {
            let at = Angle::from_radians(at);
            Some(before.radius_at(at)?.mm() - section.radius_at(at)?.mm())
        };
        near("outline on the section", some("meeting", above(low))?, 0.0, 1e-7)?;
        let between = (1..100).map(|step| low * 0.999 * f64::from(step) / 100.0);
        let least = between.filter_map(above).fold(f64::INFINITY, f64::min);
        holds(least > -1e-9, || format!("the back lies {least} mm inside before the land ends"))
    });
}
