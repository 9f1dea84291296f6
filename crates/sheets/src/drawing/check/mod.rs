//! The drawings of a check: what was read on the cutter beside what the plan foretells.
//!
//! They show the cutter as a hand turns it over the bench, seen from its tip, with tooth 1's edge
//! at the tip uppermost; every other edge stands where numbering, hand and helix bring it.

mod after;
mod before_after;
mod edges;
mod labels;
mod land_ring;
mod lands;
mod page;
mod residuals;
mod ring;
mod round;
mod share;
mod show;
mod stands;
mod strip;

pub use before_after::before_after;
pub use land_ring::land_ring;
pub use residuals::residuals;
