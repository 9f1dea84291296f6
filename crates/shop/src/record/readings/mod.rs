//! What a hand reads on a cutter after a pass, as read: nothing here is worked out yet.

mod instrument;
mod kinds;
mod sound;

pub use instrument::Instrument;
pub use kinds::{
    DiameterGroup, DiameterReading, DropGroup, DropReading, Holding, IndicatorGroup,
    IndicatorReading, LandGroup, LandReading, LandStage, Over, RunoutOf, RunoutReading, TeethRun,
};
pub use sound::{Readings, ReadingsDraft};
