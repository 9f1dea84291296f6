//! The curve itself: it passes through the edge, its pieces tile it, its ways of being read agree,
//! and it is what the wheel leaves.

use geometry::Angle;
use geometry::section::GroundSection;
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;

use crate::cases::{Case, bench, deg, whole};
use crate::funnel::{Outcome, check, good, holds, near, outside, some};
use crate::solid::Solid;

fn made(case: &Case) -> Result<GroundSection, TestCaseError> {
    case.section().map_err(|_| outside("no section"))
}

/// Half of what the section covers.
fn reach(case: &Case) -> f64 {
    case.pitch().min(std::f64::consts::PI)
}

/// What the interpolation may be off: 2e-5 mm at the cutting circle, more by the square outside.
fn error_at(case: &Case, radius: f64) -> f64 {
    2e-5 * (radius / case.radius()).max(1.0).powi(2)
}

#[test]
fn the_edge_stands_on_the_circle_asked_for() {
    check(400, whole(), |case| {
        let section = made(&case)?;
        let edge = some("contact", section.contact_at(deg(0.0)))?;
        near("edge", edge.radius.mm(), case.radius(), 1e-6)?;
        let curve = some("curve", section.radius_at(deg(0.0)))?;
        near("curve", curve.mm(), case.radius(), 2e-5)
    });
}

#[test]
fn the_curve_is_what_the_contact_is() {
    check(400, (whole(), prop::collection::vec(-1.0..1.0_f64, 16)), |(case, shares)| {
        let section = made(&case)?;
        for share in shares {
            let at = Angle::from_radians(share * reach(&case));
            let (Some(curve), Some(contact)) = (section.radius_at(at), section.contact_at(at))
            else {
                holds(section.contact_at(at).is_none(), || "a contact without a curve".to_owned())?;
                continue;
            };
            let (curve, contact) = (curve.mm(), contact.radius.mm());
            near(&format!("at {at:?}"), curve, contact, error_at(&case, contact))?;
        }
        Ok(())
    });
}

#[test]
fn many_rays_are_single_rays() {
    check(200, (whole(), -1.1..1.0_f64, 0.0..1.0_f64), |(case, from, share)| {
        let section = made(&case)?;
        let to = from + share * (1.1 - from);
        let (from, to) = (from * reach(&case), to * reach(&case));
        let mut radii = vec![0.0; 61];
        section.fill_radii_mm(Angle::from_radians(from), Angle::from_radians(to), &mut radii);
        for (index, many) in radii.into_iter().enumerate() {
            let at = from + (to - from) / 60.0 * index as f64;
            let single = section.radius_at(Angle::from_radians(at)).map(geometry::Length::mm);
            match single {
                Some(single) => near(&format!("at {at}"), many, single, 1e-9 * single)?,
                None => holds(many.is_nan(), || format!("at {at}: {many} and nothing"))?,
            }
        }
        Ok(())
    });
}

#[test]
fn pieces_tile_the_section() {
    check(400, whole(), |case| {
        let section = made(&case)?;
        let pieces = section.pieces();
        let limit = reach(&case) + 1e-9;
        let mut last = -limit;
        for piece in &pieces {
            let (from, to) = (piece.from.radians(), piece.to.radians());
            holds(from >= last - 1e-12 && to > from && to <= limit, || {
                format!("{piece:?} after {last}")
            })?;
            // Where two pieces do not touch nothing is left, but for a sliver too short to list.
            let gap = Angle::from_radians(0.5 * (last + from));
            if from - last > 1e-8 {
                holds(section.radius_at(gap).is_none(), || format!("a hole before {piece:?}"))?;
            }
            let middle = Angle::from_radians(0.5 * (from + to));
            let contact = some("contact within a piece", section.contact_at(middle))?;
            holds(contact.part == piece.part, || format!("{contact:?} in {piece:?}"))?;
            last = to;
        }
        holds(!pieces.is_empty(), || "no piece".to_owned())
    });
}

/// The point of the wheel that is said to have cut a ray stands on the wheel, at that radius and
/// at that angle of the tooth's own section.
#[test]
fn every_contact_lies_on_the_wheel() {
    check(400, (whole(), prop::collection::vec(-1.0..1.0_f64, 12)), |(case, shares)| {
        let section = made(&case)?;
        let solid = Solid::of(&case, section.leading_corner_from_axis().mm());
        for share in shares.into_iter().chain([0.0]) {
            let at = share * reach(&case);
            let Some(contact) = section.contact_at(Angle::from_radians(at)) else { continue };
            let point = [contact.along.mm(), contact.across.mm(), contact.up.mm()];
            near("radius", point[1].hypot(point[2]), contact.radius.mm(), 1e-9)?;
            let stands = point[2].atan2(point[1]) + case.setting.to_radians();
            near("angle", stands + case.twist() * point[0], at, 1e-8)?;
            let miss = solid.distance(point).unwrap_or(0.0).abs();
            near(&format!("{contact:?} off the wheel"), miss, 0.0, 1e-9 * case.wheel)?;
        }
        Ok(())
    });
}

/// No part of the wheel's near half comes nearer to the cutter's axis than the section says: the
/// helix that a ray's end runs along, a little further in, is followed past the whole wheel in
/// steps no longer than the wheel is away.
#[test]
fn nothing_of_the_wheel_stands_inside_the_section() {
    check(250, (bench(), prop::collection::vec(-0.9..0.9_f64, 4)), |(case, shares)| {
        let section = made(&case)?;
        for share in shares {
            never_inside(&case, &section, share * reach(&case))?;
        }
        Ok(())
    });
}

#[test]
fn nothing_stands_inside_in_the_whole_domain() {
    check(250, (whole(), prop::collection::vec(-0.9..0.9_f64, 4)), |(case, shares)| {
        let section = made(&case)?;
        for share in shares {
            never_inside(&case, &section, share * reach(&case))?;
        }
        Ok(())
    });
}

fn never_inside(case: &Case, section: &GroundSection, at: f64) -> Outcome {
    let radius = section.radius_at(Angle::from_radians(at)).map(geometry::Length::mm);
    // Where it leaves nothing, it leaves nothing within ten cutter radii.
    let radius = radius.unwrap_or(9.9 * case.radius());
    let inside = radius - 2.0 * error_at(case, radius);
    let solid = Solid::of(case, section.leading_corner_from_axis().mm());
    let (twist, setting) = (case.twist(), case.setting.to_radians());
    let half = std::f64::consts::FRAC_PI_2;
    // The near half of the wheel lies within these, and the section counts what stands before the
    // axis only once: less than a quarter turn up or down.
    let ends = [-1.0, 1.0].map(|end| end * (case.wheel + case.face + case.inset));
    let turn = |t: f64| at - setting - twist * t;
    let speed = (1.0 + (twist * inside).powi(2)).sqrt();
    let mut t = ends[0];
    while t < ends[1] {
        let angle = turn(t);
        if angle.abs() > half {
            // Jump to where the helix comes before the axis, or out of the wheel.
            let to = (at - setting - half.copysign(angle)) / twist;
            if to <= t { break }
            t = to + 1e-9;
            continue;
        }
        let point = [t, inside * angle.cos(), inside * angle.sin()];
        let Some(distance) = solid.distance(point) else {
            t += 1e-3 * case.wheel;
            continue;
        };
        holds(distance > 0.0, || format!("at {at} ({radius}) the wheel stands {distance} in: {point:?}"))?;
        t += (distance / speed).max(1e-5);
    }
    Ok(())
}

/// Every reading is a number or is honestly none, wherever there is a section at all.
#[test]
fn no_reading_is_other_than_a_number() {
    check(600, (whole(), 0.0..3.0_f64), |(case, distance)| {
        let section = made(&case)?;
        let length = |name: &str, value: Option<geometry::Length>| {
            holds(value.is_none_or(geometry::Length::is_finite), || format!("{name}: {value:?}"))
        };
        let distance = geometry::Length::from_mm(distance * case.radius());
        let relief = some("relief", section.edge_relief())?;
        holds(relief.is_finite(), || format!("relief {relief:?}"))?;
        length("wheel", Some(section.wheel_from_axis()))?;
        length("corner", Some(section.leading_corner_from_axis()))?;
        length("drop", section.drop_at(distance))?;
        length("drag", section.heel_drag_from())?;
        length("next tooth", section.next_tooth_gap())?;
        length("far side", section.far_side_gap())?;
        length("land", section.land_before(&section))?;
        let mean = section.mean_relief(distance);
        holds(mean.is_none_or(Angle::is_finite), || format!("mean {mean:?}"))?;
        for piece in section.pieces() {
            holds(piece.from.is_finite() && piece.to.is_finite(), || format!("{piece:?}"))?;
        }
        for step in -40..=40 {
            let at = Angle::from_radians(f64::from(step) / 40.0 * reach(&case));
            length("radius", section.radius_at(at))?;
            let Some(contact) = section.contact_at(at) else { continue };
            let sizes = [contact.along, contact.across, contact.up, contact.radius];
            holds(sizes.into_iter().all(geometry::Length::is_finite), || format!("{contact:?}"))?;
        }
        Ok(())
    });
}

/// A section is followed to ten radii and no farther, and never stands inside the axis.
#[test]
fn radii_stay_within_what_is_followed() {
    check(200, whole(), |case| {
        let section = good("section", case.section()).map_err(|_| outside("no section"))?;
        let mut radii = vec![0.0; 201];
        let end = Angle::from_radians(reach(&case));
        section.fill_radii_mm(-end, end, &mut radii);
        let known = radii.into_iter().filter(|radius| !radius.is_nan());
        for radius in known {
            holds(radius > 0.0, || format!("radius {radius}"))?;
        }
        Ok(())
    });
}
