//! Practice at the end of a cutter.

use crate::lookup::Lookup;
use crate::row::noun;
use crate::span::Amount;
use crate::tables::Tables;
use crate::words::named;

named! {
    /// A point of practice at the end.
    pub enum EndItem as "point of practice at the end" {
        /// What comes off the length of an end pulled in time.
        FreshEnd = "fresh end",
        /// How far past the worst corner the end is ground.
        PastCorners = "past worn corners",
        /// How nearly alike the teeth stand.
        HeightsAlike = "heights alike",
        /// How deep the wheel may brush another edge.
        NextEdge = "next edge",
        /// How far past the centre one edge of a pair runs.
        PastCentre = "past the centre",
        /// How far from the centre short teeth stop, as a share of the diameter.
        ShortOfCentre = "short of the centre",
    }
}

noun! {
    /// A point of practice at the end of a cutter.
    pub struct EndPracticeRow in EndPractice / end_practice {
        key {
            /// The point.
            item: EndItem,
        }
        value {
            /// How much.
            amount: Amount,
            /// What to do.
            advice: String,
        }
    }
}

impl Tables {
    /// That point of practice.
    pub fn end_practice(&self, item: EndItem) -> Option<Lookup<'_, EndPracticeRow>> {
        self.end_practice.exact(|row| row.item == item)
    }
}
