//! What a history comes to: the latest state of a subject, folded from its entries.

mod amend;
mod cutter;
mod fold;
mod judge;
mod summary;
mod wheel;

pub use amend::counting;
pub use cutter::CutterState;
pub use fold::{DocumentState, Latest, PersonState, Remark, State, TrayState};
pub use judge::judge;
pub use summary::Summary;
pub use wheel::WheelState;

use crate::record::named;

#[cfg(test)]
mod tests;

named! {
    /// Where a subject stands.
    Stage {
        /// In the book, and nothing is asked of it.
        Shelf = "on the shelf",
        /// It came in and waits.
        Waiting = "waiting",
        /// There is a plan.
        Planned = "planned",
        /// It is ground.
        Ground = "ground",
        /// Its readings are checked.
        Checked = "checked",
        /// It left the bench.
        Back = "handed back",
        /// On a spindle.
        Mounted = "mounted",
        /// In use: a paper, an open tray, a person.
        Current = "current",
        /// Done with.
        Gone = "done with",
    }
}
