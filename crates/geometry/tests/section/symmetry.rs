//! What must not change the section, and what must change it one way only.

use geometry::section::{GroundSection, SectionError};
use proptest::test_runner::TestCaseError;

use crate::cases::{Case, bench, deg, mm, turned, whole};
use crate::funnel::{Outcome, check, good, holds, near, outside};

const RAYS: usize = 97;

/// Radii from `from` to `to` times the pitch; not a number where the wheel leaves nothing.
fn radii(section: &GroundSection, from: f64, to: f64) -> Vec<f64> {
    let pitch = std::f64::consts::TAU / f64::from(section.setup().flutes().teeth);
    let at = |share: f64| geometry::Angle::from_radians(share * pitch.min(3.0));
    let mut radii = vec![0.0; RAYS];
    section.fill_radii_mm(at(from), at(to), &mut radii);
    radii
}

/// Two sections agree where both are; where only one is, the ray grazes the end of a piece.
fn same(one: &GroundSection, other: &GroundSection, factor: f64) -> Outcome {
    let pairs = radii(one, -0.97, 0.97).into_iter().zip(radii(other, -0.97, 0.97));
    let mut alone = 0;
    for (at, (a, b)) in pairs.enumerate() {
        if a.is_nan() || b.is_nan() {
            alone += usize::from(a.is_nan() != b.is_nan());
            continue;
        }
        let far = (a / one.circle_radius().mm()).max(1.0).powi(2);
        near(&format!("ray {at}"), b / factor, a, 4e-5 * far * factor.recip().max(1.0))?;
    }
    holds(alone <= 2, || format!("{alone} rays have a surface in one section only"))
}

type Made = Result<GroundSection, SectionError>;

/// Both sections, or a case put aside where both are refused.
fn both(one: Made, other: Made) -> Result<(GroundSection, GroundSection), TestCaseError> {
    match (one, other) {
        (Ok(one), Ok(other)) => Ok((one, other)),
        (Err(_), Err(_)) => Err(outside("no section")),
        (Err(why), Ok(_)) => Err(TestCaseError::fail(format!("only the first is refused: {why}"))),
        (Ok(_), Err(why)) => Err(TestCaseError::fail(format!("only the other is refused: {why}"))),
    }
}

fn same_numbers(one: &GroundSection, other: &GroundSection) -> Outcome {
    same(one, other, 1.0)?;
    near("wheel", other.wheel_from_axis().mm(), one.wheel_from_axis().mm(), 1e-7)?;
    let relief = |section: &GroundSection| section.edge_relief().map(geometry::Angle::degrees);
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
        let (one, other) = both(case.section(), mirrored.section())?;
        same_numbers(&one, &other)
    });
}

/// A face to the tip under agreeing hands is a face to the shank under hands that differ.
#[test]
fn face_and_helix_turned_together_leave_the_same() {
    check(150, whole(), |case| {
        let turned = Case {
            helix_hand: turned(case.helix_hand),
            toward: case.toward.opposite(),
            ..case
        };
        let (one, other) = both(case.section(), turned.section())?;
        same_numbers(&one, &other)
    });
}

/// Without a helix it does not matter to which end the face runs.
#[test]
fn straight_teeth_know_no_ends() {
    check(100, whole(), |case| {
        let one = Case { helix: 0.0, ..case };
        let other = Case { toward: case.toward.opposite(), ..one };
        let (one, other) = both(one.section(), other.section())?;
        same_numbers(&one, &other)
    });
}

/// Every length k times as long, and the section is k times as large.
#[test]
fn the_section_scales_with_every_length() {
    check(150, (bench(), 0.4..4.0_f64), |(case, factor)| {
        let (one, other) = both(case.section(), case.scaled(factor).section())?;
        same(&one, &other, factor)?;
        let (a, b) = (one.wheel_from_axis().mm(), other.wheel_from_axis().mm());
        near("wheel", b / factor, a, 2e-8 * (1.0 + factor.recip()))
    });
}

/// More infeed never leaves more metal, and takes the wheel nearer.
#[test]
fn the_section_falls_with_the_feed() {
    check(150, (bench(), 0.001..0.5_f64), |(case, feed)| {
        let fed = Case { new: case.new - 2.0 * feed, ..case };
        let (before, after) = both(case.section(), fed.section())?;
        let moved = before.leading_corner_from_axis() - after.leading_corner_from_axis();
        holds(moved.mm() > 0.0, || format!("the wheel moved by {moved:?}"))?;
        // Up to half a turn behind the edge the wheel is nothing but nearer.
        let pairs = radii(&before, 0.0, 0.5).into_iter().zip(radii(&after, 0.0, 0.5));
        for (at, (a, b)) in pairs.enumerate().filter(|(_, (a, b))| !(a.is_nan() || b.is_nan())) {
            let far = (a / case.radius()).max(1.0).powi(2);
            holds(b <= a + 4e-5 * far, || format!("ray {at}: {a} grew to {b}"))?;
        }
        Ok(())
    });
}

/// The rate at which the radius grows as the wheel is backed off is that of two sections.
#[test]
fn backing_off_gains_radius_at_the_stated_rate() {
    check(150, bench(), |case| {
        let step = 1e-4;
        let section = |by: f64| Case { new: case.new + 2.0 * by, ..case }.section();
        let (less, more) = both(section(-step), section(step))?;
        let middle = good("section", case.section())?;
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
