//! The kinds of reading, each as its instrument gives it.

use geometry::Length;

use super::instrument::Instrument;
use crate::record::named::named;

named! {
    /// When a land was read.
    LandStage {
        /// Before the secondary was ground: the land ends at the old secondary.
        AfterPrimary = "after primary",
        /// When both were ground.
        AfterSecondary = "after secondary",
    }
}

named! {
    /// Which way the numbers of the teeth run round the cutter.
    TeethRun {
        /// Tooth 2 is the one behind tooth 1's heel: the last to come to the cut.
        Heelward = "heelward",
        /// Tooth 2 is the one before tooth 1's edge: the next to come to the cut.
        Edgeward = "edgeward",
    }
}

named! {
    /// What a diameter is taken over.
    Over {
        /// Two opposite teeth between flat anvils.
        Micrometer = "micrometer",
        /// An odd number of teeth between flat anvils: one on one side, two on the other.
        FlatAnvils = "flat anvils",
        /// An odd number of teeth, two of them in a vee.
        VeeAnvil = "vee anvil",
    }
}

named! {
    /// What the cutter turns in while an indicator stands on it.
    Holding {
        /// In a holder that runs true with the shank, as the machine that will use it does.
        ByShank = "by shank",
        /// As it was held for grinding, not taken out since.
        AsGround = "as ground",
    }
}

named! {
    /// What runs out.
    RunoutOf {
        /// The shank, as held for grinding.
        Shank = "shank",
        /// The edges, from the lowest to the highest.
        Edges = "edges",
    }
}

/// The width of a land.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LandReading {
    /// Tooth, counted from 1 at the marked one.
    pub tooth: u32,
    /// Distance from the cutter's end.
    pub from_end: Length,
    /// Width of the fresh primary, from the edge square to it.
    pub width: Length,
}

/// Lands read with one glass at one stage.
#[derive(Clone, Debug, PartialEq)]
pub struct LandGroup {
    /// When.
    pub stage: LandStage,
    /// With what.
    pub instrument: Instrument,
    /// The readings; teeth that nobody looked at are left out.
    pub readings: Vec<LandReading>,
}

/// A diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DiameterReading {
    /// Distance from the cutter's end, at the middle of the anvils.
    pub from_end: Length,
    /// The tooth on one anvil, or the spindle's of a vee; none where nobody noted it.
    pub tooth: Option<u32>,
    /// What the instrument shows: over flat anvils and odd teeth this is less than the diameter.
    pub reading: Length,
}

/// Diameters read with one instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct DiameterGroup {
    /// Over what.
    pub over: Over,
    /// Width of the anvils along the cutter; none where they are narrow.
    pub anvil_width: Option<Length>,
    /// With what.
    pub instrument: Instrument,
    /// The readings.
    pub readings: Vec<DiameterReading>,
}

/// How high an edge stands under an indicator, from a zero of that round's own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IndicatorReading {
    /// Tooth.
    pub tooth: u32,
    /// Distance from the cutter's end; each distance is a round with a zero of its own.
    pub from_end: Length,
    /// What the indicator shows at the highest point of the tooth; larger is farther out.
    pub height: Length,
}

/// Rounds of an indicator over the edges.
#[derive(Clone, Debug, PartialEq)]
pub struct IndicatorGroup {
    /// What the cutter turned in.
    pub held: Holding,
    /// With what.
    pub instrument: Instrument,
    /// The readings.
    pub readings: Vec<IndicatorReading>,
}

/// A total indicator reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunoutReading {
    /// Of what.
    pub of: RunoutOf,
    /// What the cutter turned in.
    pub held: Holding,
    /// Distance from the cutter's end; of the shank, none means at its middle.
    pub from_end: Option<Length>,
    /// Highest less lowest.
    pub reading: Length,
    /// With what.
    pub instrument: Instrument,
}

/// How far the land falls away behind the edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DropReading {
    /// Tooth, if noted.
    pub tooth: Option<u32>,
    /// Distance behind the edge, along the circle.
    pub distance: Length,
    /// The drop there.
    pub drop: Length,
}

/// Drops read with one indicator.
#[derive(Clone, Debug, PartialEq)]
pub struct DropGroup {
    /// With what.
    pub instrument: Instrument,
    /// The readings.
    pub readings: Vec<DropReading>,
}
