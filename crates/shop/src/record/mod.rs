//! The records a shop keeps: cutters with their wear, machines, wheels.
//!
//! Each record is built from a draft whose fields anybody may fill in. Building checks every fact
//! and reports all that are violated at once; a record that exists is sound, so the work that
//! uses it need not ask again. Records are not serialisable: files, wire and rows have shapes of
//! their own and are converted by hand where they enter.

mod as_ground;
mod axis;
mod counting;
mod cutter;
mod dividing;
mod end_teeth;
mod error;
mod faults;
mod form;
mod holding;
mod machine;
mod named;
mod readings;
mod scale;
mod shape;
mod special;
mod spindle;
mod wear;
mod wheel;

pub use as_ground::AsGround;
pub use axis::{Axis, AxisDraft, AxisRole, Finest, HeadZero, Motion, Side};
pub use counting::{Grows, ReadsZero};
pub use cutter::{Cutter, CutterDraft};
pub use dividing::{Dividing, Division};
pub use end_teeth::EndTeeth;
pub use error::{RecordError, RecordErrors};
pub use form::{EndForm, Hand, Profile};
pub use holding::{Centres, HoldingDraft};
pub use holding::{Finger, FingerKind, Fixture, Rest, RestDraft, RestStand, WorkHolding};
pub use machine::{Coolant, Machine, MachineDraft};
pub use named::Named;
pub(crate) use named::named;
pub use readings::{
    DiameterGroup, DiameterReading, DropGroup, DropReading, Holding, IndicatorGroup,
    IndicatorReading, Instrument, LandGroup, LandReading, LandStage, Over, Readings, ReadingsDraft,
    RunoutOf, RunoutReading, TeethRun,
};
pub use scale::{Reads, SlideScale, SwivelScale};
pub use shape::{Bond, WheelForm, WheelShape};
pub use special::Special;
pub use spindle::{NutThread, Rotation, Spindle, SpindleDraft, SpindleSpeed};
/// The material of a cutter, for whoever reads records and may not reach below this crate.
pub use trade::ToolMaterial;
pub use wear::{ToothWear, Wear, WearDraft, WearSign};
pub use wheel::{Wheel, WheelDraft};
