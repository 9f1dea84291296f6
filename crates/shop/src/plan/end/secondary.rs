//! The secondary of the end: where it must stop so that the land is left.

use geometry::Length;
use geometry::end::EndPlane;

use super::grind::{EndGrind, EndJob, no_surface};
use super::round::no_land;
use crate::error::ShopError;

/// The grinding of the secondary of every end tooth.
#[derive(Clone, Debug)]
pub struct EndSecondary {
    /// Its plane, its swivels and its stroke.
    pub grind: EndGrind,
    /// The land that it leaves.
    pub land: Length,
    /// Growth of the land per length by which the feed falls short.
    pub land_per_feed: Option<f64>,
}

/// Feed by which the growth of a land is tried.
const STEP_UM: f64 = 2.0;

/// Plans the secondary behind a primary.
pub(super) fn secondary(job: &EndJob<'_>, primary: &EndGrind) -> Result<EndSecondary, ShopError> {
    let wanted = job.wanted;
    let dish = primary.made.dish();
    let wished = EndPlane::new(dish, wanted.secondary.value)?;
    let land = wanted.land.value;
    let height = primary.section.setup().stance().axis_above_edge;
    let (through, swung) = job.set(wished, land, height, Some(&primary.swung))?;
    let (heelward, inward) = primary.section.back_of_land(land).ok_or_else(no_surface)?;
    let section = through.setup().section_through(heelward, inward)?;
    let made = through.plane(Some(land)).ok_or_else(no_surface)?;
    let land_left = primary.section.land_before(&section).ok_or_else(no_land)?;
    let step = Length::from_um(STEP_UM);
    let wider = section.backed_off(step).ok().and_then(|less| primary.section.land_before(&less));
    let land_per_feed = wider.map(|wider| (wider - land_left) / step);
    // It is led over the tooth as the primary was: its edge lies behind and below the primary's.
    let stops = primary.stops;
    let grind = EndGrind { wished, made, section, swung, stops };
    Ok(EndSecondary { grind, land: land_left, land_per_feed })
}
