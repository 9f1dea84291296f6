//! A cutter's state as an MTConnect 2.4 asset: a CuttingTool with its life cycle.
//!
//! What is not known is left out, and nothing is claimed that the book does not say: that a cutter
//! is new, allocated or registered stands in no history.

mod cutter;
mod document;
mod status;
mod xml;

pub use cutter::{AtRest, CutterAsset, Measurement, MeasurementCode, Outlook, Shrunk};
pub use document::{Answerer, assets_xml};
pub use status::{Allocation, CutterStatus, KnownStatus, Past, PastAtRest, Service};
