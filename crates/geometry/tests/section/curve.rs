//! The curve itself: it passes through the edge, its pieces tile it, its ways of being read agree,
//! and it is what the wheel leaves.

use geometry::Angle;
use geometry::section::GroundSection;
use geometry::wheel::WheelKind;
use proptest::prelude::*;

use crate::cases::{Case, PLAIN, bench, deg, turned, whole};
use crate::funnel::{Outcome, check, good, holds, near, outside, some};
use crate::solid::Solid;

/// Where a curve that was drawn from the whole domain must be exact: from just ahead of the edge,
/// and not far outside the circle.
fn counts(case: &Case, at: f64, radius: f64) -> bool {
    at > -0.02 && radius < 2.0 * case.radius()
}

/// Half of what the section covers.
fn reach(case: &Case) -> f64 {
    case.pitch().min(std::f64::consts::PI)
}

#[test]
fn the_edge_stands_on_the_circle_asked_for() {
    check(400, whole(), |case| {
        let section = case.made()?;
        let edge = some("contact", section.contact_at(deg(0.0)))?;
        near("edge", edge.radius.mm(), case.radius(), 1e-6)?;
        let curve = some("curve", section.radius_at(deg(0.0)))?;
        near("curve", curve.mm(), case.radius(), 1e-4)
    });
}

/// On the bench the interpolation keeps what it promises.
#[test]
fn the_curve_is_what_the_contact_is() {
    curve_is_contact(400, bench());
}

/// So it does at the ends of the domain, on wheels a hundred times as large as the cutter.
#[test]
fn the_curve_is_near_the_contact_everywhere() {
    curve_is_contact(400, whole());
}

/// The worst of 60 000 drawn set-ups: over the rounded inner corner of this level cup value and
/// slope of a long cubic once agreed at its middle by chance, and it strayed by 0.00009 mm beside.
#[test]
fn no_cubic_agrees_by_chance() {
    let case = Case {
        nominal: 43.825_883_730_933_91,
        new: 43.748_138_948_541_23,
        helix_hand: turned(PLAIN.helix_hand),
        helix: 45.0,
        wheel: 70.455_931_883_459_53,
        face: 1.261_173_442_566_546_6,
        walls: (26.589_818_398_904_516, 26.589_818_398_904_516),
        leading: 0.504_469_377_026_618_6,
        trailing: 0.494_375_140_157_651_9,
        lean: 0.0,
        inset: 0.0,
        setting: 25.0,
        above: 2.231_234_185_684_210_4,
        ..PLAIN
    };
    let section = case.section().expect("a section");
    for step in 0..400 {
        let at = Angle::from_radians(0.001 * f64::from(step));
        let both = section.radius_at(at).zip(section.contact_at(at));
        let (curve, contact) = both.expect("a surface");
        let off = (curve - contact.radius).mm().abs();
        assert!(off <= 2e-5, "{off} mm at {at:?}");
    }
}

fn curve_is_contact(cases: u32, from: impl Strategy<Value = Case>) {
    check(cases, (from, prop::collection::vec(-1.0..1.0_f64, 16)), |(case, shares)| {
        let section = case.made()?;
        for share in shares {
            let at = Angle::from_radians(share * reach(&case));
            let (Some(curve), Some(contact)) = (section.radius_at(at), section.contact_at(at))
            else {
                holds(section.contact_at(at).is_none(), || "a contact without a curve".to_owned())?;
                continue;
            };
            let (curve, contact) = (curve.mm(), contact.radius.mm());
            if !counts(&case, at.radians(), contact) {
                continue;
            }
            near(&format!("at {at:?}"), curve, contact, case.error(at.radians(), contact))?;
        }
        Ok(())
    });
}

/// The wheel that just touches a point of an outline leaves a section through that point.
#[test]
fn the_wheel_is_brought_to_any_point() {
    check(300, (bench(), -0.3..0.6_f64, 0.9..1.1_f64), |(case, share, out)| {
        let setup = good("set-up", case.setup())?;
        let (at, radius) = (Angle::from_radians(share * reach(&case)), out * case.radius());
        let touching = setup.section_touching(at, geometry::Length::from_mm(radius));
        let Ok(section) = touching else { return Err(outside("out of reach")) };
        let contact = some("contact", section.contact_at(at))?;
        near("point", contact.radius.mm(), radius, 1e-6)
    });
}

#[test]
fn many_rays_are_single_rays() {
    check(200, (whole(), -1.1..1.0_f64, 0.0..1.0_f64), |(case, from, share)| {
        let section = case.made()?;
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
        let section = case.made()?;
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
            let Some(contact) = section.contact_at(middle) else {
                // Beyond six radii the wheel is not followed, and a piece may run out there.
                let start = Angle::from_radians(from + 1e-9);
                let far = |at: Angle| {
                    section.radius_at(at).is_none_or(|r| r > 5.0 * section.circle_radius())
                };
                holds(far(start) || far(piece.to - Angle::from_radians(1e-9)), || {
                    format!("no contact within {piece:?}")
                })?;
                last = to;
                continue;
            };
            // Both corners of a level wheel cut a straight tooth alike, and one of them is told.
            let level = case.lean < 1e-4 && case.helix < 1e-4;
            holds(contact.part == piece.part || level, || format!("{contact:?} in {piece:?}"))?;
            last = to;
        }
        holds(!pieces.is_empty(), || "no piece".to_owned())
    });
}

/// On a straight tooth the two corners of a level cup cut one plane, and rounding must not deal it
/// out between them.
#[test]
fn two_corners_that_cut_alike_are_one_piece() {
    for (setting, wheel, face) in [(10.0, 100.0, 1.6), (4.0, 75.0, 3.0), (20.0, 150.0, 8.0)] {
        let case = Case { helix: 0.0, lean: 0.0, setting, wheel, face, ..PLAIN };
        let pieces = case.section().map(|section| section.pieces()).unwrap_or_default();
        assert!((1..=3).contains(&pieces.len()), "{} pieces: {pieces:?}", pieces.len());
    }
    check(200, bench(), |case| {
        let level = Case { helix: 0.0, lean: 0.0, tilt: 0.0, kind: WheelKind::Cup, ..case };
        let section = level.made()?;
        let count = section.pieces().len();
        holds(count <= 12, || format!("{count} pieces"))
    });
}

/// Where one part of the wheel takes over from another the curve has a corner and no step; near the
/// edge, for farther out a part can end where the wheel's near half does.
#[test]
fn pieces_meet_without_a_step() {
    check(400, bench(), |case| {
        let section = case.made()?;
        for pair in section.pieces().windows(2) {
            let (end, start) = (pair[0].to.radians(), pair[1].from.radians());
            if start - end > 1e-8 || end.abs() > 0.5 {
                continue;
            }
            let sides = [end - 1e-9, start + 1e-9];
            let contacts = sides.map(|at| section.contact_at(Angle::from_radians(at)));
            let [Some(before), Some(after)] = contacts else { continue };
            let (before, after) = (before.radius.mm(), after.radius.mm());
            if before.max(after) < 1.2 * case.radius() {
                let error = 2.0 * case.error(end, before.max(after));
                near(&format!("step at {end}"), after, before, error)?;
            }
        }
        Ok(())
    });
}

/// The point of the wheel that is said to have cut a ray stands on the wheel, at that radius and
/// at that angle of the tooth's own section.
#[test]
fn every_contact_lies_on_the_wheel() {
    check(400, (whole(), prop::collection::vec(-1.0..1.0_f64, 12)), |(case, shares)| {
        let section = case.made()?;
        let solid = Solid::of(&case, section.leading_corner_from_axis().mm());
        for share in shares.into_iter().chain([0.0]) {
            let at = share * reach(&case);
            let contact = section.contact_at(Angle::from_radians(at));
            let Some(contact) = contact.filter(|touch| counts(&case, at, touch.radius.mm())) else {
                continue;
            };
            let point = [contact.along.mm(), contact.across.mm(), contact.up.mm()];
            near("radius", point[1].hypot(point[2]), contact.radius.mm(), 1e-9)?;
            let stands = point[2].atan2(point[1]) + case.setting.to_radians();
            // A lean that is next to nothing leaves the angle all but undetermined along the face.
            // Where the face is long against the lead, the contact may lie a whole turn farther on.
            let angle = stands + case.twist() * point[0] - at;
            let turns = (angle / std::f64::consts::TAU).round() * std::f64::consts::TAU;
            near("angle", angle - turns, 0.0, 2e-6)?;
            let miss = solid.distance(point, 0.0).unwrap_or(0.0).abs();
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
        let section = case.made()?;
        for share in shares {
            never_inside(&case, &section, share * reach(&case))?;
        }
        Ok(())
    });
}

fn never_inside(case: &Case, section: &GroundSection, at: f64) -> Outcome {
    let contact = section.contact_at(Angle::from_radians(at));
    let radius = contact.map_or(f64::INFINITY, |contact| contact.radius.mm());
    let radius = radius.min(2.0 * case.radius());
    let inside = radius - 2.0 * case.error(at, radius);
    let solid = Solid::of(case, section.leading_corner_from_axis().mm());
    let hits = hits(case, &solid, at, inside);
    // Where the far part of the wheel stands inside as well, the near half is not all that grinds.
    let [Some(t), None] = hits else { return Ok(()) };
    holds(false, || format!("at {at} ({radius}) the wheel stands inside, {t} mm along"))
}

/// Where along the cutter the helix of one ray, at a radius, first runs into the wheel: within 60
/// degrees round the wheel's axis, and between 60 and 90 degrees.
fn hits(case: &Case, solid: &Solid, at: f64, radius: f64) -> [Option<f64>; 2] {
    let (twist, from) = (case.twist(), at - case.setting.to_radians());
    let speed = (1.0 + (twist * radius).powi(2)).sqrt();
    let end = case.wheel + case.face + case.inset;
    let mut found = [None, None];
    let mut t = -end;
    while t < end {
        let turn = from - twist * t;
        if turn.cos() <= 0.0 {
            t += behind(turn, twist);
            continue;
        }
        let point = [t, radius * turn.cos(), radius * turn.sin()];
        let Some(distance) = solid.distance(point, 0.0) else {
            t += 1e-3 * case.wheel;
            continue;
        };
        if distance <= 0.0 {
            let is_far = solid.distance(point, 0.5).is_none();
            found[usize::from(is_far)].get_or_insert(t);
        }
        let least = if distance > 0.0 { 1e-5 } else { 1e-3 * case.wheel };
        t += (distance.abs() / speed).max(least);
    }
    found
}

/// How far along the helix comes round to the wheel's side of the axis again.
fn behind(turn: f64, twist: f64) -> f64 {
    use std::f64::consts::{FRAC_PI_2, PI, TAU};
    // Counted the way in which it turns, from a quarter turn past the wheel's side.
    let gone = (-turn * twist.signum() - FRAC_PI_2).rem_euclid(TAU);
    (PI - gone) / twist.abs() + 1e-9
}

/// Every reading is a number or is honestly none, wherever there is a section at all.
#[test]
fn no_reading_is_other_than_a_number() {
    check(600, (whole(), 0.0..3.0_f64), |(case, distance)| {
        let section = case.made()?;
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

/// A radius is a distance from the axis, however far out the wheel leaves its surface.
#[test]
fn radii_are_positive() {
    check(200, bench(), |case| {
        let section = case.made()?;
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
