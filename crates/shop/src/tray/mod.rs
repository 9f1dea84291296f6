//! The order of a tray: first the cutters that will not clean up, for someone must decide on them;
//! then the others in such an order that the set-up is changed as little as may be.
//!
//! Cutters with the same set-up are ground together. Among the set-ups the order is the best there
//! is where they are few, else a good one; either way a lower bound says how far from the best it
//! can be at most. The same tray gives the same order on every machine.

mod bound;
mod exact;
mod groups;
mod moves;
mod of_cutter;
mod order;
mod progress;
mod setup;
#[cfg(test)]
mod tests;
mod tour;

pub use of_cutter::{KeptPlan, TrayBench, tray_job};
pub use order::{OrderTray, Stop, TrayOrder, order_tray};
pub use progress::{Progress, Stage};
pub use setup::{ChangeTimes, TrayJob, TraySetup};
