//! The check of one regrind: from what was read at the bench to the fault, its size, and the next
//! move.

mod behind;
mod conflict;
mod correction;
mod design;
mod fault;
mod finding;
mod further;
mod judgement;
mod land;
mod nominal;
mod observed;
mod plausible;
mod regrind;
mod sight;
mod teeth;
mod term;
mod told;
mod weighing;

pub(crate) use nominal::set_up_as;
pub(crate) use regrind::flute_of;

pub use correction::{Action, Correction, DialChange, Worth};
pub use fault::Fault;
pub use finding::{Edges, Explanation, Figure, Finding, Offset};
pub use further::{Further, Trial};
pub use judgement::{Judgement, Quality, Standing};
pub use observed::{Observed, ReadingKind};
pub use plausible::Question;
pub use regrind::{Check, CheckRegrind, Checked, Outcome, SetAsideReading, check_regrind};
pub use sight::{Rival, Seen};
