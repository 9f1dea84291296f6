//! Lines that set a control's offsets to the size of a cutter that was ground (G10, ISO 6983).

mod control;
mod lines;

pub use control::{Control, ControlDraft, ControlFault, HeldSize, Mode, Register, Written};
pub use lines::{Assigned, OFFSET_CAUTIONS, OffsetLine, OffsetRefusal, Offsets, offsets};
