//! From the first kiss to size: how far the wheel travels.

use geometry::Length;
use geometry::outline::{Outline, WornTooth};
use geometry::section::{GroundSection, Setup};

use crate::error::ShopError;

/// A feed along the cross slide, from where the wheel first touches to where it has made its
/// section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feed {
    /// Leading corner to cutter axis at the kiss.
    pub at_kiss: Length,
    /// Leading corner to cutter axis at size.
    pub at_size: Length,
    /// Radius gained per length of feed.
    pub radius_per_feed: f64,
    /// How far behind the new edge, along the circle, the wheel first touches.
    pub kiss_behind: Length,
}

impl Feed {
    /// How far the wheel travels.
    pub fn travel(&self) -> Length {
        self.at_kiss - self.at_size
    }
}

/// The feed that brings an outline to a section.
pub(crate) fn feed(
    outline: &Outline,
    setup: &Setup,
    section: &GroundSection,
) -> Result<Feed, ShopError> {
    let kiss = outline.kissed_by(setup, section)?;
    let edge = section.contact_at(geometry::Angle::ZERO);
    let touched = outline.highest_against(&kiss).map_or(0.0, |point| point.heelward.radians());
    Ok(Feed {
        kiss_behind: section.circle_radius() * touched,
        at_kiss: kiss.leading_corner_from_axis(),
        at_size: section.leading_corner_from_axis(),
        radius_per_feed: edge.map_or(1.0, |contact| contact.per_backing_off),
    })
}

/// The feed of the primary from a worn tooth to a diameter.
pub(crate) fn primary_feed(
    worn: &WornTooth,
    setup: &Setup,
    diameter: Length,
) -> Result<(Outline, GroundSection, Feed), ShopError> {
    let section = setup.section(diameter)?;
    let outline = worn.outline(diameter * 0.5);
    let feed = feed(&outline, setup, &section)?;
    Ok((outline, section, feed))
}
