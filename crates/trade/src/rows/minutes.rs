//! How long each change of a set-up takes.

use crate::lookup::Lookup;
use crate::quantity::Minutes;
use crate::row::noun;
use crate::tables::Tables;
use crate::words::named;

named! {
    /// A part of the set-up that is changed between two cutters.
    pub enum SetupChange as "change of the set-up" {
        /// The wheel.
        Wheel = "wheel",
        /// The collet, sleeve or pair of centres that holds the cutter.
        Holding = "holding",
        /// The head's swivel.
        HeadAngle = "head angle",
        /// The finger of the tooth rest.
        RestFinger = "rest finger",
        /// From right-hand to left-hand cutters or back.
        Hand = "hand",
        /// The relief setting.
        ReliefSetting = "relief setting",
    }
}

noun! {
    /// How long a change of the set-up takes.
    pub struct MinutesRow in Minutes / minutes {
        key {
            /// The change.
            change: SetupChange,
        }
        value {
            /// How long it takes.
            minutes: Minutes,
        }
    }
}

impl Tables {
    /// How long that change takes: a figure to start from, until the shop's own replaces it.
    pub fn minutes(&self, change: SetupChange) -> Option<Lookup<'_, MinutesRow>> {
        self.minutes.exact(|row| row.change == change)
    }
}
