//! A wheel stood by its place leaves what the same wheel leaves that was placed by a size.

use geometry::section::GroundSection;
use geometry::{Angle, Length};

use crate::cases::bench;
use crate::funnel::{check, good, near};

#[test]
fn a_stood_wheel_leaves_what_a_placed_one_does() {
    check(200, (bench(), 0.99..1.01_f64), |(case, off)| {
        let placed = case.made()?;
        let place = placed.leading_corner_from_axis();
        let near_radius = placed.circle_radius() * off;
        let stood = good("a section", placed.setup().section_standing(place, near_radius))?;
        near("circle", stood.circle_radius().mm(), placed.circle_radius().mm(), 1e-6)?;
        let relief = |section: &GroundSection| section.edge_relief().map(Angle::degrees);
        near("relief", relief(&stood).unwrap_or(0.0), relief(&placed).unwrap_or(0.0), 1e-4)?;
        let drags = |section: &GroundSection| section.heel_drag_from().map_or(-1.0, Length::mm);
        near("heel drag", drags(&stood), drags(&placed), 0.02)
    });
}

/// The whole section, followed all round, tells what is asked of one ray beyond the part that was
/// followed.
#[test]
fn what_comes_within_a_radius_is_told_beyond_the_followed_part() {
    check(200, (bench(), -1.0..1.0_f64, -0.02..0.02_f64), |(case, share, more)| {
        let placed = case.made()?;
        let place = placed.leading_corner_from_axis();
        let part = (Angle::from_degrees(-1.0), Angle::from_degrees(1.0));
        let circle = placed.circle_radius();
        let part = (part, circle * 1.1);
        let standing = placed.setup().section_standing_within(part, place, circle);
        let followed = good("a section", standing)?;
        let at = Angle::from_radians(share * placed.setup().flutes().pitch_rad().min(3.0));
        let Some(radius) = placed.radius_at(at) else { return Ok(()) };
        // Nearer than this the two ways may tell the same ray apart by rounding.
        let asked = radius * (1.0 + more + 1e-6_f64.copysign(more));
        let comes = followed.comes_within(at, asked);
        let told = || format!("{} mm is asked, and {} mm is there", asked.mm(), radius.mm());
        good("the same answer", (comes == (asked > radius)).then_some(()).ok_or_else(told))
    });
}
