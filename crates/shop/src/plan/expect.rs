//! The readings that prove the work.

use geometry::closed_form::{flat_anvil_reading, plane_drop, vee_anvil_angle};
use geometry::section::GroundSection;
use geometry::{Angle, Length};
use trade::ToleranceKind;

use super::known::WheelKnown;
use super::stance::Stanced;
use crate::context::{Cited, Ctx};
use crate::record::{Cutter, Machine, Profile};

/// A drop to read with an indicator.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExpectedDrop {
    /// Distance behind the edge, along the circle.
    pub distance: Length,
    /// Drop there on the section as set.
    pub drop: Length,
    /// What a handbook's plane relief at the wanted angle would drop.
    pub handbook: Length,
}

/// What to read when the work is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Expected {
    /// Diameter of the finished edge.
    pub diameter: Length,
    /// How much smaller and larger it may come out.
    pub diameter_band: (Length, Length),
    /// Reading over flat anvils, where that differs from the diameter (odd teeth).
    pub flat_anvils: Option<Length>,
    /// Included angle of the vee anvil that reads the diameter directly (odd teeth).
    pub vee_anvil: Option<Angle>,
    /// Drops, at the distance over which the relief is meant and at half of it.
    pub drops: Vec<ExpectedDrop>,
    /// Land on every tooth.
    pub land: Length,
    /// How much lands may differ from tooth to tooth: the teeth's spread times the land's growth.
    pub land_band: Length,
    /// Runout allowed, with its source.
    pub runout: Option<Cited<Length>>,
    /// Taper allowed per length, with its source.
    pub taper: Option<Cited<(Length, Length)>>,
    /// Tolerance on the size that the tag gives: above, below.
    pub size: Option<Cited<(Length, Length)>>,
    /// What the tables' own drop row says, for the nearest listed diameter.
    pub handbook_drop: Option<Cited<(Length, Length, Length)>>,
    /// Where marker ink must be rubbed off and where it must stay.
    pub ink: String,
}

/// What a good ear and a feeler give at the kiss, on the radius (common practice, no source).
const KISS_ERROR_THOU: f64 = 0.2;

/// What the readings are worked out from.
pub(crate) struct Finished<'a> {
    pub(crate) ctx: &'a Ctx<'a>,
    pub(crate) cutter: &'a Cutter,
    pub(crate) machine: &'a Machine,
    pub(crate) known: &'a WheelKnown,
    pub(crate) stanced: &'a Stanced,
    pub(crate) section: &'a GroundSection,
    /// What comes off the radius from the first touch to size.
    pub(crate) stock: Length,
    pub(crate) land: Length,
    pub(crate) land_per_feed: Option<f64>,
}

impl Finished<'_> {
    /// The readings to expect.
    pub(crate) fn expected(&self) -> Expected {
        let diameter = self.section.circle_radius() * 2.0;
        let teeth = self.cutter.teeth();
        let odd = !teeth.is_multiple_of(2) && !self.cutter.unequal_index();
        let half_dial = self.machine.cross_feed().finest_travel() / 2.0;
        let kiss = Length::from_thou(KISS_ERROR_THOU);
        let near = 2.0 * (half_dial + kiss);
        let doubt = 2.0 * self.known.doubt_of(self.stock);
        let band = (near + doubt, near + doubt + 2.0 * self.known.wear_per_cutter());
        let grows = self.land_per_feed.unwrap_or(0.0).abs();
        Expected {
            diameter,
            diameter_band: band,
            flat_anvils: odd.then(|| flat_anvil_reading(diameter, teeth)),
            vee_anvil: odd.then(|| vee_anvil_angle(teeth)),
            drops: self.drops(),
            land: self.land,
            land_band: self.spread() * grows,
            runout: runout_allowed(self.ctx, self.cutter),
            taper: self.taper(),
            size: self.size(),
            handbook_drop: self.handbook_drop(),
            ink: "left at the edge: more stock; at the back: too little relief; bright heel: drag"
                .to_owned(),
        }
    }

    /// How far teeth may stand apart on the radius: half the runout allowed, and what the wheel
    /// loses on the way round. The dial and the kiss are common to all teeth.
    fn spread(&self) -> Length {
        let runout =
            runout_allowed(self.ctx, self.cutter).map_or(Length::ZERO, |cited| cited.value / 2.0);
        runout + self.known.wear_per_cutter()
    }

    fn drops(&self) -> Vec<ExpectedDrop> {
        let over = self.stanced.target.over.unwrap_or(self.land);
        let diameter = self.section.circle_radius() * 2.0;
        [over * 0.5, over]
            .into_iter()
            .filter_map(|distance| {
                let drop = self.section.drop_at(distance)?;
                let handbook = plane_drop(diameter, self.stanced.target.relief, distance);
                Some(ExpectedDrop { distance, drop, handbook })
            })
            .collect()
    }

    /// What a cylinder may taper; a tapered cutter has its own readings.
    fn taper(&self) -> Option<Cited<(Length, Length)>> {
        if self.cutter.taper() > Angle::ZERO {
            return None;
        }
        let lookup = self.ctx.tables.tolerance(ToleranceKind::BackTaper, self.cutter.diameter())?;
        let row = &lookup.chosen.value;
        Some(Cited::new((row.at_most?, row.over_length?), &lookup.chosen.source))
    }

    fn size(&self) -> Option<Cited<(Length, Length)>> {
        let kind = ToleranceKind::FinisherDiameter;
        let lookup = self.ctx.tables.tolerance(kind, self.cutter.diameter())?;
        let row = &lookup.chosen.value;
        Some(Cited::new((row.above?, row.below?), &lookup.chosen.source))
    }

    fn handbook_drop(&self) -> Option<Cited<(Length, Length, Length)>> {
        let work = super::wanted::work_group(self.cutter);
        let lookup =
            self.ctx.tables.relief(self.cutter.diameter(), self.cutter.material(), work)?;
        let row = &lookup.chosen.value;
        let drop = row.drop?;
        Some(Cited::new((row.distance?, drop.least, drop.greatest), &lookup.chosen.source))
    }
}

/// How far the edges of a cutter of this kind may run out, where a table says.
pub(super) fn runout_allowed(ctx: &Ctx<'_>, cutter: &Cutter) -> Option<Cited<Length>> {
    let kind = match cutter.profile() {
        Profile::Rougher => ToleranceKind::RougherRunout,
        Profile::Plain | Profile::FormRelieved => ToleranceKind::FinisherRunout,
    };
    let lookup = ctx.tables.tolerance(kind, cutter.diameter())?;
    Some(Cited::new(lookup.chosen.value.at_most?, &lookup.chosen.source))
}
