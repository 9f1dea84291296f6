//! What must not change the section, and what must change it one way only.

use geometry::Angle;
use geometry::section::GroundSection;
use proptest::test_runner::TestCaseError;

use crate::cases::{Case, bench, deg, mm, turned, whole};
use crate::funnel::{Outcome, check, holds, near, outside};

const RAYS: u32 = 97;

/// Rays from `from` to `to` times the pitch: angle and radius of the contact, not a number where
/// the wheel leaves nothing.
fn rays(case: &Case, section: &GroundSection, from: f64, to: f64) -> Vec<(f64, f64)> {
    let pitch = case.pitch().min(3.0);
    let step = (to - from) * pitch / f64::from(RAYS - 1);
    let at = |index: u32| from * pitch + step * f64::from(index);
    let radius = |at: f64| section.contact_at(Angle::from_radians(at)).map(|it| it.radius.mm());
    (0..RAYS).map(|index| (at(index), radius(at(index)).unwrap_or(f64::NAN))).collect()
}

/// Two sections agree where both are; where only one is, the ray grazes the end of a piece.
fn same(case: &Case, one: &GroundSection, other: &GroundSection, factor: f64) -> Outcome {
    let pairs = rays(case, one, -0.97, 0.97).into_iter().zip(rays(case, other, -0.97, 0.97));
    let mut alone = 0;
    for ((at, a), (_, b)) in pairs {
        // Where one leaves nothing the other must leave nothing near.
        let near_by = [a, b / factor].iter().any(|radius| *radius < 2.0 * case.radius());
        if !near_by {
            continue;
        }
        if a.is_nan() || b.is_nan() {
            alone += 1;
            continue;
        }
        let error = case.error(at, a) * (1.0 + factor.recip());
        near(&format!("at {at}"), b / factor, a, error)?;
    }
    holds(alone <= 2, || format!("{alone} rays have a surface in one section only"))
}

/// The sections of two cases that must be alike: made or refused alike. Put aside where the wheel
/// reaches the axis, for then there can be another place at which it passes through the edge.
fn both(one: &Case, other: &Case) -> Result<(GroundSection, GroundSection), TestCaseError> {
    let is_made = (one.section().is_ok(), other.section().is_ok());
    holds(is_made.0 == is_made.1, || format!("only one of two is refused: {is_made:?}"))?;
    Ok((one.made()?, other.made()?))
}

fn same_numbers(case: &Case, one: &GroundSection, other: &GroundSection) -> Outcome {
    same(case, one, other, 1.0)?;
    near("wheel", other.wheel_from_axis().mm(), one.wheel_from_axis().mm(), 1e-7)?;
    let relief = |section: &GroundSection| section.edge_relief().map(Angle::degrees);
    match (relief(one), relief(other)) {
        (Some(one), Some(other)) => near("relief", other, one, 1e-5),
        (one, other) => holds(one == other, || format!("relief {one:?} and {other:?}")),
    }
}

/// A left-hand cutter is a right-hand one in a mirror.
#[test]
fn both_hands_turned_leave_the_same() {
    check(150, whole(), |case| {
        let mirrored =
            Case { hand: turned(case.hand), helix_hand: turned(case.helix_hand), ..case };
        let (one, other) = both(&case, &mirrored)?;
        same_numbers(&case, &one, &other)
    });
}

/// A face to the tip under agreeing hands is a face to the shank under hands that differ.
#[test]
fn face_and_helix_turned_together_leave_the_same() {
    check(150, whole(), |case| {
        let turned =
            Case { helix_hand: turned(case.helix_hand), toward: case.toward.opposite(), ..case };
        let (one, other) = both(&case, &turned)?;
        same_numbers(&case, &one, &other)
    });
}

/// Without a helix it does not matter to which end the face runs.
#[test]
fn straight_teeth_know_no_ends() {
    check(100, whole(), |case| {
        let one = Case { helix: 0.0, ..case };
        let other = Case { toward: case.toward.opposite(), ..one };
        let (one, other) = both(&one, &other)?;
        same_numbers(&case, &one, &other)
    });
}

/// Every length k times as long, and the section is k times as large.
#[test]
fn the_section_scales_with_every_length() {
    check(150, (bench(), 0.4..4.0_f64), |(case, factor)| {
        let (one, other) = both(&case, &case.scaled(factor))?;
        same(&case, &one, &other, factor)?;
        let (a, b) = (one.wheel_from_axis().mm(), other.wheel_from_axis().mm());
        near("wheel", b / factor, a, 1e-6 * (1.0 + factor.recip()))
    });
}

/// More infeed never leaves more metal, and takes the wheel nearer.
#[test]
fn the_section_falls_with_the_feed() {
    check(150, (bench(), 0.001..0.5_f64), |(case, feed)| {
        let fed = Case { new: case.new - 2.0 * feed, ..case };
        let (before, after) = (case.made()?, fed.made()?);
        let moved = before.leading_corner_from_axis() - after.leading_corner_from_axis();
        holds(moved.mm() > 0.0, || format!("the wheel moved by {moved:?}"))?;
        // Behind the edge and near it the wheel is nothing but nearer; farther out a ray can fall
        // off the back of a rounded corner or a wall that draws in.
        let pairs = rays(&case, &before, 0.0, 0.4).into_iter().zip(rays(&case, &after, 0.0, 0.4));
        let is_near = |a: f64, b: f64| a < 1.2 * case.radius() && !b.is_nan();
        for ((at, a), (_, b)) in pairs.filter(|((_, a), (_, b))| is_near(*a, *b)) {
            holds(b <= a + 2.0 * case.error(at, a), || format!("at {at}: {a} grew to {b}"))?;
        }
        Ok(())
    });
}

/// The rate at which the radius grows as the wheel is backed off is that of two sections.
#[test]
fn backing_off_gains_radius_at_the_stated_rate() {
    check(150, bench(), |case| {
        let step = 1e-4;
        let section = |by: f64| Case { new: case.new + 2.0 * by, ..case }.made();
        let (less, more) = (section(-step)?, section(step)?);
        let middle = case.made()?;
        let contacts = [&less, &middle, &more].map(|section| section.contact_at(deg(0.0)));
        let [Some(less_at), Some(at), Some(more_at)] = contacts else {
            return Err(outside("nothing at the edge"));
        };
        if less_at.part != at.part || more_at.part != at.part {
            return Err(outside("another part of the wheel takes over"));
        }
        let moved = more.leading_corner_from_axis() - less.leading_corner_from_axis();
        let rate = mm(2.0 * step) / moved;
        near("rate", at.per_backing_off, rate, 1e-3 * rate.abs())
    });
}
