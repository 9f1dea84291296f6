//! How far a shop's own entries are trusted against the tables while they are few.

use crate::lookup::Lookup;
use crate::quantity::Share;
use crate::row::noun;
use crate::tables::Tables;
use crate::words::named;

named! {
    /// What is learned from a shop's own entries.
    pub enum LearningItem as "thing to learn" {
        /// What a regrind takes off a cutter's diameter, from sharp to sharp.
        StockPerGrind = "stock per grind",
        /// What a regrind takes off the diameter beyond the depth of the wear.
        BeyondWear = "stock beyond the wear",
        /// What comes off for what the dial was fed.
        DialToStock = "dial to stock",
        /// What a wheel's face loses over one cutter.
        WheelWear = "wheel wear per cutter",
    }
}

noun! {
    /// What is held beforehand of a thing to learn. Shares are of the table's value.
    pub struct LearningRow in Learning / learning {
        key {
            /// The thing to learn.
            item: LearningItem,
        }
        value {
            /// Standard deviation from the table's value to that of one cutter or wheel.
            between: Share,
            /// Standard deviation from one entry to the next.
            within: Share,
            /// How many entries the figure for `within` is worth.
            worth: u32,
        }
    }
}

impl Tables {
    /// What is held beforehand of that.
    pub fn learning(&self, item: LearningItem) -> Option<Lookup<'_, LearningRow>> {
        self.learning.exact(|row| row.item == item)
    }
}
