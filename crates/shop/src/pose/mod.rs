//! From wanted angles between cutter and wheel to the scales of one machine.
//!
//! A [`MachineChain`] is a machine's axes as joints, in the order of its file, each counted as its
//! own scale counts. [`set_ups`] finds every way of setting its swivels that gives wanted
//! relations, rounds each to the marks that can be set and ranks them by what the rounding costs
//! and by how many scales must be moved.

mod chain;
mod sense;
mod set_up;
mod snap;
mod surface;
mod untold;

pub use chain::MachineChain;
pub use set_up::{Moved, SetUp, set_ups};
pub use surface::{Surface, SurfaceAngles};
pub use untold::Untold;
