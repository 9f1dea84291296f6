//! How far teeth stand apart, to ask about a count that can hardly be meant.

use crate::lookup::Lookup;
use crate::row::noun;
use crate::span::{Range, Span};
use crate::tables::Tables;
use geometry::Length;

noun! {
    /// How far the teeth of a cutter stand apart along its circle.
    pub struct TeethRow in Teeth / teeth {
        key {
            /// The nominal diameters.
            diameters: Span<Length>,
        }
        value {
            /// The pitches along the circle that are found on cutters.
            pitch: Range<Length>,
        }
    }
}

impl Tables {
    /// How far teeth stand apart on a cutter of this diameter; none where no row is near.
    pub fn pitch_of_teeth(&self, diameter: Length) -> Option<Lookup<'_, TeethRow>> {
        self.teeth.pick_by_diameter(diameter, |row| row.diameters, |_| Some(false))
    }
}
