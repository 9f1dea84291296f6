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
